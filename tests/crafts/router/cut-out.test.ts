import { describe, expect, test } from "vitest";
import { InternalError } from "../../../src/base/internal-error.ts";
import { boxOutline, circleOutline } from "../../../src/crafts/panel-outline.ts";
import { CUT_THROUGH_MM, cutOut, cutOutCutter } from "../../../src/crafts/router/cut-out.ts";
import type { RouterSettings } from "../../../src/crafts/router/settings.ts";
import { type ArcChain, chainBounds, segmentsOf, signedArea } from "../../../src/geometry/arc-chain.ts";
import { insideChain } from "../../../src/geometry/inside.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import { grow, insideOf, type Region, subtract } from "../../../src/geometry/region.ts";
import { auditPath, placesAlong } from "./path-audit.ts";
import { groundSettings, MILL_1, MILL_3, MILL_6 } from "./sample-settings.ts";

const BOX = boxOutline({ minX: 0, minY: 0, maxX: 120, maxY: 80 }, 6);
const DISC = circleOutline({ x: 50, y: 50 }, 50);
const R = 3;

function apart(outline: ArcChain, point: Point): number {
  return Math.min(...segmentsOf(outline).map((segment) => distance(nearestOn(segment, point), point)));
}

function tabsOf(outline: ArcChain, changes: Partial<RouterSettings> = {}): readonly ArcChain[] {
  return cutOut(outline, groundSettings(changes)).tabs;
}

describe.each([
  ["a box with round corners", BOX, { width: 120, height: 80 }],
  ["a disc", DISC, { width: 100, height: 100 }],
] as const)("%s cut free", (_, outline, size) => {
  test.each([
    [true, 4],
    [false, 3],
    [true, 0],
  ])("climb %s, %i tabs", (climb, tabCount) => {
    const settings = groundSettings({ climb, tabCount });
    const { run, tabs } = cutOut(outline, settings);
    expect(tabs).toHaveLength(tabCount);
    const audit = auditPath([run], { ...size, cellMm: 0.4, marginMm: 8 });
    const floor = -settings.stockThicknessMm - CUT_THROUGH_MM;
    const panel = insideOf(outline, 1e-3);
    expect(audit.lowest(panel)).toBe(0);
    // The slot is through, but for the bridges and half a cutter and the rise to both sides of them.
    const slot = subtract(grow(grow(panel, 2 * R, 1e-3), -0.1, 1e-3), grow(panel, 0.1, 1e-3));
    const bridges = tabs.map((tab): Region => insideOf(tab, 1e-3));
    const round = bridges.map((bridge) => grow(bridge, 2 * R + 2, 1e-3)).reduce(subtract, slot);
    expect(audit.highest(round)).toBeCloseTo(floor, 9);
    for (const bridge of bridges) {
      // At least as high all over as asked for, and no higher.
      const top = -settings.stockThicknessMm + settings.tabHeightMm;
      expect(audit.lowest(grow(bridge, -0.05, 1e-3))).toBeCloseTo(top, 9);
      expect(audit.highest(grow(bridge, -0.3, 1e-3))).toBeCloseTo(top, 9);
    }
    expect(audit.retracts).toBe(0);
    expect(audit.rapidBite).toBe(0);
    expect(audit.plungeBite).toBeLessThan(1e-9);
    expect(audit.bite).toBeLessThanOrEqual(MILL_6.stepDownMm + 1e-9);
    expect(audit.steepestDeg).toBeLessThanOrEqual(settings.rampDeg + 1e-6);
    let from = run.start;
    for (const motion of run.motions) {
      for (const place of motion.kind === "rapid" ? [] : placesAlong(from, motion, 1))
        expect(apart(outline, place)).toBeCloseTo(R, 6);
      from = motion;
    }
  });
});

/** Round the panel with the panel on the right is clockwise (pocket.test.ts says why that is climb). */
test.each([
  [true, -1],
  [false, 1],
])("climb %s: round the panel %i (1: counter-clockwise)", (climb, turn) => {
  const { run } = cutOut(BOX, groundSettings({ climb, tabCount: 0 }));
  const floor = -18 - CUT_THROUGH_MM;
  const ring = run.motions.filter(({ kind, z }) => kind !== "rapid" && z === floor);
  let twice = 0;
  for (const [i, to] of ring.entries()) {
    const from = ring[i - 1] ?? to;
    twice += from.x * to.y - to.x * from.y;
  }
  expect(Math.sign(twice)).toBe(turn);
});

test("tabs of a box stand on its straight sides, evenly, each as long as asked for and as wide as the slot", () => {
  const tabs = tabsOf(BOX, { tabLengthMm: 6 });
  for (const tab of tabs) {
    expect(Math.abs(signedArea(tab))).toBeCloseTo(6 * 2 * R, 9);
    const { minX, maxX, minY, maxY } = chainBounds(tab);
    const onSide = (minX >= 6 && maxX <= 114) || (minY >= 6 && maxY <= 74);
    expect(onSide).toBe(true);
    expect(insideChain(BOX, { x: (minX + maxX) / 2, y: (minY + maxY) / 2 })).toBe(false);
  }
  // One in the middle of each long side, the others within a quarter of the way of the short sides' middles.
  const middles = tabs
    .map(chainBounds)
    .map(({ minX, maxX, minY, maxY }) => ({ x: (minX + maxX) / 2, y: (minY + maxY) / 2 }));
  expect(middles.filter(({ x }) => Math.abs(x - 60) < 1e-6)).toHaveLength(2);
  expect(middles.filter(({ y }) => Math.abs(y - 40) < 1e-6)).toHaveLength(2);
});

test("tabs of a disc lie evenly anywhere", () => {
  const middles = tabsOf(DISC, { tabCount: 5, tabLengthMm: 4 }).map((tab) => {
    const { minX, maxX, minY, maxY } = chainBounds(tab);
    return Math.atan2((minY + maxY) / 2 - 50, (minX + maxX) / 2 - 50);
  });
  const sorted = middles.toSorted((a, b) => a - b);
  for (const [i, angle] of sorted.entries()) {
    const next = sorted[i + 1] ?? (sorted[0] ?? 0) + 2 * Math.PI;
    expect(next - angle).toBeCloseTo((2 * Math.PI) / 5, 1);
  }
});

test("tabs that find no room on the sides are a fault of ours: the settings are checked before", () => {
  expect(() => tabsOf(boxOutline({ minX: 0, minY: 0, maxX: 30, maxY: 20 }, 6), { tabCount: 9 })).toThrow(
    InternalError,
  );
});

test.each([
  ["the largest that is long enough", 10, [MILL_1, MILL_3, MILL_6], 6],
  [
    "a smaller one where the largest is too short",
    18,
    [
      { ...MILL_6, cuttingLengthMm: 15 },
      { ...MILL_3, cuttingLengthMm: 20 },
    ],
    3,
  ],
  ["the one with the highest edges where none is long enough", 30, [MILL_1, MILL_3, MILL_6], 6],
] as const)("cutter: %s", (_, stockThicknessMm, cutters, diameterMm) => {
  expect(cutOutCutter(groundSettings({ stockThicknessMm, cutters })).shape.diameterMm).toBe(diameterMm);
});
