/**
 * A drawing in true size on as many sheets as it takes: a first page with a map, then the sheets
 * row by row, each with all that is needed to print it true and to join it to its neighbours.
 */

import { done, type Result, refused } from "../../base/fault.ts";
import { formatMm } from "../../base/format-number.ts";
import { type Bounds, boundsHeight, boundsWidth, growBounds } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import { mirrorAt } from "../../geometry/transform.ts";
import type { PaperDocument, PaperElement, PaperItem, PaperPage } from "../../output/paper.ts";
import type { Paper } from "../../output/paper-size.ts";
import { checkSquare, PRINT_WORDS } from "./check-marks.ts";
import { pageFoot } from "./page-foot.ts";
import { mapPage, printableBox, rowNames } from "./page-map.ts";
import { TileContent } from "./tile-content.ts";
import {
  CHECK_SQUARE_MM,
  layTiles,
  MARK_ROOM_MM,
  sizeWords,
  type Tile,
  type TileGrid,
  type TileOptions,
  tileBox,
} from "./tile-grid.ts";
import { gluedStrips, tileMarks, tilePlace } from "./tile-marks.ts";

export interface TiledContent {
  /** What the sheets are of, e.g. "Gate panel, carving template". */
  readonly title: string;
  /** What is to be seen, for those who cannot see it. */
  readonly description: string;
  /** The finished piece; its size is stated as that of the sheets when joined. */
  readonly bounds: Bounds;
  readonly items: readonly PaperItem[];
}

export interface TiledDrawing {
  readonly document: PaperDocument;
  readonly grid: TileGrid;
  /** In so many words: sheets, paper, size when joined. */
  readonly summary: string;
}

/** From the edge of the frame to the check square. */
const SQUARE_GAP_MM = 6;
const LANGUAGE = "en";

/**
 * The sheets. One sheet that holds all has no map. Nothing but the drawing is mirrored.
 *
 * Faults: `paper-impossible` for sheets too small, an overlap of more than half a page, a piece
 * without size, and more pages than can be.
 */
export function tileDrawing(content: TiledContent, options: TileOptions): Result<TiledDrawing> {
  const laid = layTiles(content.bounds, options);
  if (!laid.ok) return refused(...laid.faults);
  const grid = laid.value;
  const { bounds, title } = content;
  const mirrored = options.mirrored === true;
  const drawn = new TileContent(
    content.items,
    mirrored ? mirrorAt((bounds.minX + bounds.maxX) / 2) : undefined,
  );
  const words = sheetWords(content, grid, options);
  const pages: PaperPage[] = [];
  const structure: PaperElement[] = [];
  if (grid.tiles.length > 1) {
    const first = mapPage(grid, drawn, {
      title,
      lines: words.lines,
      foot: [title, words.facts, words.print],
    });
    pages.push(first.page);
    structure.push(...first.structure);
  }
  for (const tile of grid.tiles) {
    const made = tilePage(grid, tile, { drawn, words, content });
    pages.push(made.page);
    structure.push(...made.structure);
  }
  return done({
    document: { title, language: LANGUAGE, pages, structure },
    grid,
    summary: words.summary,
  });
}

interface SheetWords {
  readonly summary: string;
  readonly facts: string;
  readonly print: string;
  /** Of the first page. */
  readonly lines: readonly string[];
}

function sheetWords({ bounds }: TiledContent, grid: TileGrid, { paper, mirrored }: TileOptions): SheetWords {
  const size = sizeWords(boundsWidth(bounds), boundsHeight(bounds));
  const count = grid.tiles.length;
  const joined = `${count === 1 ? "Size" : "Size when joined"}: ${size}.`;
  const shared =
    count === 1
      ? "1 sheet"
      : `${count} sheets: ${counted(grid.rows, "row")}, ${counted(grid.columns, "column")}`;
  const turned = mirrored ? ["Mirrored, for a transfer face down."] : [];
  const summary = `${joined} ${shared}, on ${paperWords(paper, grid)}.`;
  return {
    summary: [summary, ...turned].join(" "),
    facts: [joined, ...turned].join(" "),
    print: `Measure square and ruler first (${PRINT_WORDS}).`,
    lines: [
      summary,
      ...turned,
      `In the printer’s own window: ${PRINT_WORDS}, no fitting to the page.`,
      "Then measure the square and the ruler. What is off by half a millimetre here is off on every sheet.",
      ...joinWords(grid.overlapMm),
      "Edges at the rim of the drawing need no trimming.",
      `Rows run ${rowNames(grid)} from the top, columns 1 to ${grid.columns} from the left. Join the sheets of a row first, then the rows.`,
    ],
  };
}

