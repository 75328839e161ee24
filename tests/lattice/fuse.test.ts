import fc from "fast-check";
import { expect, test } from "vitest";
import type { PanelPlace } from "../../src/base/fault.ts";
import { fusePanels, type Openings } from "../../src/lattice/fuse.ts";
import { BLANK, CROSSING, type Panel, parsePanel, placeAt, UPRIGHT_BREAK } from "../../src/lattice/panel.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { randomPanel } from "../support/random-panel.ts";

function panel(rows: readonly string[]): Panel {
  const parsed = parsePanel(rows, []);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  return parsed.value;
}

type Laid = readonly [rows: readonly string[], row: number, column: number];

function fuse(open: Openings, ...parts: readonly Laid[]) {
  const named = parts.map(([rows, row, column], i) => ({ name: `p${i}`, panel: panel(rows), row, column }));
  return fusePanels(named, open, ["fuse"]);
}

function rowsOf(open: Openings, ...parts: readonly Laid[]): readonly string[] {
  const made = fuse(open, ...parts);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.value;
}

/** The text with other characters at places. */
function changed(
  rows: readonly string[],
  character: string,
  ...places: (readonly [number, number])[]
): string[] {
  return rows.map((line, row) =>
    [...line]
      .map((own, column) => (places.some(([r, c]) => r === row && c === column) ? character : own))
      .join(""),
  );
}

const at = (row: number, placeColumn: number): PanelPlace => ({ row, placeColumn });

// Two plain panels side by side are the plain panel of their common size with breaklines along the seam.
test("two fields and a neck, as in the design's own example", () => {
  expect(rowsOf("middle", [plainPanel(2, 3), 0, 0], [plainPanel(2, 3), 0, 4])).toEqual([
    "+-+-+-+-+",
    "|oxo|oxo|",
    "+x+x+x+x+",
    "|oxoxoxo|",
    "+x+x+x+x+",
    "|oxo|oxo|",
    "+-+-+-+-+",
  ]);
});

test("all open, a plain panel of the common size comes about; none open, a breakline all along", () => {
  const parts: Laid[] = [
    [plainPanel(2, 3), 0, 0],
    [plainPanel(3, 3), 0, 4],
  ];
  expect(rowsOf("all", ...parts)).toEqual(plainPanel(5, 3));
  expect(rowsOf([], ...parts)).toEqual(changed(plainPanel(5, 3), "|", [1, 4], [3, 4], [5, 4]));
  expect(rowsOf([at(5, 4)], ...parts)).toEqual(changed(plainPanel(5, 3), "|", [1, 4], [3, 4]));
  expect(rowsOf("all", [plainPanel(2, 1), 0, 0], [plainPanel(2, 2), 2, 0])).toEqual(plainPanel(2, 3));
});

test("each edge of two panels has its own middle: of two the upper or left one", () => {
  // Four panels of 2 x 2 cells round a point: two edges of two sites upright, two level.
  const four: Laid[] = [
    [plainPanel(2, 2), 0, 0],
    [plainPanel(2, 2), 0, 4],
    [plainPanel(2, 2), 4, 0],
    [plainPanel(2, 2), 4, 4],
  ];
  const closed = changed(
    changed(plainPanel(4, 4), "|", [1, 4], [3, 4], [5, 4], [7, 4]),
    "-",
    [4, 1],
    [4, 3],
    [4, 5],
    [4, 7],
  );
  expect(rowsOf("middle", ...four)).toEqual(changed(closed, "x", [1, 4], [5, 4], [4, 1], [4, 5]));
});

test("an edge in two stretches has two middles", () => {
  // The left panel lacks its cell in the middle of the right side.
  const notched = ["+-+-+", "|oxo|", "+x+-+", "|o|", "+x+-+", "|oxo|", "+-+-+"];
  const open = rowsOf("middle", [notched, 0, 0], [plainPanel(1, 3), 0, 4]);
  expect(open).toEqual(["+-+-+-+", "|oxoxo|", "+x+-+x+", "|o| |o|", "+x+-+x+", "|oxoxo|", "+-+-+-+"]);
});

