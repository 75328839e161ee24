import { describe, expect, test } from "vitest";
import { compareWithLimits } from "../../../src/crafts/router/compare.ts";
import { reliefField } from "../../../src/crafts/router/relief-field.ts";
import { measureStays, reliefLimits } from "../../../src/crafts/router/relief-limits.ts";
import { reliefRuns, roughingMills } from "../../../src/crafts/router/relief-paths.ts";
import { reachableField } from "../../../src/crafts/router/relief-reach.ts";
import type { DomeShape, ReliefSettings } from "../../../src/crafts/router/settings.ts";
import { simulate } from "../../../src/crafts/router/simulate.ts";
import { flatField, type HeightField } from "../../../src/output/height-field.ts";
import type { ToolRun } from "../../../src/output/toolpath.ts";
import { carve, fieldOf, reliefPanel, smallRelief } from "./relief-panels.ts";
import { BALL_3, MILL_1, MILL_3, MILL_6 } from "./sample-settings.ts";

/** A motion's end lies on a grid of its own only once it is written; here nothing but rounding is allowed for. */
const ROUNDING = 1e-4;

function stockOf({ columns, rows, stepMm, minX, minY }: HeightField): HeightField {
  return flatField({ minX, minY, maxX: minX + columns * stepMm, maxY: minY + rows * stepMm }, stepMm, 0);
}

function leastOver(stock: HeightField, field: HeightField): number {
  return stock.z.reduce((least, z, i) => Math.min(least, z - (field.z[i] ?? 0)), Number.POSITIVE_INFINITY);
}

const ROWS: readonly [DomeShape, Partial<ReliefSettings>][] = [
  ["round", {}],
  ["eased", { borderDepthMm: 0.7 }],
  ["two-ridged", { frameMm: 0, plungeAllowed: true }],
];

describe.each(ROWS)("a %s relief", (dome, changes) => {
  const settings = smallRelief({ dome, ...changes });
  const panel = reliefPanel(settings);
  const field = reliefField(panel, settings);
  const runs = reliefRuns(field, settings);
  const stock = stockOf(field);
  const [mill, ball] = runs;
  if (!mill || !ball) throw new Error("two runs expected");
  const roughed = carve(mill, stock);
  const afterRough = { ...stock, z: stock.z.slice() };
  const carved = carve(ball, stock);

  test("one run for each cutter, the mill first", () => {
    expect(runs.map(({ cutter }) => cutter.name)).toEqual([MILL_6.name, BALL_3.name]);
  });

  test("roughing stays the allowance above the surface", () => {
    expect(leastOver(afterRough, field)).toBeGreaterThanOrEqual(
      Math.min(-Math.max(...field.z), settings.roughAllowanceMm) - ROUNDING,
    );
    const off = afterRough.z.reduce((sum, z) => sum - z, 0);
    expect(off * 0.04).toBeGreaterThan(500);
    for (const [i, z] of afterRough.z.entries())
      if (z < 0) expect(z - (field.z[i] ?? 0)).toBeGreaterThanOrEqual(settings.roughAllowanceMm - ROUNDING);
  });

  test("the ball never cuts below the surface (dense oracle)", () => {
    expect(leastOver(carved.stock, field)).toBeGreaterThanOrEqual(-0.5 * settings.toleranceMm);
  });

  test("no pass is deeper than the cutter may go, no rapid motion cuts", () => {
    expect(roughed.deepestBite).toBeLessThanOrEqual(MILL_6.stepDownMm);
    expect(carved.deepestBite).toBeLessThanOrEqual(BALL_3.stepDownMm + 0.01);
    expect([roughed.rapidBite, carved.rapidBite]).toEqual([0, 0]);
  });

  test("what it leaves lies within the limits of what a ball reaches", () => {
    const reachable = reachableField(field, 1.5);
    const limits = reliefLimits({ field, reachable }, panel, settings, field);
    const { below, above } = compareWithLimits(carved.stock, limits);
    expect([below.worst, above.worst]).toEqual([0, 0]);
    // The limits are no blank cheque: untouched stock is far above them.
    expect(compareWithLimits(stockOf(field), limits).above.worst).toBeGreaterThan(2);
  });

  test("simulation finds no breach in it", () => {
    const { width, height } = panel.size;
    const { breaches } = simulate(runs, {
      box: { minX: 0, minY: 0, maxX: width, maxY: height },
      pixelMm: 0.2,
      thicknessMm: settings.stockThicknessMm,
      stepDownMm: new Map([MILL_6, BALL_3].map(({ number, stepDownMm }) => [number, stepDownMm])),
      envelope: {
        min: { x: -1, y: -1, z: -12 },
        max: { x: width + 1, y: height + 1, z: settings.clearanceMm },
      },
    });
    expect(
      Object.entries(breaches).map(([name, { count }]) => [
        name,
        name === "plungeIntoSolid" && settings.plungeAllowed ? 0 : count,
      ]),
    ).toEqual(Object.keys(breaches).map((name) => [name, 0]));
  });
});

