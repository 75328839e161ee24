import { expect, test } from "vitest";
import { Pcg32 } from "../../../src/crafts/paper/pcg32.ts";

test("the numbers of the published generator", () => {
  // The demonstration program of the reference implementation (O'Neill, pcg-c-basic, pcg32-demo),
  // seed 42, stream 54, round 1.
  const chance = new Pcg32(42, 54);
  expect(Array.from({ length: 6 }, () => chance.next())).toEqual([
    0xa15c02b7, 0x7b47f409, 0xba1d3330, 0x83d2f293, 0xbfa4784b, 0xcbed606e,
  ]);
});

test.each([1, 2, 3, 7, 52])("numbers below %i are evenly drawn", (count) => {
  const chance = new Pcg32(1);
  const drawn = new Array<number>(count).fill(0);
  const draws = 400 * count;
  for (let i = 0; i < draws; i++) {
    const at = chance.below(count);
    drawn[at] = (drawn[at] ?? 0) + 1;
  }
  expect(drawn).toHaveLength(count);
  // 400 each, give or take five standard deviations of a binomial count (at most 20).
  for (const times of drawn) expect(Math.abs(times - 400)).toBeLessThanOrEqual(100);
});
