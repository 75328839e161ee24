/** Sheets of a tiled drawing as they come out of the printer, put together again. */
import { expect, test } from "vitest";
import type { TileGrid } from "../../../src/crafts/paper/tile-grid.ts";
import { tilePlace } from "../../../src/crafts/paper/tile-marks.ts";
import { type TiledContent, tileDrawing } from "../../../src/crafts/paper/tiles.ts";
import { writePdf } from "../../../src/formats/pdf/write-pdf.ts";
import { polyline } from "../../../src/geometry/arc-chain.ts";
import { transformPoint } from "../../../src/geometry/transform.ts";
import { sheetNamed } from "../../../src/output/paper-size.ts";
import { externalTest } from "../../support/external.ts";
import { LATIN_FONTS } from "../../support/paper-fonts.ts";
import {
  drawPage,
  expectSoundPdf,
  infoOf,
  lineOnCut,
  structureOf,
  textOf,
  tracePage,
} from "../../support/pdf-readers.ts";

const A4 = { kind: "sheet", name: "A4", widthMm: 210, heightMm: 297 } as const;
const POINTS_PER_MM = 72 / 25.4;
const LINE_MM = 0.4;

function diagonal(width: number, height: number): TiledContent {
  const chain = polyline(
    [
      { x: 0, y: 0 },
      { x: width, y: height },
    ],
    false,
  );
  return {
    title: "Quarterdeck door, carving template",
    description: "One line from corner to corner.",
    bounds: { minX: 0, minY: 0, maxX: width, maxY: height },
    items: [{ kind: "line", chains: [chain], colour: "#000", widthMm: LINE_MM }],
  };
}

function tiled(
  content: TiledContent,
  options: { overlapMm?: number; mirrored?: boolean; paper?: string } = {},
) {
  const { overlapMm = 10, mirrored = false, paper = "A4" } = options;
  const made = tileDrawing(content, { paper: sheetNamed(paper) ?? A4, marginMm: 8, overlapMm, mirrored });
  if (!made.ok) throw new Error("refused");
  return { ...made.value, bytes: writePdf(made.value.document, LATIN_FONTS) };
}

/** How far a line from (0, 0) to (width, height) is off on each tile that shows enough of it, mm. */
function deviations(
  { grid, bytes }: { grid: TileGrid; bytes: Uint8Array },
  width: number,
  height: number,
): number[] {
  const length = Math.hypot(width, height);
  const across = { x: -height / length, y: width / length };
  return grid.tiles.flatMap((tile, index) => {
    const { minX, minY, maxX, maxY } = tile.shows;
    const from = Math.max(minX / width, minY / height, 0) + 0.005;
    const to = Math.min(maxX / width, maxY / height, 1) - 0.005;
    if (to - from < 0.02) return [];
    const page = drawPage(bytes, index + 2, 150);
    const place = tilePlace(grid, tile);
    const off: number[] = [];
    for (let t = from; t < to; t += 0.002) {
      const at = transformPoint({ x: t * width, y: t * height }, place);
      const cut = lineOnCut(
        page,
        { x: at.x - 1.5 * across.x, y: at.y - 1.5 * across.y },
        { x: at.x + 1.5 * across.x, y: at.y + 1.5 * across.y },
      );
      // Where another line comes near, the cut meets more ink than this one's.
      if (Math.abs(cut.inkMm - LINE_MM) < 0.25 * LINE_MM) off.push(Math.abs(cut.share * 3 - 1.5));
    }
    expect(off.length).toBeGreaterThan((0.5 * (to - from)) / 0.002);
    return [Math.max(...off)];
  });
}

externalTest(
  "a long diagonal, put together from the drawn sheets, is off by less than 0.2 mm",
  ["pdftoppm"],
  () => {
    const made = tiled(diagonal(420, 380));
    const found = deviations(made, 420, 380);
    expect(found.length).toBeGreaterThanOrEqual(3);
    for (const off of found) expect(off).toBeLessThan(0.2);
  },
);

