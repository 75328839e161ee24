import { expect, test } from "vitest";
import { measurePoints } from "../../src/checks/points.ts";
import { polyline } from "../../src/geometry/arc-chain.ts";
import { variantsOf } from "../support/variants.ts";

// A right triangle of sides 3, 4, 5: angles 90, atan(3/4) = 36.87 and atan(4/3) = 53.13 degrees.
const TRIANGLE = polyline(
  [
    { x: 0, y: 0 },
    { x: 4, y: 0 },
    { x: 0, y: 3 },
  ],
  true,
);

for (const { name, chain } of variantsOf(TRIANGLE)) {
  test(`the sharpest corner of a triangle ${name}`, () => {
    const { worst, short } = measurePoints([chain], 40);
    expect(worst).toBeCloseTo((Math.atan(3 / 4) * 180) / Math.PI, 9);
    expect(short).toHaveLength(1);
  });
}

test("smooth joints are no corners", () => {
  const circle = {
    closed: true,
    vertices: [
      { x: 0, y: 0, bulge: 1 },
      { x: 10, y: 0, bulge: 1 },
    ],
  };
  expect(measurePoints([circle], 180)).toEqual({ worst: null, short: [] });
});

test("a half circle meets its diameter at right angles, twice", () => {
  const half = {
    closed: true,
    vertices: [
      { x: 0, y: 0, bulge: 1 },
      { x: 10, y: 0, bulge: 0 },
    ],
  };
  const { worst, short } = measurePoints([half], 100);
  expect(worst).toBeCloseTo(90, 9);
  expect(short).toHaveLength(2);
});
