import { describe, expect, test } from "vitest";
import { checkRelief } from "../../../src/crafts/router/relief-checks.ts";
import { reliefField } from "../../../src/crafts/router/relief-field.ts";
import type { ReliefSettings } from "../../../src/crafts/router/settings.ts";
import { reliefPanel, smallRelief } from "./relief-panels.ts";
import { MILL_6, sampleCutter } from "./sample-settings.ts";

function checksOf(changes: Partial<ReliefSettings>) {
  const settings = smallRelief(changes);
  const panel = reliefPanel(settings, { columns: 3, rows: 2 });
  const checks = checkRelief(panel, reliefField(panel, settings), settings);
  return new Map(checks.map((check) => [check.rule, check]));
}

test("a sound relief passes every rule, each with its number", () => {
  const checks = checksOf({});
  expect([...checks.values()].filter(({ verdict }) => verdict !== "pass").map(({ rule }) => rule)).toEqual(
    [],
  );
  // 1.875 x 2.5 over 20 / sqrt 2 - 7.03: atan 0.6591.
  expect(checks.get("ridge-slope")?.measured).toBeCloseTo(33.39, 2);
  // Under 3, over 0.5, dome 1.5.
  expect(checks.get("over-edge")?.measured).toBeCloseTo(1, 6);
  // Ground 5, under 3, dome 1.5.
  expect(checks.get("edge-above-ground")?.measured).toBeCloseTo(0.5, 9);
  // 0.2^2 / (8 x 1.5): the ball is rounder than the dome.
  expect(checks.get("relief-pixel")?.measured).toBeCloseTo(0.04 / 12, 9);
});

const FAILING: readonly [string, Partial<ReliefSettings>, number][] = [
  // 1.875 x 4.5 over 7.112 mm: atan 1.1864.
  ["ridge-slope", { underDepthMm: 5, groundDepthMm: 7 }, 49.87],
  // 2 - 0.5 - 1.5.
  ["over-edge", { underDepthMm: 2 }, 0],
  ["dome-height", { domeHeightMm: 4 }, 4],
  // 4 - 3 - 1.5.
  ["edge-above-ground", { groundDepthMm: 4 }, -0.5],
  ["ball-cutter", { cutters: [MILL_6] }, 0],
  ["mesh-deviation", { meshDeviationMm: 0.05 }, 0.05],
  // 1^2 / (8 x 1.5).
  ["relief-pixel", { reliefPixelMm: 1 }, 0.0833],
  // 18 - 14 = 4 mm left of the 6 that are asked for.
  ["floor-left", { groundDepthMm: 14 }, 4],
  [
    "flute-length",
    { cutters: [MILL_6, { ...sampleCutter(9, { kind: "ball", diameterMm: 3 }), cuttingLengthMm: 4 }] },
    4,
  ],
];

test.each(FAILING)("%s fails", (rule, changes, measured) => {
  const check = checksOf(changes).get(rule);
  expect(check?.verdict).toBe("fail");
  expect(check?.measured).toBeCloseTo(measured, 2);
});

test.each<[string, Partial<ReliefSettings>]>([
  ["ridge-slope", { underDepthMm: 5, groundDepthMm: 7 }],
  ["over-edge", { underDepthMm: 2 }],
  ["dome-height", { domeHeightMm: 4 }],
  ["edge-above-ground", { groundDepthMm: 4 }],
  ["mesh-deviation", { meshDeviationMm: 0.05 }],
  ["relief-pixel", { reliefPixelMm: 1 }],
])("the first remedy of %s makes it pass", (rule, changes) => {
  const [remedy] = checksOf(changes).get(rule)?.remedies ?? [];
  if (!remedy || typeof remedy.value !== "number") throw new Error("a remedy with a number expected");
  expect(checksOf({ ...changes, [remedy.change]: remedy.value }).get(rule)?.verdict).toBe("pass");
});

describe("the valley between two ridges", () => {
  /**
   * Rolls 7.03 / 2 wide and 0.8 high: b = 1.7575, R = (b^2 + 0.64) / 1.6 = 2.3305. A ball of radius r
   * stops sqrt((R + r)^2 - b^2) - r over their middles, the valley is sqrt(R^2 - b^2) = 1.5305 over them.
   */
  test.each([
    // sqrt(3.8305^2 - 3.0888) - 1.5 - 1.5305 = 0.3732.
    [3, 0.3732, "pass"],
    // sqrt(8.3305^2 - 3.0888) - 6 - 1.5305 = 0.6125.
    [12, 0.6125, "fail"],
  ] as const)("a ball of %d mm leaves %d mm", (diameterMm, left, verdict) => {
    const check = checksOf({
      dome: "two-ridged",
      domeHeightMm: 0.8,
      cutters: [MILL_6, sampleCutter(9, { kind: "ball", diameterMm })],
    }).get("ridge-valley");
    expect(check?.measured).toBeCloseTo(left, 3);
    expect(check?.limit).toBeCloseTo(0.4, 9);
    expect(check?.verdict).toBe(verdict);
  });

  test("is no rule of a round dome", () => {
    expect(checksOf({}).has("ridge-valley")).toBe(false);
  });
});

describe("room for the ball", () => {
  /**
   * A 3 x 2 panel has 7 crossings, so 9 parts of ground. The widest inside are squares, pitch / sqrt 2
   * less the ribbon: 14.14 - 7.03 = 7.11 mm; the one outside is a border of 10 mm less a frame of 5.
   */
  test.each([
    [1, 0],
    [9, 9],
  ])("a ball of %d mm: no room in %d parts", (diameterMm, count) => {
    const check = checksOf({
      reliefPixelMm: 0.1,
      cutters: [MILL_6, sampleCutter(9, { kind: "ball", diameterMm })],
    }).get("ball-room");
    expect(check?.count).toBe(count);
    expect(check?.verdict).toBe(count === 0 ? "pass" : "fail");
  });
});