externalTest("the square on every page measures 100 mm at 300 dpi", ["pdftoppm"], () => {
  const { bytes } = tiled(diagonal(420, 380));
  const page = drawPage(bytes, 1, 300);
  // On the first page it stands alone in the lower left corner, above the foot: its sides are the
  // only lines that a level cut at 80 mm meets, and the only ones above the words on an upright cut.
  const peaks = (dark: (at: number) => number, from: number, to: number) => {
    const found: number[] = [];
    for (let at = from; at < to; at++) {
      if (dark(at) < 0.2 || dark(at - 1) > dark(at) || dark(at + 1) >= dark(at)) continue;
      const near = [-2, -1, 0, 1, 2];
      const weight = near.reduce((sum, i) => sum + dark(at + i), 0);
      found.push(at + near.reduce((sum, i) => sum + i * dark(at + i), 0) / weight);
    }
    return found;
  };
  const row = page.heightPx - Math.round(80 / page.mmPerPx);
  const across = peaks((column) => page.dark(column, row), 0, page.widthPx);
  expect(across).toHaveLength(2);
  expect(Math.abs(((across[1] ?? 0) - (across[0] ?? 0)) * page.mmPerPx - 100)).toBeLessThan(0.1);
  const column = Math.round((across[0] ?? 0) + 95 / page.mmPerPx);
  const above = page.heightPx - Math.round(134 / page.mmPerPx);
  const below = page.heightPx - Math.round(30.5 / page.mmPerPx);
  const down = peaks((at) => page.dark(column, at), above, below);
  expect(down).toHaveLength(2);
  expect(Math.abs(((down[1] ?? 0) - (down[0] ?? 0)) * page.mmPerPx - 100)).toBeLessThan(0.1);
});

externalTest("every page has the square, the ruler and the words", ["mutool", "pdftotext"], () => {
  const { bytes, document } = tiled(diagonal(420, 380));
  const texts = textOf(bytes);
  expect(texts).toHaveLength(document.pages.length);
  for (const [index, text] of texts.entries()) {
    expect(text).toContain("print at 100 %, no scaling");
    expect(text).toContain("Quarterdeck door, carving template");
    expect(text).toContain("Size when joined: 420 × 380 mm.");
    for (let cm = 0; cm <= 10; cm++) expect(text.split(" ")).toContain(String(cm * 10));
    const squares = tracePage(bytes, index + 1).filter(({ commands }) => {
      const points = commands.filter(({ numbers }) => numbers.length === 2).map(({ numbers }) => numbers);
      const xs = points.map(([x = 0]) => x / POINTS_PER_MM);
      const ys = points.map(([, y = 0]) => y / POINTS_PER_MM);
      const side = (values: number[]) => Math.max(...values) - Math.min(...values);
      return points.length === 4 && Math.abs(side(xs) - 100) < 1e-3 && Math.abs(side(ys) - 100) < 1e-3;
    });
    expect(squares).toHaveLength(1);
  }
});

test("sheets are named and joined in the document's order", () => {
  const { grid, summary } = tiled(diagonal(420, 380));
  expect(grid.tiles.map(({ label }) => label)).toEqual(["A1", "A2", "A3", "B1", "B2", "B3"]);
  expect(summary).toBe(
    "Size when joined: 420 × 380 mm. 6 sheets: 2 rows, 3 columns, on A4 paper (210 × 297 mm).",
  );
});

externalTest("the map names every sheet once, the sheets their neighbours", ["pdftotext"], () => {
  const { bytes } = tiled(diagonal(420, 380));
  const [map = "", , a2 = "", , b1 = ""] = textOf(bytes);
  for (const label of ["A1", "A2", "A3", "B1", "B2", "B3"])
    expect(map.match(new RegExp(`\\b${label}\\b`, "g"))).toHaveLength(1);
  for (const label of ["A1", "A3", "B2"]) expect(a2).toMatch(new RegExp(`\\b${label}\\b`));
  expect(a2).not.toMatch(/\bB[13]\b/);
  expect(b1).toMatch(/\bA1\b.*\bB2\b|\bB2\b.*\bA1\b/);
});

/** Middles of the register marks on a page, in the drawing's mm: circles of radius 2 mm. */
function registerMarks(bytes: Uint8Array, page: number, grid: TileGrid): string[] {
  const tile = grid.tiles[page - 2];
  if (!tile) return [];
  const place = tilePlace(grid, tile);
  return tracePage(bytes, page).flatMap(({ kind, commands }) => {
    if (kind !== "stroke") return [];
    const marks: string[] = [];
    for (const [i, { name, numbers }] of commands.entries()) {
      if (name !== "moveto" || commands[i + 1]?.name !== "curveto") continue;
      const [x = 0, y = 0] = numbers;
      const at = { x: x / POINTS_PER_MM + 2 - place.e, y: y / POINTS_PER_MM - place.f };
      marks.push(`${at.x.toFixed(3)} ${at.y.toFixed(3)}`);
    }
    return marks;
  });
}

