/** A simulated surface held against its limits. */
import { InternalError } from "../../base/internal-error.ts";
import { LIMIT_SLACK_MM } from "../../base/tolerance.ts";
import type { Measured } from "../../checks/judge.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { Limits } from "./limits.ts";
import { type PixelGrid, pixelMiddle } from "./raster.ts";

/** What lies outside its limits to one side. */
export interface Deviations {
  /** The furthest, mm; 0 where all is within. */
  readonly worst: number;
  readonly areaMm2: number;
  /** Connected patches of pixels, each at its furthest pixel, in the order of rows. */
  readonly places: readonly Measured[];
}

export interface Comparison {
  /** Cut away too much. */
  readonly below: Deviations;
  /** Left standing too high. */
  readonly above: Deviations;
  /** The lowest place of all that has a lowest limit; null where nothing has. */
  readonly lowestZ: number | null;
  /** How far every pixel lies outside its limits, mm: positive too high, negative too low, 0 within. For pictures. */
  readonly deviation: HeightField;
}

export function compareWithLimits(field: HeightField, { lowest, highest }: Limits): Comparison {
  if (lowest.length !== field.z.length || highest.length !== field.z.length)
    throw new InternalError("limits and field are of different sizes");
  const off = new Float32Array(field.z.length);
  let tooLow = 0;
  let tooHigh = 0;
  let lowestZ = Number.POSITIVE_INFINITY;
  for (let i = 0; i < off.length; i++) {
    const z = field.z[i] ?? 0;
    const least = lowest[i] ?? 0;
    if (z < lowestZ && least > Number.NEGATIVE_INFINITY) lowestZ = z;
    const below = least - z;
    const above = z - (highest[i] ?? 0);
    if (below > LIMIT_SLACK_MM) {
      off[i] = -below;
      tooLow++;
    } else if (above > LIMIT_SLACK_MM) {
      off[i] = above;
      tooHigh++;
    }
  }
  const pixelMm2 = field.stepMm * field.stepMm;
  const { below, above } = findPatches(field, off);
  return {
    below: { worst: worstOf(below), areaMm2: tooLow * pixelMm2, places: below },
    above: { worst: worstOf(above), areaMm2: tooHigh * pixelMm2, places: above },
    lowestZ: Number.isFinite(lowestZ) ? lowestZ : null,
    deviation: { ...field, z: off },
  };
}

function worstOf(places: readonly Measured[]): number {
  return places.reduce((most, { value }) => Math.max(most, value), 0);
}

/** Patches of pixels of one sign, joined over sides and corners. */
function findPatches(grid: PixelGrid, off: Float32Array): { below: Measured[]; above: Measured[] } {
  const below: Measured[] = [];
  const above: Measured[] = [];
  const seen = new Uint8Array(off.length);
  for (let i = 0; i < off.length; i++) {
    const here = off[i] ?? 0;
    if (here === 0 || seen[i] === 1) continue;
    const furthest = floodPatch(grid, off, { seen, from: i });
    (here < 0 ? below : above).push({ at: pixelMiddle(grid, furthest), value: Math.abs(off[furthest] ?? 0) });
  }
  return { below, above };
}

/** Marks the patch of a pixel as seen and answers its furthest pixel. */
function floodPatch(
  { columns, rows }: PixelGrid,
  off: Float32Array,
  { seen, from }: { readonly seen: Uint8Array; readonly from: number },
): number {
  const sign = Math.sign(off[from] ?? 0);
  const open = [from];
  seen[from] = 1;
  let furthest = from;
  for (let pixel = open.pop(); pixel !== undefined; pixel = open.pop()) {
    if (sign * (off[pixel] ?? 0) > sign * (off[furthest] ?? 0)) furthest = pixel;
    const column = pixel % columns;
    const row = (pixel - column) / columns;
    for (let y = Math.max(0, row - 1); y <= Math.min(rows - 1, row + 1); y++)
      for (let x = Math.max(0, column - 1); x <= Math.min(columns - 1, column + 1); x++) {
        const next = y * columns + x;
        if (seen[next] === 1 || Math.sign(off[next] ?? 0) !== sign) continue;
        seen[next] = 1;
        open.push(next);
      }
  }
  return furthest;
}
