/** What a V cutter carves, as regions: the ground round the ribbons, and where it is wider than the V. */
import { grow, insideOf, intersect, type Region, ringArea, subtract } from "../../geometry/region.ts";
import { REGION_CHORD_MM, type RouterPanel } from "./router-panel.ts";
import type { GrooveSettings } from "./settings.ts";

/**
 * Floors narrower than this do not count; and where the axis's discs are larger than the limit's
 * radius by less than this, the tip still follows the axis: neither leaves anything to the other.
 */
export const AXIS_OVERLAP_MM = 5e-3;

/**
 * The ground to fill: all within the knot's silhouette that is not ribbon, its holes too, and a
 * margin outside of it as far as the panel's edge.
 */
export function filledGround(panel: RouterPanel, { ribbon, fieldMarginMm }: GrooveSettings): Region {
  // Ribbon ends stand off by the gap: grown by more than half of it they are one; what is too much goes off again.
  const by = Math.max(fieldMarginMm, ribbon.gapMm);
  const grown = withoutHoles(grow(panel.standing, by, REGION_CHORD_MM));
  const field = grow(grown, fieldMarginMm - by, REGION_CHORD_MM);
  return subtract(intersect(field, insideOf(panel.outline, REGION_CHORD_MM)), panel.standing);
}

/** As much round the ribbons as grooves of this half width, and the discs of their axis, can reach. */
export function surroundings({ standing }: RouterPanel, radiusMm: number): Region {
  return subtract(grow(standing, SURROUNDING_WIDTHS * radiusMm, REGION_CHORD_MM), standing);
}

/** The axis of what lies round a ribbon then keeps well away from the groove's middle. */
const SURROUNDING_WIDTHS = 4;

/** Where the tip of a cutter goes that stays this far from all walls. */
export function wideParts(ground: Region, radiusMm: number): Region {
  const narrowed = grow(ground, -radiusMm - AXIS_OVERLAP_MM / 2, REGION_CHORD_MM);
  return grow(narrowed, AXIS_OVERLAP_MM / 2, REGION_CHORD_MM);
}

/** The ribbons with all that lies within this distance of them: its edge is the middle of the grooves. */
export function withGrooves({ standing }: RouterPanel, radiusMm: number): Region {
  const grown = grow(standing, radiusMm + AXIS_OVERLAP_MM / 2, REGION_CHORD_MM);
  return grow(grown, -AXIS_OVERLAP_MM / 2, REGION_CHORD_MM);
}

function withoutHoles({ rings }: Region): Region {
  return { rings: rings.filter((ring) => ringArea(ring) > 0) };
}
