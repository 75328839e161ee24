import { describe, expect, test } from "vitest";
import type { CheckResult } from "../../../src/checks/check.ts";
import { compareWithLimits } from "../../../src/crafts/router/compare.ts";
import { LimitMaker } from "../../../src/crafts/router/limits.ts";
import { type SimulatedRun, simulate } from "../../../src/crafts/router/simulate.ts";
import { simulationChecks } from "../../../src/crafts/router/simulation-checks.ts";
import { EMPTY_REGION, type Region, subtract } from "../../../src/geometry/region.ts";
import { flatField } from "../../../src/output/height-field.ts";
import type { Motion } from "../../../src/output/toolpath.ts";
import { line, MILL, rapid, runOf, stockOf } from "./router-run.ts";
import { groundSettings, MILL_3 } from "./sample-settings.ts";

const TOLERANCE_MM = 0.02;

function box(minX: number, minY: number, maxX: number, maxY: number): Region {
  return {
    rings: [
      [
        { x: minX, y: minY },
        { x: maxX, y: minY },
        { x: maxX, y: maxY },
        { x: minX, y: maxY },
      ],
    ],
  };
}

const STOCK = stockOf(30, 20, { stepDownMm: new Map([[2, 1.5]]) });
const PANEL = box(1, 1, 29, 19);
/** Where a 3 mm mill goes from (5, 10) to (25, 10), without the round ends. */
const SLOT = box(5, 8.5, 25, 11.5);
const GROUND_Z = -1.2;

describe("limits", () => {
  const grid = flatField(STOCK.box, 0.1, 0);

  function limitsAt(maker: LimitMaker, x: number, y: number) {
    const i = Math.floor(y / 0.1) * grid.columns + Math.floor(x / 0.1);
    return [maker.limits.lowest[i], maker.limits.highest[i]];
  }

  test("nothing is asked at first", () => {
    expect(limitsAt(new LimitMaker(grid, TOLERANCE_MM), 15.05, 10.05)).toEqual([Number.NEGATIVE_INFINITY, 0]);
  });

  test("what stands, what is cleared and what comes out at a height", () => {
    const maker = new LimitMaker(grid, 0.25);
    maker.stand(box(2, 2, 4, 4), -0.5);
    maker.clear(box(6, 2, 8, 4), -3);
    maker.shape(box(10, 2, 12, 4), new Float32Array(grid.z.length).fill(-1));
    const free = [Number.NEGATIVE_INFINITY, 0];
    expect(limitsAt(maker, 3.05, 3.05)).toEqual([-0.75, 0]);
    expect(limitsAt(maker, 7.05, 3.05)).toEqual([Number.NEGATIVE_INFINITY, -2.75]);
    expect(limitsAt(maker, 11.05, 3.05)).toEqual([-1.25, -0.75]);
    // A quarter of a mm inside each edge the middles at 0.25 … count, those at 0.15 do not.
    for (const left of [2, 6, 10]) {
      expect(limitsAt(maker, left + 0.15, 3.05)).toEqual(free);
      expect(limitsAt(maker, left + 0.35, 3.05)).not.toEqual(free);
      expect(limitsAt(maker, left + 1.85, 3.05)).toEqual(free);
    }
  });

  test("later ones only narrow", () => {
    const maker = new LimitMaker(grid, 0.25);
    maker.stand(box(2, 2, 6, 6), -1);
    maker.stand(box(2, 2, 6, 6), -2);
    maker.clear(box(2, 2, 6, 6), -0.5);
    maker.clear(box(2, 2, 6, 6), 0);
    expect(limitsAt(maker, 4.05, 4.05)).toEqual([-1.25, -0.25]);
  });

  test("what must stay below, but for what is cut through", () => {
    const maker = new LimitMaker(grid, 0.25);
    maker.keep(box(2, 2, 12, 12), -10, box(6, 0, 8, 20));
    expect(limitsAt(maker, 4.05, 5.05)).toEqual([-10, 0]);
    expect(limitsAt(maker, 7.05, 5.05)).toEqual([Number.NEGATIVE_INFINITY, 0]);
    // The band is as much wider.
    expect(limitsAt(maker, 5.85, 5.05)).toEqual([Number.NEGATIVE_INFINITY, 0]);
    expect(limitsAt(maker, 5.65, 5.05)).toEqual([-10, 0]);
  });
});

describe("comparison", () => {
  test("patches are places, each at its furthest pixel", () => {
    const field = flatField({ minX: 0, minY: 0, maxX: 4, maxY: 3 }, 1, -1);
    const limits = { lowest: new Float32Array(12).fill(-1.5), highest: new Float32Array(12).fill(-0.5) };
    // Two that touch at their corners, one apart, one to the other side beside it.
    field.z[0] = -2;
    field.z[5] = -3;
    field.z[3] = -1.75;
    field.z[7] = -0.25;
    const { below, above, deviation, lowestZ } = compareWithLimits(field, limits);
    expect(below).toEqual({
      worst: 1.5,
      areaMm2: 3,
      places: [
        { at: { x: 1.5, y: 1.5 }, value: 1.5 },
        { at: { x: 3.5, y: 0.5 }, value: 0.25 },
      ],
    });
    expect(above).toEqual({ worst: 0.25, areaMm2: 1, places: [{ at: { x: 3.5, y: 1.5 }, value: 0.25 }] });
    expect([...deviation.z]).toEqual([-0.5, 0, 0, -0.25, 0, -1.5, 0, 0.25, 0, 0, 0, 0]);
    expect(lowestZ).toBe(-3);
  });

  test("at the limit is within", () => {
    const field = flatField({ minX: 0, minY: 0, maxX: 2, maxY: 1 }, 1, -1.23);
    const limits = { lowest: new Float32Array(2).fill(-1.23), highest: new Float32Array(2).fill(-1.23) };
    const { below, above } = compareWithLimits(field, limits);
    expect([below.worst, above.worst]).toEqual([0, 0]);
  });
});

