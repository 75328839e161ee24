/**
 * A height field raised to its highest within a disc: what a flat-ended cutter stands on. For each
 * row under the disc the highest along a window of that row's width is found by running maxima
 * (van Herk, "A fast algorithm for local minimum and maximum filters on rectangular and octagonal
 * kernels", Pattern Recognition Letters 13, 1992), whose work does not grow with the window.
 */
import type { HeightField } from "../../output/height-field.ts";

/** At each pixel the highest of all pixels whose middles lie within `radiusMm`. */
export function highestWithin(field: HeightField, radiusMm: number): HeightField {
  const { columns, rows, stepMm, z } = field;
  const reach = radiusMm / stepMm;
  const highest = z.slice();
  const row = new RowMaxima(columns);
  for (let dy = 0; dy <= reach; dy++) {
    const half = Math.floor(Math.sqrt(Math.max(0, reach * reach - dy * dy)));
    for (let from = 0; from < rows; from++) {
      const maxima = row.within(z, from * columns, half);
      for (const to of dy === 0 ? [from] : [from - dy, from + dy])
        if (to >= 0 && to < rows) raise(highest, to * columns, maxima);
    }
  }
  return { ...field, z: highest };
}

/** At each pixel the lowest of all pixels whose middles lie within `radiusMm`. */
export function lowestWithin(field: HeightField, radiusMm: number): HeightField {
  const turned = highestWithin({ ...field, z: field.z.map((height) => -height) }, radiusMm);
  return { ...turned, z: turned.z.map((height) => -height) };
}

/** A coarser field of `times` x `times` pixels in one, each as high as the highest of them. */
export function coarsened(field: HeightField, times: number): HeightField {
  const columns = Math.ceil(field.columns / times);
  const rows = Math.ceil(field.rows / times);
  const z = new Float32Array(columns * rows).fill(Number.NEGATIVE_INFINITY);
  for (let row = 0; row < field.rows; row++) {
    const to = Math.floor(row / times) * columns;
    const from = row * field.columns;
    for (let column = 0; column < field.columns; column++) {
      const at = to + Math.floor(column / times);
      const height = field.z[from + column] ?? 0;
      if (height > (z[at] ?? 0)) z[at] = height;
    }
  }
  return { ...field, columns, rows, stepMm: field.stepMm * times, z };
}

function raise(into: Float32Array, start: number, by: Float32Array): void {
  for (let i = 0; i < by.length; i++) {
    const height = by[i] ?? 0;
    if (height > (into[start + i] ?? height)) into[start + i] = height;
  }
}

const NOTHING = Number.NEGATIVE_INFINITY;

/** Running maxima of one row after another, in buffers used again. */
class RowMaxima {
  readonly #out: Float32Array;
  readonly #columns: number;
  #ahead = new Float32Array(0);
  #behind = new Float32Array(0);

  constructor(columns: number) {
    this.#columns = columns;
    this.#out = new Float32Array(columns);
  }

  /** The highest of the `half` pixels to each side of every pixel of the row that begins at `start`. */
  within(z: Float32Array, start: number, half: number): Float32Array {
    const columns = this.#columns;
    const window = 2 * half + 1;
    // The row with nothing `half` pixels before and after it, cut into blocks as long as the window.
    const length = columns + 2 * half;
    if (this.#ahead.length < length) {
      this.#ahead = new Float32Array(length);
      this.#behind = new Float32Array(length);
    }
    const ahead = this.#ahead;
    const behind = this.#behind;
    ahead.fill(NOTHING, 0, length);
    ahead.set(z.subarray(start, start + columns), half);
    let highest = NOTHING;
    for (let i = 0; i < length; i++) {
      const height = ahead[i] ?? NOTHING;
      highest = i % window === 0 || height > highest ? height : highest;
      behind[i] = highest;
    }
    highest = NOTHING;
    for (let i = length - 1; i >= 0; i--) {
      const height = ahead[i] ?? NOTHING;
      highest = i % window === window - 1 || height > highest ? height : highest;
      ahead[i] = highest;
    }
    for (let i = 0; i < columns; i++)
      this.#out[i] = Math.max(ahead[i] ?? NOTHING, behind[i + window - 1] ?? NOTHING);
    return this.#out;
  }
}
