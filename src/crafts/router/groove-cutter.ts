/**
 * How deep a V cutter goes: a cut w wide at the upper face is w / (2 tan(A/2)) deep, A the full
 * included angle; a flat tip t across takes its own width off w first (CHECKS.md, section 5).
 * Radii here are half the width of the cut.
 */
import type { CutterShape } from "../../output/toolpath.ts";
import type { GrooveSettings, LoadedCutter } from "./settings.ts";

export type VShape = Extract<CutterShape, { readonly kind: "v" }>;

export interface VCutter extends LoadedCutter {
  readonly shape: VShape;
}

/** The V cutter that carves: the first of the list, if it has one. */
export function vCutterOf({ cutters }: Pick<GrooveSettings, "cutters">): VCutter | undefined {
  return cutters.find(isV);
}

function isV(cutter: LoadedCutter): cutter is VCutter {
  return cutter.shape.kind === "v";
}

/** mm across for each mm of depth, on one side. */
export function slopeOf({ angleDeg }: VShape): number {
  return Math.tan((angleDeg * Math.PI) / 360);
}

/** The depth at which the cutter's cut is 2 `radiusMm` wide at the upper face; 0 where its tip is wider than that. */
export function depthAt(shape: VShape, radiusMm: number): number {
  return Math.max(0, radiusMm - shape.tipMm / 2) / slopeOf(shape);
}

/** Half the width of the cut at the upper face when the tip is this deep. */
export function radiusAt(shape: VShape, depthMm: number): number {
  return shape.tipMm / 2 + depthMm * slopeOf(shape);
}

/** The deepest that the cutter cuts: to the height of its cone and of its cutting edges. */
export function deepestOf({ shape, cuttingLengthMm }: VCutter): number {
  return Math.min(depthAt(shape, shape.diameterMm / 2), cuttingLengthMm);
}