/** All rules on one run of a 3 mm mill with a step of 1.5 mm. */
function checksOf(motions: readonly Motion[], changes: Partial<Parameters<typeof simulationChecks>[1]> = {}) {
  const run: SimulatedRun = { ...runOf(MILL, { x: 5, y: 10, z: 10 }, motions), cutter: MILL_3 };
  const simulated = simulate([run], STOCK);
  const settings = { ...groundSettings({ toleranceMm: TOLERANCE_MM }), ...changes };
  const surface = new LimitMaker(simulated.field, TOLERANCE_MM);
  // The round ends of the slot are neither promised nor kept.
  surface.stand(subtract(PANEL, box(3.5, 8.5, 26.5, 11.5)), 0);
  surface.clear(SLOT, GROUND_Z);
  const keep = new LimitMaker(simulated.field, TOLERANCE_MM);
  keep.keep(PANEL, -(settings.stockThicknessMm - settings.keepBelowMm), EMPTY_REGION);
  return simulationChecks(
    {
      simulated,
      compared: compareWithLimits(simulated.field, surface.limits),
      kept: compareWithLimits(simulated.field, keep.limits),
    },
    settings,
  );
}

function failed(checks: readonly CheckResult[]): string[] {
  return checks.filter(({ verdict }) => verdict === "fail").map(({ rule }) => rule);
}

function check(checks: readonly CheckResult[], rule: string): CheckResult | undefined {
  return checks.find((one) => one.rule === rule);
}

const CLEAN: Motion[] = [
  rapid(5, 10, 1),
  line(5, 10, 0),
  line(25, 10, GROUND_Z),
  line(5, 10, GROUND_Z),
  rapid(5, 10, 10),
];

describe("rules", () => {
  test("a clean slot keeps all", () => {
    const checks = checksOf(CLEAN);
    expect(checks.map(({ rule }) => rule)).toEqual([
      "carved-away",
      "left-uncut",
      "keep-below",
      "rapid-clear",
      "no-plunge",
      "pass-depth",
      "in-envelope",
    ]);
    expect(failed(checks)).toEqual([]);
    // 18 mm of stock less the slot.
    expect(check(checks, "keep-below")?.measured).toBeCloseTo(16.8, 5);
  });

  test.each<[string, string[], readonly Motion[]]>([
    ["a mill that strays into what stands", ["carved-away"], [...CLEAN.slice(0, 4), line(15, 13, GROUND_Z)]],
    ["a slot that stops short", ["left-uncut"], CLEAN.map((at) => ({ ...at, x: Math.min(at.x, 20) }))],
    [
      "a slot that is not deep enough",
      ["left-uncut"],
      CLEAN.map((at) => ({ ...at, z: Math.max(at.z, -1.1) })),
    ],
    ["a rapid motion along the slot", ["rapid-clear"], [rapid(5, 10, -1), rapid(25, 10, -1), ...CLEAN]],
    ["a plunge", ["no-plunge"], [line(5, 10, GROUND_Z), ...CLEAN]],
    ["a pass twice as deep", ["pass-depth"], [line(5, 10, 0), line(25, 10, -2), line(5, 10, -2)]],
    ["a motion far away", ["in-envelope"], [...CLEAN, rapid(5, 50, 10)]],
  ])("%s", (_, rules, motions) => {
    const checks = checksOf(motions);
    expect(failed(checks)).toEqual(rules);
    const found = check(checks, rules[0] ?? "");
    expect(found?.count).toBeGreaterThan(0);
    expect(found?.places.length).toBeGreaterThan(0);
  });

  test("what is cut away and left is measured in mm beyond the tolerance, with its place", () => {
    const checks = checksOf([...CLEAN.slice(0, 4), line(15, 13, GROUND_Z)]);
    const away = check(checks, "carved-away");
    expect(away?.measured).toBeCloseTo(-GROUND_Z - TOLERANCE_MM, 5);
    expect(away?.count).toBe(1);
    expect(away?.places[0]?.y).toBeGreaterThan(11.5);
    const shallow = check(checksOf(CLEAN.map((at) => ({ ...at, z: Math.max(at.z, -1.1) }))), "left-uncut");
    expect(shallow?.measured).toBeCloseTo(0.1 - TOLERANCE_MM, 5);
  });

  test("too little solid wood below asks for a thicker board", () => {
    // 18 mm less 1.2 leaves 16.8; 17 are asked for.
    const found = check(checksOf(CLEAN, { keepBelowMm: 17 }), "keep-below");
    expect(found).toMatchObject({ verdict: "fail", limit: 17 });
    expect(found?.measured).toBeCloseTo(16.8, 5);
    expect(found?.remedies).toMatchObject([{ change: "stockThicknessMm", value: 18.2 }]);
  });

  test("where plunging is allowed it is not asked about", () => {
    const checks = checksOf([line(5, 10, GROUND_Z), ...CLEAN], { plungeAllowed: true });
    expect(check(checks, "no-plunge")).toBeUndefined();
    expect(failed(checks)).toEqual([]);
  });

  test("the depths of passes are said for each cutter that is used", () => {
    const note = check(checksOf(CLEAN), "pass-depth")?.note;
    expect(note).toContain(`${MILL_3.name}: 1.2 mm of 1.5 mm allowed.`);
    expect(note).not.toContain("6 mm:");
  });
});
