/**
 * A surface as heights over a grid of square pixels: mm, y up. Pixel (column, row) has its
 * middle at (minX + (column + 1/2) step, minY + (row + 1/2) step) and its height at
 * z[row * columns + column]; row 0 is the lowest.
 */
export interface HeightField {
  readonly columns: number;
  readonly rows: number;
  readonly stepMm: number;
  readonly minX: number;
  readonly minY: number;
  /** One height for each pixel, mm; z = 0 is the upper face of the stock. */
  readonly z: Float32Array;
}

/** A field that covers the box with pixels of `stepMm`, all at one height. */
export function flatField(
  box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number },
  stepMm: number,
  z: number,
): HeightField {
  const columns = Math.max(1, Math.ceil((box.maxX - box.minX) / stepMm - 1e-9));
  const rows = Math.max(1, Math.ceil((box.maxY - box.minY) / stepMm - 1e-9));
  return {
    columns,
    rows,
    stepMm,
    minX: box.minX,
    minY: box.minY,
    z: new Float32Array(columns * rows).fill(z),
  };
}

/** The part of a field whose pixels' middles lie in the box. */
export function croppedField(
  field: HeightField,
  box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number },
): HeightField {
  const { stepMm, minX, minY } = field;
  const first = Math.max(0, Math.ceil((box.minX - minX) / stepMm - 0.5));
  const low = Math.max(0, Math.ceil((box.minY - minY) / stepMm - 0.5));
  const columns = Math.min(field.columns, Math.floor((box.maxX - minX) / stepMm + 0.5)) - first;
  const rows = Math.min(field.rows, Math.floor((box.maxY - minY) / stepMm + 0.5)) - low;
  const z = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const from = (low + row) * field.columns + first;
    z.set(field.z.subarray(from, from + columns), row * columns);
  }
  return { columns, rows, stepMm, minX: minX + first * stepMm, minY: minY + low * stepMm, z };
}
