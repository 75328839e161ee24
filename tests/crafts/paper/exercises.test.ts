import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  countPatterns,
  innerSites,
  type LatticeSize,
  latticeSymmetries,
  movePattern,
  patternKey,
  patternRows,
} from "../../../src/crafts/paper/break-pattern.ts";
import { breaklinesOf, makeExercises } from "../../../src/crafts/paper/exercises.ts";
import type { KnotDiagram } from "../../../src/diagram/knot-diagram.ts";
import { findStrands } from "../../../src/diagram/strands.ts";
import { parsePanel } from "../../../src/lattice/panel.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { mirroredText, turnedText } from "../../support/random-panel.ts";
import { wovenPanel } from "./woven-panel.ts";

function draw(rows: readonly string[]): KnotDiagram {
  return wovenPanel(rows).diagram;
}

/** The eight ways to lay a square text, or the four of another one that keep its shape. */
function layings(rows: readonly string[]): string[] {
  const turns = [rows];
  for (let i = 0; i < 3; i++) turns.push(turnedText(turns.at(-1) ?? []));
  return turns
    .flatMap((text) => [text, mirroredText(text)])
    .filter((text) => text.length === rows.length && text[0]?.length === rows[0]?.length)
    .map((text) => text.join("\n"));
}

function allPatterns(size: LatticeSize): number[][] {
  const sites = innerSites(size).length;
  return Array.from({ length: 3 ** sites }, (_, number) =>
    Array.from({ length: sites }, (_, i) => Math.floor(number / 3 ** i) % 3),
  );
}

/** Sets of patterns as texts that can be laid on each other, counted one by one. */
function countByHand(size: LatticeSize): number {
  const seen = new Set<string>();
  let count = 0;
  for (const pattern of allPatterns(size)) {
    const rows = patternRows(size, pattern);
    if (seen.has(rows.join("\n"))) continue;
    count++;
    for (const text of layings(rows)) seen.add(text);
  }
  return count;
}

describe("patterns of breaklines", () => {
  // Burnside's lemma: the mean over all symmetries of the patterns that each keeps.
  test.each([
    // One site that all four symmetries keep: (3 + 3 + 3 + 3) / 4.
    { across: 2, down: 1, count: 3 },
    // Two sites in a row: identity and level mirror 9, half turn and upright mirror 3: (9 + 9 + 3 + 3) / 4.
    { across: 3, down: 1, count: 6 },
    // Four sites in a diamond. Identity 81, half turn 9, mirrors through the dots 27 each; with
    // exchange of - and |: quarter turns a ring of four, 3 each; diagonal mirrors two rings of
    // two, 9 each: (81 + 9 + 27 + 27 + 3 + 3 + 9 + 9) / 8.
    { across: 2, down: 2, count: 21 },
    // Rows of 2, 3 and 2 sites. Identity 3^7; the half turn and the upright mirror keep the middle
    // one and exchange three pairs, 3^4 each; the level mirror keeps the middle row, 3^5:
    // (2187 + 81 + 81 + 243) / 4.
    { across: 3, down: 2, count: 648 },
  ])("$across x $down: $count that cannot be laid on each other", ({ across, down, count }) => {
    expect(Number(countPatterns({ across, down }))).toBe(count);
    expect(countByHand({ across, down })).toBe(count);
  });

  test.each([
    { across: 2, down: 1 },
    { across: 2, down: 2 },
    { across: 3, down: 2 },
  ])("with hands, $across x $down agrees with a count one by one", (size) => {
    const symmetries = latticeSymmetries(size);
    const seen = new Set<string>();
    let count = 0n;
    for (const pattern of allPatterns(size)) {
      for (const hand of [0, 1]) {
        if (seen.has(`${pattern.join("")} ${hand}`)) continue;
        count++;
        for (const symmetry of symmetries)
          seen.add(`${movePattern(pattern, symmetry).join("")} ${symmetry.mirrors ? 1 - hand : hand}`);
      }
    }
    expect(countPatterns(size, "told-apart")).toBe(count);
  });

  test.each([
    { across: 3, down: 3, symmetries: 8 },
    { across: 3, down: 2, symmetries: 4 },
    { across: 2, down: 4, symmetries: 4 },
  ])(
    "the $symmetries symmetries of $across x $down are turns and mirrors of the text",
    ({ across, down, symmetries }) => {
      const size = { across, down };
      const moves = latticeSymmetries(size);
      expect(moves).toHaveLength(symmetries);
      const pattern = fc.array(fc.nat(2), {
        minLength: innerSites(size).length,
        maxLength: innerSites(size).length,
      });
      fc.assert(
        fc.property(pattern, (drawn) => {
          const moved = moves.map((move) => patternRows(size, movePattern(drawn, move)).join("\n"));
          expect(new Set(moved)).toEqual(new Set(layings(patternRows(size, drawn))));
        }),
        { numRuns: 30 },
      );
    },
  );

  test.each([
    [2, 3],
    [3, 3],
    [4, 2],
    [4, 6],
    [5, 5],
  ])("without breaklines %i x %i is the plain panel, of gcd(p, q) strands", (across, down) => {
    // CHECKS.md 1.1: closed strands in the p x q panel = gcd(p, q).
    const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
    const size = { across, down };
    const rows = patternRows(size, new Array<number>(innerSites(size).length).fill(0));
    expect(rows).toEqual(plainPanel(across, down));
    expect(findStrands(draw(rows)).count).toBe(gcd(across, down));
  });
});

