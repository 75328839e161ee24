import fc from "fast-check";
import { expect, test } from "vitest";
import { explain } from "../../../src/base/explain.ts";
import {
  layTiles,
  type TileOptions,
  tileAt,
  tileBox,
  tileLabel,
} from "../../../src/crafts/paper/tile-grid.ts";
import { tilePlace } from "../../../src/crafts/paper/tile-marks.ts";
import { boundsHeight, boundsWidth } from "../../../src/geometry/bounds.ts";
import { transformPoint } from "../../../src/geometry/transform.ts";
import { type Paper, sheetNamed } from "../../../src/output/paper-size.ts";

const A4: Paper = { kind: "sheet", name: "A4", widthMm: 210, heightMm: 297 };

function box(width: number, height: number) {
  return { minX: 0, minY: 0, maxX: width, maxY: height };
}

function grid(width: number, height: number, options: Partial<TileOptions> = {}) {
  const made = layTiles(box(width, height), { paper: A4, marginMm: 10, overlapMm: 10, ...options });
  if (!made.ok) throw new Error(made.faults.map(explain).join());
  return made.value;
}

test.each([
  [0, 0, "A1"],
  [1, 2, "B3"],
  [25, 9, "Z10"],
  [26, 0, "AA1"],
  [51, 0, "AZ1"],
  [52, 0, "BA1"],
])("the tile in row %i, column %i is %s", (row, column, label) => {
  expect(tileLabel(row, column)).toBe(label);
});

// A4 with margins of 10 mm, 7 mm for marks on all sides and 21 mm for the foot leaves, upright,
// 176 x 242 mm, on its side 263 x 155 mm. Pages go on by that less the overlap of 10 mm; the
// drawing is shown with 2 mm round it. 2 m x 1 m: upright ceil(1994/166) x ceil(994/232) = 13 x 5,
// on its side ceil(1994/253) x ceil(994/145) = 8 x 7.
test.each([
  ["two metres by one lie on their side", 2000, 1000, 7, 8, 297],
  ["a tall strip stands", 170, 460, 2, 1, 210],
  ["what fits one page takes one", 172, 238, 1, 1, 210],
  ["one millimetre more takes two", 173, 238, 1, 2, 210],
  ["a low strip lies", 259, 100, 1, 1, 297],
])("%s", (_, width, height, rows, columns, pageWidth) => {
  const made = grid(width, height);
  expect([made.rows, made.columns, made.pageWidthMm]).toEqual([rows, columns, pageWidth]);
  expect(made.tiles).toHaveLength(rows * columns);
});

test("a roll is cut where the drawing ends, across or along it", () => {
  // A roll of 610 mm leaves 576 mm between marks: 2 m x 500 mm lies along it in one piece,
  // 2004 + 34 mm wide and as high as the roll, or in four pieces across.
  const along = grid(2000, 500, { paper: { kind: "roll", widthMm: 610 } });
  expect([along.rows, along.columns]).toEqual([1, 1]);
  expect([along.pageWidthMm, along.pageHeightMm]).toEqual([2038, 610]);
  // ISO 32000-1, annex C: no page is longer than 5080 mm.
  const long = grid(12_000, 500, { paper: { kind: "roll", widthMm: 610 } });
  expect(long.columns).toBe(3);
  expect(long.pageWidthMm).toBeLessThanOrEqual(5080);
});

test.each<[string, number, number, Partial<TileOptions>, RegExp]>([
  [
    "a sheet too small for its margins",
    100,
    100,
    { marginMm: 60 },
    /A4 paper with margins of 60 mm leaves 76 mm between its marks, and 104 mm are needed/,
  ],
  ["margins wider than the sheet", 100, 100, { marginMm: 400 }, /leaves 0 mm/],
  [
    "an overlap of more than half a page",
    500,
    500,
    { overlapMm: 90 },
    /an overlap of 90 mm is more than half of what a page shows, 176 × 242 mm/,
  ],
  ["an overlap as wide as the page", 500, 500, { overlapMm: 176 }, /more than half/],
  ["a panel without width", 0, 100, {}, /the piece measures 0 × 100 mm, so there is nothing to print/],
  ["a panel without height", 100, 0, {}, /nothing to print/],
  ["a margin below zero", 100, 100, { marginMm: -1 }, /the margin is -1 mm/],
  ["an overlap below zero", 100, 100, { overlapMm: -1 }, /the overlap is -1 mm/],
  ["a roll too narrow", 100, 100, { paper: { kind: "roll", widthMm: 120 } }, /a roll 120 mm wide/],
  [
    "paper too large for a page",
    100,
    100,
    { paper: { kind: "roll", widthMm: 6000 } },
    /larger than the 5080 mm/,
  ],
  ["more pages than can be laid out", 90_000, 90_000, {}, /2000 are the most/],
])("refused, with the reason: %s", (_, width, height, options, reason) => {
  const made = layTiles(box(width, height), { paper: A4, marginMm: 10, overlapMm: 10, ...options });
  expect(made.ok ? [] : made.faults.map(({ code }) => code)).toEqual(["paper-impossible"]);
  expect(made.ok ? "" : made.faults.map(explain).join()).toMatch(reason);
});

test("tiles cover the drawing, fit their frame, and share the overlap with their neighbours", () => {
  const size = fc.double({ min: 5, max: 3000, noNaN: true });
  fc.assert(
    fc.property(
      size,
      size,
      fc.double({ min: 0, max: 20, noNaN: true }),
      fc.double({ min: 0, max: 50, noNaN: true }),
      fc.constantFrom("A4", "A3", "Letter", "A1"),
      (width, height, marginMm, overlapMm, name) => {
        const paper = sheetNamed(name);
        if (!paper) throw new Error(name);
        const made = grid(width, height, { paper, marginMm, overlapMm });
        const { region, frame, tiles, rows, columns } = made;
        expect(tiles[0]?.shows.minX).toBe(region.minX);
        expect(tiles[0]?.shows.maxY).toBe(region.maxY);
        expect(tiles.at(-1)?.shows.maxX).toBeCloseTo(region.maxX, 6);
        expect(tiles.at(-1)?.shows.minY).toBeCloseTo(region.minY, 6);
        for (const tile of tiles) {
          expect(boundsWidth(tile.shows)).toBeGreaterThan(0);
          expect(boundsHeight(tile.shows)).toBeGreaterThan(0);
          const own = tileBox(made, tile);
          expect(own.maxX).toBeLessThanOrEqual(frame.maxX + 1e-6);
          expect(own.minY).toBeGreaterThanOrEqual(frame.minY - 1e-6);
          const right = tileAt(made, tile.row, tile.column + 1);
          if (right) expect(tile.shows.maxX - right.shows.minX).toBeCloseTo(overlapMm, 6);
          const below = tileAt(made, tile.row + 1, tile.column);
          if (below) expect(below.shows.maxY - tile.shows.minY).toBeCloseTo(overlapMm, 6);
          // The tile's corner on the drawing lies on its corner on the page.
          const corner = transformPoint({ x: tile.shows.minX, y: tile.shows.maxY }, tilePlace(made, tile));
          expect([corner.x, corner.y]).toEqual([expect.closeTo(own.minX, 6), expect.closeTo(own.maxY, 6)]);
        }
        expect(tileAt(made, rows, 0)).toBeUndefined();
        expect(tileAt(made, 0, columns)).toBeUndefined();
      },
    ),
    { numRuns: 60 },
  );
});