for (const overlapMm of [10, 0])
  externalTest(`register marks meet their neighbours' exactly, overlap ${overlapMm} mm`, ["mutool"], () => {
    const { bytes, grid } = tiled(diagonal(420, 380), { overlapMm });
    const marks = grid.tiles.map((_, index) => registerMarks(bytes, index + 2, grid));
    const shared = (a: number, b: number) => marks[a]?.filter((mark) => marks[b]?.includes(mark)) ?? [];
    const { rows, columns } = grid;
    for (let row = 0; row < rows; row++)
      for (let column = 0; column < columns; column++) {
        const own = row * columns + column;
        if (column + 1 < columns) expect(shared(own, own + 1).length).toBeGreaterThanOrEqual(1);
        if (row + 1 < rows) expect(shared(own, own + columns).length).toBeGreaterThanOrEqual(1);
        // None stands alone.
        const others = marks.filter((_, index) => index !== own).flat();
        for (const mark of marks[own] ?? []) expect(others).toContain(mark);
      }
  });

externalTest(
  "mirrored, the line runs down to the right; words do not mirror",
  ["pdftoppm", "pdftotext"],
  () => {
    const made = tiled(diagonal(420, 380), { mirrored: true });
    const [first = ""] = textOf(made.bytes);
    expect(first).toContain("Mirrored, for a transfer face down.");
    // x' = 420 - x: the diagonal from (0, 380) to (420, 0).
    const tile = made.grid.tiles[0];
    if (!tile) throw new Error("no tile");
    const place = tilePlace(made.grid, tile);
    const at = transformPoint({ x: 40, y: (380 * 380) / 420 }, place);
    const page = drawPage(made.bytes, 2, 150);
    expect(lineOnCut(page, { x: at.x, y: at.y - 1.5 }, { x: at.x, y: at.y + 1.5 }).share).toBeCloseTo(0.5, 1);
  },
);

externalTest("one sheet has no map, and says its size", ["pdftotext", "pdfinfo"], () => {
  const { bytes, document } = tiled(diagonal(120, 100), { paper: "Letter" });
  expect(document.pages).toHaveLength(1);
  expect(infoOf(bytes).get("Page size")).toContain("612 x 792 pts");
  expect(textOf(bytes)[0]).toContain("Size: 120 × 100 mm.");
  expect(structureOf(bytes)).toMatch(/H1[\s\S]*Figure/);
});

externalTest(
  "a panel of two metres by one with thousands of parts: sound, and only what falls on a sheet is drawn there",
  ["qpdf", "pdffonts", "pdftoppm", "mutool"],
  () => {
    const [width, height, step] = [2000, 1000, 25];
    const content = diagonal(width, height);
    const rings = Array.from({ length: 39 * 79 }, (_, i) => {
      const [x, y] = [step * (1 + (i % 79)), step * (1 + Math.floor(i / 79))];
      return {
        closed: true,
        vertices: [
          { x: x - 8, y, bulge: 1 },
          { x: x + 8, y, bulge: 1 },
        ],
      };
    });
    const made = tiled({
      ...content,
      items: [
        ...content.items,
        { kind: "area", chains: rings, fill: "#ddd", edge: { colour: "#000", widthMm: 0.3 } },
      ],
    });
    expect(made.document.pages).toHaveLength(made.grid.tiles.length + 1);
    expectSoundPdf(made.bytes);
    // Of 3081 rings a sheet of 267 x 150 mm can show at most 12 x 7 and those on its edges.
    const fills = tracePage(made.bytes, 20).filter(
      ({ kind, commands }) => kind === "fill" && commands.length > 5,
    );
    const drawn = fills.flatMap(({ commands }) => commands.filter(({ name }) => name === "moveto"));
    expect(drawn.length).toBeGreaterThan(50);
    expect(drawn.length).toBeLessThan(13 * 9);
  },
);
