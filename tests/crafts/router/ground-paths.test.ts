import { expect, test } from "vitest";
import { groundRegion } from "../../../src/crafts/router/ground.ts";
import { groundRuns } from "../../../src/crafts/router/ground-paths.ts";
import { planReach } from "../../../src/crafts/router/reach.ts";
import { layPanel, ribbonChains } from "../../../src/crafts/router/router-panel.ts";
import type { GroundSettings } from "../../../src/crafts/router/settings.ts";
import { segmentsOf } from "../../../src/geometry/arc-chain.ts";
import { BoxIndex } from "../../../src/geometry/distance.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance } from "../../../src/geometry/point.ts";
import { grow, subtract } from "../../../src/geometry/region.ts";
import { segmentBounds } from "../../../src/geometry/segment.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { auditPath, placesAlong } from "./path-audit.ts";
import { groundSettings } from "./sample-settings.ts";

const PITCH = 18;

function carvePanel(changes: Partial<GroundSettings> = {}) {
  const pitchMm = { across: PITCH, down: PITCH };
  const ribbon = { pitchMm, widthMm: 0.35 * PITCH, gapMm: 2, widthFixed: false, gapFixed: false };
  const settings = groundSettings({ ribbon, borderMm: 10, frameMm: 3, ...changes });
  const { diagram, strands } = wovenPanel(plainPanel(3, 2), "Z", { pitchMm, corner: "round" });
  const panel = layPanel(diagram, strands, settings);
  const ground = groundRegion(panel, settings);
  const plan = planReach(ground, settings.cutters, settings.cornerLeftMm);
  return { panel, ground, plan, settings, runs: groundRuns(panel, plan, settings) };
}

test.each([
  ["as usual", {}],
  ["conventional, no frame", { climb: false, frameMm: 0 }],
] as const)("brute force over a woven panel with three cutters: %s", (_, changes) => {
  const { panel, ground, plan, settings, runs } = carvePanel(changes);
  expect(runs.map(({ purpose, cutter }) => [purpose, cutter.number])).toEqual([
    ["clear the ground", 1],
    ["clear what larger cutters left", 2],
    ["clear what larger cutters left", 3],
    ["cut the panel out", 1],
  ]);
  const { width, height } = panel.size;
  const audit = auditPath(runs.slice(0, -1), { width, height, cellMm: 0.2, marginMm: 4 });
  const promised = subtract(subtract(ground, plan.uncut), plan.corners);
  expect(audit.highest(grow(promised, -0.06, 1e-3))).toBeCloseTo(-settings.groundDepthMm, 9);
  expect(audit.lowest(panel.standing)).toBe(0);
  expect(audit.rapidBite).toBe(0);
  expect(audit.plungeBite).toBeLessThan(0.01);
  expect(audit.steepestDeg).toBeLessThanOrEqual(settings.rampDeg + 1e-6);
  // At least one for each of the pockets between ribbons; going up at every step would be hundreds.
  expect(audit.retracts).toBeLessThan(2 * (plan.parts.length + 2 * panel.diagram.over.length));
});

test("no cutter comes nearer to a ribbon's true outline than 0.004 mm under its radius, and walls are met as closely", () => {
  const { panel, runs } = carvePanel();
  const outlines = ribbonChains(panel.ribbons).flatMap(segmentsOf);
  const index = new BoxIndex(outlines.map(segmentBounds));
  const short: number[] = [];
  for (const { cutter, start, motions } of runs.slice(0, -1)) {
    const radius = cutter.shape.diameterMm / 2;
    let from = start;
    for (const motion of motions) {
      for (const at of motion.kind === "rapid" ? [] : placesAlong(from, motion, 0.4)) {
        const near = index.near({ minX: at.x, minY: at.y, maxX: at.x, maxY: at.y }, radius + 0.01);
        for (const i of near) {
          const outline = outlines[i];
          if (outline) short.push(radius - distance(nearestOn(outline, at), at));
        }
      }
      from = motion;
    }
  }
  expect(Math.max(...short)).toBeLessThan(0.004);
  // Along walls the distance is the radius; only where a way leaves the wall does it grow.
  const onWalls = short.filter((by) => Math.abs(by) < 0.05);
  expect(onWalls.filter((by) => by < -0.004).length).toBeLessThan(onWalls.length / 20);
  expect(onWalls.length).toBeGreaterThan(1000);
});

test("without cut-out the last run clears", () => {
  expect(carvePanel({ cutOut: false }).runs.map(({ purpose }) => purpose)).not.toContain("cut the panel out");
});
