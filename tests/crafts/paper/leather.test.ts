import { describe, expect, test } from "vitest";
import { ticksAlong } from "../../../src/crafts/paper/bevel-marks.ts";
import { knifeDepth, leatherJob, leatherTemplate } from "../../../src/crafts/paper/leather-template.ts";
import { lineJob, linePattern } from "../../../src/crafts/paper/line-pattern.ts";
import type { LeatherSettings, LineSettings } from "../../../src/crafts/paper/settings.ts";
import { crossingPoint, edgeCurve, halfEdge, twin } from "../../../src/diagram/knot-diagram.ts";
import { chainEnd, chainStart, polyline, segmentsOf } from "../../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance } from "../../../src/geometry/point.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { ribbonOf, wovenPanel } from "./woven-panel.ts";

const SETTINGS: LeatherSettings = {
  ribbon: ribbonOf(5, 0),
  outline: "rounded",
  borderMm: 10,
  cornerRadiusMm: 5,
  thicknessMm: 3.2,
  leastThicknessMm: 2,
  stopShortMm: 0.5,
  knifeShare: 0.5,
  leastStrapMm: 3,
  leastInnerRadiusMm: 1,
  bevelRunMm: 3,
  bevelGround: false,
};

describe("leather", () => {
  test("the knife goes half as deep as 8 oz leather is thick", () => {
    // CHECKS.md 7: 8 oz = 3.2 mm, depth one half.
    expect(knifeDepth(SETTINGS)).toBeCloseTo(1.6, 9);
  });

  test("ticks stand on the under-strand's side of every crossing line", () => {
    const job = leatherJob(wovenPanel(plainPanel(3, 3)), SETTINGS);
    const { diagram } = job.knot;
    expect(job.crossingLines).toHaveLength(2 * diagram.x.length);
    const bevels = leatherTemplate("Test", job, SETTINGS).groups.find(({ name }) => name === "bevels")
      ?.items[0];
    const ticks = bevels?.kind === "line" ? bevels.chains : [];
    expect(ticks.length).toBeGreaterThanOrEqual(job.crossingLines.length);
    const overCurves = Array.from({ length: diagram.x.length }, (_, crossing) => {
      const half = halfEdge(crossing, diagram.over[crossing] ?? 0);
      return [edgeCurve(diagram, half), edgeCurve(diagram, half ^ 2)].flatMap(segmentsOf);
    });
    for (const tick of ticks) {
      const [foot, tip] = [chainStart(tick), chainEnd(tick)];
      const near = Array.from({ length: diagram.x.length }, (_, i) =>
        distance(crossingPoint(diagram, i), foot),
      );
      const over = overCurves[near.indexOf(Math.min(...near))] ?? [];
      const fromOver = (at: typeof foot) =>
        Math.min(...over.map((segment) => distance(nearestOn(segment, at), at)));
      // The foot on the edge of the strand that lies over, the tip 1 mm further from its middle.
      expect(fromOver(foot)).toBeCloseTo(2.5, 4);
      expect(fromOver(tip)).toBeCloseTo(3.5, 4);
    }
    expect(twin(diagram, twin(diagram, 0))).toBe(0);
  });

  test.each([
    { side: "left", y: 1 },
    { side: "right", y: -1 },
  ] as const)("ticks on the $side", ({ side, y }) => {
    const line = polyline(
      [
        { x: 0, y: 0 },
        { x: 6, y: 0 },
      ],
      false,
    );
    const ticks = ticksAlong(line, { spacingMm: 2, lengthMm: 1, side });
    // Half a spacing from the ends: at 1, 3 and 5.
    expect(ticks.map((tick) => [chainStart(tick).x, chainEnd(tick).y])).toEqual([
      [1, y],
      [3, y],
      [5, y],
    ]);
  });

  test.each([
    { rule: "strap-width", changes: {}, verdict: "pass", measured: 5 },
    // At least 3 mm, and no less than the leather is thick (CHECKS.md 7).
    {
      rule: "strap-width",
      changes: { ribbon: ribbonOf(2.9, 0), thicknessMm: 2 },
      verdict: "fail",
      measured: 2.9,
    },
    { rule: "strap-width", changes: { ribbon: ribbonOf(3.1, 0) }, verdict: "fail", measured: 3.1 },
    { rule: "leather-thickness", changes: { thicknessMm: 1.6 }, verdict: "fail", measured: 1.6 },
    { rule: "stop-short", changes: {}, verdict: "pass", measured: 0.5 },
    { rule: "bevel-room", changes: {}, verdict: "pass", measured: 3 },
    // 10 sqrt 2 - 12 of room between the edges of two crossings.
    {
      rule: "bevel-room",
      changes: { ribbon: ribbonOf(12, 0) },
      verdict: "fail",
      measured: 10 * Math.SQRT2 - 12,
    },
  ] as const)("$rule with $changes: $verdict", ({ rule, changes, verdict, measured }) => {
    const { checks } = leatherJob(wovenPanel(plainPanel(3, 3)), { ...SETTINGS, ...changes });
    const check = checks.find((own) => own.rule === rule);
    expect(check?.verdict).toBe(verdict);
    expect(check?.measured).toBeCloseTo(measured, 4);
  });
});

describe("line patterns", () => {
  const settings: LineSettings = {
    ...SETTINGS,
    ribbon: ribbonOf(5, 0.8),
    style: "line",
    lineMm: 0.35,
    edge: false,
  };

  test.each([
    { style: "line", lineMm: 0.35, apart: 0.8 },
    // Closed fields: lines end on lines.
    { style: "colouring", lineMm: 0.9, apart: 0 },
  ] as const)("$style: lines end $apart mm from the strand over them", ({ apart, ...changes }) => {
    const own = { ...settings, ...changes };
    const pattern = linePattern("Test", lineJob(wovenPanel(plainPanel(3, 2)), own), own);
    const item = pattern.groups[0]?.items[0];
    if (item?.kind !== "line") throw new Error("no lines");
    expect(item.widthMm).toBe(changes.lineMm);
    expect(pattern.groups.flatMap(({ items }) => items).every(({ kind }) => kind === "line")).toBe(true);
    for (const line of item.chains) {
      const others = item.chains.filter((other) => other !== line).flatMap(segmentsOf);
      for (const tip of [chainStart(line), chainEnd(line)])
        expect(Math.min(...others.map((segment) => distance(nearestOn(segment, tip), tip)))).toBeCloseTo(
          apart,
          5,
        );
    }
  });

  test("the edge is drawn when it is wanted", () => {
    const own = { ...settings, edge: true };
    const pattern = linePattern("Test", lineJob(wovenPanel(plainPanel(2, 2)), own), own);
    expect(pattern.groups.map(({ name }) => name)).toEqual(["ribbons", "edge"]);
  });
});
