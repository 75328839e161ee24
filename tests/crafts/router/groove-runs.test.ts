import { describe, expect, test } from "vitest";
import { compareWithLimits } from "../../../src/crafts/router/compare.ts";
import { FLOOR_RIDGE_MM } from "../../../src/crafts/router/groove-floor.ts";
import { intendedGroove } from "../../../src/crafts/router/groove-limits.ts";
import { type GroovePlan, planGroove } from "../../../src/crafts/router/groove-plan.ts";
import { rampDown } from "../../../src/crafts/router/groove-ramp.ts";
import { grooveRuns } from "../../../src/crafts/router/groove-runs.ts";
import type { RouterPanel } from "../../../src/crafts/router/router-panel.ts";
import type { GrooveSettings } from "../../../src/crafts/router/settings.ts";
import { simulate } from "../../../src/crafts/router/simulate.ts";
import type { Point } from "../../../src/geometry/point.ts";
import { regionHolds } from "../../../src/geometry/region.ts";
import { type Block, carveBlock, eachPixel, edgeDistance } from "./cone-oracle.ts";
import { holePanel, wovenGrooves } from "./groove-panels.ts";
import { grooveSettings, MILL_1, MILL_3, sampleCutter, V_60 } from "./sample-settings.ts";

const TAN_30 = Math.tan(Math.PI / 6);
/** Axis 0.003, fitted arcs 0.002, chords 0.001, all of them sideways; a cone of 60 degrees makes 1.73 times as much of it in depth. */
const WALL_MM = 0.011;
/** What is left between the oracle's places, half of them apart from a pixel: 0.015 / tan 30. */
const BETWEEN_MM = 0.026;

function planned(panel: RouterPanel, settings: GrooveSettings): GroovePlan {
  const plan = planGroove(panel, settings);
  if (!plan) throw new Error("no V cutter in the list");
  return plan;
}

function carved(
  panel: RouterPanel,
  settings: GrooveSettings,
  stepMm = 0.25,
): { plan: GroovePlan; block: Block } {
  const plan = planned(panel, settings);
  const box = { minX: 0, minY: 0, maxX: panel.size.width, maxY: panel.size.height };
  return { plan, block: carveBlock(grooveRuns(plan), box, { stepMm, everyMm: 0.03 }) };
}

/** How much deeper and how much higher than it may be the surface is anywhere, mm. */
function worst(
  block: Block,
  depths: (at: Point) => readonly [most: number, least: number],
): { below: number; above: number } {
  let below = 0;
  let above = 0;
  eachPixel(block, (at, z) => {
    const [most, least] = depths(at);
    below = Math.max(below, -z - most);
    above = Math.max(above, least + z);
  });
  return { below, above };
}

function volume({ z, stepMm }: Block): number {
  return -z.reduce((sum, height) => sum + height, 0) * stepMm * stepMm;
}

const SQUARE: readonly Point[] = [
  { x: 2, y: 2 },
  { x: 8, y: 2 },
  { x: 8, y: 8 },
  { x: 2, y: 8 },
];
const BOARD = { width: 10, height: 10 };

