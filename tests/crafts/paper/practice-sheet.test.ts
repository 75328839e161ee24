import { describe, expect, test } from "vitest";
import { dotPaper, latticeMarks } from "../../../src/crafts/paper/dot-lattice.ts";
import {
  answerDrawing,
  dotPaperItems,
  latticeDrawing,
  practiceStages,
} from "../../../src/crafts/paper/practice-sheet.ts";
import { strandLengths } from "../../../src/diagram/strands.ts";
import { chainBounds, chainLength, chainStart } from "../../../src/geometry/arc-chain.ts";
import type { PaperItem } from "../../../src/output/paper.ts";
import { BORDER_OF_THREE, plainPanel } from "../../support/plain-panel.ts";
import { wovenPanel } from "./woven-panel.ts";

/** A plain panel with a breakline of each kind. */
const BROKEN = ["+-+-+-+", "|oxo-o|", "+x+x+x+", "|o|oxo|", "+-+-+-+"];

function lengthOf(items: readonly PaperItem[], widthMm: number): number {
  return items.reduce(
    (sum, item) =>
      item.kind === "line" && item.widthMm === widthMm
        ? sum + item.chains.reduce((own, chain) => own + chainLength(chain), 0)
        : sum,
    0,
  );
}

describe("stages", () => {
  test.each([
    { name: "plain", rows: plainPanel(3, 2) },
    { name: "broken", rows: BROKEN },
    { name: "border", rows: BORDER_OF_THREE },
  ])("$name: from the lattice to the weave", ({ rows }) => {
    const panel = { ...wovenPanel(rows), rows, pitchMm: { across: 20, down: 20 } };
    const stages = practiceStages(panel);
    expect(stages.map(({ name }) => name)).toEqual([
      "lattice",
      "crossings",
      "runs",
      "bends",
      "corners",
      "weave",
    ]);
    // New lines are 0.8 mm wide, what was drawn before 0.4: after the corners all centrelines are there.
    const whole = strandLengths(panel.diagram, panel.strands).reduce((sum, length) => sum + length, 0);
    const fresh = stages.slice(1, 5).map(({ items }) => lengthOf(items, 0.8));
    const before = stages.slice(1, 5).map(({ items }) => lengthOf(items, 0.4));
    expect(fresh.reduce((sum, length) => sum + length, 0)).toBeCloseTo(whole, 6);
    expect((before[3] ?? 0) + (fresh[3] ?? 0)).toBeCloseTo(whole, 6);
    // Four strokes a crossing, a fifth of the pitch each.
    expect(fresh[0]).toBeCloseTo(4 * 4 * panel.diagram.x.length, 6);
  });

  test("the lattice shows breaklines and dots only", () => {
    const { items, bounds } = latticeDrawing({ rows: BROKEN, pitchMm: { across: 20, down: 10 } });
    // Ten along the edge (3 + 3 above and below, 2 + 2 at the sides), two inside; 1 mm clear at each dot.
    const level = 7;
    const upright = 5;
    expect(lengthOf(items, 0.8)).toBeCloseTo(level * (20 - 2) + upright * (10 - 2), 6);
    expect([bounds.maxX - bounds.minX, bounds.maxY - bounds.minY]).toEqual([60 + 2, 20 + 2]);
  });

  test.each([
    // gcd(p, q) strands, 2pq - p - q crossings (CHECKS.md 1.1).
    { rows: plainPanel(3, 2), caption: "1 strand, 7 crossings." },
    { rows: plainPanel(2, 2), caption: "2 strands, 4 crossings." },
  ])("the answer counts: $caption", ({ rows, caption }) => {
    const answer = answerDrawing({ ...wovenPanel(rows), rows, pitchMm: { across: 20, down: 20 } });
    expect(answer.caption).toBe(caption);
  });
});

describe("dots", () => {
  test("of a panel stand where its text has them", () => {
    const { discs, crosses, breaklines } = latticeMarks(plainPanel(3, 2), { across: 20, down: 10 });
    // p q cells, (p + 1)(q + 1) corners of two strokes each, 2 (p + q) breaklines round them.
    expect([discs.length, crosses.length, breaklines.length]).toEqual([6, 24, 10]);
    const box = chainBounds(discs[0] ?? { closed: false, vertices: [] });
    // The upper left cell's middle.
    expect([(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2]).toEqual([10, 15]);
  });

  test.each([
    // floor(95 / 10) = 9 cells across, floor(60 / 10) = 6 down.
    {
      paper: { kind: "square", across: 10, down: 10, widthMm: 95, heightMm: 60 },
      discs: 54,
      crosses: 2 * 10 * 7,
    },
    {
      paper: { kind: "square", across: 0.1, down: 0.1, widthMm: 0.3, heightMm: 0.3 },
      discs: 9,
      crosses: 2 * 16,
    },
    { paper: { kind: "ring", around: 16, rows: 2, innerMm: 30, pitchMm: 8 }, discs: 32, crosses: 2 * 48 },
  ] as const)("of empty paper: $paper", ({ paper, discs, crosses }) => {
    const found = dotPaper(paper);
    expect([found.discs.length, found.crosses.length]).toEqual([discs, crosses]);
  });

  test("are drawn as filled discs and thin crosses", () => {
    const items = dotPaperItems({ kind: "square", across: 10, down: 10, widthMm: 20, heightMm: 20 });
    expect(items.map((item) => [item.kind, "chains" in item && item.chains.length])).toEqual([
      ["area", 4],
      ["line", 18],
    ]);
  });

  test("of a ring lie on circles, the first at 12 o'clock", () => {
    const { crosses } = dotPaper({ kind: "ring", around: 16, rows: 2, innerMm: 30, pitchMm: 8 });
    const first = crosses[0];
    expect(first && chainStart(first).y).toBeCloseTo(30, 9);
    const radii = crosses.map((cross) => {
      const { minX, maxX, minY, maxY } = chainBounds(cross);
      return Math.hypot((minX + maxX) / 2, (minY + maxY) / 2);
    });
    expect(new Set(radii.map((radius) => Math.round(radius)))).toEqual(new Set([30, 38, 46]));
  });
});