test("an edge that is not written down is one all the same", () => {
  const blank = (rows: readonly string[]) =>
    rows.map((row, r) => (r % 2 === 1 ? ` ${row.slice(1, -1)}` : row));
  expect(rowsOf("all", [blank(plainPanel(2, 3)), 0, 0], [blank(plainPanel(3, 3)), 0, 4])).toEqual(
    plainPanel(5, 3),
  );
});

test("half a cell off both across and down, dots change places", () => {
  const field = plainPanel(2, 1);
  const made = rowsOf("all", [field, 1, 1], [field, 1, 5]);
  expect(parsePanel(made, []).ok).toBe(true);
  expect(made).toEqual(["", " o-o-o-o-o", " |+x+x+x+|", " o-o-o-o-o"]);
});

/** Places of a part that are others in the whole: [column, what stood there, what stands there]. */
function changes(part: Panel, whole: Panel, column: number): number[][] {
  return [...part.places].flatMap((own, i) => {
    const c = i % part.columns;
    const there = placeAt(whole, Math.floor(i / part.columns), column + c);
    return own === BLANK || own === there ? [] : [[column + c, own, there]];
  });
}

test("any two valid panels side by side: a valid panel, each part as it was but for what is opened", () => {
  fc.assert(
    fc.property(
      randomPanel(4),
      randomPanel(4),
      fc.constantFrom("all" as const, "middle" as const),
      (a, b, open) => {
        const [left, right] = [panel(a), panel(b)];
        const seam = 2 * Math.floor(left.columns / 2);
        const made = fuse(open, [a, 0, 0], [b, 0, seam]);
        if (!made.ok) {
          expect(made.faults[0]?.code).toBe("fuse-overlap");
          return;
        }
        const whole = panel(made.value);
        for (const [column, was, is] of [...changes(left, whole, 0), ...changes(right, whole, seam)])
          expect([column, was, is]).toEqual([seam, UPRIGHT_BREAK, CROSSING]);
      },
    ),
    { numRuns: 300 },
  );
});

test("faults: another mark, and places that are no shared edge", () => {
  expect(fuse("all", [plainPanel(2, 2), 0, 0], [plainPanel(2, 2), 0, 2])).toEqual({
    ok: false,
    faults: [
      { code: "fuse-overlap", row: 1, placeColumn: 2, part: "p1", path: ["fuse"] },
      { code: "fuse-overlap", row: 1, placeColumn: 4, part: "p1", path: ["fuse"] },
      { code: "fuse-overlap", row: 3, placeColumn: 2, part: "p1", path: ["fuse"] },
    ],
  });
  const shared = [at(1, 4), at(3, 4)];
  expect(fuse([at(1, 4), at(2, 4), at(3, 99)], [plainPanel(2, 2), 0, 0], [plainPanel(2, 2), 0, 4])).toEqual({
    ok: false,
    faults: [
      { code: "fuse-not-shared", ...at(2, 4), shared, path: ["fuse"] },
      { code: "fuse-not-shared", ...at(3, 99), shared, path: ["fuse"] },
    ],
  });
  // Apart, nothing is shared.
  expect(fuse([at(1, 4)], [plainPanel(2, 2), 0, 0], [plainPanel(2, 2), 0, 6])).toMatchObject({
    ok: false,
    faults: [{ code: "fuse-not-shared", shared: [] }],
  });
});

test("parts so far apart that their box is beyond all use are refused", () => {
  expect(fuse("all", [plainPanel(2, 2), 0, 0], [plainPanel(2, 2), 20_000, 20_000])).toMatchObject({
    ok: false,
    faults: [{ code: "too-long", of: "cells" }],
  });
});
