import fc from "fast-check";
import { expect, test } from "vitest";
import { ribbonLines } from "../../../src/crafts/paper/ribbon-lines.ts";
import {
  type ArcChain,
  chainEnd,
  chainLength,
  chainStart,
  segmentsOf,
} from "../../../src/geometry/arc-chain.ts";
import { meet, nearestOn } from "../../../src/geometry/meet.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import { laceRibbons } from "../../../src/ribbon/laced.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { wovenPanel } from "./woven-panel.ts";

const WIDTH = 5;

function linesOf(rows: readonly string[], stopShortMm: number, corner: "round" | "pointed" = "round") {
  const { diagram, faces } = wovenPanel(rows, 20, corner);
  const laced = laceRibbons(diagram, faces, WIDTH);
  return { diagram, laced, lines: ribbonLines(laced, stopShortMm) };
}

/** How near a point comes to any line but the one it ends. */
function apart(tip: Point, own: ArcChain, lines: readonly ArcChain[]): number {
  const others = lines.filter((line) => line !== own).flatMap(segmentsOf);
  return Math.min(...others.map((segment) => distance(nearestOn(segment, tip), tip)));
}

test.each(["round", "pointed"] as const)("edges of a plain panel with %s corners", (corner) => {
  const { diagram, laced, lines } = linesOf(plainPanel(3, 2), 0.5, corner);
  // Over and under in turn: each crossing ends one piece and begins another, and a piece has two edges.
  expect(lines).toHaveLength(2 * diagram.x.length);
  for (const line of lines) {
    expect(line.closed).toBe(false);
    // Alternating pieces pass over one strand: both edges run across it.
    expect(apart(chainStart(line), line, lines)).toBeCloseTo(0.5, 5);
    expect(apart(chainEnd(line), line, lines)).toBeCloseTo(0.5, 5);
  }
  // Nothing is lost: all edges of the body and the lines across it, less what stops short.
  const all = laced.bodies.flatMap(({ outline, holes, crossingLines }) => [
    outline,
    ...holes,
    ...crossingLines,
  ]);
  const whole = all.reduce((sum, chain) => sum + chainLength(chain), 0);
  const drawn = lines.reduce((sum, chain) => sum + chainLength(chain), 0);
  // Each crossing stops four ends 0.5 mm from a strand at right angles: so much is missing, a
  // little more where a bend begins there.
  const least = 0.5 * 4 * diagram.x.length;
  expect(whole - drawn).toBeGreaterThanOrEqual(least - 1e-6);
  expect(whole - drawn).toBeLessThanOrEqual(1.02 * least);
});

test("lines of random panels stop short of each other and never cross", () => {
  fc.assert(
    fc.property(randomPanel(4), fc.constantFrom("round" as const, "pointed" as const), (rows, corner) => {
      const { diagram, lines } = linesOf(rows, 0.4, corner);
      const open = lines.filter(({ closed }) => !closed);
      expect(open).toHaveLength(2 * diagram.x.length);
      for (const line of open) {
        for (const tip of [chainStart(line), chainEnd(line)])
          expect(apart(tip, line, lines)).toBeGreaterThan(0.4 - 1e-4);
      }
      const segments = lines.map(segmentsOf);
      for (const [i, own] of segments.entries()) {
        for (const other of segments.slice(i + 1)) {
          for (const a of own) for (const b of other) expect(meet(a, b).kind).toBe("none");
        }
      }
    }),
    { numRuns: 12 },
  );
});

test("without a gap lines end on the over-strand's edge", () => {
  const { lines } = linesOf(plainPanel(2, 2), 0);
  for (const line of lines) {
    expect(apart(chainStart(line), line, lines)).toBeLessThan(1e-6);
    expect(apart(chainEnd(line), line, lines)).toBeLessThan(1e-6);
  }
});

test("a strand that crosses nothing has two closed edges", () => {
  const { lines } = linesOf(plainPanel(1, 1), 0.5);
  expect(lines.map(({ closed }) => closed)).toEqual([true, true]);
});
