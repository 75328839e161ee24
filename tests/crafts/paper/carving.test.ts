import { describe, expect, test } from "vitest";
import { bendClasses, straightEdge } from "../../../src/crafts/paper/bend-classes.ts";
import { carvingJob, carvingTemplate, underDepth } from "../../../src/crafts/paper/carving-template.ts";
import { hatchRegion } from "../../../src/crafts/paper/hatch.ts";
import type { CarvingSettings } from "../../../src/crafts/paper/settings.ts";
import { drawSlope } from "../../../src/crafts/paper/slope-marks.ts";
import { levelCentrelines, slopeRun, slopesOf } from "../../../src/crafts/paper/slopes.ts";
import { leastBendRadius } from "../../../src/diagram/bends.ts";
import { crossingPoint, isOver } from "../../../src/diagram/knot-diagram.ts";
import { chainEnd, chainLength, chainStart } from "../../../src/geometry/arc-chain.ts";
import { distance } from "../../../src/geometry/point.ts";
import { regionArea, regionHolds } from "../../../src/geometry/region.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { ribbonOf, wovenPanel } from "./woven-panel.ts";

const SETTINGS: CarvingSettings = {
  ribbon: ribbonOf(6, 0),
  outline: "rectangle",
  borderMm: 12,
  cornerRadiusMm: 0,
  stockThicknessMm: 20,
  keepBelowMm: 6,
  groundDepthMm: 6,
  underShare: 0.5,
  slopeWidths: 1.5,
  leastSlopeWidths: 1,
  wallLeanDeg: 4,
  grain: "across",
  leastAcrossGrainMm: 5,
  leastGougeRadiusMm: 2,
  chordErrorMm: 0.2,
  frameMm: 6,
};

describe("slopes", () => {
  // Crossings lie hypot(across, down) / 2 apart along a strand. At each end half a width over the
  // sine of the crossing angle is hidden: sin = 2 (a/2)(d/2) / ((a/2)^2 + (d/2)^2).
  test.each([
    // sqrt(200) - 5 = 9.142 of room: as long as asked.
    { pitch: { across: 20, down: 20 }, width: 5, asked: 7.5, run: 7.5 },
    // sqrt(200) - 8 = 6.142 of room.
    { pitch: { across: 20, down: 20 }, width: 8, asked: 12, run: Math.SQRT2 * 10 - 8 },
    // sine 2 * 10 * 6 / 136; sqrt(136) - 5 / sine = 5.995 of room.
    { pitch: { across: 20, down: 12 }, width: 5, asked: 9, run: Math.sqrt(136) - (5 * 136) / 120 },
  ])(
    "on a lattice of $pitch.across x $pitch.down a ribbon of $width has $run",
    ({ pitch, width, asked, run }) => {
      const { diagram } = wovenPanel(plainPanel(4, 4), pitch);
      const slopes = slopesOf(diagram, width, asked);
      // Each crossing has two under-ends.
      expect(slopes).toHaveLength(2 * diagram.x.length);
      // The shortest run from crossing to crossing is straight.
      expect(Math.min(...slopes.map(slopeRun))).toBeCloseTo(run, 6);
      for (const { half } of slopes) expect(isOver(diagram, half)).toBe(false);
    },
  );

  test("rungs crowd together and grow short towards the crossing", () => {
    const { diagram } = wovenPanel(plainPanel(4, 4));
    for (const slope of slopesOf(diagram, 5, 7.5)) {
      const at = crossingPoint(diagram, slope.half >> 2);
      const rungs = drawSlope(slope, 5).rungs.slice(0, -1);
      const lengths = rungs.map((rung) => distance(chainStart(rung), chainEnd(rung)));
      const away = rungs.map((rung) => distance(rung.vertices[1] ?? at, at));
      for (let i = 1; i < rungs.length; i++) expect(away[i]).toBeGreaterThan(away[i - 1] ?? Number.NaN);
      // At the low end it lies along a strand half a width from the crossing, not on it.
      expect(away[0]).toBeGreaterThan(2.5);
      expect(lengths[0]).toBeLessThan(lengths.at(-1) ?? 0);
      const steps = away.slice(1).map((far, i) => far - (away[i] ?? 0));
      expect(steps[0]).toBeLessThan((steps.at(-1) ?? 0) / 2);
    }
  });

  test("level ribbon and slopes share the visible centreline", () => {
    const { diagram } = wovenPanel(plainPanel(4, 3));
    const slopes = slopesOf(diagram, 5, 7.5);
    const level = levelCentrelines(diagram, slopes).reduce((sum, chain) => sum + chainLength(chain), 0);
    const sloped = slopes.reduce((sum, slope) => sum + slope.high, 0);
    const whole = levelCentrelines(diagram, []).reduce((sum, chain) => sum + chainLength(chain), 0);
    expect(level + sloped).toBeCloseTo(whole, 6);
  });
});

describe("bends", () => {
  test.each([
    // The bow of a chord c on a circle r is r - sqrt(r^2 - c^2/4) (CHECKS.md 2): solved for c.
    { radius: 10, error: 0.1 },
    { radius: 3, error: 0.2 },
    { radius: 40, error: 0.05 },
  ])("a straight edge bows by $error on a radius of $radius", ({ radius, error }) => {
    const half = straightEdge(radius, error) / 2;
    expect(radius - Math.sqrt(radius * radius - half * half)).toBeCloseTo(error, 9);
  });

  test("inside and outside of each bend lie half a width from the centreline", () => {
    const { diagram } = wovenPanel(plainPanel(3, 3));
    const classes = bendClasses(diagram, 6, 0.2);
    const least = leastBendRadius(diagram)?.radiusMm ?? Number.NaN;
    const radii = (side: string) => classes.filter((own) => own.side === side);
    expect(radii("hollow")[0]?.leastRadiusMm).toBeCloseTo(least - 3, 9);
    expect(radii("round")[0]?.leastRadiusMm).toBeCloseTo(least + 3, 9);
    const count = (side: string) => radii(side).reduce((sum, own) => sum + own.count, 0);
    expect(count("hollow")).toBe(count("round"));
    for (const own of classes) {
      // A chord is never longer than the diameter; classes reach no further than a tenth.
      expect(own.gougeMm).toBeLessThanOrEqual(2 * own.greatestRadiusMm);
      expect(own.greatestRadiusMm).toBeLessThanOrEqual(1.1 * own.leastRadiusMm);
    }
  });
});

