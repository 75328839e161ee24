/**
 * The surface that a V cutter is meant to leave, as limits for the simulation.
 *
 * Discs that fill the ground and are cut as deep as their radius asks leave, at a distance d from
 * the nearest wall, a surface d / tan(A/2) down: the disc that touches the wall at that nearest
 * place has its middle straight on from there, at the distance r from the wall and r - d from the
 * point, and its cone is (r - (r - d)) / tan(A/2) deep there; no disc reaches deeper, as none is
 * larger than its distance from the wall. A flat tip t across leaves between (d - t/2) / tan(A/2)
 * and d / tan(A/2). Along outlines the surface rises again past the groove's middle, where d is
 * half the groove's width.
 */
import { insideOf } from "../../geometry/region.ts";
import { slopeOf } from "./groove-cutter.ts";
import { FLOOR_RIDGE_MM } from "./groove-floor.ts";
import type { GroovePlan } from "./groove-plan.ts";
import type { Limits } from "./limits.ts";
import { fillRegion, type PixelGrid, visitSpans } from "./raster.ts";
import { REGION_CHORD_MM } from "./router-panel.ts";
import { wallDistances } from "./wall-distances.ts";

/**
 * What the carved surface must keep within on the panel; outside of it anything goes. The tolerance
 * is measured square to the surface: on a wall that stands at half the cutter's angle it is
 * 1 / sin(A/2) times as much in height.
 */
export function intendedGroove(plan: GroovePlan, grid: PixelGrid): Limits {
  const { panel, settings, cutter, ground, ridged, limitDepthMm } = plan;
  const pixels = grid.columns * grid.rows;
  const tolerance = settings.toleranceMm / Math.sin((cutter.shape.angleDeg * Math.PI) / 360);
  const lowest = new Float32Array(pixels).fill(Number.NEGATIVE_INFINITY);
  const highest = new Float32Array(pixels);
  fillRegion(lowest, grid, { region: insideOf(panel.outline, REGION_CHORD_MM), value: -tolerance });
  const ridges = new Float32Array(pixels);
  fillRegion(ridges, grid, { region: ridged, value: FLOOR_RIDGE_MM });
  const reaches = roomAt(plan, grid);
  const slope = slopeOf(cutter.shape);
  visitSpans(ground, grid, (from, to) => {
    for (let i = from; i < to; i++) {
      if (lowest[i] === Number.NEGATIVE_INFINITY) continue;
      const room = reaches[i] ?? 0;
      lowest[i] = -Math.min(limitDepthMm, room / slope) - tolerance;
      const flat = Math.max(0, room - cutter.shape.tipMm / 2);
      highest[i] = Math.min(0, -Math.min(limitDepthMm, flat / slope) + tolerance + (ridges[i] ?? 0));
    }
  });
  return { lowest, highest };
}

/** Half the width of the widest cut that has each pixel on its edge. */
function roomAt({ panel, settings, ground, limitRadiusMm }: GroovePlan, grid: PixelGrid): Float32Array {
  if (settings.fill === "ground") return wallDistances(ground.rings, grid, limitRadiusMm);
  const walls = panel.standing.rings.map((ring) => ring.toReversed());
  const distances = wallDistances(walls, grid, 2 * limitRadiusMm);
  return distances.map((d) => limitRadiusMm - Math.abs(limitRadiusMm - d));
}
