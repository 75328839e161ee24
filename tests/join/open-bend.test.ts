import { expect, test } from "vitest";
import { polyline } from "../../src/geometry/arc-chain.ts";
import type { Bend } from "../../src/join/bend.ts";
import { openBend } from "../../src/join/open-bend.ts";
import { planTie } from "../../src/join/tie.ts";

/** A bend in the middle of the segment number `index` of a line, which is run with the outside on its left. */
function bendOn(points: readonly (readonly [number, number])[], index: number): Bend {
  const curve = polyline(
    points.map(([x, y]) => ({ x, y })),
    false,
  );
  const [from, to] = [curve.vertices[index], curve.vertices[index + 1]];
  if (!from || !to) throw new Error("no such segment");
  const at = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const long = Math.hypot(dx, dy);
  return { at, outward: { x: -dy / long, y: dx / long }, cut: { half: 0 }, curve, place: { index, t: 0.5 } };
}

const RIGHT = { x: 1, y: 0 };

test("on a lattice the legs are the diagonals, cut at their crossings, their corners the quarter points", () => {
  // Step 2: from the crossing (-2, 2) down the diagonal, along the lane x = -1, back to (-2, -2).
  // Walking down has the outside, the right, on the left.
  const bend = bendOn(
    [
      [-2, 2],
      [-1, 1],
      [-1, -1],
      [-2, -2],
    ],
    1,
  );
  const opened = openBend(bend, RIGHT, 2);
  expect(opened?.left).toMatchObject({ from: { x: -2, y: 2 }, curve: { vertices: [] } });
  expect(opened?.left.corner.x).toBeCloseTo(-1, 9);
  expect(opened?.left.corner.y).toBeCloseTo(1, 9);
  expect(opened?.right).toMatchObject({ from: { x: -2, y: -2 } });
  expect(opened?.right.corner.y).toBeCloseTo(-1, 9);
  // An eighth turn.
  expect(opened?.right.take).toBeCloseTo(Math.tan(Math.PI / 8), 9);
});

test("legs that already run along the tie's sides go straight on", () => {
  const bend = bendOn(
    [
      [-9, 1],
      [0, 1],
      [0, -1],
      [-9, -1],
    ],
    1,
  );
  const opened = openBend(bend, RIGHT, 2);
  expect(opened?.left).toMatchObject({ corner: { x: 0, y: 1 }, take: 0 });
  expect(opened?.right).toMatchObject({ corner: { x: 0, y: -1 }, take: 0 });
});

test("a long lane is cut near the bend, however far its ends are", () => {
  const opened = openBend(
    bendOn(
      [
        [0, 99],
        [0, -99],
      ],
      0,
    ),
    RIGHT,
    2,
  );
  for (const side of ["left", "right"] as const) {
    const stub = opened?.[side];
    expect(Math.abs(stub?.from.y ?? 99)).toBeLessThan(4);
    expect(stub?.corner).toEqual({ x: 0, y: side === "left" ? 1 : -1 });
  }
});

test("a strand too short for the turn cannot be opened, and a tie says so", () => {
  const short = bendOn(
    [
      [0, 0.9],
      [0, -0.9],
    ],
    0,
  );
  expect(openBend(short, RIGHT, 2)).toBeUndefined();
  const other = bendOn(
    [
      [20, -99],
      [20, 99],
    ],
    0,
  );
  expect(planTie(short, other, 0, 2)).toEqual({ kind: "no-legs", bend: short });
});