describe("ground, by closed forms", () => {
  const deep = grooveSettings({ deepestMm: 9, fieldMarginMm: 0 });

  test("a square becomes a pyramid turned over, sharp to its corners", () => {
    const { block } = carved(holePanel(SQUARE, BOARD), deep, 0.1);
    // A side a: height a / (2 tan 30), volume a^3 / (6 tan 30).
    expect(Math.abs(volume(block) / (6 ** 3 / (6 * TAN_30)) - 1)).toBeLessThan(0.005);
    const { below, above } = worst(block, ({ x, y }) => {
      const depth = Math.max(0, Math.min(x - 2, 8 - x, y - 2, 8 - y)) / TAN_30;
      return [depth, depth];
    });
    expect(below).toBeLessThan(WALL_MM);
    expect(above).toBeLessThan(WALL_MM + BETWEEN_MM);
    // The nearest pixel's middle is half a pixel off the tip.
    expect(Math.min(...block.z)).toBeLessThan(-(3 - block.stepMm / 2) / TAN_30 + WALL_MM + BETWEEN_MM);
  });

  test("held at a depth it becomes a frustum with a flat floor", () => {
    const settings = grooveSettings({ deepestMm: 2, fieldMarginMm: 0, cutters: [V_60, MILL_1] });
    const { plan, block } = carved(holePanel(SQUARE, BOARD), settings, 0.1);
    expect(plan.mill).toBe(MILL_1);
    // Sides 6 and 6 - 2 x 2 tan 30: volume h / 3 (A + a + sqrt(A a)).
    const inner = 6 - 4 * TAN_30;
    const frustum = (2 / 3) * (36 + inner ** 2 + 6 * inner);
    expect(Math.abs(volume(block) / frustum - 1)).toBeLessThan(0.005);
    const { below } = worst(block, ({ x, y }) => {
      const wall = Math.max(0, Math.min(x - 2, 8 - x, y - 2, 8 - y));
      return [Math.min(2, wall / TAN_30), 0];
    });
    expect(below).toBeLessThan(WALL_MM);
  });

  test("a disc, which has no branch to follow, becomes a cone", () => {
    const disc = Array.from({ length: 240 }, (_, i) => {
      const angle = (2 * Math.PI * i) / 240;
      return { x: 5 + 2 * Math.cos(angle), y: 5 + 2 * Math.sin(angle) };
    });
    const { block } = carved(holePanel(disc, BOARD), deep, 0.1);
    // pi r^2 h / 3 with h = r / tan 30.
    expect(Math.abs(volume(block) / ((Math.PI * 8) / (3 * TAN_30)) - 1)).toBeLessThan(0.01);
  });

  test("a flat tip keeps off the walls by half its width", () => {
    const blunt = sampleCutter(4, { kind: "v", diameterMm: 12, angleDeg: 60, tipMm: 0.4 });
    const { block } = carved(holePanel(SQUARE, BOARD), { ...deep, cutters: [blunt] }, 0.1);
    const { below, above } = worst(block, ({ x, y }) => {
      const wall = Math.max(0, Math.min(x - 2, 8 - x, y - 2, 8 - y));
      return [wall / TAN_30, Math.max(0, wall - 0.2) / TAN_30];
    });
    expect(below).toBeLessThan(WALL_MM);
    expect(above).toBeLessThan(WALL_MM + BETWEEN_MM);
  });
});

