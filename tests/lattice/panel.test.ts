import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Fault } from "../../src/base/fault.ts";
import { BLANK, CROSSING, DOT, LEVEL_BREAK, parsePanel, UPRIGHT_BREAK } from "../../src/lattice/panel.ts";
import { BORDER_OF_THREE, plainPanel } from "../support/plain-panel.ts";
import { panelRecipe, panelText, randomPanel } from "../support/random-panel.ts";

const PATH = ["pieces", "wing", "panel"];

function faultsOf(rows: readonly string[]): readonly Fault[] {
  const parsed = parsePanel(rows, PATH);
  if (parsed.ok) throw new Error("a fault was expected");
  return parsed.faults;
}

// The panels of DESIGN.md.
const SAMPLES: readonly (readonly [string, readonly string[]])[] = [
  ["3 x 2 cells", ["+-+-+-+", "|oxoxo|", "+x+x+x+", "|oxo-o|", "+-+-+-+"]],
  [
    "two fields and a neck",
    ["+-+-+-+-+", "|oxo|oxo|", "+x+x+x+x+", "|oxoxoxo|", "+x+x+x+x+", "|oxo|oxo|", "+-+-+-+-+"],
  ],
  ["a border of three strands", BORDER_OF_THREE],
];

test.each(SAMPLES)("%s is read place by place", (_, rows) => {
  const parsed = parsePanel(rows, PATH);
  expect(parsed.ok).toBe(true);
  if (!parsed.ok) return;
  const meaning: Readonly<Record<string, number>> = {
    " ": BLANK,
    "+": DOT,
    o: DOT,
    x: CROSSING,
    "-": LEVEL_BREAK,
    "|": UPRIGHT_BREAK,
  };
  expect([...parsed.value.places]).toEqual([...rows.join("")].map((found) => meaning[found]));
});

describe("faults, each with its place", () => {
  test.each([
    ["no rows at all", [], { code: "panel-empty" }],
    ["blank rows only", ["   ", " "], { code: "panel-empty" }],
    [
      "a dot of the wrong kind",
      ["+-+", "|+|", "+-+"],
      { code: "panel-dot", row: 1, placeColumn: 1, found: "+", wanted: "o" },
    ],
    [
      "a breakline on a dot's place",
      ["+-+", "|-|", "+-+"],
      { code: "panel-dot", row: 1, placeColumn: 1, found: "-", wanted: "o" },
    ],
    [
      "a row moved by one",
      ["+-+-+", " |oxo|", "+-+-+"],
      { code: "panel-dot", row: 1, placeColumn: 1, found: "|", wanted: "o" },
    ],
    [
      "a tab",
      ["+-+-+", "\t|oxo|", "+-+-+"],
      { code: "panel-character", row: 1, placeColumn: 0, found: "\t", lookalike: " " },
    ],
    [
      "a capital X",
      ["+-+-+", "|oXo|", "+-+-+"],
      { code: "panel-character", row: 1, placeColumn: 2, found: "X", lookalike: "x" },
    ],
    [
      "a zero",
      ["+-+-+", "|0xo|", "+-+-+"],
      { code: "panel-character", row: 1, placeColumn: 1, found: "0", lookalike: "o" },
    ],
    [
      "an en dash",
      ["+-+–+", "|oxo|", "+-+-+"],
      { code: "panel-character", row: 0, placeColumn: 3, found: "–", lookalike: "-" },
    ],
    [
      "a Cyrillic o",
      ["+-+-+", "|oxо|", "+-+-+"],
      { code: "panel-character", row: 1, placeColumn: 3, found: "о", lookalike: "o" },
    ],
    [
      "another letter",
      ["+-+-+", "|oxo|", "+-+-+ q"],
      { code: "panel-character", row: 2, placeColumn: 6, found: "q" },
    ],
    [
      "a character of two halves",
      ["+-+-+", "|o🙂o|", "+-+-+"],
      { code: "panel-character", row: 1, placeColumn: 2, found: "🙂" },
    ],
    [
      "a blank inside",
      ["+-+-+", "|o o|", "+-+-+"],
      { code: "panel-open-site", row: 1, placeColumn: 2, found: " " },
    ],
    [
      "a crossing on the edge",
      ["+-+-+", "xoxo|", "+-+-+"],
      { code: "panel-edge-site", row: 1, placeColumn: 0, found: "x", wanted: "|" },
    ],
    [
      "a breakline across the edge",
      ["+-+-+", "|oxo-", "+-+-+"],
      { code: "panel-edge-site", row: 1, placeColumn: 4, found: "-", wanted: "|" },
    ],
    ["a lone dot", ["+-+ +", "|o|  ", "+-+  "], { code: "panel-stray", row: 0, placeColumn: 4, found: "+" }],
    [
      "a breakline outside",
      ["+-+  -", "|o|   ", "+-+  "],
      { code: "panel-stray", row: 0, placeColumn: 5, found: "-" },
    ],
    // The first corner dot is missing: its two sites have one square each.
    [
      "a corner on a site",
      [" -+-+", "|oxo|", "+-+-+"],
      {
        code: "panel-corner-site",
        row: 0,
        placeColumn: 1,
        add: [{ row: 0, placeColumn: 0 }],
        remove: [
          { row: 1, placeColumn: 1 },
          { row: 0, placeColumn: 2 },
        ],
      },
    ],
  ] as const)("%s", (_, rows, wanted) => {
    const [first] = faultsOf(rows);
    expect(first).toEqual({ ...wanted, path: PATH });
  });

  test("at most five at once", () => {
    expect(faultsOf(["+q+q+q+", "qoqoqoq", "+q+q+q+"]).length).toBe(5);
  });
});

