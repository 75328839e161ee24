import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { pathData } from "../../src/formats/path-data.ts";
import type { ArcChain } from "../../src/geometry/arc-chain.ts";
import { CIRCLE, STADIUM } from "./sample-drawing.ts";

const QUARTER = Math.SQRT2 - 1;

function chain(closed: boolean, ...vertices: readonly (readonly [number, number, number])[]): ArcChain {
  return { closed, vertices: vertices.map(([x, y, bulge]) => ({ x, y, bulge })) };
}

test("half turns are split in quarter turns, and y is turned over", () => {
  // y' = 20 - y. The half circle from (110, 0) to (110, 20) passes (120, 10): counter-clockwise with
  // y up, so sweep flag 0 with y down.
  expect(pathData(STADIUM, 3, 20)).toBe(
    "M10 20L110 20A10 10 0 0 0 120 10A10 10 0 0 0 110 0L10 0A10 10 0 0 0 0 10A10 10 0 0 0 10 20Z",
  );
});

test.each([
  // Radius of a quarter turn over the chord (0, 0) to (10, 10): 10.
  ["counter-clockwise", QUARTER, "M0 0A10 10 0 0 0 10 -10"],
  ["clockwise", -QUARTER, "M0 0A10 10 0 0 1 10 -10"],
  ["no arc at all", 0, "M0 0L10 -10"],
])("an open quarter turn: %s", (_, bulge, data) => {
  expect(pathData(chain(false, [0, 0, bulge], [10, 10, 0]), 3, 0)).toBe(data);
});

test("coordinates are rounded once, to the decimals asked for, and vanished steps are left out", () => {
  const drawn = chain(false, [0.004, 1 / 3, 0], [0.0041, 1 / 3, 0], [2 / 3, 1 / 3, 0]);
  expect(pathData(drawn, 2, 1)).toBe("M0 0.67L0.67 0.67");
  expect(pathData(drawn, 4, 1)).toBe("M0.004 0.6667L0.0041 0.6667L0.6667 0.6667");
});

test("a closed path that ends with an arc ends in the text it began with", () => {
  const data = pathData(CIRCLE, 3, 0);
  const begin = /^M([-\d. ]+)A/.exec(data)?.[1];
  expect(begin).toMatch(/^-?[\d.]+ -?[\d.]+$/);
  expect(data.endsWith(` ${begin}Z`)).toBe(true);
});

test.each([
  ["a coordinate", chain(false, [0, 0, 0], [Number.NaN, 1, 0])],
  ["an infinite coordinate", chain(false, [0, 0, 0], [1, Number.POSITIVE_INFINITY, 0])],
  ["a bulge", chain(false, [0, 0, Number.NaN], [1, 1, 0])],
])("a number that is not finite is a fault of ours: %s", (_, drawn) => {
  expect(() => pathData(drawn, 3, 0)).toThrow(InternalError);
});
