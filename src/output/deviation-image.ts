/**
 * A map of where a carved surface lies outside its limits. What stands too high is lighter than the
 * grey of a good place and yellow, what is cut too deep is darker and violet: the two are told
 * apart in black and white as well. Each pixel of the image shows the worst of those it covers,
 * so that no narrow place is lost.
 */

import { formatMm } from "../base/format-number.ts";
import { InternalError } from "../base/internal-error.ts";
import type { Bounds } from "../geometry/bounds.ts";
import { coarsening, fieldBounds, type PlacedImage } from "./coarsen.ts";
import type { HeightField } from "./height-field.ts";
import type { PictureItem } from "./picture.ts";
import type { Rgb } from "./wood-look.ts";

export interface DeviationSettings {
  readonly pixelMm: number;
  /** As far off as this is still good. */
  readonly toleranceMm: number;
  /** From this on the colour is the fullest; more than the tolerance. */
  readonly fullMm: number;
  /** What lies as low as this is cut through. */
  readonly throughZMm: number;
}

/** Good places by their intended height, so that the carving can be made out below the map. */
const DEEPEST_GOOD = 148;
const HIGHEST_GOOD = 182;
const GREY: Rgb = [165, 165, 165];
/** From just over the tolerance to the full colour. */
const HIGH: readonly Rgb[] = [
  [204, 194, 140],
  [228, 212, 104],
  [250, 234, 70],
  [255, 250, 170],
];
const LOW: readonly Rgb[] = [
  [134, 108, 142],
  [110, 70, 124],
  [82, 34, 100],
  [48, 8, 66],
];

/**
 * The image of how far a surface lies from where it should, and the box that it fills: `off` is
 * positive where it stands too high, over the same pixels.
 */
export function deviationImage(
  off: HeightField,
  surface: HeightField,
  { pixelMm, toleranceMm, fullMm, throughZMm }: DeviationSettings,
): PlacedImage {
  if (off.columns !== surface.columns || off.rows !== surface.rows)
    throw new InternalError("two fields of different pixels cannot be compared");
  const factor = coarsening(off, pixelMm);
  const width = Math.ceil(off.columns / factor);
  const height = Math.ceil(off.rows / factor);
  const worst = worstOfBlocks(off, factor, width, height);
  const data = new Uint8Array(3 * width * height);
  const deepest = surface.z.reduce((least, z) => (z > throughZMm ? Math.min(least, z) : least), 0);
  worst.forEach((place, i) => {
    const by = off.z[place] ?? 0;
    const over = (Math.abs(by) - toleranceMm) / (fullMm - toleranceMm);
    const colours = by > 0 ? HIGH : LOW;
    const step = Math.min(Math.floor(over * (colours.length - 1)), colours.length - 1);
    const depth = deepest < 0 ? Math.min((surface.z[place] ?? 0) / deepest, 1) : 0;
    const grey = HIGHEST_GOOD - Math.round((HIGHEST_GOOD - DEEPEST_GOOD) * Math.max(depth, 0));
    data.set((over > 0 ? colours[step] : undefined) ?? [grey, grey, grey], 3 * i);
  });
  const { stepMm, minX, minY } = off;
  const bounds = fieldBounds({ columns: width, rows: height, stepMm: factor * stepMm, minX, minY });
  return { image: { width, height, data }, bounds };
}

/** What the colours mean, in lines below a picture of these bounds with letters `letterMm` high. */
export function deviationLegend(
  { minX, minY }: Bounds,
  letterMm: number,
  { toleranceMm, fullMm }: DeviationSettings,
): PictureItem[] {
  const [slightHigh = GREY, , , fullHigh = GREY] = HIGH;
  const [slightLow = GREY, , , fullLow = GREY] = LOW;
  const lines: readonly (readonly [Rgb, string])[] = [
    [fullHigh, `too high by ${formatMm(fullMm)} or more`],
    [slightHigh, "slightly too high"],
    [GREY, toleranceMm > 0 ? `within ${formatMm(toleranceMm)}` : "as it should be"],
    [slightLow, "slightly too deep"],
    [fullLow, `too deep by ${formatMm(fullMm)} or more`],
  ];
  return lines.map(([[red, green, blue], text], i) => ({
    kind: "label",
    at: { x: minX, y: minY - (1.8 + 1.5 * i) * letterMm },
    text,
    swatch: `rgb(${red},${green},${blue})`,
  }));
}

/** The pixel that is furthest off, either way, of each block; the top row of blocks first. */
function worstOfBlocks(off: HeightField, factor: number, width: number, height: number): Uint32Array {
  const worst = new Uint32Array(width * height);
  const most = new Float32Array(width * height).fill(-1);
  for (let row = 0; row < off.rows; row++) {
    const line = (height - 1 - Math.floor(row / factor)) * width;
    for (let column = 0; column < off.columns; column++) {
      const place = row * off.columns + column;
      const by = Math.abs(off.z[place] ?? 0);
      const block = line + Math.floor(column / factor);
      if (by > (most[block] ?? 0)) {
        most[block] = by;
        worst[block] = place;
      }
    }
  }
  return worst;
}
