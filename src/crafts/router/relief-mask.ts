/**
 * The pixels that a cutter may stand on, in connected areas, each with its edges as polygons and
 * its runs along rows. Pixels are connected along their sides.
 */
import { groupBy } from "../../base/group-by.ts";
import type { Point } from "../../geometry/point.ts";
import { ringArea } from "../../geometry/region.ts";
import type { PixelGrid } from "./raster.ts";
import { simplifiedRing } from "./relief-simplify.ts";

/** Pixels `from` to `to` (both in it) of a row. */
export interface PixelRun {
  readonly row: number;
  readonly from: number;
  readonly to: number;
}

export interface MaskArea {
  readonly runs: readonly PixelRun[];
  /** Counter-clockwise, half a pixel outside the outermost pixels' middles. */
  readonly outer: readonly Point[];
  /** Round what the area leaves out; clockwise. */
  readonly holes: readonly (readonly Point[])[];
}

/** The areas of all pixels that are not 0, in the order of their lowest rows; edges within `errorMm` of the pixels' own. */
export function maskAreas(mask: Uint8Array, grid: PixelGrid, errorMm: number): MaskArea[] {
  const runs = rowRuns(mask, grid);
  const labels = connectRuns(runs, grid.rows);
  const edges = traceEdges(mask, grid);
  const labelAt = runLabels(runs, labels, grid);
  const edgesOf = groupBy(edges, ({ pixel }) => labelAt(pixel));
  return [...groupBy([...runs.keys()], (i) => labels[i] ?? i)].map(([label, members]) => {
    const rings = (edgesOf.get(label) ?? []).map(({ ring }) => ring);
    return {
      runs: members.flatMap((i) => runs[i] ?? []),
      outer: simplifiedRing(rings.find((ring) => ringArea(ring) > 0) ?? [], errorMm),
      holes: rings.filter((ring) => ringArea(ring) <= 0).map((ring) => simplifiedRing(ring, errorMm)),
    };
  });
}

function rowRuns(mask: Uint8Array, { columns, rows }: PixelGrid): PixelRun[] {
  const runs: PixelRun[] = [];
  for (let row = 0; row < rows; row++) {
    const start = row * columns;
    for (let column = 0; column < columns; column++) {
      if (mask[start + column] === 0) continue;
      const from = column;
      while (column + 1 < columns && mask[start + column + 1] !== 0) column++;
      runs.push({ row, from, to: column });
    }
  }
  return runs;
}

/** For each run the number of the first run of its area. */
function connectRuns(runs: readonly PixelRun[], rows: number): Int32Array {
  const parent = Int32Array.from(runs.keys());
  const find = (i: number): number => {
    let root = i;
    while ((parent[root] ?? root) !== root) root = parent[root] ?? root;
    parent[i] = root;
    return root;
  };
  const firstOf = rowStarts(runs, rows);
  for (const [i, { row, from, to }] of runs.entries()) {
    for (let j = firstOf[row - 1] ?? 0; row > 0 && j < (firstOf[row] ?? 0); j++) {
      const below = runs[j];
      if (!below || below.to < from || below.from > to) continue;
      const a = find(i);
      const b = find(j);
      parent[Math.max(a, b)] = Math.min(a, b);
    }
  }
  return parent.map((_, i) => find(i));
}

/** The number of the first run in each row. */
function rowStarts(runs: readonly PixelRun[], rows: number): Int32Array {
  const starts = new Int32Array(rows + 1).fill(runs.length);
  for (let i = runs.length - 1; i >= 0; i--) starts[runs[i]?.row ?? 0] = i;
  for (let row = rows - 1; row >= 0; row--)
    starts[row] = Math.min(starts[row] ?? runs.length, starts[row + 1] ?? runs.length);
  return starts;
}

function runLabels(
  runs: readonly PixelRun[],
  labels: Int32Array,
  { columns, rows }: PixelGrid,
): (pixel: number) => number {
  const starts = rowStarts(runs, rows);
  return (pixel) => {
    const row = Math.floor(pixel / columns);
    const column = pixel - row * columns;
    for (let i = starts[row] ?? 0; i < (starts[row + 1] ?? 0); i++) {
      const run = runs[i];
      if (run && run.from <= column && column <= run.to) return labels[i] ?? -1;
    }
    return -1;
  };
}

/** Steps along the pixels' sides: right, up, left, down. */
const STEPS = [
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
] as const;

interface Edge {
  /** A pixel inside, on the edge. */
  readonly pixel: number;
  readonly ring: Point[];
}

/** Every closed edge, walked with the inside on the left, through the middles of the pixels' sides. */
function traceEdges(mask: Uint8Array, grid: PixelGrid): Edge[] {
  const { columns, rows } = grid;
  const holds = (column: number, row: number) =>
    column >= 0 && row >= 0 && column < columns && row < rows && mask[row * columns + column] !== 0;
  // Sides walked to the right are the lower sides of pixels inside: every edge has some.
  const walked = new Uint8Array(mask.length);
  const edges: Edge[] = [];
  for (let pixel = 0; pixel < mask.length; pixel++) {
    if (mask[pixel] === 0 || walked[pixel] !== 0) continue;
    const row = Math.floor(pixel / columns);
    if (holds(pixel - row * columns, row - 1)) continue;
    edges.push({ pixel, ring: walkEdge(pixel, grid, holds, walked) });
  }
  return edges;
}

function walkEdge(
  pixel: number,
  { columns, stepMm, minX, minY }: PixelGrid,
  holds: (column: number, row: number) => boolean,
  walked: Uint8Array,
): Point[] {
  const ring: Point[] = [];
  let y = Math.floor(pixel / columns);
  let x = pixel - y * columns;
  let way = 0;
  do {
    if (way === 0) walked[y * columns + x] = 1;
    const [dx, dy] = STEPS[way] ?? STEPS[0];
    ring.push({ x: minX + (x + dx / 2) * stepMm, y: minY + (y + dy / 2) * stepMm });
    x += dx;
    y += dy;
    // The two pixels ahead of the corner reached: on the left and on the right of the way.
    const left = holds(x + (dx - dy - 1) / 2, y + (dy + dx - 1) / 2);
    const right = holds(x + (dx + dy - 1) / 2, y + (dy - dx - 1) / 2);
    way = (way + (left ? (right ? 3 : 0) : 1)) & 3;
  } while (way !== 0 || y * columns + x !== pixel);
  return ring;
}
