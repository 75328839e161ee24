/**
 * The carved surface as it is meant: ground, frame, and ribbons whose domed section rides on their
 * ridges. At each pixel's middle it is the highest of all that covers it, so the over-ribbon shows
 * where two cross, and ribbon sides are walls down to what lies beside them.
 *
 * Each segment of a centreline fills its own strip of pixels: the nearest place on a line or an arc
 * is exact, and the work is that of the ribbons' area. Where two segments meet in a corner their
 * strips go on to the mitre.
 *
 * The frame goes on outside a panel that is no rectangle, up to the panel's box: that part is waste,
 * and a step at the outline would only chip it.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { cross, dot, minus, type Vec } from "../../geometry/point.ts";
import { grow, insideOf } from "../../geometry/region.ts";
import { arcOf, endDirection, segmentBounds, segmentPoint, startDirection } from "../../geometry/segment.ts";
import { flatField, type HeightField } from "../../output/height-field.ts";
import { fillRegion } from "./raster.ts";
import { type Dome, domeOf } from "./relief-dome.ts";
import { type RidgeJoint, type RidgePart, ridgeHeight, ridgeParts } from "./relief-ridges.ts";
import { REGION_CHORD_MM, type RouterPanel } from "./router-panel.ts";
import type { ReliefSettings } from "./settings.ts";

/** The intended surface over the panel's box, a pixel each `reliefPixelMm`; z <= 0, from the stock's upper face down. */
export function reliefField(panel: RouterPanel, settings: ReliefSettings): HeightField {
  const { size, outline } = panel;
  const box = { minX: 0, minY: 0, maxX: size.width, maxY: size.height };
  const framed = settings.frameMm > 0;
  const field = flatField(
    box,
    settings.reliefPixelMm,
    -(framed ? settings.borderDepthMm : settings.groundDepthMm),
  );
  if (framed) {
    const inner = grow(insideOf(outline, REGION_CHORD_MM), -settings.frameMm, REGION_CHORD_MM);
    fillRegion(field.z, field, { region: inner, value: -settings.groundDepthMm });
  }
  const dome = domeOf(settings);
  for (const part of ridgeParts(panel, settings)) raisePart(field, part, dome);
  return field;
}

/** Where a place lies as seen from a centreline's segment. */
interface SeenFrom {
  /** mm along the segment from its start. */
  along: number;
  /** mm from it, positive to its left. */
  left: number;
}

function raisePart(field: HeightField, part: RidgePart, dome: Dome): void {
  const { stepMm, minX, minY, columns, rows, z } = field;
  const half = dome.halfWidthMm;
  const reach = half * (1 + Math.max(part.atStart.mitre, part.atEnd.mitre));
  const box = segmentBounds(part.segment);
  const seen: SeenFrom = { along: 0, left: 0 };
  const look = part.segment.bulge === 0 ? lineLooker(part) : arcLooker(part);
  const first = Math.max(0, Math.floor((box.minX - reach - minX) / stepMm));
  const last = Math.min(columns - 1, Math.ceil((box.maxX + reach - minX) / stepMm));
  const top = Math.min(rows - 1, Math.ceil((box.maxY + reach - minY) / stepMm));
  const covers = coverage(part, half);
  for (let row = Math.max(0, Math.floor((box.minY - reach - minY) / stepMm)); row <= top; row++) {
    const y = minY + (row + 0.5) * stepMm;
    for (let column = first; column <= last; column++) {
      const x = minX + (column + 0.5) * stepMm;
      look(x, y, seen);
      if (!covers(x, y, seen)) continue;
      const along = part.startMm + Math.min(part.lengthMm, Math.max(0, seen.along));
      const height = ridgeHeight(part.ridge, along) - dome.drop(Math.min(half, Math.abs(seen.left)));
      const at = row * columns + column;
      if (height > (z[at] ?? 0)) z[at] = height;
    }
  }
}

type Looker = (x: number, y: number, seen: SeenFrom) => void;

function lineLooker({ segment }: RidgePart): Looker {
  const { from } = segment;
  const way = startDirection(segment);
  return (x, y, seen) => {
    const dx = x - from.x;
    const dy = y - from.y;
    seen.along = dx * way.x + dy * way.y;
    seen.left = way.x * dy - way.y * dx;
  };
}

/** Angles count from the arc's middle, so that they never pass half a turn. */
function arcLooker({ segment, lengthMm }: RidgePart): Looker {
  const { centre, radius } = arcOf(segment);
  const middle = minus(segmentPoint(segment, 0.5), centre);
  const turn = segment.bulge > 0 ? 1 : -1;
  return (x, y, seen) => {
    const out: Vec = { x: x - centre.x, y: y - centre.y };
    seen.left = turn * (radius - Math.sqrt(dot(out, out)));
    const angle = Math.atan2(cross(middle, out), dot(middle, out));
    seen.along = lengthMm / 2 + turn * angle * radius;
  };
}

/** Whether the segment's strip covers a place: within the half width, between its ends, mitred there. */
function coverage(
  { segment, atStart, atEnd }: RidgePart,
  half: number,
): (x: number, y: number, seen: SeenFrom) => boolean {
  const { from, to } = segment;
  const back = startDirection(segment);
  const on = endDirection(segment);
  return (x, y, { left }) => {
    if (Math.abs(left) > half) return false;
    const before = (from.x - x) * back.x + (from.y - y) * back.y;
    const after = (x - to.x) * on.x + (y - to.y) * on.y;
    return before <= pastJoint(atStart, left) && after <= pastJoint(atEnd, left);
  };
}

/** How far past a joint the strip goes on: to the mitre, beyond the joint on the outer side of a corner, short of it on the inner one. */
function pastJoint({ turn, mitre }: RidgeJoint, left: number): number {
  return (turn * left < 0 ? mitre : -mitre) * Math.abs(left) + SAME_POINT_MM;
}
