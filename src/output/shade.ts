/**
 * A carved surface as people see it: light from the upper left, the shadows that ribbons cast,
 * deep ground darker, the wood's colour and grain. No measure is taken from it.
 */
import { coarsenField, fieldBounds, type PlacedImage } from "./coarsen.ts";
import type { HeightField } from "./height-field.ts";
import {
  grainAt,
  grainStrength,
  THROUGH_COLOUR,
  type WoodTone,
  woodColour,
  woodPalette,
} from "./wood-look.ts";

export interface ShadeSettings {
  readonly tone: WoodTone;
  /** "across": the grain runs from left to right; "up": from bottom to top. */
  readonly grain: "across" | "up" | "none";
  /** Of the image; a whole number of the field's pixels is taken, at least one. */
  readonly pixelMm: number;
  /** What lies as low as this is cut through, and shown white. */
  readonly throughZMm: number;
}

/** Steepness of the light: rise over level way. */
const LIGHT_RISE = 1.1;
/** Share of the light that comes from everywhere. */
const AMBIENT = 0.4;
/** What a cast shadow takes of the other light, and the height over which its edge fades, mm. */
const SHADOW = 0.6;
const SHADOW_FADE_MM = 0.6;
/** What a hollow takes of all light, and how far it is looked round for what stands higher, mm. */
const HOLLOW = 0.5;
const HOLLOW_REACH_MM = 2.5;
/** What the deepest ground loses by its depth alone. */
const DEPTH = 0.26;
/** Light of level wood at the upper face; slopes towards the light are brighter. */
const LEVEL_LIGHT = 0.8;
/** So that a flat panel is not divided by its depth. */
const LEAST_DEPTH_MM = 0.5;

/** The image of a field and the box that it fills. */
export function shadeField(field: HeightField, settings: ShadeSettings): PlacedImage {
  const { tone, throughZMm } = settings;
  const coarse = coarsenField(field, settings.pixelMm);
  const { columns, rows } = coarse;
  const z = coarse.z.map((height) => Math.max(height, throughZMm));
  const surface = { ...coarse, z };
  const depth = z.reduce(
    (most, height) => (height > throughZMm ? Math.max(most, -height) : most),
    LEAST_DEPTH_MM,
  );
  const around = meanAround(surface, HOLLOW_REACH_MM);
  const shadow = shadowHeights(surface);
  const lighting = lightingOf(surface);
  const wood = woodOf(surface, settings);
  const palette = woodPalette(tone);
  const data = new Uint8Array(3 * columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const i = row * columns + column;
      const height = z[i] ?? 0;
      const lit = 1 - SHADOW * share(((shadow[i] ?? 0) - height) / SHADOW_FADE_MM);
      const hollow = 1 - HOLLOW * share(((around[i] ?? 0) - height) / depth);
      const open = (AMBIENT + (1 - AMBIENT) * lit * lighting(column, row)) * hollow;
      const light = LEVEL_LIGHT * open * (1 - (DEPTH * Math.max(-height, 0)) / depth) * wood(column, row);
      const colour = height <= throughZMm ? THROUGH_COLOUR : woodColour(light, height);
      const to = 3 * ((rows - 1 - row) * columns + column);
      data[to] = palette[3 * colour] ?? 0;
      data[to + 1] = palette[3 * colour + 1] ?? 0;
      data[to + 2] = palette[3 * colour + 2] ?? 0;
    }
  }
  return { image: { width: columns, height: rows, data }, bounds: fieldBounds(coarse) };
}

type OfPixel = (column: number, row: number) => number;

/** Lambert's cosine law, as a share of what falls on a level face. */
function lightingOf({ columns, rows, stepMm, z }: HeightField): OfPixel {
  const level = Math.SQRT1_2;
  return (column, row) => {
    const [left, right] = [Math.max(column - 1, 0), Math.min(column + 1, columns - 1)];
    const [below, above] = [Math.max(row - 1, 0), Math.min(row + 1, rows - 1)];
    const line = row * columns;
    const riseX = ((z[line + right] ?? 0) - (z[line + left] ?? 0)) / (2 * stepMm);
    const riseY = ((z[above * columns + column] ?? 0) - (z[below * columns + column] ?? 0)) / (2 * stepMm);
    // The light comes from (-1, 1): a slope that falls that way faces it.
    const facing = LIGHT_RISE + level * (riseX - riseY);
    return Math.max(facing, 0) / (LIGHT_RISE * Math.sqrt(1 + riseX * riseX + riseY * riseY));
  };
}

/** Share of the light that the wood itself sends back. */
function woodOf(field: HeightField, { tone, grain }: ShadeSettings): OfPixel {
  const strength = grain === "none" ? 0 : grainStrength(tone);
  if (strength === 0) return () => 1;
  const { columns, stepMm, minX, minY, z } = field;
  return (column, row) => {
    const x = minX + (column + 0.5) * stepMm;
    const y = minY + (row + 0.5) * stepMm;
    const height = z[row * columns + column] ?? 0;
    return 1 - strength * (grain === "across" ? grainAt(x, y, height) : grainAt(y, x, height));
  };
}

/** The height below which a place lies in the shadow of what stands towards the light. */
function shadowHeights({ columns, rows, stepMm, z }: HeightField): Float32Array {
  const heights = new Float32Array(z);
  const drop = LIGHT_RISE * Math.SQRT2 * stepMm;
  for (let row = rows - 2; row >= 0; row--) {
    for (let column = 1; column < columns; column++) {
      const i = row * columns + column;
      const cast = (heights[i + columns - 1] ?? 0) - drop;
      if (cast > (heights[i] ?? 0)) heights[i] = cast;
    }
  }
  return heights;
}

/** Mean height over a square round each pixel, cut off at the edges: along rows first, then along columns. */
function meanAround({ columns, rows, stepMm, z }: HeightField, reachMm: number): Float32Array {
  const reach = Math.max(1, Math.round(reachMm / stepMm));
  const along = new Float32Array(z.length);
  for (let row = 0; row < rows; row++)
    slideMean(z, along, { start: row * columns, step: 1, count: columns }, reach);
  const around = new Float32Array(z.length);
  for (let column = 0; column < columns; column++)
    slideMean(along, around, { start: column, step: columns, count: rows }, reach);
  return around;
}

interface Line {
  readonly start: number;
  readonly step: number;
  readonly count: number;
}

/** The mean over `reach` neighbours to both sides of each place of a line, as one sum that moves on. */
function slideMean(from: Float32Array, to: Float32Array, { start, step, count }: Line, reach: number): void {
  const at = (i: number) => from[start + i * step] ?? 0;
  let sum = 0;
  for (let i = 0; i < Math.min(reach, count); i++) sum += at(i);
  for (let i = 0; i < count; i++) {
    if (i + reach < count) sum += at(i + reach);
    if (i - reach > 0) sum -= at(i - reach - 1);
    to[start + i * step] = sum / (Math.min(i + reach, count - 1) - Math.max(i - reach, 0) + 1);
  }
}

function share(value: number): number {
  return Math.min(Math.max(value, 0), 1);
}
