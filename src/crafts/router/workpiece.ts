/** The stock while it is cut, and the cutters as the sweeps need them. */
import type { Bounds } from "../../geometry/bounds.ts";
import { flatField, type HeightField } from "../../output/height-field.ts";
import type { CutterShape, Place3 } from "../../output/toolpath.ts";

/**
 * What happens within this of the cutter's rim, or takes off no more than this, is no touch: end
 * points are rounded to the output grid, and paths that share a wall meet it in slightly different
 * formulas. Five steps of the output grid.
 */
export const TOUCH_MM = 5e-3;

export interface Workpiece {
  /** No pixel is ever above 0, the stock's upper face. */
  readonly field: HeightField;
  /** The most that was taken off a pixel since the bite was last reset, and which pixel. */
  bite: number;
  biteAt: number;
}

/** A cutter in numbers that do not have to be worked out again for every pixel. */
export interface CutterProfile {
  readonly kind: CutterShape["kind"];
  readonly radius: number;
  /** Radius of the flat in the middle: of a V cutter's tip, of an end mill all of it. */
  readonly flat: number;
  /** Of a V cutter: how much higher for each mm further out. */
  readonly rise: number;
  /** Square of the distance from the axis that a pixel must lie within to count as touched. */
  readonly touchSquared: number;
}

export function rawStock(box: Bounds, pixelMm: number): Workpiece {
  return { field: flatField(box, pixelMm, 0), bite: 0, biteAt: 0 };
}

export function setBite(work: Workpiece, pixel: number, bite: number): void {
  work.bite = bite;
  work.biteAt = pixel;
}

export function profileOf(shape: CutterShape): CutterProfile {
  const radius = shape.diameterMm / 2;
  return {
    kind: shape.kind,
    radius,
    flat: shape.kind === "end-mill" ? radius : shape.kind === "v" ? shape.tipMm / 2 : 0,
    rise: shape.kind === "v" ? 1 / Math.tan((shape.angleDeg * Math.PI) / 360) : 0,
    touchSquared: Math.max(0, radius - TOUCH_MM) ** 2,
  };
}

/** As cutterHeight, for distances up to the radius. */
export function heightOver({ kind, radius, flat, rise }: CutterProfile, fromAxis: number): number {
  if (kind === "end-mill") return 0;
  if (kind === "ball") return radius - Math.sqrt(Math.max(0, radius * radius - fromAxis * fromAxis));
  return fromAxis > flat ? (fromAxis - flat) * rise : 0;
}

/** How far from its axis a cutter whose lowest point is at `z` is still below the stock's upper face; 0 when it is not. */
export function reachAt({ kind, radius, flat, rise }: CutterProfile, z: number): number {
  if (z >= 0) return 0;
  if (kind === "end-mill" || (kind === "ball" && -z >= radius)) return radius;
  if (kind === "ball") return Math.sqrt(radius * radius - (radius + z) * (radius + z));
  return Math.min(radius, flat - z / rise);
}

/**
 * Of the pixels that the cutter would cut from an untouched stock with its lowest point here, the
 * share that still has material for it; 0 where there is no such pixel.
 */
export function solidShare({ field }: Workpiece, cutter: CutterProfile, at: Place3): number {
  const { columns, rows, stepMm, minX, minY, z } = field;
  const reach = reachAt(cutter, at.z);
  const firstRow = Math.max(0, Math.floor((at.y - reach - minY) / stepMm));
  const lastRow = Math.min(rows - 1, Math.floor((at.y + reach - minY) / stepMm));
  const firstColumn = Math.max(0, Math.floor((at.x - reach - minX) / stepMm));
  const lastColumn = Math.min(columns - 1, Math.floor((at.x + reach - minX) / stepMm));
  let fresh = 0;
  let solid = 0;
  for (let row = firstRow; row <= lastRow; row++) {
    const dy = minY + (row + 0.5) * stepMm - at.y;
    for (let column = firstColumn; column <= lastColumn; column++) {
      const dx = minX + (column + 0.5) * stepMm - at.x;
      const squared = dx * dx + dy * dy;
      if (squared > cutter.touchSquared) continue;
      const under = at.z + heightOver(cutter, Math.sqrt(squared)) + TOUCH_MM;
      if (under >= 0) continue;
      fresh++;
      if ((z[row * columns + column] ?? 0) > under) solid++;
    }
  }
  return fresh > 0 ? solid / fresh : 0;
}
