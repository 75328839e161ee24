import fc from "fast-check";
import { expect, test } from "vitest";
import { orderCuts, travelLength } from "../../../src/crafts/cut-order.ts";
import { orderLines } from "../../../src/crafts/stitch/line-order.ts";
import { type ArcChain, polyline, reverseChain } from "../../../src/geometry/arc-chain.ts";

const HOME = { x: 0, y: 0 };

const coordinate = fc.integer({ min: 0, max: 100 });
const line = fc.tuple(coordinate, coordinate, coordinate, coordinate).map(([x1, y1, x2, y2]) =>
  polyline(
    [
      { x: x1, y: y1 },
      { x: x2, y: y2 },
    ],
    false,
  ),
);

/** The same whichever way it is sewn. */
function nameOf({ vertices }: ArcChain): string {
  return vertices
    .map(({ x, y }) => `${x},${y}`)
    .sort()
    .join(" ");
}

test("lines that lie end to end are sewn there and back", () => {
  const rows = [0, 1, 2, 3].map((y) =>
    polyline(
      [
        { x: 0, y },
        { x: 50, y },
      ],
      false,
    ),
  );
  // Three steps of 1 mm between rows that are sewn to and fro.
  expect(travelLength(orderLines(rows, HOME), HOME)).toBeCloseTo(3, 9);
});

test("every line once, and for their order no choice of ends has a shorter way", () => {
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 7 }), (lines) => {
      const sewn = orderLines(lines, HOME);
      expect(sewn.map(nameOf).sort()).toEqual(lines.map(nameOf).sort());
      const order = orderCuts(
        lines.map((chain) => ({ chains: [chain], depth: 0 })),
        HOME,
      );
      let shortest = Number.POSITIVE_INFINITY;
      for (let choice = 0; choice < 2 ** order.length; choice++) {
        const tried = order.map((chain, i) => ((choice >> i) & 1 ? reverseChain(chain) : chain));
        shortest = Math.min(shortest, travelLength(tried, HOME));
      }
      expect(travelLength(sewn, HOME)).toBeCloseTo(shortest, 6);
    }),
    { numRuns: 60 },
  );
});

test("no lines, no order", () => {
  expect(orderLines([], HOME)).toEqual([]);
});
