import fc from "fast-check";
import { expect, test } from "vitest";
import { circleOutline } from "../../../src/crafts/panel-outline.ts";
import { divideLine, runningRule } from "../../../src/crafts/stitch/divide-line.ts";
import { type ArcChain, polyline, reverseChain } from "../../../src/geometry/arc-chain.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import { sampleOutline } from "./sample-hand-work.ts";

/** Stitches of 2.4 mm, 1.5 mm in tight bends, 1 mm at least; a stitch may cut a bend by 0.038 mm. */
const RULE = runningRule(2.4, sampleOutline());

function stitchLengths(holes: readonly Point[], closed: boolean): number[] {
  return holes.flatMap((from, i) => {
    const to = holes[i + 1] ?? (closed ? holes[0] : undefined);
    return to ? [distance(from, to)] : [];
  });
}

function lineTo(...points: readonly (readonly [number, number])[]): ArcChain {
  return polyline(
    points.map(([x, y]) => ({ x, y })),
    false,
  );
}

// Stitches = length / 2.4, rounded up, all alike.
test.each([
  [10, 5],
  [2.4, 1],
  [2.41, 2],
  [24, 10],
  // Two of 0.75 mm would be too short: one of 1.5 mm instead.
  [1.5, 1],
])("a straight line of %d mm is %i even stitches", (length, count) => {
  const holes = divideLine(lineTo([0, 0], [length, 0]), RULE);
  expect(holes.map(({ x }) => x)).toEqual(
    Array.from({ length: count + 1 }, (_, i) => expect.closeTo((i * length) / count, 9)),
  );
});

test("less than one least stitch is no line", () => {
  expect(divideLine(lineTo([0, 0], [0.9, 0]), RULE)).toEqual([]);
});

test.each([
  // A bend of radius 40 takes the whole stitch: sqrt(8 x 40 x 0.038) = 3.5 mm. 2 pi 40 / 2.4 = 104.7.
  [40, 105],
  // sqrt(8 x 10 x 0.038) = 1.744 mm; 2 pi 10 / 1.744 = 36.03.
  [10, 37],
  // Tight: 1.5 mm. 2 pi 4 / 1.5 = 16.8.
  [4, 17],
])("a circle of radius %d mm has %i stitches, all chords alike", (radius, count) => {
  const chords = stitchLengths(divideLine(circleOutline({ x: 3, y: 4 }, radius), RULE), true);
  const chord = 2 * radius * Math.sin(Math.PI / count);
  expect(chords).toEqual(Array.from({ length: count }, () => expect.closeTo(chord, 6)));
});

test("corners get a hole, smooth joints do not", () => {
  const quarter = Math.SQRT2 - 1;
  // 10 mm along x, a quarter turn of radius 5 to the left, 10 mm up, and sharply back along x.
  const chain: ArcChain = {
    closed: false,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 10, y: 0, bulge: quarter },
      { x: 15, y: 5, bulge: 0 },
      { x: 15, y: 15, bulge: 0 },
      { x: 3, y: 15, bulge: 0 },
    ],
  };
  const holes = divideLine(chain, RULE);
  expect(holes).toContainEqual(expect.objectContaining({ x: 15, y: 15 }));
  expect(holes[0]).toMatchObject({ x: 0, y: 0 });
  expect(holes.at(-1)).toMatchObject({ x: 3, y: 15 });
  // 10 / 2.4 + 7.854 / 1.5 + 10 / 2.4 = 13.57 stitches to the corner, 12 / 2.4 = 5 from there.
  expect(holes).toHaveLength(1 + 14 + 5);
});

test("of corners nearer than the least stitch only one gets its hole", () => {
  const holes = divideLine(lineTo([0, 0], [10, 0], [10, 0.5], [20, 0.5]), RULE);
  expect(Math.min(...stitchLengths(holes, false))).toBeGreaterThanOrEqual(1 - 1e-9);
  expect(holes.at(-1)).toMatchObject({ x: 20, y: 0.5 });
});

test("any line of any corners: none shorter than the least, none longer than set or twice the least, ends kept", () => {
  const step = fc.record({
    turn: fc.double({ min: -1.5, max: 1.5, noNaN: true }),
    length: fc.double({ min: 1, max: 12, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), (steps) => {
      let [x, y, heading] = [0, 0, 0];
      const points = [{ x, y }];
      for (const { turn, length } of steps) {
        heading += turn;
        x += length * Math.cos(heading);
        y += length * Math.sin(heading);
        points.push({ x, y });
      }
      const chain = polyline(points, false);
      const holes = divideLine(chain, RULE);
      const lengths = stitchLengths(holes, false);
      expect(Math.min(...lengths)).toBeGreaterThanOrEqual(1 - 1e-6);
      expect(Math.max(...lengths)).toBeLessThanOrEqual(2.4 + 1e-6);
      for (const corner of [points[0], points.at(-1)])
        expect(holes.some((hole) => corner !== undefined && distance(hole, corner) < 1e-9)).toBe(true);
      // From the other end it is the same line.
      expect(divideLine(reverseChain(chain), RULE)).toHaveLength(holes.length);
    }),
    { numRuns: 200 },
  );
});