describe("sets of exercises", () => {
  const size = { across: 5, down: 4 };

  test.each([
    { strands: 1, difficulty: 1, size },
    { strands: 2, difficulty: 3, size },
    { strands: 3, difficulty: 5, size },
    { strands: undefined, difficulty: 2, size: { across: 4, down: 4 } },
  ])("ten of $strands strands, difficulty $difficulty", ({ strands, difficulty, size: lattice }) => {
    const wish = {
      size: lattice,
      count: 10,
      difficulty,
      seed: 11,
      ...(strands !== undefined && { strands }),
    };
    const exercises = makeExercises(wish, draw);
    expect(exercises).toHaveLength(10);
    const texts = new Set<string>();
    const { across, down } = lattice;
    for (const exercise of exercises) {
      expect(parsePanel(exercise.rows, []).ok).toBe(true);
      expect(exercise.strands).toBe(findStrands(draw(exercise.rows)).count);
      if (strands !== undefined) expect(exercise.strands).toBe(strands);
      // CHECKS.md 1.1: 2pq - p - q crossings without breaklines; each takes one away.
      expect(exercise.breaklines).toBe(breaklinesOf(lattice, difficulty));
      expect(exercise.crossings).toBe(2 * across * down - across - down - exercise.breaklines);
      expect(layings(exercise.rows).some((text) => texts.has(text))).toBe(false);
      texts.add(exercise.rows.join("\n"));
    }
  });

  test("the same seed gives the same set, another one another", () => {
    const rowsOf = (seed: number) =>
      makeExercises({ size, count: 3, difficulty: 3, seed }, draw).map(({ rows }) => rows);
    expect(rowsOf(5)).toEqual(rowsOf(5));
    expect(rowsOf(5)).not.toEqual(rowsOf(6));
  });

  test("no more come than there are", () => {
    // 2 x 2 cells are four crossings in a ring (CHECKS.md 1.5: 4^2_1). A breakline on one of them,
    // wherever it stands, either leaves a ring of three, the trefoil, or a chain whose crossings
    // could all be untwisted: one exercise.
    const found = makeExercises({ size: { across: 2, down: 2 }, count: 50, difficulty: 1, seed: 3 }, draw);
    expect(found.map(({ strands, crossings }) => ({ strands, crossings }))).toEqual([
      { strands: 1, crossings: 3 },
    ]);
  });

  test("keys tell patterns apart exactly when they cannot be laid on each other", () => {
    const small = { across: 2, down: 2 };
    const symmetries = latticeSymmetries(small);
    const keys = new Set(allPatterns(small).map((pattern) => patternKey(pattern, symmetries)));
    expect(keys.size).toBe(21);
  });
});
