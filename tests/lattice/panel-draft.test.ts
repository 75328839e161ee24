/** Drafted panel text: rings, frames and strips. */
import { describe, expect, test } from "vitest";
import { nugatoryCrossings } from "../../src/diagram/checkerboard.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { parsePanel } from "../../src/lattice/panel.ts";
import { draftFrame, draftRing, draftStrip, type StripEnd } from "../../src/lattice/panel-draft.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { BORDER_OF_THREE, plainPanel } from "../support/plain-panel.ts";
import { unwrapped } from "./ring-piece.ts";

test("a ring's text closes itself: the last column repeats the first", () => {
  expect(draftRing(3, 3)).toEqual(["+-+-+-+", "xoxoxox", "+x+x+x+", "-o-o-o-"]);
  for (let strands = 2; strands <= 7; strands++) {
    const parsed = unwrapped(parsePanel(draftRing(5, strands), [], "glued"));
    expect([parsed.rows, parsed.columns]).toEqual([strands + 1, 10]);
  }
});

test("DESIGN.md's border of three strands is a draft", () => {
  expect(unwrapped(draftFrame({ strands: 3, opening: { across: 3, down: 2 } }))).toEqual(BORDER_OF_THREE);
});

test.each([2, 3, 4, 5])("frames of %i strands, round openings of 1 to 5 cells", (strands) => {
  for (let across = 1; across <= 5; across++) {
    for (let down = 1; down <= 5; down++) {
      const rows = unwrapped(draftFrame({ strands, opening: { across, down } }));
      const width = 2 * (strands + across);
      const height = 2 * (strands + down);
      expect([rows.length, rows[0]?.length]).toEqual([height + 1, width + 1]);
      const { diagram, faces } = wovenPanel(rows);
      // Sites strictly inside the outer edge, less those inside or on the opening's: every second
      // place of a grid with an odd number of them, whose corners are dots.
      const inside = ((width - 1) * (height - 1) - 1) / 2;
      const opening = ((2 * across + 1) * (2 * down + 1) - 1) / 2;
      expect(crossingCount(diagram)).toBe(inside - opening);
      expect(faces.planar).toBe(true);
      expect(faces.parts).toBe(1);
      expect(nugatoryCrossings(diagram, faces)).toEqual([]);
    }
  }
});

test("a pointed strip of six strands ends in a loop at each end", () => {
  expect(unwrapped(draftStrip({ strands: 6, repeats: 5, end: "pointed" }))).toEqual([
    "  +-+-+-+",
    "  |oxoxo|",
    "+-+x+x+x+-+",
    "|o-oxoxo-o|",
    "+-+x+x+x+-+",
    "  |oxoxo|",
    "  +-+-+-+",
  ]);
});

test("a rounded strip of ten strands follows a half circle", () => {
  // Five cells high. The middles of the end columns lie 2 and 1 cells from the half circle's: chords of
  // 2 sqrt(2.5^2 - 2^2) = 3 and 2 sqrt(2.5^2 - 1^2) = 4.6 cells; with half a cell more they hold 3 and 5.
  const rows = unwrapped(draftStrip({ strands: 10, repeats: 5, end: "rounded" }));
  expect(rows.slice(0, 3)).toEqual(["  +-+-+-+", "  |oxoxo|", "+-+x+x+x+-+"]);
});

describe.each<StripEnd>(["square", "pointed", "rounded"])("strips with %s ends", (end) => {
  test("are whole, plane and without a crossing that could be untwisted", () => {
    for (const strands of [4, 6, 8, 10, 12]) {
      for (const repeats of [6, 9]) {
        const rows = unwrapped(draftStrip({ strands, repeats, end }));
        const { diagram, faces } = wovenPanel(rows);
        expect(faces.parts).toBe(1);
        expect(faces.planar).toBe(true);
        expect(nugatoryCrossings(diagram, faces)).toEqual([]);
        if (end === "square") expect(rows).toEqual(plainPanel(repeats, strands / 2));
        // The same seen from the other end, and from the other side.
        expect(rows.map((row) => [...row.padEnd(2 * repeats + 1)].reverse().join("").trimEnd())).toEqual(
          rows,
        );
        expect([...rows].reverse()).toEqual(rows);
      }
    }
  });
});

test("drafts that cannot be", () => {
  expect(draftStrip({ strands: 3, repeats: 5, end: "square" })).toEqual({
    ok: false,
    faults: [{ code: "wrong-kind", path: ["strands"], found: "3", wanted: "an even number" }],
  });
  expect(draftFrame({ strands: 1, opening: { across: 2.5, down: 0 } })).toEqual({
    ok: false,
    faults: [
      { code: "number-out-of-range", path: ["strands"], found: 1, least: 2, unit: "" },
      { code: "wrong-kind", path: ["opening", "across"], found: "2.5", wanted: "a whole number" },
      { code: "number-out-of-range", path: ["opening", "down"], found: 0, least: 1, unit: "" },
    ],
  });
});
