/**
 * A grid of heights as few triangles: a right-triangulated irregular network (W. Evans,
 * D. Kirkpatrick, G. Townsend, "Right-triangulated irregular networks", Algorithmica 30, 2001).
 * A square of 2^k cells is halved along its diagonal; every triangle may be halved again from
 * the middle of its longest side to the corner opposite, down to half a cell.
 *
 * Each middle has a bound of how far the surface without it may stray: how far it lies off the
 * line between the side's ends, and on top of that the largest bound of the middles below it.
 * So a triangle that is left whole keeps within its bound everywhere, and as both triangles at
 * a side share its middle, they are halved together or not at all: no cracks.
 */
import { InternalError } from "../base/internal-error.ts";

/** Heights over columns x rows points, the lowest row first, as a height field has them. */
export interface HeightGrid {
  readonly columns: number;
  readonly rows: number;
  readonly z: Float32Array;
}

export interface GridTriangles {
  /** Where each vertex stands in the grid: row * columns + column. */
  readonly places: Uint32Array;
  /** The other way round, -1 where the grid's point is no vertex. */
  readonly vertexAt: Int32Array;
  /** Three vertices each, counter-clockwise from above. */
  readonly triangles: Uint32Array;
}

/** Triangles over the whole grid that stray from its heights by `deviation` at most; from 2 x 2 points on. */
export function triangulateGrid(grid: HeightGrid, deviation: number): GridTriangles {
  const { columns, rows } = grid;
  if (columns < 2 || rows < 2) throw new InternalError(`no triangles over ${columns} x ${rows} points`);
  const bounds = strayBounds(grid);
  const vertexAt = new Int32Array(columns * rows).fill(-1);
  let triangleCount = 0;
  let vertexCount = 0;
  const number = (place: number): number => {
    const known = vertexAt[place] ?? -1;
    if (known >= 0) return known;
    vertexAt[place] = vertexCount;
    return vertexCount++;
  };
  eachTriangle(grid, bounds, deviation, (a, b, c) => {
    number(a);
    number(b);
    number(c);
    triangleCount++;
  });
  const places = new Uint32Array(vertexCount);
  const triangles = new Uint32Array(3 * triangleCount);
  let at = 0;
  eachTriangle(grid, bounds, deviation, (a, b, c) => {
    for (const place of [a, b, c]) {
      const vertex = vertexAt[place] ?? 0;
      places[vertex] = place;
      triangles[at++] = vertex;
    }
  });
  return { places, vertexAt, triangles };
}

/** The number of cells along the side of the square that holds the grid. */
function squareSide({ columns, rows }: HeightGrid): number {
  let side = 1;
  while (side < Math.max(columns, rows) - 1) side *= 2;
  return side;
}

/**
 * The bound of each point as the middle of a longest side, from the finest up. Infinite where a
 * triangle at that side reaches past the grid: it must be halved until none does.
 */
function strayBounds(grid: HeightGrid): Float32Array {
  const { columns, rows } = grid;
  const bounds = new Float32Array(columns * rows);
  const side = squareSide(grid);
  for (let half = 1; 2 * half <= side; half *= 2) {
    // Middles of upright and level sides, then middles of diagonals, which lie one size up.
    for (let y = 0; y < rows; y += half) {
      const first = y % (2 * half) === 0 ? half : 0;
      for (let x = first; x < columns; x += 2 * half) {
        bounds[y * columns + x] = levelSideBound(grid, bounds, x, y, half, first === half);
      }
    }
    for (let y = half; y < rows; y += 2 * half) {
      for (let x = half; x < columns; x += 2 * half) {
        bounds[y * columns + x] = diagonalBound(grid, bounds, x, y, half);
      }
    }
  }
  return bounds;
}

/** Of the middle of a side that runs along a row, or up a column; `half` is half its length. */
function levelSideBound(
  { columns, rows, z }: HeightGrid,
  bounds: Float32Array,
  x: number,
  y: number,
  half: number,
  alongRow: boolean,
): number {
  const place = y * columns + x;
  const [before, after] = alongRow ? [x, columns - 1 - x] : [y, rows - 1 - y];
  const [below, above] = alongRow ? [y, rows - 1 - y] : [x, columns - 1 - x];
  // Towards 0 the square's own edge is the grid's.
  if (before < half || after < half || (above > 0 && above < half)) return Number.POSITIVE_INFINITY;
  const step = alongRow ? half : half * columns;
  const off = Math.abs((z[place] ?? 0) - ((z[place - step] ?? 0) + (z[place + step] ?? 0)) / 2);
  if (half === 1) return off;
  const quarter = half / 2;
  const along = alongRow ? quarter : quarter * columns;
  const aside = alongRow ? quarter * columns : quarter;
  let worst = 0;
  if (above > 0) worst = Math.max(bounds[place + aside - along] ?? 0, bounds[place + aside + along] ?? 0);
  if (below > 0)
    worst = Math.max(worst, bounds[place - aside - along] ?? 0, bounds[place - aside + along] ?? 0);
  return off + worst;
}

/** Of the middle of a square 2 `half` wide; neighbouring squares have crossing diagonals. */
function diagonalBound(
  { columns, rows, z }: HeightGrid,
  bounds: Float32Array,
  x: number,
  y: number,
  half: number,
): number {
  if (x + half >= columns || y + half >= rows) return Number.POSITIVE_INFINITY;
  const place = y * columns + x;
  const rising = ((x - half) / (2 * half) + (y - half) / (2 * half)) % 2 === 0;
  const step = half * columns + (rising ? half : -half);
  const off = Math.abs((z[place] ?? 0) - ((z[place - step] ?? 0) + (z[place + step] ?? 0)) / 2);
  const level = Math.max(bounds[place - half] ?? 0, bounds[place + half] ?? 0);
  return off + Math.max(level, bounds[place - half * columns] ?? 0, bounds[place + half * columns] ?? 0);
}

/** Calls `use` with the places of each triangle's corners, counter-clockwise; always in the same order. */
function eachTriangle(
  grid: HeightGrid,
  bounds: Float32Array,
  deviation: number,
  use: (a: number, b: number, c: number) => void,
): void {
  const { columns } = grid;
  const right = columns - 1;
  const top = grid.rows - 1;
  /** The longest side runs from a to b, the corner opposite is c. */
  const visit = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): void => {
    if (Math.min(ax, bx, cx) >= right || Math.min(ay, by, cy) >= top) return;
    const mx = (ax + bx) / 2;
    const my = (ay + by) / 2;
    const smallest = !Number.isInteger(mx);
    const within = Math.max(ax, bx, cx) <= right && Math.max(ay, by, cy) <= top;
    if (smallest || (within && (bounds[my * columns + mx] ?? 0) <= deviation)) {
      use(ay * columns + ax, by * columns + bx, cy * columns + cx);
      return;
    }
    visit(cx, cy, ax, ay, mx, my);
    visit(bx, by, cx, cy, mx, my);
  };
  const side = squareSide(grid);
  visit(side, side, 0, 0, side, 0);
  visit(0, 0, side, side, 0, side);
}
