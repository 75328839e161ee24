import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { orderTrouble, planOrder, type SewingOrder } from "../../../src/crafts/stitch/sewing-order.ts";
import { sectionsBeneath, unitAt } from "../../../src/crafts/stitch/units.ts";
import { BORDER_OF_THREE, plainPanel } from "../../support/plain-panel.ts";
import { mirroredText, randomPanel } from "../../support/random-panel.ts";
import { PANEL_SAMPLES, type SewnPanel, samplePanel, sewnPanel } from "./sewn-panel.ts";

const COLOURS = ["one", "two", "strands"] as const;

function expectLawful({ order, faces, strands }: SewnPanel, colours: (typeof COLOURS)[number]): void {
  const { report, blocks } = order;
  expect(orderTrouble(order)).toBeUndefined();
  expect(report.visibleTravelMm).toBe(0);
  const steps = blocks.flatMap((block) => block.steps);
  const count = (kind: string) => steps.filter((step) => step.kind === kind).length;
  // Every thread is begun and tied off; those that are not the last of a block are cut.
  expect(count("begin")).toBe(blocks.length + report.trims);
  expect(count("end")).toBe(count("begin"));
  expect(count("cover")).toBe(order.units.list.length);
  expect(report.trims).toBe(report.trimsLowerBound);
  expect(report.colourChanges).toBe(report.colourChangesLowerBound);
  if (colours !== "one") return;
  // Each part of the knot is one thread from its tie-in to its tie-off.
  expect(report.trims).toBe(faces.parts - 1);
  expect(report.colourChanges).toBe(0);
  expect(blocks[0]?.strands.length).toBe(strands.count);
}

describe.each(COLOURS)("threads: %s", (colours) => {
  test.each([
    ...PANEL_SAMPLES.map((name) => ({ name, rows: samplePanel(name) })),
    { name: "6 x 4", rows: plainPanel(6, 4) },
    { name: "4 x 4", rows: plainPanel(4, 4) },
    { name: "a border of three", rows: BORDER_OF_THREE },
  ])("$name", ({ rows }) => expectLawful(sewnPanel(rows, { changes: { colours } }), colours));

  test("any panel", () => {
    fc.assert(
      fc.property(randomPanel(5), (rows) => expectLawful(sewnPanel(rows, { changes: { colours } }), colours)),
      { numRuns: 12 },
    );
  });
});

test("strands that all cross each other: all but one come twice", () => {
  // A panel of 4 x 4 cells has four strands (gcd), each of which passes over and under each other one.
  const { order, strands } = sewnPanel(plainPanel(4, 4), { changes: { colours: "strands" } });
  expect(strands.count).toBe(4);
  expect(order.blocks.length).toBe(2 * 4 - 1);
});

test("the same design in a mirror takes as many threads, and the same design the same order", () => {
  fc.assert(
    fc.property(randomPanel(5), (rows) => {
      const own = sewnPanel(rows);
      const mirrored = sewnPanel(mirroredText(rows), { hand: "S" });
      const counts = ({ order }: SewnPanel) => [
        order.report.trims,
        order.report.jumps,
        order.report.colourChanges,
        order.units.list.length,
      ];
      expect(counts(mirrored)).toEqual(counts(own));
      expect(planOrder(own.order.units, own.settings)).toEqual(own.order);
    }),
    { numRuns: 10 },
  );
});

/**
 * The fewest threads that sew the units of one block, by trying every order: after a unit the
 * needle reaches, beneath what has no cover, any other; else a new thread is begun.
 */
function fewestThreads(order: SewingOrder, own: readonly number[], before: ReadonlySet<number>): number {
  const { units } = order;
  const index = new Map(own.map((unit, i) => [unit, i]));
  const ready = (unit: number, done: number) =>
    sectionsBeneath(unitAt(units, unit)).every(({ unit: section }) => {
      const i = index.get(section);
      return i === undefined ? before.has(section) : (done & (1 << i)) !== 0;
    });
  const bare = (unit: number, done: number) => {
    const i = index.get(unit);
    return i === undefined ? !before.has(unit) : (done & (1 << i)) === 0;
  };
  const reached = (from: number, done: number) => {
    const found = new Set([from]);
    for (const at of found)
      for (const { unit } of unitAt(units, at).joints) if (bare(unit, done)) found.add(unit);
    return found;
  };
  const known = new Map<number, number>();
  const rest = (done: number, at: number): number => {
    if (done === 2 ** own.length - 1) return 0;
    const key = done * own.length + at;
    const found = known.get(key);
    if (found !== undefined) return found;
    const way = reached(own[at] ?? -1, done);
    let least = Number.POSITIVE_INFINITY;
    for (const [i, unit] of own.entries()) {
      if (!bare(unit, done) || !ready(unit, done)) continue;
      least = Math.min(least, (way.has(unit) ? 0 : 1) + rest(done | (1 << i), i));
    }
    known.set(key, least);
    return least;
  };
  const starts = own.filter((unit) => ready(unit, 0)).map((unit) => own.indexOf(unit));
  return 1 + Math.min(...starts.map((i) => rest(1 << i, i)));
}

test.each([
  ["2 x 2, a thread for each strand", plainPanel(2, 2)],
  ["3 x 1", plainPanel(3, 1)],
  ["2 x 1", plainPanel(2, 1)],
  ["two by two with a breakline", ["+-+-+", "|oxo|", "+x+|+", "|oxo|", "+-+-+"]],
])("%s: no order of the same blocks has fewer trims", (_, rows) => {
  for (const colours of COLOURS) {
    const { order } = sewnPanel(rows, { changes: { colours } });
    const before = new Set<number>();
    let threads = 0;
    for (const { steps } of order.blocks) {
      const own = steps.flatMap((step) => (step.kind === "cover" ? [step.unit] : []));
      threads += fewestThreads(order, own, before);
      for (const unit of own) before.add(unit);
    }
    expect(order.report.trims).toBe(threads - order.blocks.length);
  }
});
