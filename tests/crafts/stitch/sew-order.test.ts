import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { provedHidden } from "../../../src/crafts/stitch/hidden-proof.ts";
import type { SatinSettings } from "../../../src/crafts/stitch/settings.ts";
import { sewOrder } from "../../../src/crafts/stitch/sew-order.ts";
import { planOrder } from "../../../src/crafts/stitch/sewing-order.ts";
import { sewUnits } from "../../../src/crafts/stitch/units.ts";
import { ROLES, STITCH, type StitchRole, type ThreadBlock, TRIM } from "../../../src/output/stitches.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { plainColumn } from "./plain-column.ts";
import { sampleSatin } from "./sample-settings.ts";
import { PANEL_SAMPLES, type SewnPanel, samplePanel, sewnPanel } from "./sewn-panel.ts";

interface Stitch {
  readonly role: StitchRole;
  readonly lengthMm: number;
  readonly x: number;
  readonly y: number;
}

function stitchesOf({ x, y, kind, role }: ThreadBlock): Stitch[] {
  return [...x].flatMap((toX, i) => {
    const [fromX, fromY, toY] = [x[i - 1], y[i - 1], y[i] ?? 0];
    if (fromX === undefined || fromY === undefined || kind[i] !== STITCH) return [];
    return [
      { role: ROLES[role[i] ?? 0] ?? "tie", lengthMm: Math.hypot(toX - fromX, toY - fromY), x: toX, y: toY },
    ];
  });
}

/** A single ribbon along the x axis, from 0. */
function sewnRibbon(lengthMm: number, widthMm: number, rungs: number, changes: Partial<SatinSettings> = {}) {
  const settings = sampleSatin(changes);
  const units = sewUnits([plainColumn({ lengthMm, widthMm, rungs })], settings);
  const [block] = sewOrder(planOrder(units, settings), settings);
  if (!block) throw new Error("nothing was sewn");
  return { block, stitches: stitchesOf(block), columns: units.columns };
}

describe("a straight ribbon", () => {
  test("has a hole at each edge for each spacing, and two lines of thread", () => {
    // 40 mm at 0.4 mm: 100 spacings, 101 rungs.
    const cover = sewnRibbon(40, 3, 101).stitches.filter(({ role }) => role === "cover");
    expect(Math.abs(cover.length - (2 * 40) / 0.4)).toBeLessThanOrEqual(2);
    // Rungs of 3 mm, and from each to the next sqrt(3^2 + 0.4^2) mm; the first stitch only leads there.
    const thread = cover.slice(1).reduce((sum, { lengthMm }) => sum + lengthMm, 0);
    expect(thread).toBeCloseTo(101 * 3 + 100 * Math.hypot(3, 0.4), 6);
    expect(new Set(cover.map(({ y }) => Math.abs(y)))).toEqual(new Set([1.5]));
  });

  test("is tied with short stitches at both ends of its thread", () => {
    const { stitches } = sewnRibbon(40, 3, 101);
    const isTie = stitches.map(({ role }) => role === "tie");
    expect(isTie.slice(0, 4)).toEqual([true, true, true, false]);
    expect(isTie.slice(-4)).toEqual([false, true, true, true]);
    for (const { role, lengthMm } of stitches) if (role === "tie") expect(lengthMm).toBeCloseTo(0.7, 9);
  });

  test.each([
    { widthMm: 2, lines: 1 },
    { widthMm: 3, lines: 3 },
    { widthMm: 5, lines: 5 },
  ])("of $widthMm mm has $lines lines of underlay", ({ widthMm, lines }) => {
    const { stitches } = sewnRibbon(40, widthMm, 101);
    const underlay = stitches.filter(({ role }) => role === "underlay");
    // How often the underlay passes the middle of the length.
    const passes = underlay.filter(({ x }, i) => (underlay[i - 1]?.x ?? 0) < 20 !== x < 20);
    expect(passes.length).toBe(lines);
    for (const { y } of underlay) expect(Math.abs(y)).toBeLessThanOrEqual(widthMm / 2 - 0.5 + 1e-9);
  });

  test("that is wide is divided, and never twice running in the same place", () => {
    const { block, stitches } = sewnRibbon(20, 9, 51);
    for (const { lengthMm } of stitches) expect(lengthMm).toBeLessThanOrEqual(6.5 + 1e-9);
    const cover = [...block.y].filter((_, i) => ROLES[block.role[i] ?? 0] === "cover");
    const isInner = (y: number) => Math.abs(y) < 4.5 - 1e-9;
    const inner = cover.slice(cover.findIndex((y) => !isInner(y))).filter(isInner);
    // 51 rungs and 50 lines between, one division each.
    expect(inner.length).toBe(101);
    for (const [i, y] of inner.entries())
      if (i > 0) expect(Math.abs(y - (inner[i - 1] ?? 0))).toBeGreaterThan(0.5);
  });
});

function expectProved(sewn: SewnPanel): void {
  const proof = provedHidden(sewn.blocks, sewn.columns);
  expect(proof).toMatchObject({ shown: [], notOnce: [], bareEnds: [] });
  if (sewn.columns.length > 0) expect(proof.hidden).toBeGreaterThan(0);
  const { leastStitchMm, greatestStitchMm } = sewn.settings;
  for (const { role, lengthMm } of sewn.blocks.flatMap(stitchesOf)) {
    expect(lengthMm).toBeLessThanOrEqual(greatestStitchMm + 1e-9);
    if (role !== "tie") expect(lengthMm).toBeGreaterThanOrEqual(leastStitchMm - 1e-5);
  }
  const cuts = sewn.blocks.flatMap(({ kind }) => [...kind].filter((how) => how === TRIM));
  expect(cuts.length).toBe(sewn.order.report.trims);
}

describe("nothing shows but cover", () => {
  test.each(PANEL_SAMPLES)("%s", (name) => {
    for (const colours of ["one", "strands"] as const)
      expectProved(sewnPanel(samplePanel(name), { changes: { colours }, corner: "round" }));
  });

  test.each([8, 15, 30])("at a pitch of %d mm", (pitchMm) => {
    for (const corner of ["pointed", "round"] as const)
      expectProved(sewnPanel(plainPanel(3, 2), { pitchMm, corner }));
  });

  test("on any panel, with any threads", () => {
    const colours = fc.constantFrom("one" as const, "two" as const, "strands" as const);
    fc.assert(
      fc.property(randomPanel(4), colours, (rows, threads) =>
        expectProved(sewnPanel(rows, { changes: { colours: threads } })),
      ),
      { numRuns: 12 },
    );
  });

  test("beneath bean lines neither, with one thread", () => {
    const { blocks, columns } = sewnPanel(plainPanel(3, 2), { widthMm: 0.9 });
    expect(columns.every(({ line }) => line === "bean")).toBe(true);
    expect(provedHidden(blocks, columns)).toMatchObject({ shown: [], notOnce: [], bareEnds: [] });
  });
});
