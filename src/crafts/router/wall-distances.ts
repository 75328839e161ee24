/**
 * How far pixels lie from the nearest wall, exactly. A pixel's nearest place on a wall is inside
 * one of its sides, then it lies square off that side; or it is a corner, then it lies between the
 * squares off the two sides that meet there. So every side and corner is asked only about the
 * pixels of its own strip or fan, and the work grows with the length of the walls times the reach.
 */
import { along, minus, type Point, turnBetween, turned, unit, type Vec } from "../../geometry/point.ts";
import type { Ring } from "../../geometry/region.ts";
import type { PixelGrid } from "./raster.ts";

/**
 * For each pixel the distance of its middle to the nearest ring that has it on its left, mm, no
 * more than `limitMm`. It means nothing for pixels on the right of the rings.
 */
export function wallDistances(rings: readonly Ring[], grid: PixelGrid, limitMm: number): Float32Array {
  const found = { distances: new Float32Array(grid.columns * grid.rows).fill(limitMm), grid, limitMm };
  for (const ring of rings) {
    const corners = ring.filter((point, i) => {
      const before = ring.at(i - 1);
      return !before || point.x !== before.x || point.y !== before.y;
    });
    for (const [i, from] of corners.entries()) {
      const to = corners[(i + 1) % corners.length] ?? from;
      const before = corners.at(i - 1) ?? from;
      const leaving = unit(minus(to, from));
      askStrip(found, from, to);
      askFan(found, from, unit(minus(from, before)), leaving);
    }
  }
  return found.distances;
}

interface Found {
  readonly distances: Float32Array;
  readonly grid: PixelGrid;
  readonly limitMm: number;
}

/** What rounding may take off a strip's edge. */
const EDGE_MM = 1e-4;

/** The pixels square off a side, on its left. */
function askStrip(found: Found, from: Point, to: Point): void {
  const ahead = unit(minus(to, from));
  const left: Vec = { x: -ahead.y, y: ahead.x };
  const begin = along(from, ahead, -EDGE_MM);
  const end = along(to, ahead, EDGE_MM);
  const corners = [begin, end, along(end, left, found.limitMm), along(begin, left, found.limitMm)];
  visitPixels(found.grid, corners, (index, x, y) => {
    const off = (x - from.x) * left.x + (y - from.y) * left.y;
    if (off >= 0 && off < (found.distances[index] ?? 0)) found.distances[index] = off;
  });
}

/** Fans are asked in parts no wider than this, so that their outer edges stay near the reach. */
const FAN_RAD = Math.PI / 4;

/** The pixels between the squares off two sides at a corner that turns to the right. */
function askFan(found: Found, at: Point, arriving: Vec, leaving: Vec): void {
  const turn = turnBetween(arriving, leaving);
  if (turn >= 0) return;
  const parts = Math.ceil(-turn / FAN_RAD);
  const reach = found.limitMm / Math.cos(turn / parts / 2);
  const left: Vec = { x: -arriving.y, y: arriving.x };
  for (let i = 0; i < parts; i++) {
    const ends = [i, i + 1].map((part) => along(at, turned(left, (turn * part) / parts), reach));
    visitPixels(found.grid, [at, ...ends], (index, x, y) => {
      const off = Math.sqrt((x - at.x) * (x - at.x) + (y - at.y) * (y - at.y));
      if (off < (found.distances[index] ?? 0)) found.distances[index] = off;
    });
  }
}

/** Calls `visit` for all pixels whose middles lie inside the convex polygon, or next to its edge. */
function visitPixels(
  { columns, rows, stepMm, minX, minY }: PixelGrid,
  corners: readonly Point[],
  visit: (index: number, x: number, y: number) => void,
): void {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { y } of corners) {
    low = Math.min(low, y);
    high = Math.max(high, y);
  }
  const first = Math.max(0, Math.ceil((low - minY) / stepMm - 0.5));
  const last = Math.min(rows - 1, Math.floor((high - minY) / stepMm - 0.5));
  for (let row = first; row <= last; row++) {
    const y = minY + (row + 0.5) * stepMm;
    const { from, to } = spanAt(corners, y);
    const begin = Math.max(0, Math.ceil((from - EDGE_MM - minX) / stepMm - 0.5));
    const end = Math.min(columns - 1, Math.floor((to + EDGE_MM - minX) / stepMm - 0.5));
    for (let column = begin; column <= end; column++)
      visit(row * columns + column, minX + (column + 0.5) * stepMm, y);
  }
}

/** Where a line of this height crosses a convex polygon. */
function spanAt(corners: readonly Point[], y: number): { readonly from: number; readonly to: number } {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let before = corners.at(-1);
  for (const corner of corners) {
    if (before && before.y !== corner.y && before.y > y !== corner.y > y) {
      const x = before.x + ((y - before.y) / (corner.y - before.y)) * (corner.x - before.x);
      from = Math.min(from, x);
      to = Math.max(to, x);
    }
    before = corner;
  }
  return { from, to };
}
