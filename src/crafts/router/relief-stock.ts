/**
 * The stock of a relief as roughing sees it: pixels of a tenth of a millimetre or more, heights
 * that are never lower than what stands there, and what each cutter may do over them.
 */
import { InternalError } from "../../base/internal-error.ts";
import type { HeightField } from "../../output/height-field.ts";
import { coarsened, highestWithin, lowestWithin } from "./relief-discs.ts";
import { sweptField, tipField } from "./relief-reach.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

export interface ReliefStock {
  /** The intended surface, each pixel as high as the highest of the field's own under it. */
  readonly surface: HeightField;
  /** What stands now; lowered by `cutAway`. */
  readonly standing: HeightField;
  /** How far a cutter may stray from a pixel's middle, rounding of paths and pixels included. */
  readonly strayMm: number;
}

/** Roughing pixels for each diameter of the smallest cutter: fine enough that what they leave is like the allowance. */
const PIXELS_PER_DIAMETER = 15;

/** Paths run up to this share of a pixel from where pixels say: half of it along the edges of areas, a quarter by dropping corners. */
const PATH_STRAY = 0.75;

export function makeStock(field: HeightField, cutters: readonly LoadedCutter[]): ReliefStock {
  const smallest = cutters.reduce((least, { shape }) => Math.min(least, shape.diameterMm), 1e6);
  const times = Math.max(1, Math.floor(smallest / PIXELS_PER_DIAMETER / field.stepMm + 1e-9));
  const surface = coarsened(field, times);
  // The highest of a coarse pixel may stand this far from its middle.
  const off = ((times - 1) / 2) * field.stepMm * Math.SQRT2;
  return {
    surface,
    standing: { ...surface, z: new Float32Array(surface.z.length) },
    strayMm: PATH_STRAY * surface.stepMm + off,
  };
}

/** The lowest that the cutter's tip may come over each pixel while it stays the allowance away from the surface on all sides. */
export function roughingTips(
  { surface, strayMm }: ReliefStock,
  cutter: LoadedCutter,
  { roughAllowanceMm }: ReliefSettings,
): HeightField {
  const radius = cutter.shape.diameterMm / 2;
  const tips = isBall(cutter)
    ? highestWithin(tipField(surface, radius + roughAllowanceMm), strayMm + surface.stepMm * Math.SQRT1_2)
    : highestWithin(surface, radius + roughAllowanceMm + strayMm);
  return { ...tips, z: tips.z.map((z) => Math.min(0, z + roughAllowanceMm)) };
}

/** How high the cutter's tip is over each pixel when it comes down on what stands. */
export function touchTips({ standing }: ReliefStock, cutter: LoadedCutter): HeightField {
  const radius = cutter.shape.diameterMm / 2;
  return isBall(cutter) ? tipField(standing, radius) : highestWithin(standing, radius);
}

/** What would stand after the tip had been at each pixel's height (0: nowhere in the stock). */
export function afterCutting(
  { standing, strayMm }: ReliefStock,
  tips: HeightField,
  cutter: LoadedCutter,
): HeightField {
  // A smaller cutter on the same path covers no more, however the path strays.
  const radius = cutter.shape.diameterMm / 2 - strayMm;
  if (radius <= 0) return standing;
  const left = isBall(cutter) ? sweptField(tips, radius) : lowestWithin(tips, radius);
  return { ...left, z: left.z.map((z, i) => Math.min(z, standing.z[i] ?? 0)) };
}

export function cutAway(stock: ReliefStock, tips: HeightField, cutter: LoadedCutter): void {
  stock.standing.z.set(afterCutting(stock, tips, cutter).z);
}

function isBall({ shape }: LoadedCutter): boolean {
  if (shape.kind === "v") throw new InternalError("a V cutter clears no relief");
  return shape.kind === "ball";
}