function joinWords(overlapMm: number): string[] {
  if (overlapMm === 0)
    return [
      "Trim every sheet at its crop marks and butt them, so that the halves of the register marks meet.",
    ];
  return [
    `Neighbouring sheets share a strip of ${formatMm(overlapMm)}. Trim the left and the top edge of a sheet at its crop marks,`,
    "lay it over the hatched strips of its neighbours until the register marks meet, and glue it there.",
  ];
}

function counted(count: number, word: string): string {
  return count === 1 ? `1 ${word}` : `${count} ${word}s`;
}

function paperWords(paper: Paper, { pageWidthMm, pageHeightMm }: TileGrid): string {
  if (paper.kind === "roll")
    return `a roll ${formatMm(paper.widthMm)} wide, pages ${sizeWords(pageWidthMm, pageHeightMm)}`;
  const lying = pageWidthMm > pageHeightMm && paper.widthMm < paper.heightMm;
  return `${paper.name} paper (${sizeWords(pageWidthMm, pageHeightMm)}${lying ? ", on its side" : ""})`;
}

interface PageParts {
  readonly drawn: TileContent;
  readonly words: SheetWords;
  readonly content: TiledContent;
}

function tilePage(
  grid: TileGrid,
  tile: Tile,
  { drawn, words, content }: PageParts,
): { readonly page: PaperPage; readonly structure: readonly PaperElement[] } {
  const { label, row, column, shows } = tile;
  const one = grid.tiles.length === 1;
  const leaf = (role: PaperElement["role"], alt?: string): PaperElement => ({
    role,
    children: [],
    ...(alt === undefined ? {} : { alt }),
  });
  const heading = leaf(one ? "heading1" : "heading2");
  const figure = leaf("figure", one ? content.description : `Sheet ${label} of: ${content.description}`);
  const where = one
    ? words.facts
    : `Sheet ${label}: row ${row + 1} of ${grid.rows}, column ${column + 1} of ${grid.columns}. ${words.facts}`;
  const foot = [content.title, where, words.print].map((text) => ({ text, element: leaf("paragraph") }));
  const drawing: PaperItem = {
    kind: "group",
    clip: tileBox(grid, tile),
    items: [{ kind: "group", transform: tilePlace(grid, tile), items: drawn.within(shows) }],
  };
  const title = one ? foot.shift() : undefined;
  const size = { widthMm: grid.pageWidthMm, heightMm: grid.pageHeightMm };
  const items: PaperItem[] = [
    ...pageFoot(printableBox(size, grid.marginMm), {
      ...(one ? {} : { label: { text: label, element: heading } }),
      lines: title ? [{ text: title.text, element: heading }, ...foot] : foot,
    }),
    ...checkSquare(squarePlace(grid, tile)),
    ...gluedStrips(grid, tile),
    { kind: "marked", element: figure, items: [drawing] },
    ...tileMarks(grid, tile),
  ];
  return {
    page: { ...size, items },
    structure: [heading, ...foot.map(({ element }) => element), figure],
  };
}

/** In the corner of the frame where it hides least under the drawing; the lower left one if all are alike. */
function squarePlace(grid: TileGrid, tile: Tile): Point {
  const { frame, overlapMm } = grid;
  const drawn = growBounds(tileBox(grid, tile), MARK_ROOM_MM);
  const spare = (side: number) => (side - CHECK_SQUARE_MM) / 2;
  const left = frame.minX + Math.min(SQUARE_GAP_MM, spare(boundsWidth(frame)));
  const lower = frame.minY + Math.min(overlapMm + SQUARE_GAP_MM, spare(boundsHeight(frame)));
  const right = frame.maxX - CHECK_SQUARE_MM;
  const places = [
    { x: left, y: lower },
    { x: right, y: frame.minY },
    { x: right, y: frame.maxY - CHECK_SQUARE_MM },
    { x: left, y: frame.minY },
  ];
  const hidden = places.map(({ x, y }) =>
    sharedArea(drawn, { minX: x, minY: y, maxX: x + CHECK_SQUARE_MM, maxY: y + CHECK_SQUARE_MM }),
  );
  return places[hidden.indexOf(Math.min(...hidden))] ?? { x: left, y: lower };
}

function sharedArea(a: Bounds, b: Bounds): number {
  const wide = Math.min(a.maxX, b.maxX) - Math.max(a.minX, b.minX);
  const high = Math.min(a.maxY, b.maxY) - Math.max(a.minY, b.minY);
  return Math.max(0, wide) * Math.max(0, high);
}
