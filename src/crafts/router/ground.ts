/** The ground that is cleared: the panel's field less all that stands. */
import { grow, insideOf, type Region, subtract } from "../../geometry/region.ts";
import { endMills } from "./reach.ts";
import { REGION_CHORD_MM, type RouterPanel } from "./router-panel.ts";
import type { GroundSettings } from "./settings.ts";

export function groundRegion(panel: RouterPanel, settings: GroundSettings): Region {
  return subtract(fieldRegion(panel, settings), panel.standing);
}

/**
 * The panel inside its frame. Without a frame the ground runs out over the edge, as far as the
 * largest end mill must go to leave no rim.
 */
function fieldRegion({ outline }: RouterPanel, { frameMm, cutters }: GroundSettings): Region {
  const over = frameMm > 0 ? -frameMm : (endMills(cutters)[0]?.shape.diameterMm ?? 0) / 2;
  return grow(insideOf(outline, REGION_CHORD_MM), over, REGION_CHORD_MM);
}
