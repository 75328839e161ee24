import fc from "fast-check";
import { expect, test } from "vitest";
import { singleColours } from "../../../src/crafts/stitch/single-colours.ts";

type Arcs = readonly (readonly [under: number, over: number])[];

function beneath(count: number, arcs: Arcs): Set<number>[] {
  const sets = Array.from({ length: count }, () => new Set<number>());
  for (const [under, over] of arcs) sets[under]?.add(over);
  return sets;
}

function bothWays(...pairs: readonly (readonly [number, number])[]): Arcs {
  return pairs.flatMap(([a, b]) => [
    [a, b],
    [b, a],
  ]);
}

const EVERY_PAIR_OF_5 = [0, 1, 2, 3, 4].flatMap((a) =>
  [0, 1, 2, 3, 4].slice(a + 1).map((b) => [a, b] as const),
);

test.each<{ name: string; count: number; arcs: Arcs; once: number }>([
  { name: "no colour", count: 0, arcs: [], once: 0 },
  { name: "one colour", count: 1, arcs: [], once: 1 },
  { name: "two that cross both ways", count: 2, arcs: bothWays([0, 1]), once: 1 },
  { name: "five that all cross both ways", count: 5, arcs: bothWays(...EVERY_PAIR_OF_5), once: 1 },
  {
    name: "a chain, each linked with the next",
    count: 5,
    arcs: bothWays([0, 1], [1, 2], [2, 3], [3, 4]),
    once: 3,
  },
  {
    name: "each beneath the next, one way",
    count: 4,
    arcs: [
      [3, 2],
      [2, 1],
      [1, 0],
    ],
    once: 4,
  },
  // Borromean rings lie so, each wholly over the next.
  {
    name: "three beneath one another in a circle",
    count: 3,
    arcs: [
      [0, 1],
      [1, 2],
      [2, 0],
    ],
    once: 2,
  },
])("$name: $once come once", ({ count, arcs, once }) => {
  const found = singleColours(beneath(count, arcs));
  expect(found.once.length).toBe(once);
  expect(found.mostOnce).toBe(once);
});

test("those that come once lie in an order, and no larger set does", () => {
  const COLOURS = 6;
  const colour = fc.nat(COLOURS - 1);
  fc.assert(
    fc.property(fc.array(fc.tuple(colour, colour), { maxLength: 20 }), (pairs) => {
      const arcs = pairs.filter(([under, over]) => under !== over);
      const { once, mostOnce } = singleColours(beneath(COLOURS, arcs));
      for (const [under, over] of arcs)
        if (once.includes(under) && once.includes(over))
          expect(once.indexOf(under)).toBeLessThan(once.indexOf(over));
      expect(mostOnce).toBe(once.length);
      const sizes = Array.from({ length: 2 ** COLOURS }, (_, mask) => orderedSize(mask, arcs));
      expect(once.length).toBe(Math.max(...sizes));
    }),
    { numRuns: 60 },
  );
});

/** How many colours are in the set, 0 if they lie beneath one another in a circle: whoever is beneath nobody goes, until nobody does. */
function orderedSize(mask: number, arcs: Arcs): number {
  const left = new Set([0, 1, 2, 3, 4, 5].filter((i) => mask & (1 << i)));
  const size = left.size;
  for (let round = 0; round < size; round++)
    for (const at of left) if (!arcs.some(([under, over]) => under === at && left.has(over))) left.delete(at);
  return left.size === 0 ? size : 0;
}
