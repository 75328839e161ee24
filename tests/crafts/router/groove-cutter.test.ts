import { expect, test } from "vitest";
import {
  deepestOf,
  depthAt,
  radiusAt,
  type VCutter,
  type VShape,
  vCutterOf,
} from "../../../src/crafts/router/groove-cutter.ts";
import { MILL_3, sampleCutter, V_60 } from "./sample-settings.ts";

function cone(angleDeg: number, tipMm = 0, diameterMm = 12): VShape {
  return { kind: "v", diameterMm, angleDeg, tipMm };
}

/** CHECKS.md, section 5: depth = w / (2 tan(A/2)). */
test.each([
  { angleDeg: 60, widthMm: 2, depthMm: 1.7321 },
  { angleDeg: 60, widthMm: 6, depthMm: 5.1962 },
  { angleDeg: 90, widthMm: 2, depthMm: 1 },
  { angleDeg: 90, widthMm: 6, depthMm: 3 },
  { angleDeg: 30, widthMm: 2, depthMm: 3.7321 },
])("$angleDeg degrees, $widthMm mm wide: $depthMm deep", ({ angleDeg, widthMm, depthMm }) => {
  expect(depthAt(cone(angleDeg), widthMm / 2)).toBeCloseTo(depthMm, 4);
  expect(2 * radiusAt(cone(angleDeg), depthMm)).toBeCloseTo(widthMm, 3);
  // A flat tip takes its width off first: as deep as the pointed cutter in a groove narrower by the tip.
  expect(depthAt(cone(angleDeg, 0.4), (widthMm + 0.4) / 2)).toBeCloseTo(depthMm, 4);
});

test("a tip wider than the groove does not go in", () => {
  expect(depthAt(cone(60, 1), 0.4)).toBe(0);
});

/** CHECKS.md, section 5: no deeper than D / (2 tan(A/2)), a flat tip off D first. */
test.each([
  { shape: cone(60, 0, 6), cuttingLengthMm: 14, deepestMm: 5.1962 },
  { shape: cone(90, 0, 6), cuttingLengthMm: 14, deepestMm: 3 },
  { shape: cone(90, 1, 6), cuttingLengthMm: 14, deepestMm: 2.5 },
  { shape: cone(60, 0, 6), cuttingLengthMm: 4, deepestMm: 4 },
])(
  "$shape.angleDeg degrees of $shape.diameterMm mm go $deepestMm deep",
  ({ shape, cuttingLengthMm, deepestMm }) => {
    const cutter: VCutter = { ...sampleCutter(1, shape), shape, cuttingLengthMm };
    expect(deepestOf(cutter)).toBeCloseTo(deepestMm, 4);
  },
);

test("the V cutter is the list's first one", () => {
  expect(vCutterOf({ cutters: [MILL_3, V_60] })).toBe(V_60);
  expect(vCutterOf({ cutters: [MILL_3] })).toBeUndefined();
});
