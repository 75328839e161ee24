import fc from "fast-check";
import { expect, test } from "vitest";
import { circleOutline } from "../../../src/crafts/panel-outline.ts";
import { clothGrid, holesAlong } from "../../../src/crafts/stitch/cloth-grid.ts";
import { type ArcChain, polyline } from "../../../src/geometry/arc-chain.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";

const MIDDLE = { x: 50.3, y: 21.7 };
/** 14 holes an inch: 25.4 / 14 = 1.814 mm. */
const HOLE = 25.4 / 14;

function grid() {
  const found = clothGrid(14, MIDDLE);
  if (!found) throw new Error("no grid");
  return found;
}

/** Columns and rows from the middle. */
function countedHoles(chain: ArcChain, stitchMm: number): [number, number][] {
  return holesAlong(chain, stitchMm, grid()).map(({ x, y }) => [
    (x - MIDDLE.x) / HOLE,
    (y - MIDDLE.y) / HOLE,
  ]);
}

const at = (column: number, row: number): Point => ({
  x: MIDDLE.x + column * HOLE,
  y: MIDDLE.y + row * HOLE,
});
const roughly = (pairs: readonly (readonly [number, number])[]) =>
  pairs.map((pair) => pair.map((value) => expect.closeTo(value, 6)));

test("no count, no grid", () => {
  expect(clothGrid(0, MIDDLE)).toBeUndefined();
});

test("from hole to hole along the thread, in stitches of two holes", () => {
  const line = polyline([at(0, 0), at(6, 0)], false);
  expect(countedHoles(line, 2 * HOLE)).toEqual(
    roughly([
      [0, 0],
      [2, 0],
      [4, 0],
      [6, 0],
    ]),
  );
});

test.each([
  [1, 1],
  [1, -1],
  [-1, 1],
  [-1, -1],
])("a diagonal that misses every hole stays a diagonal (%i, %i)", (right, up) => {
  const line = polyline([at(0.3, 0.1), at(0.3 + 7.3 * right, 0.1 + 7.3 * up)], false);
  const holes = countedHoles(line, 2.4);
  expect(holes.length).toBeGreaterThan(4);
  for (const [column, row] of holes) expect(row * up).toBeCloseTo(column * right, 6);
  const [lastColumn = 0] = holes.at(-1) ?? [];
  expect(Math.abs(lastColumn - right * 7.3)).toBeLessThan(1);
});

test("a line shorter than half a hole is no line; a ring comes round", () => {
  expect(countedHoles(polyline([at(0, 0), at(0.4, 0)], false), 2.4)).toEqual([]);
  const ring = countedHoles(circleOutline(MIDDLE, 10 * HOLE), 3.6);
  expect(ring).toHaveLength(new Set(ring.map((pair) => pair.map(Math.round).join(" "))).size);
  for (const [column, row] of ring) expect(Math.abs(Math.hypot(column, row) - 10)).toBeLessThan(0.71);
});

test("any line: every stitch ends in a hole and has a length, and strays by less than a hole", () => {
  const point = fc.record({
    x: fc.double({ min: 0, max: 100, noNaN: true }),
    y: fc.double({ min: 0, max: 60, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(point, { minLength: 2, maxLength: 6 }), fc.boolean(), (points, closed) => {
      const chain = polyline(points, closed);
      const holes = holesAlong(chain, 2.4, grid());
      for (const [i, hole] of holes.entries()) {
        for (const value of [(hole.x - MIDDLE.x) / HOLE, (hole.y - MIDDLE.y) / HOLE])
          expect(Math.abs(value - Math.round(value))).toBeLessThan(1e-6);
        const next = holes[i + 1] ?? (closed ? holes[0] : undefined);
        if (!next) continue;
        const length = distance(hole, next);
        expect(length).toBeGreaterThan(HOLE - 1e-6);
        // Not longer than set, but for half a hole's width and height at each end.
        expect(length).toBeLessThanOrEqual(2.4 + Math.SQRT2 * HOLE + 1e-6);
      }
      const [first, hole] = [points[0], holes[0]];
      if (first && hole) expect(distance(first, hole)).toBeLessThanOrEqual(Math.SQRT1_2 * HOLE + 1e-9);
    }),
    { numRuns: 200 },
  );
});
