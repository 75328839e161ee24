/**
 * What a carved relief must keep within. Nothing may be cut below the intended surface; nothing may
 * be left above what the ball reaches and the ridges between its lines. Beside a wall a hair's
 * breadth sideways is the wall's whole height, so the highest limit is taken from a little way
 * round each pixel: as far as lines lie apart.
 */
import { grow, insideOf } from "../../geometry/region.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { Limits } from "./limits.ts";
import { type PixelGrid, visitSpans } from "./raster.ts";
import { scallopHeight } from "./rates.ts";
import { STEEP_ACROSS } from "./relief-detours.ts";
import { highestWithin } from "./relief-discs.ts";
import { finishingBall } from "./relief-paths.ts";
import { finishApart } from "./relief-scallop.ts";
import { REGION_CHORD_MM, type RouterPanel } from "./router-panel.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

export interface ReliefSurfaces {
  /** The intended one, that of reliefField. */
  readonly field: HeightField;
  /** That of reachableField. */
  readonly reachable: HeightField;
}

/** What stays on the intended surface because the ball is round. */
export interface Stays {
  readonly areaMm2: number;
  readonly volumeMm3: number;
  readonly worstMm: number;
}

/** On another grid's pixels; off the panel anything goes. */
export function reliefLimits(
  { field, reachable }: ReliefSurfaces,
  { outline }: RouterPanel,
  settings: ReliefSettings,
  grid: PixelGrid,
): Limits {
  const { toleranceMm, scallopMm } = settings;
  const ball = finishingBall(settings);
  const highest = ball ? highestWithin(reachable, wallSlack(ball, scallopMm, field.stepMm)) : reachable;
  const slack = toleranceMm + (ball ? ridgeOnSlope(ball, scallopMm) : 0);
  const limits = {
    lowest: new Float32Array(grid.columns * grid.rows).fill(Number.NEGATIVE_INFINITY),
    highest: new Float32Array(grid.columns * grid.rows),
  };
  const panel = grow(insideOf(outline, REGION_CHORD_MM), -toleranceMm, REGION_CHORD_MM);
  const low = new Sampler(field);
  const high = new Sampler(highest);
  visitSpans(panel, grid, (from, to) => {
    const row = Math.floor(from / grid.columns);
    const y = grid.minY + (row + 0.5) * grid.stepMm;
    for (let i = from; i < to; i++) {
      const x = grid.minX + (i - row * grid.columns + 0.5) * grid.stepMm;
      low.look(x, y);
      high.look(x, y);
      limits.lowest[i] = low.least - toleranceMm;
      limits.highest[i] = Math.min(0, high.most + slack);
    }
  });
  return limits;
}

/** Steeper than this from pixel to pixel (rise over run) is a wall: between the two there is no height to speak of. */
const WALL = 2;

/** A place within this share of a pixel from a pixel's middle is that pixel. */
const SAME_PIXEL = 1e-4;

/** Heights of a field between its pixels. */
class Sampler {
  /** The least and the most that the surface may be at the place last looked at: one height, but between the two sides of a wall. */
  least = 0;
  most = 0;
  readonly #field: HeightField;

  constructor(field: HeightField) {
    this.#field = field;
  }

  look(x: number, y: number): void {
    const { columns, rows, stepMm, minX, minY, z } = this.#field;
    const across = Math.min(columns - 1, Math.max(0, (x - minX) / stepMm - 0.5));
    const up = Math.min(rows - 1, Math.max(0, (y - minY) / stepMm - 0.5));
    const left = Math.floor(across + SAME_PIXEL);
    const right = Math.ceil(across - SAME_PIXEL);
    const low = Math.floor(up + SAME_PIXEL) * columns;
    const high = Math.ceil(up - SAME_PIXEL) * columns;
    const a = z[low + left] ?? 0;
    const b = z[low + right] ?? 0;
    const c = z[high + left] ?? 0;
    const d = z[high + right] ?? 0;
    this.least = Math.min(a, b, c, d);
    this.most = Math.max(a, b, c, d);
    if (this.most - this.least > WALL * stepMm) return;
    const t = Math.max(0, across - left);
    const bottom = a + (b - a) * t;
    const top = c + (d - c) * t;
    this.least = bottom + (top - bottom) * Math.max(0, up - low / columns);
    this.most = this.least;
  }
}

/** The highest ridge, measured upright, between lines on the steepest face that gets none between. */
function ridgeOnSlope(ball: LoadedCutter, scallopMm: number): number {
  const along = Math.sqrt(1 + STEEP_ACROSS * STEEP_ACROSS);
  return scallopHeight(ball.shape.diameterMm / 2, finishApart(ball, scallopMm) * along) * along;
}

/**
 * How far from any place that it could reach the ball may have passed: half the distance of the
 * lines, slanting to them at 45 degrees, and the way from one pixel to the next.
 */
function wallSlack(ball: LoadedCutter, scallopMm: number, pixelMm: number): number {
  return finishApart(ball, scallopMm) * Math.SQRT1_2 + pixelMm * Math.SQRT2;
}

export function measureStays(field: HeightField, reachable: HeightField, toleranceMm: number): Stays {
  const pixelMm2 = field.stepMm * field.stepMm;
  let pixels = 0;
  let height = 0;
  let worstMm = 0;
  for (const [i, z] of reachable.z.entries()) {
    const left = z - (field.z[i] ?? 0);
    if (left <= toleranceMm) continue;
    pixels++;
    height += left;
    worstMm = Math.max(worstMm, left);
  }
  return { areaMm2: pixels * pixelMm2, volumeMm3: height * pixelMm2, worstMm };
}