describe("woven panels", () => {
  test.each([
    { name: "to the bottom", changes: { deepestMm: 9 } },
    { name: "with a floor that a mill clears", changes: { deepestMm: 1.5, cutters: [V_60, MILL_1] } },
    { name: "with a floor of the V cutter's", changes: { deepestMm: 1.5, cutters: [V_60] } },
  ])("ground $name: every place is as deep as its wall is far", ({ changes }) => {
    const { panel, settings } = wovenGrooves(changes);
    const { plan, block } = carved(panel, settings);
    const limit = plan.limitDepthMm;
    let places = 0;
    const { below, above } = worst(block, (at) => {
      if (!regionHolds(plan.ground, at)) return [0, 0];
      places++;
      const depth = Math.min(limit, edgeDistance(plan.ground, at) / TAN_30);
      const ridge = depth >= limit && regionHolds(plan.ridged, at) ? FLOOR_RIDGE_MM : 0;
      return [depth, depth - ridge];
    });
    expect(below).toBeLessThan(WALL_MM);
    expect(above).toBeLessThan(WALL_MM + BETWEEN_MM);
    expect(places).toBeGreaterThan(5_000);
  });

  test.each([
    // Gaps of 1.2: grooves apart, side by side, and one that has to be narrower.
    { grooveWidthMm: 0.5 },
    { grooveWidthMm: 1.2 },
    { grooveWidthMm: 1.8 },
  ])("a groove $grooveWidthMm mm wide lies along every outline", ({ grooveWidthMm }) => {
    const { panel, settings } = wovenGrooves({ fill: "outlines", grooveWidthMm });
    const { block } = carved(panel, settings);
    const half = grooveWidthMm / 2;
    const { below, above } = worst(block, (at) => {
      const far = regionHolds(panel.standing, at) ? 0 : edgeDistance(panel.standing, at);
      // Down to the groove's middle, up again beyond it.
      const depth = Math.max(0, half - Math.abs(half - far)) / TAN_30;
      return [depth, depth];
    });
    expect(below).toBeLessThan(WALL_MM);
    expect(above).toBeLessThan(WALL_MM + BETWEEN_MM);
  });

  const all = [
    { name: "ground", changes: { deepestMm: 9 } },
    { name: "ground with a floor", changes: { deepestMm: 3, cutters: [V_60, MILL_1] } },
    { name: "ground with a floor of the V cutter's", changes: { deepestMm: 3, cutters: [V_60, MILL_3] } },
    { name: "outlines", changes: { fill: "outlines" } },
  ] as const;

  test.each(all)(
    "$name: no plunge into the wood, no pass too deep, and within what was intended",
    ({ changes }) => {
      const { panel, settings } = wovenGrooves({ pixelMm: 0.1, ...changes });
      const plan = planned(panel, settings);
      const { width, height } = panel.size;
      const { clearanceMm } = settings;
      const simulated = simulate(grooveRuns(plan), {
        box: { minX: 0, minY: 0, maxX: width, maxY: height },
        thicknessMm: settings.stockThicknessMm,
        pixelMm: settings.pixelMm,
        envelope: {
          min: { x: 0, y: 0, z: -plan.limitDepthMm },
          max: { x: width, y: height, z: clearanceMm },
        },
        stepDownMm: new Map(settings.cutters.map(({ number, stepDownMm }) => [number, stepDownMm])),
      });
      for (const { count } of Object.values(simulated.breaches)) expect(count).toBe(0);
      const { below, above } = compareWithLimits(simulated.field, intendedGroove(plan, simulated.field));
      expect(below.worst).toBe(0);
      expect(above.worst).toBe(0);
    },
  );

  test("nothing goes down faster than a plunge", () => {
    const { panel, settings } = wovenGrooves({ deepestMm: 9 });
    for (const { start, motions } of grooveRuns(planned(panel, settings))) {
      let at = start;
      for (const motion of motions) {
        if (motion.kind === "line" && motion.z < at.z) {
          const length = Math.hypot(motion.x - at.x, motion.y - at.y, motion.z - at.z);
          expect((motion.feedMmPerMin * (at.z - motion.z)) / length).toBeLessThan(V_60.plungeMmPerMin + 1e-6);
        }
        at = motion;
      }
    }
  });

  test("a mirrored panel comes out as the mirrored surface", () => {
    const { panel, settings } = wovenGrooves({ deepestMm: 3 });
    const { width } = panel.size;
    const mirrored = {
      ...panel,
      standing: {
        rings: panel.standing.rings.map((ring) => ring.map(({ x, y }) => ({ x: width - x, y })).reverse()),
      },
    };
    // Pixels mirror onto each other where the width is a whole number of them.
    const { block } = carved(panel, settings, width / 160);
    const { block: other } = carved(mirrored, settings, width / 160);
    let most = 0;
    for (const [i, z] of block.z.entries()) {
      const column = i % block.columns;
      const twin = other.z[i - column + (block.columns - 1 - column)] ?? 0;
      // Where ridges lie on the floor depends on where its passes begin.
      if (z > FLOOR_RIDGE_MM - 3) most = Math.max(most, Math.abs(z - twin));
    }
    expect(most).toBeLessThan(2 * WALL_MM + BETWEEN_MM);
  });
});

describe("ramps", () => {
  const line = [
    { x: 0, y: 0, z: -1 },
    { x: 3, y: 0, z: -1 },
    { x: 6, y: 0, z: -0.2 },
  ];

  test.each([0.05, 0.1, 0.5])("down to a line's start at a slope of %f, never below the line", (slope) => {
    const way = rampDown(line, 0, slope);
    expect(way.at(-1)).toEqual(line[0]);
    let before = { x: 0, y: 0, z: 0 };
    let onLine = false;
    for (const place of way) {
      const on = place.x <= 3 ? -1 : -1 + ((place.x - 3) * 0.8) / 3;
      expect(place.z).toBeGreaterThan(on - 1e-9);
      if (!onLine) expect(before.z - place.z).toBeLessThan(slope * Math.abs(place.x - before.x) + 1e-9);
      // Once on the line it goes back along it, however steep that is.
      onLine = place.z < on + 1e-9;
      before = place;
    }
  });

  test("nothing to do where the start is open", () => {
    expect(rampDown(line, -1, 0.1)).toEqual([]);
  });
});
