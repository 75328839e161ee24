/** How many times the needle goes in, square millimetre by square millimetre, over all threads. */
import type { Measured } from "../../checks/judge.ts";
import { STITCH, type ThreadBlock } from "../../output/stitches.ts";

/** Cells of one mm²; holes are judged over squares of two by two cells, laid at every cell. */
const CELL_MM = 1;
const SQUARE_MM = 2;

export interface DensityMap {
  /** Lower left corner of the first cell. */
  readonly minX: number;
  readonly minY: number;
  readonly columns: number;
  readonly rows: number;
  /** Holes in each cell, row by row from below. */
  readonly cells: Uint32Array;
  /** The most holes per mm² over any of the squares; null where nothing is sewn. */
  readonly worst: number | null;
}

export function densityMap(blocks: readonly ThreadBlock[]): DensityMap {
  const box = holeBounds(blocks);
  if (!box) return { minX: 0, minY: 0, columns: 0, rows: 0, cells: new Uint32Array(0), worst: null };
  const { minX, minY } = box;
  const columns = Math.floor((box.maxX - minX) / CELL_MM) + 1;
  const rows = Math.floor((box.maxY - minY) / CELL_MM) + 1;
  const cells = new Uint32Array(columns * rows);
  forEachHole(blocks, (x, y) => {
    const cell = Math.floor((y - minY) / CELL_MM) * columns + Math.floor((x - minX) / CELL_MM);
    cells[cell] = (cells[cell] ?? 0) + 1;
  });
  const map = { minX, minY, columns, rows, cells, worst: 0 };
  let worst = 0;
  for (const { value } of squares(map)) worst = Math.max(worst, value);
  return { ...map, worst };
}

/** Squares with more holes per mm² than the limit, by their middles; of overlapping ones only the fullest. */
export function denserThan(map: DensityMap, limit: number): Measured[] {
  const dense = [...squares(map)].filter(({ value }) => value > limit).sort((a, b) => b.value - a.value);
  const taken = new Set<number>();
  const found: Measured[] = [];
  for (const { row, column, value, at } of dense) {
    const own = row * map.columns + column;
    const near = [-1, 0, 1].some((down) =>
      [-1, 0, 1].some((side) => taken.has(own + down * map.columns + side)),
    );
    if (near) continue;
    taken.add(own);
    found.push({ at, value });
  }
  return found;
}

interface Square extends Measured {
  readonly row: number;
  readonly column: number;
}

function* squares({ minX, minY, columns, rows, cells }: DensityMap): Iterable<Square> {
  const at = (row: number, column: number) =>
    row < rows && column < columns ? (cells[row * columns + column] ?? 0) : 0;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const holes = at(row, column) + at(row, column + 1) + at(row + 1, column) + at(row + 1, column + 1);
      if (holes === 0) continue;
      yield {
        row,
        column,
        value: holes / (SQUARE_MM * SQUARE_MM),
        at: { x: minX + (column + 1) * CELL_MM, y: minY + (row + 1) * CELL_MM },
      };
    }
  }
}

function holeBounds(blocks: readonly ThreadBlock[]) {
  let [minX, minY, maxX, maxY] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  forEachHole(blocks, (x, y) => {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  });
  return minX <= maxX ? { minX, minY, maxX, maxY } : undefined;
}

function forEachHole(blocks: readonly ThreadBlock[], visit: (x: number, y: number) => void): void {
  for (const { x, y, kind } of blocks) {
    for (let i = 0; i < kind.length; i++) if (kind[i] === STITCH) visit(x[i] ?? 0, y[i] ?? 0);
  }
}
