import { expect, test } from "vitest";
import { measureSpacing, type SpacedPart } from "../../src/checks/spacing.ts";
import { polyline } from "../../src/geometry/arc-chain.ts";

function box(minX: number, minY: number, maxX: number, maxY: number) {
  return polyline(
    [
      { x: minX, y: minY },
      { x: maxX, y: minY },
      { x: maxX, y: maxY },
      { x: minX, y: maxY },
    ],
    true,
  );
}

function part(outline: ReturnType<typeof box>, ends: number[] = [], over: number[] = []): SpacedPart {
  return { outlines: [outline], ends, over };
}

const QUESTION = { limitMm: 2, takenMm: 0.2, crossingReachMm: 8, crossingAt: () => ({ x: 10, y: 5 }) };

test("two openings side by side: their distance less what the beam takes", () => {
  const { beside, atCrossings } = measureSpacing(
    [part(box(0, 0, 10, 10)), part(box(11.5, 0, 20, 10))],
    QUESTION,
  );
  expect(beside.worst).toBeCloseTo(1.3, 9);
  expect(beside.short).toHaveLength(1);
  expect(beside.short[0]?.at.x).toBeCloseTo(10.75, 9);
  expect(atCrossings.worst).toBeNull();
});

test("the same two, the one ending under the other at a crossing near by", () => {
  const parts = [part(box(0, 0, 10, 10), [3]), part(box(11.5, 0, 20, 10), [], [3])];
  const { atCrossings } = measureSpacing(parts, QUESTION);
  expect(atCrossings.worst).toBeCloseTo(1.3, 9);
});

test("openings that both pass over others share no crossing", () => {
  const parts = [part(box(0, 0, 10, 10), [], [3]), part(box(11.5, 0, 20, 10), [], [3])];
  expect(measureSpacing(parts, QUESTION).atCrossings.worst).toBeNull();
});

test("openings far apart are not measured", () => {
  expect(
    measureSpacing([part(box(0, 0, 10, 10)), part(box(30, 0, 40, 10))], QUESTION).beside.worst,
  ).toBeNull();
});

test("openings that touch have no web: less than nothing is left by the beam", () => {
  const { beside } = measureSpacing([part(box(0, 0, 10, 10)), part(box(10, 0, 20, 10))], QUESTION);
  expect(beside.worst).toBeCloseTo(-0.2, 9);
});

test("an opening that folds back on itself: the ground in its fold", () => {
  // A U whose arms lie 1.5 mm apart.
  const fold = polyline(
    [
      { x: 0, y: 0 },
      { x: 11.5, y: 0 },
      { x: 11.5, y: 20 },
      { x: 6.5, y: 20 },
      { x: 6.5, y: 5 },
      { x: 5, y: 5 },
      { x: 5, y: 20 },
      { x: 0, y: 20 },
    ],
    true,
  );
  const { beside } = measureSpacing([part(fold)], QUESTION);
  expect(beside.worst).toBeCloseTo(1.3, 9);
  // Turned inside out the narrow place is the part's own, which is no ground.
  const narrow = measureSpacing([part(box(0, 0, 1.5, 20))], QUESTION);
  expect(narrow.beside.worst).toBeNull();
});