describe("ridges that finishing leaves", () => {
  const settings = smallRelief({ cutters: [BALL_3], reliefPixelMm: 0.1, scallopMm: 0.01 });
  // 2 sqrt(2 x 1.5 x 0.01 - 0.01^2) = 0.3458 apart.
  const apart = 2 * Math.sqrt(2 * 1.5 * 0.01 - 0.01 ** 2);

  /** The greatest height above a plane in the middle of the piece, and how near to the plane the lowest place comes. */
  function leftOn(slope: number) {
    const field = fieldOf({ widthMm: 6, heightMm: 8, stepMm: 0.1 }, (_, y) => -1 - slope * (8 - y));
    const stock = stockOf(field);
    for (const run of reliefRuns(field, settings)) carve(run, stock);
    const left = [...stock.z.keys()]
      .filter((i) => Math.abs(Math.floor(i / 60) - 40) < 22 && Math.abs((i % 60) - 30) < 12)
      .map((i) => (stock.z[i] ?? 0) - (field.z[i] ?? 0));
    return { most: Math.max(...left), least: Math.min(...left) };
  }

  test("on a flat, the scallop height; besides it the clearance and what straight moves give", () => {
    const { most, least } = leftOn(0);
    const spare = 0.5 * settings.toleranceMm;
    expect(most).toBeLessThanOrEqual(0.01 + spare);
    expect(most).toBeGreaterThan(0.006);
    expect(least).toBeGreaterThanOrEqual(-ROUNDING);
  });

  test("on a slope of 45 degrees across the lines, that of lines sqrt 2 as far apart, upright sqrt 2 as high", () => {
    const { most, least } = leftOn(1);
    const ridge = (1.5 - Math.sqrt(1.5 ** 2 - ((apart * Math.SQRT2) / 2) ** 2)) * Math.SQRT2;
    expect(most).toBeLessThanOrEqual(ridge + 0.5 * settings.toleranceMm * Math.SQRT2);
    expect(most).toBeGreaterThan(0.6 * ridge);
    expect(least).toBeGreaterThanOrEqual(-ROUNDING);
  });
});

describe("cutters", () => {
  const settings = smallRelief();
  const field = reliefField(reliefPanel(settings), settings);

  test("a second end mill must be clearly larger than the ball", () => {
    const names = (cutters: ReliefSettings["cutters"]) =>
      roughingMills({ ...settings, cutters }).map(({ name }) => name);
    expect(names([MILL_1, BALL_3, MILL_6, MILL_3])).toEqual([MILL_6.name]);
    expect(names([MILL_3, BALL_3])).toEqual([MILL_3.name]);
    expect(names([MILL_1, MILL_3])).toEqual([MILL_3.name, MILL_1.name]);
  });

  test("without a ball it is roughed only", () => {
    const runs = reliefRuns(field, { ...settings, cutters: [MILL_6] });
    expect(runs.map(({ cutter }) => cutter.name)).toEqual([MILL_6.name]);
  });

  test("the ball alone does all, ramping where it goes in", () => {
    const [run, ...others] = reliefRuns(field, { ...settings, cutters: [BALL_3] });
    expect(others).toEqual([]);
    if (!run) throw new Error("a run expected");
    const stock = stockOf(field);
    const carved = carve(run, stock);
    expect(carved.deepestBite).toBeLessThanOrEqual(BALL_3.stepDownMm + 0.01);
    expect(leastOver(stock, field)).toBeGreaterThanOrEqual(-0.5 * settings.toleranceMm);
  });
});

test("feeds: never faster down than the cutter may plunge", () => {
  const settings = smallRelief();
  const runs: readonly ToolRun[] = reliefRuns(reliefField(reliefPanel(settings), settings), settings);
  for (const { start, motions } of runs) {
    let at = start;
    let fastest = 0;
    for (const motion of motions) {
      const down = at.z - motion.z;
      const length = Math.hypot(motion.x - at.x, motion.y - at.y, down);
      if (motion.kind === "line" && length > 0)
        fastest = Math.max(fastest, (motion.feedMmPerMin * down) / length);
      at = motion;
    }
    expect(fastest).toBeGreaterThan(0);
    expect(fastest).toBeLessThanOrEqual(BALL_3.plungeMmPerMin + ROUNDING);
  }
});

test("what stays is counted where it is more than the tolerance", () => {
  const field = fieldOf({ widthMm: 2, heightMm: 1, stepMm: 0.5 }, () => -2);
  const reached = { ...field, z: Float32Array.from([-2, -1.99, -1.5, -1, -2, -2, -2, -2]) };
  // Two pixels of 0.25 mm2, 0.5 and 1 mm high.
  expect(measureStays(field, reached, 0.02)).toEqual({ areaMm2: 0.5, volumeMm3: 0.375, worstMm: 1 });
});
