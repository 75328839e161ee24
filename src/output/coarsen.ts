/** Height fields and images of them at a coarser pixel. */
import type { Bounds } from "../geometry/bounds.ts";
import type { HeightField } from "./height-field.ts";
import type { RgbImage } from "./rgb-image.ts";

/** An image and the box that it fills, mm. */
export interface PlacedImage {
  readonly image: RgbImage;
  readonly bounds: Bounds;
}

/**
 * The field in pixels of about `pixelMm`, made of whole numbers of its own, each with their
 * mean height; the last of a row or column may lie partly outside. Never finer than the field.
 */
export function coarsenField(field: HeightField, pixelMm: number): HeightField {
  const factor = coarsening(field, pixelMm);
  if (factor === 1) return field;
  const columns = Math.ceil(field.columns / factor);
  const rows = Math.ceil(field.rows / factor);
  const z = new Float32Array(columns * rows);
  const sums = new Float64Array(columns);
  for (let row = 0; row < rows; row++) {
    sums.fill(0);
    const last = Math.min((row + 1) * factor, field.rows);
    for (let y = row * factor; y < last; y++) {
      for (let column = 0, x = 0; column < columns; column++) {
        const end = Math.min(x + factor, field.columns);
        let sum = 0;
        for (; x < end; x++) sum += field.z[y * field.columns + x] ?? 0;
        sums[column] = (sums[column] ?? 0) + sum;
      }
    }
    for (let column = 0; column < columns; column++) {
      const wide = Math.min(factor, field.columns - column * factor);
      z[row * columns + column] = (sums[column] ?? 0) / (wide * (last - row * factor));
    }
  }
  return { columns, rows, stepMm: factor * field.stepMm, minX: field.minX, minY: field.minY, z };
}

/** How many of the field's pixels a coarser one is wide. */
export function coarsening({ stepMm }: HeightField, pixelMm: number): number {
  return Math.max(1, Math.round(pixelMm / stepMm));
}

export function fieldBounds({ columns, rows, stepMm, minX, minY }: Omit<HeightField, "z">): Bounds {
  return { minX, minY, maxX: minX + columns * stepMm, maxY: minY + rows * stepMm };
}