test("the dots that a corner fault names lie round its site, and adding them mends it", () => {
  fc.assert(
    fc.property(panelRecipe(4).map(panelText), (rows) => {
      const parsed = parsePanel(rows, []);
      const corners = parsed.ok ? [] : parsed.faults.filter((fault) => fault.code === "panel-corner-site");
      for (const { row, placeColumn, add, remove } of corners) {
        for (const dot of [...add, ...remove])
          expect(Math.abs(dot.row - row) + Math.abs(dot.placeColumn - placeColumn)).toBe(1);
        const grid = rows.map((line) => [...line.padEnd(20)]);
        for (const dot of add) grid[dot.row]?.splice(dot.placeColumn, 1, dot.row % 2 === 0 ? "+" : "o");
        const again = parsePanel(
          grid.map((line) => line.join("")),
          [],
        );
        const here = again.ok
          ? []
          : again.faults.filter((f) => "row" in f && f.row === row && f.placeColumn === placeColumn);
        expect(here.map(({ code }) => code)).not.toContain("panel-corner-site");
      }
    }),
    { numRuns: 300 },
  );
});

test("blanks at the ends of rows, and edges left blank, do not matter", () => {
  fc.assert(
    fc.property(panelRecipe(5), (recipe) => {
      const written = parsePanel(panelText({ ...recipe, edge: true }), []);
      const bare = parsePanel(panelText({ ...recipe, edge: false }), []);
      const padded = parsePanel(
        panelText({ ...recipe, edge: true }).map((row) => `${row}    `),
        [],
      );
      expect(bare.ok).toBe(written.ok);
      expect(padded).toEqual(written);
      if (written.ok && bare.ok) expect(bare.value.places).toEqual(written.value.places);
    }),
    { numRuns: 200 },
  );
});

test("rows may be cut short where nothing stands", () => {
  const whole = parsePanel(["+-+-+", "|o|o|", "+-+-+", "|o|  ", "+-+  "], []);
  expect(parsePanel(["+-+-+", "|o|o|", "+-+-+", "|o|", "+-+"], [])).toEqual(whole);
  expect(whole.ok).toBe(true);
});

test("random panels are of every sort", () => {
  const panels = fc.sample(randomPanel(), { numRuns: 500, seed: 3 });
  const has = (what: (rows: readonly string[]) => boolean) => panels.filter(what).length;
  // A hole: a blank dot place with panel all round it.
  expect(has((rows) => rows.slice(1, -1).some((row) => /[o+].*[^o+x|-] .*[o+]/.test(row)))).toBeGreaterThan(
    20,
  );
  expect(
    has((rows) => rows.join("") !== plainPanel((rows[0]?.length ?? 1) >> 1, rows.length >> 1).join("")),
  ).toBeGreaterThan(300);
});