describe("hatching", () => {
  const box = [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 10 },
    { x: 0, y: 10 },
  ];
  const hole = [
    { x: 4, y: 4 },
    { x: 4, y: 6 },
    { x: 6, y: 6 },
    { x: 6, y: 4 },
  ];
  test.each([
    // Level lines at 0, 2.5, 5 and 7.5; the one at 10 belongs to what lies above.
    { rings: [box], spacing: 2.5, turn: 0, lines: 4, length: 40 },
    // The hole takes 2 mm of the line at 5 and parts it.
    { rings: [box, hole], spacing: 2.5, turn: 0, lines: 5, length: 38 },
  ])("$lines lines of $length mm in all", ({ rings, spacing, turn, lines, length }) => {
    const found = hatchRegion({ rings }, { spacingMm: spacing, turnRad: turn });
    expect(found).toHaveLength(lines);
    expect(found.reduce((sum, line) => sum + chainLength(line), 0)).toBeCloseTo(length, 9);
  });

  test.each([0.3, 1, 2.2])("fine lines turned by %f measure the area", (turnRad) => {
    const found = hatchRegion({ rings: [box, hole] }, { spacingMm: 0.01, turnRad });
    const length = found.reduce((sum, line) => sum + chainLength(line), 0);
    // 10 x 10 less 2 x 2.
    expect(length * 0.01).toBeCloseTo(96, 0);
  });
});

describe("a carving template", () => {
  const job = carvingJob(wovenPanel(plainPanel(3, 2)), SETTINGS);

  test("ground lies between ribbons and frame only", () => {
    const { width, height } = job.knot.size;
    // Box of the centrelines and half a width and the border on both sides: the knot lies a
    // quarter pitch inside its cells' edge (DESIGN.md, "Lattice panels").
    expect([width, height]).toEqual([
      expect.closeTo(60 - 10 + 6 + 24, 6),
      expect.closeTo(40 - 10 + 6 + 24, 6),
    ]);
    expect(regionHolds(job.ground, { x: 3, y: 3 })).toBe(false);
    expect(regionHolds(job.ground, { x: 7, y: 7 })).toBe(true);
    for (let i = 0; i < job.knot.diagram.x.length; i++)
      expect(regionHolds(job.ground, crossingPoint(job.knot.diagram, i))).toBe(false);
    expect(regionArea(job.ground)).toBeLessThan((width - 12) * (height - 12));
  });

  test("stop cuts run along every over-strand, on both sides", () => {
    const { groups } = carvingTemplate("Test", job, SETTINGS);
    const stops = groups.find(({ name }) => name === "stop-cuts")?.items[0];
    const chains = stops?.kind === "line" ? stops.chains : [];
    expect(chains).toHaveLength(2 * job.knot.diagram.x.length);
    // Across a ribbon as wide, at right angles.
    for (const chain of chains) expect(chainLength(chain)).toBeCloseTo(6, 1);
  });

  test.each([
    // 6 mm of ground: half of it, a third of 12 mm stays (CHECKS.md 5).
    { groundDepthMm: 6, underShare: 0.5, depth: 3 },
    { groundDepthMm: 12, underShare: 1 / 3, depth: 8 },
  ])("an under-strand falls to $depth mm below the face", ({ depth, ...changes }) => {
    expect(underDepth({ ...SETTINGS, ...changes })).toBeCloseTo(depth, 9);
  });

  test.each([
    { rule: "wood-below", changes: {}, verdict: "pass", measured: 14 },
    { rule: "wood-below", changes: { stockThicknessMm: 11 }, verdict: "fail", measured: 5 },
    { rule: "ground-depth", changes: { stockThicknessMm: 11 }, verdict: "fail", measured: 6 },
    // 10 sqrt 2 - 6 between the edges of two crossings; one width is asked.
    { rule: "slope-run", changes: {}, verdict: "pass", measured: 10 * Math.SQRT2 - 6 },
    {
      rule: "slope-run",
      changes: { ribbon: ribbonOf(7.2, 0) },
      verdict: "fail",
      measured: 10 * Math.SQRT2 - 7.2,
    },
    { rule: "bend-radius", changes: { leastGougeRadiusMm: 9 }, verdict: "fail", measured: null },
    // Bends run across the grain somewhere: fibres as long as the ribbon is wide, or nearly.
    { rule: "short-grain", changes: { ribbon: ribbonOf(4, 0) }, verdict: "fail", measured: null },
    {
      rule: "short-grain",
      changes: { ribbon: ribbonOf(4, 0), grain: "none" },
      verdict: "pass",
      measured: null,
    },
  ] as const)("$rule with $changes: $verdict", ({ rule, changes, verdict, measured }) => {
    const { checks } = carvingJob(wovenPanel(plainPanel(3, 2)), { ...SETTINGS, ...changes });
    const check = checks.find((own) => own.rule === rule);
    expect(check?.verdict).toBe(verdict);
    if (measured !== null) expect(check?.measured).toBeCloseTo(measured, 6);
    if (verdict === "fail") expect(check?.remedies.length).toBeGreaterThan(0);
  });
});
