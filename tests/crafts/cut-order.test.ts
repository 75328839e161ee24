import fc from "fast-check";
import { expect, test } from "vitest";
import { type Cut, orderCuts, travelLength } from "../../src/crafts/cut-order.ts";
import { type ArcChain, polyline } from "../../src/geometry/arc-chain.ts";

const HOME = { x: 0, y: 0 };

function square(x: number, y: number, side: number): ArcChain {
  return polyline(
    [
      { x, y },
      { x: x + side, y },
      { x: x + side, y: y + side },
      { x, y: y + side },
    ],
    true,
  );
}

function cutOf(chain: ArcChain, depth = 0): Cut {
  return { chains: [chain], depth };
}

/** A chain told apart from others wherever it begins. */
function nameOf({ vertices }: ArcChain): string {
  return vertices
    .map(({ x, y }) => `${x},${y}`)
    .sort()
    .join(" ");
}

test("what lies deeper is cut first, however far the way", () => {
  const near = square(1, 1, 1);
  const far = square(500, 500, 1);
  expect(orderCuts([cutOf(near, 0), cutOf(far, 2), cutOf(square(0, 0, 50), 1)], HOME).map(nameOf)).toEqual(
    [far, square(0, 0, 50), near].map(nameOf),
  );
});

test("every path once, whatever the cuts", () => {
  const place = fc.record({ x: fc.nat(1000), y: fc.nat(1000), depth: fc.nat(3) });
  fc.assert(
    fc.property(fc.uniqueArray(place, { selector: ({ x, y }) => `${x} ${y}`, maxLength: 60 }), (places) => {
      const cuts = places.map(({ x, y, depth }) => cutOf(square(x, y, 1), depth));
      const ordered = orderCuts(cuts, HOME).map(nameOf);
      expect([...ordered].sort()).toEqual(cuts.flatMap(({ chains }) => chains.map(nameOf)).sort());
      const depthOf = new Map(cuts.map(({ chains, depth }) => [chains.map(nameOf).join(), depth]));
      const depths = ordered.map((name) => depthOf.get(name) ?? -1);
      expect(depths).toEqual([...depths].sort((a, b) => b - a));
    }),
    { numRuns: 50, seed: 3 },
  );
});

test("closed paths begin at the vertex nearest to where the machine stands", () => {
  const [ordered] = orderCuts([cutOf(square(-9, -9, 8))], HOME);
  expect(ordered?.vertices[0]).toMatchObject({ x: -1, y: -1 });
});

test("strokes of one label stay together and in their order", () => {
  const stroke = (x: number) =>
    polyline(
      [
        { x, y: 0 },
        { x, y: 5 },
      ],
      false,
    );
  const label = [stroke(100), stroke(0), stroke(50)] as const;
  const ordered = orderCuts([cutOf(stroke(20)), { chains: label, depth: 0 }, cutOf(stroke(60))], HOME);
  const first = ordered.indexOf(label[0]);
  expect(ordered.slice(first, first + 3)).toEqual(label);
});

test("travel is counted from the machine's place, from each end to the next start", () => {
  const line = polyline(
    [
      { x: 3, y: 4 },
      { x: 3, y: 10 },
    ],
    false,
  );
  // 5 to the line's start; from its end (3, 10) to the square's corner (6, 14) another 5.
  expect(travelLength([line, square(6, 14, 2)], HOME)).toBeCloseTo(10, 12);
});

test("a grid of squares: the way is near the least, a step from each to the next", () => {
  const cuts = Array.from({ length: 400 }, (_, i) =>
    cutOf(square(((i * 7) % 20) * 10, Math.floor(((i * 7) % 400) / 20) * 10, 1)),
  );
  expect(new Set(cuts.flatMap(({ chains }) => chains.map(nameOf))).size).toBe(400);
  // At least 9 mm from square to square, 399 times; the heuristic is good for a quarter over the shortest way.
  expect(travelLength(orderCuts(cuts, HOME), HOME)).toBeLessThan(400 * 10 * 1.25);
});
