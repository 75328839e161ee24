/**
 * A woven diagram laid on the stock: ribbons, the panel's outline round them and the ground
 * between, mm from the lower left corner of the finished panel.
 */
import type { KnotDiagram } from "../../diagram/knot-diagram.ts";
import { diagramBounds, moveDiagram } from "../../diagram/move-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type ArcChain, chainBounds } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsHeight, boundsWidth, growBounds } from "../../geometry/bounds.ts";
import { chordPoints } from "../../geometry/chords.ts";
import { distance } from "../../geometry/point.ts";
import { grow, type Region, regionOf, ringArea } from "../../geometry/region.ts";
import { ringChain } from "../../geometry/ring-chain.ts";
import { moveBy, transformChain } from "../../geometry/transform.ts";
import { makeRibbons, type Ribbons } from "../../ribbon/ribbon.ts";
import { boxOutline, circleOutline } from "../panel-outline.ts";
import type { RouterSettings } from "./settings.ts";

export interface RouterPanel {
  readonly size: { readonly width: number; readonly height: number };
  /** Outer edge of the finished panel, counter-clockwise. */
  readonly outline: ArcChain;
  readonly diagram: KnotDiagram;
  readonly strands: Strands;
  readonly ribbons: Ribbons;
  /** All that ribbon pieces cover. */
  readonly standing: Region;
}

/** Arcs of ribbons become chords within this wherever regions are formed: a tenth of the least tolerance that a profile allows. */
export const REGION_CHORD_MM = 1e-3;

/** The furthest that arcs fitted to a region's edge lie from it. */
export const REGION_FIT_MM = 2e-3;

export function layPanel(diagram: KnotDiagram, strands: Strands, settings: RouterSettings): RouterPanel {
  const drawn = outlineOf(diagram, strands, settings);
  const box = chainBounds(drawn);
  const by = moveBy(-box.minX, -box.minY);
  const moved = moveDiagram(diagram, -box.minX, -box.minY);
  const ribbons = makeRibbons(moved, strands, settings.ribbon);
  return {
    size: { width: boundsWidth(box), height: boundsHeight(box) },
    outline: transformChain(drawn, by),
    diagram: moved,
    strands,
    ribbons,
    standing: regionOf(ribbonChains(ribbons), REGION_CHORD_MM),
  };
}

export function ribbonChains({ pieces }: Ribbons): ArcChain[] {
  return pieces.flatMap(({ outline, holes }) => [outline, ...holes]);
}

/** The panel's outline where the diagram lies now. */
function outlineOf(diagram: KnotDiagram, strands: Strands, settings: RouterSettings): ArcChain {
  const { borderMm, cornerRadiusMm, ribbon } = settings;
  const box = knotBounds(diagram, ribbon.widthMm);
  switch (settings.outline) {
    case "rectangle":
      return boxOutline(growBounds(box, borderMm), 0);
    case "rounded":
      return boxOutline(growBounds(box, borderMm), cornerRadiusMm);
    case "circle":
      return roundOutline(diagram, strands, settings, box);
    case "knot":
      return knotOutline(diagram, strands, settings);
  }
}

function knotBounds(diagram: KnotDiagram, widthMm: number): Bounds {
  return growBounds(diagramBounds(diagram), widthMm / 2);
}

/** The circle about the middle of the knot's box that leaves the border at the furthest place. */
function roundOutline(
  diagram: KnotDiagram,
  strands: Strands,
  { ribbon, borderMm }: RouterSettings,
  box: Bounds,
): ArcChain {
  const centre = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const chains = ribbonChains(makeRibbons(diagram, strands, ribbon));
  const reach = chains
    .flatMap((chain) => chordPoints(chain, REGION_CHORD_MM))
    .reduce((most, point) => Math.max(most, distance(centre, point)), 0);
  return circleOutline(centre, reach + borderMm);
}

/** The knot's own silhouette, its gaps closed, moved outward by the border. */
function knotOutline(diagram: KnotDiagram, strands: Strands, { ribbon, borderMm }: RouterSettings): ArcChain {
  const shapes = regionOf(ribbonChains(makeRibbons(diagram, strands, ribbon)), REGION_CHORD_MM);
  // Ribbon ends stand off by the gap: grown by more than half of it they are one.
  const grown = grow(shapes, Math.max(borderMm, ribbon.gapMm), REGION_CHORD_MM);
  const outer = grown.rings.reduce((largest, ring) => (ringArea(ring) > ringArea(largest) ? ring : largest));
  return ringChain(outer, REGION_FIT_MM);
}
