import fc from "fast-check";
import { expect, test } from "vitest";
import { chainOf } from "../../src/geometry/arc-chain.ts";
import { boxChain, chainNearness, segmentNearness } from "../../src/geometry/distance.ts";
import { nearestOn } from "../../src/geometry/meet.ts";
import { distance } from "../../src/geometry/point.ts";
import { type Segment, segmentPoint } from "../../src/geometry/segment.ts";
import { segment as anySegment } from "../support/random-chain.ts";

const half = (x: number, y: number, r: number, bulge: number): Segment => ({
  from: { x: x - r, y },
  to: { x: x + r, y },
  bulge,
});

// By hand: circles of radius 2 whose centres lie 10 apart are 6 apart, if the arcs face each other.
test.each([
  ["facing arcs", half(0, 0, 2, -1), half(0, 10, 2, 1), 6],
  ["backs to each other", half(0, 0, 2, 1), half(0, 10, 2, -1), 10],
  ["crossing", half(0, 0, 2, -1), { from: { x: 0, y: -5 }, to: { x: 0, y: 5 }, bulge: 0 }, 0],
  ["line over an arc", half(0, 0, 2, -1), { from: { x: -9, y: 3 }, to: { x: 9, y: 3 }, bulge: 0 }, 1],
  [
    "line inside an arc",
    half(0, 0, 5, -1),
    { from: { x: -1, y: 2 }, to: { x: 1, y: 2 }, bulge: 0 },
    5 - Math.sqrt(5),
  ],
  [
    // Two half circles to a hair; their radii are half their chords.
    "about one centre",
    { from: { x: 19.7485, y: 12.0036 }, to: { x: 20.251, y: 27.9957 }, bulge: -0.9999999999999999 },
    { from: { x: 19.8742, y: 21.9957 }, to: { x: 20.1253, y: 18.0036 }, bulge: 0.9999999999999999 },
    (Math.hypot(0.5025, 15.9921) - Math.hypot(0.2511, 3.9921)) / 2,
  ],
] as const)("%s", (_, a, b, want) => {
  expect(segmentNearness(a, b).distance).toBeCloseTo(want, 9);
  expect(segmentNearness(b, a).distance).toBeCloseTo(want, 9);
});

test("segments lie as far apart as their samples say", () => {
  fc.assert(
    fc.property(anySegment(), anySegment(), (a, b) => {
      const found = segmentNearness(a, b);
      expect(distance(found.onA, found.onB)).toBeCloseTo(found.distance, 6);
      expect(distance(nearestOn(a, found.onA), found.onA)).toBeLessThan(2e-6);
      expect(distance(nearestOn(b, found.onB), found.onB)).toBeLessThan(2e-6);
      let best = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 400; i++) {
        const p = segmentPoint(a, i / 400);
        best = Math.min(best, distance(nearestOn(b, p), p));
      }
      // Nothing is nearer, and no longer than a sampling step further.
      expect(found.distance).toBeLessThan(best + 1e-9);
      expect(best - found.distance).toBeLessThan(0.12);
      const chains = [boxChain(chainOf([a], false)), boxChain(chainOf([b], false))] as const;
      expect(chainNearness(...chains, 100)?.distance).toBeCloseTo(found.distance, 9);
      expect(chainNearness(...chains, found.distance - 1e-3)).toBeUndefined();
    }),
    { numRuns: 300 },
  );
});
