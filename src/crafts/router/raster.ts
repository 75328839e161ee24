/**
 * Regions onto pixels: a pixel belongs to a region when its middle lies inside. Edges count
 * half-open (from their lower to just below their upper end, from a span's left to just below
 * its right), so regions that share an edge share no pixel and leave none out.
 */
import type { ArcChain } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import { insideOf, type Region, type Ring } from "../../geometry/region.ts";
import type { HeightField } from "../../output/height-field.ts";

/** Where pixels lie; see HeightField. */
export type PixelGrid = Pick<HeightField, "columns" | "rows" | "stepMm" | "minX" | "minY">;

/** The middle of the pixel with this index. */
export function pixelMiddle({ columns, stepMm, minX, minY }: PixelGrid, pixel: number): Point {
  const column = pixel % columns;
  const row = (pixel - column) / columns;
  return { x: minX + (column + 0.5) * stepMm, y: minY + (row + 0.5) * stepMm };
}

/** Sets all pixels of the region to `value`, in an array that has one number for each pixel of the grid. */
export function fillRegion(
  pixels: Float32Array | Uint8Array,
  grid: PixelGrid,
  { region, value }: { readonly region: Region; readonly value: number },
): void {
  visitSpans(region, grid, (from, to) => pixels.fill(value, from, to));
}

/** The same for the inside of a closed chain, its arcs taken as chords within `chordErrorMm`. */
export function fillChain(
  pixels: Float32Array | Uint8Array,
  grid: PixelGrid,
  {
    chain,
    value,
    chordErrorMm,
  }: { readonly chain: ArcChain; readonly value: number; readonly chordErrorMm: number },
): void {
  fillRegion(pixels, grid, { region: insideOf(chain, chordErrorMm), value });
}

/**
 * Calls `visit` with every run of pixels, row by row from the lowest: from the index `from` up to
 * and without `to`. Inside is decided by the parity of the crossings to the left, which for the
 * rings of a Region is the same as their winding.
 */
export function visitSpans(
  { rings }: Region,
  grid: PixelGrid,
  visit: (from: number, to: number) => void,
): void {
  const ends = rowEnds(rings, grid);
  const crossings = rowCrossings(rings, grid, ends);
  let begin = 0;
  for (let row = 0; row < grid.rows; row++) {
    const end = ends[row] ?? 0;
    if (end > begin) {
      const base = row * grid.columns;
      const places = crossings.subarray(begin, end).sort();
      for (let i = 0; i + 1 < places.length; i += 2) {
        const from = pixelFrom(places[i] ?? 0, grid.columns);
        const to = pixelFrom(places[i + 1] ?? 0, grid.columns);
        if (to > from) visit(base + from, base + to);
      }
    }
    begin = end;
  }
}

/** For each row how many edges cross the middles of it and of all rows below. */
function rowEnds(rings: readonly Ring[], grid: PixelGrid): Int32Array {
  // Counted as differences: one more from an edge's first row on, one less from the row after its last.
  const counts = new Int32Array(grid.rows + 1);
  visitEdges(rings, grid, ({ first, past }) => {
    counts[first] = (counts[first] ?? 0) + 1;
    counts[past] = (counts[past] ?? 0) - 1;
  });
  let inRow = 0;
  let sum = 0;
  for (let row = 0; row < grid.rows; row++) {
    inRow += counts[row] ?? 0;
    sum += inRow;
    counts[row] = sum;
  }
  return counts;
}

/** Where edges cross the middle of each row, in columns from the middle of the first pixel; rows one after another. */
function rowCrossings(rings: readonly Ring[], grid: PixelGrid, ends: Int32Array): Float64Array {
  const places = new Float64Array(grid.rows > 0 ? (ends[grid.rows - 1] ?? 0) : 0);
  const next = new Int32Array(grid.rows);
  for (let row = 1; row < grid.rows; row++) next[row] = ends[row - 1] ?? 0;
  visitEdges(rings, grid, ({ first, past, column, slope, row: at }) => {
    for (let row = first; row < past; row++) {
      const slot = next[row] ?? 0;
      places[slot] = column + (row - at) * slope;
      next[row] = slot + 1;
    }
  });
  return places;
}

/** An edge in pixels: it crosses the middles of rows `first` to just before `past`. */
interface PixelEdge {
  first: number;
  past: number;
  /** A place on it, and columns per row. */
  column: number;
  row: number;
  slope: number;
}

function visitEdges(rings: readonly Ring[], grid: PixelGrid, visit: (edge: PixelEdge) => void): void {
  const { minX, minY, stepMm, rows } = grid;
  const edge: PixelEdge = { first: 0, past: 0, column: 0, row: 0, slope: 0 };
  for (const ring of rings) {
    let before = ring.at(-1);
    for (const point of ring) {
      if (before) {
        const [low, high] = before.y <= point.y ? [before, point] : [point, before];
        const lowRow = (low.y - minY) / stepMm - 0.5;
        const highRow = (high.y - minY) / stepMm - 0.5;
        edge.first = pixelFrom(lowRow, rows);
        edge.past = pixelFrom(highRow, rows);
        if (edge.past > edge.first) {
          edge.column = (low.x - minX) / stepMm - 0.5;
          edge.row = lowRow;
          edge.slope = (high.x - low.x) / stepMm / (highRow - lowRow);
          visit(edge);
        }
      }
      before = point;
    }
  }
}

/** The first pixel whose middle lies at the place or after it, within 0 … count. */
function pixelFrom(place: number, count: number): number {
  return Math.min(count, Math.max(0, Math.ceil(place)));
}
