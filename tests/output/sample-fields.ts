/** Height fields of known shape for tests, mm. */
import { flatField, type HeightField } from "../../src/output/height-field.ts";

export function fieldOf(
  columns: number,
  rows: number,
  stepMm: number,
  heightAt: (x: number, y: number) => number,
): HeightField {
  const field = flatField({ minX: 0, minY: 0, maxX: columns * stepMm, maxY: rows * stepMm }, stepMm, 0);
  field.z.forEach((_, i) => {
    field.z[i] = heightAt(((i % columns) + 0.5) * stepMm, (Math.floor(i / columns) + 0.5) * stepMm);
  });
  return field;
}

/** Round bumps 10 mm apart, up to 1.5 mm high on a ground at -3. */
export function bumps(x: number, y: number): number {
  return -3 + 1.5 * Math.sin((Math.PI * x) / 10) ** 2 * Math.sin((Math.PI * y) / 10) ** 2;
}

/** Ribbons with upright walls that run up to the right, 3 mm high. */
export function walls(x: number, y: number): number {
  return (x + 2 * y) % 8 < 3 ? 0 : -3;
}

/** Domed ribbons with a wall of 1 mm down to the ground at -3. */
export function domes(x: number, y: number): number {
  const from = ((x + y) % 9) - 4.5;
  return Math.abs(from) < 3 ? -2 + Math.sqrt(1 - (from / 3) ** 2) * 1.5 : -3;
}
