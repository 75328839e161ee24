/**
 * What a V cutter carves between ribbons, worked out once for its paths, its checks and what the
 * simulation compares with.
 *
 * Both fills are one: the cutter's tip goes where a disc fits between the walls, as deep as makes
 * its cone touch them, but no deeper than a limit. Where the room is narrower than the limit's
 * width the tip follows the medial axis, rising into corners to the upper face. Where there is
 * more room it follows the walls at the limit's radius.
 *
 * - Filling the ground, the limit is the deepest cut that settings and cutter allow, and the floor
 *   within those paths is cleared level.
 * - Along outlines, it is half the groove's width: so the groove lies outside the ribbon, its inner
 *   edge on the ribbon's outline, and the ribbon keeps its width. Grooves of ribbons that are less
 *   than two widths apart merge; between ribbons less than one width apart there is a single
 *   groove as wide as the room, and shallower.
 */
import type { ArcChain } from "../../geometry/arc-chain.ts";
import { reverseChain } from "../../geometry/arc-chain.ts";
import { type MedialAxis, medialAxis } from "../../geometry/medial-axis.ts";
import { EMPTY_REGION, type Region } from "../../geometry/region.ts";
import { ringChain } from "../../geometry/ring-chain.ts";
import { deepestOf, depthAt, radiusAt, type VCutter, vCutterOf } from "./groove-cutter.ts";
import { type FloorShare, shareFloor } from "./groove-floor.ts";
import { filledGround, surroundings, wideParts, withGrooves } from "./groove-ground.ts";
import { REGION_FIT_MM, type RouterPanel } from "./router-panel.ts";
import type { GrooveSettings } from "./settings.ts";

export interface GroovePlan extends FloorShare {
  readonly panel: RouterPanel;
  readonly settings: GrooveSettings;
  readonly cutter: VCutter;
  /** All that is not ribbon and may be cut, as far out as the grooves go. */
  readonly ground: Region;
  /** The deepest that the tip goes anywhere, and half the width of that cut at the upper face. */
  readonly limitDepthMm: number;
  readonly limitRadiusMm: number;
  readonly axis: MedialAxis;
  /** Paths of the tip at the limit's depth, closed. */
  readonly contours: readonly ArcChain[];
  /** The level floor within those paths; empty along outlines. */
  readonly floor: Region;
}

/** Points along the boundary stand this near for the medial axis; nearer where gaps are narrow, but no nearer than the least. */
const AXIS_SPACING_MM = 0.1;
const SPACINGS_IN_GAP = 6;
const LEAST_SPACING_MM = 0.02;

/** Undefined where the list has no V cutter. */
export function planGroove(panel: RouterPanel, settings: GrooveSettings): GroovePlan | undefined {
  const cutter = vCutterOf(settings);
  if (!cutter) return undefined;
  const outlines = settings.fill === "outlines";
  const widest = radiusAt(cutter.shape, Math.min(settings.deepestMm, deepestOf(cutter)));
  const limitRadiusMm = outlines ? Math.min(widest, settings.grooveWidthMm / 2) : widest;
  const limitDepthMm = depthAt(cutter.shape, limitRadiusMm);
  const ground = outlines ? surroundings(panel, limitRadiusMm) : filledGround(panel, settings);
  const floor = outlines ? EMPTY_REGION : wideParts(ground, limitRadiusMm);
  const middles = outlines ? withGrooves(panel, limitRadiusMm) : floor;
  const contours = middles.rings.map((ring) => ringChain(ring, REGION_FIT_MM));
  return {
    panel,
    settings,
    cutter,
    ground,
    limitDepthMm,
    limitRadiusMm,
    axis: medialAxis(ground, axisSpacing(settings)),
    // Rings have the floor on their left: a cutter that turns clockwise climbs along the wall.
    contours: settings.climb ? contours : contours.map(reverseChain),
    floor,
    ...shareFloor(floor, settings.cutters, { depthMm: limitDepthMm, shape: cutter.shape }),
  };
}

function axisSpacing({ ribbon }: GrooveSettings): number {
  return Math.max(LEAST_SPACING_MM, Math.min(AXIS_SPACING_MM, ribbon.gapMm / SPACINGS_IN_GAP));
}
