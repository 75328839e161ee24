import fc from "fast-check";
import { expect, test } from "vitest";
import { chainLength, chainOf, signedArea } from "../../src/geometry/arc-chain.ts";
import { distance } from "../../src/geometry/point.ts";
import {
  arcOf,
  bowArea,
  endDirection,
  parallelSegment,
  reverseSegment,
  type Segment,
  segmentBounds,
  segmentLength,
  segmentPart,
  segmentPoint,
  shareAt,
  startDirection,
} from "../../src/geometry/segment.ts";
import { ARC_VALUES } from "../support/published.ts";
import { segment as anySegment } from "../support/random-chain.ts";

/** An arc of radius 1 about the origin, from angle 0. */
function unitArc(thetaDeg: number): Segment {
  const theta = (thetaDeg / 180) * Math.PI;
  return {
    from: { x: 1, y: 0 },
    to: { x: Math.cos(theta), y: Math.sin(theta) },
    bulge: Math.tan(theta / 4),
  };
}

// shared/checks/arcs.json: nine decimals.
test.each(ARC_VALUES)(
  "an arc of $thetaDeg degrees has the published bulge, sagitta, chord and area",
  (row) => {
    const arc = unitArc(row.thetaDeg);
    expect(arc.bulge).toBeCloseTo(row.bulge, 8);
    expect(distance(arc.from, arc.to)).toBeCloseTo(row.chord, 8);
    expect((arc.bulge * distance(arc.from, arc.to)) / 2).toBeCloseTo(row.sagitta, 8);
    expect(bowArea(arc)).toBeCloseTo(row.segmentArea, 8);
    expect(segmentLength(arc)).toBeCloseTo((row.thetaDeg / 180) * Math.PI, 12);
    const { centre, radius, sweep } = arcOf(arc);
    expect(distance(centre, { x: 0, y: 0 })).toBeLessThan(1e-12);
    expect(radius).toBeCloseTo(1, 12);
    expect(sweep).toBeCloseTo((row.thetaDeg / 180) * Math.PI, 12);
    expect(bowArea(reverseSegment(arc))).toBeCloseTo(-row.segmentArea, 8);
  },
);

// By hand: the quarter circles of radius 1 about the origin reach as far as the axes.
test.each([
  ["upper half", { from: { x: 1, y: 0 }, to: { x: -1, y: 0 }, bulge: 1 }, [-1, 0, 1, 1]],
  ["lower half", { from: { x: 1, y: 0 }, to: { x: -1, y: 0 }, bulge: -1 }, [-1, -1, 1, 0]],
  [
    "right quarter",
    {
      from: { x: Math.SQRT1_2, y: -Math.SQRT1_2 },
      to: { x: Math.SQRT1_2, y: Math.SQRT1_2 },
      bulge: Math.tan(Math.PI / 8),
    },
    [Math.SQRT1_2, -Math.SQRT1_2, 1, Math.SQRT1_2],
  ],
  ["line", { from: { x: 3, y: 1 }, to: { x: -2, y: 5 }, bulge: 0 }, [-2, 1, 3, 5]],
] as const)("bounds of the %s", (_, arc, [minX, minY, maxX, maxY]) => {
  const box = segmentBounds(arc);
  expect(box.minX).toBeCloseTo(minX, 12);
  expect(box.minY).toBeCloseTo(minY, 12);
  expect(box.maxX).toBeCloseTo(maxX, 12);
  expect(box.maxY).toBeCloseTo(maxY, 12);
});

test("points lie at their share of the length, and shareAt finds them again", () => {
  fc.assert(
    fc.property(anySegment(), fc.double({ min: 0, max: 1, noNaN: true }), (segment, t) => {
      const point = segmentPoint(segment, t);
      const box = segmentBounds(segment);
      expect(point.x).toBeGreaterThan(box.minX - 1e-9);
      expect(point.x).toBeLessThan(box.maxX + 1e-9);
      expect(point.y).toBeGreaterThan(box.minY - 1e-9);
      expect(point.y).toBeLessThan(box.maxY + 1e-9);
      expect(shareAt(segment, point)).toBeCloseTo(t, 9);
      expect(segmentLength(segmentPart(segment, 0, t))).toBeCloseTo(segmentLength(segment) * t, 8);
      expect(shareAt(reverseSegment(segment), point)).toBeCloseTo(1 - t, 9);
    }),
  );
});

test("a point beside an arc by less than SAME_POINT_MM keeps its share, close to the ends too", () => {
  // An arc of 4.2 mm; 0.4 micrometres along it and 1e-6 mm off it.
  const arc = { from: { x: 0, y: 0 }, to: { x: 4.1, y: 0 }, bulge: 0.11 };
  const near = segmentPoint(arc, 1e-4);
  expect(shareAt(arc, { x: near.x, y: near.y + 1e-6 })).toBeCloseTo(1e-4, 5);
  expect(shareAt(arc, { x: near.x, y: near.y - 1e-6 })).toBeCloseTo(1e-4, 5);
});

test("two parts make the whole", () => {
  fc.assert(
    fc.property(anySegment(), fc.double({ min: 0.01, max: 0.99, noNaN: true }), (segment, t) => {
      const parts = chainOf([segmentPart(segment, 0, t), segmentPart(segment, t, 1)], false);
      const whole = chainOf([segment], false);
      expect(chainLength(parts)).toBeCloseTo(chainLength(whole), 9);
      expect(signedArea(parts)).toBeCloseTo(signedArea(whole), 8);
    }),
  );
});

test("a parallel arc keeps its centre and sweep; past its centre it vanishes", () => {
  fc.assert(
    fc.property(anySegment(), fc.double({ min: -3, max: 3, noNaN: true }), (segment, left) => {
      const moved = parallelSegment(segment, left);
      if (segment.bulge === 0) {
        expect(moved && segmentLength(moved)).toBeCloseTo(segmentLength(segment), 9);
        return;
      }
      const { centre, radius } = arcOf(segment);
      const reach = segment.bulge > 0 ? radius - left : radius + left;
      if (Math.abs(reach) < 2e-6) return;
      expect(moved === undefined).toBe(reach < 0);
      if (!moved) return;
      expect(moved.bulge).toBe(segment.bulge);
      expect(arcOf(moved).radius).toBeCloseTo(reach, 8);
      expect(distance(arcOf(moved).centre, centre)).toBeLessThan(1e-8);
      expect(
        Math.hypot(
          startDirection(moved).x - startDirection(segment).x,
          endDirection(moved).y - endDirection(segment).y,
        ),
      ).toBeLessThan(1e-9);
    }),
  );
});
