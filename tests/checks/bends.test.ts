import { expect, test } from "vitest";
import { measureBends } from "../../src/checks/bends.ts";
import { variantsOf } from "../support/variants.ts";

// A stadium: two straight sides of 20 mm, two half circles of radius 5.
const STADIUM = {
  closed: true,
  vertices: [
    { x: 0, y: 0, bulge: 0 },
    { x: 20, y: 0, bulge: 1 },
    { x: 20, y: 10, bulge: 0 },
    { x: 0, y: 10, bulge: 1 },
  ],
};

for (const { name, chain } of variantsOf(STADIUM)) {
  test(`the inner edge of a ribbon along a stadium ${name}`, () => {
    expect(measureBends([chain], 4, 3).worst).toBeCloseTo(3, 9);
    expect(measureBends([chain], 4, 3).short).toEqual([]);
    expect(measureBends([chain], 4, 3.5).short).toHaveLength(2);
  });
}

test("a ribbon wider than its bend has an inner edge past the centre", () => {
  expect(measureBends([STADIUM], 12, 0).worst).toBeCloseTo(-1, 9);
});

test("straight lines bend nowhere", () => {
  const line = {
    closed: false,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 20, y: 0, bulge: 0 },
    ],
  };
  expect(measureBends([line], 4, 3).worst).toBeNull();
});
