/**
 * How a drawing in true size is shared out on sheets: rows lettered from the top (A, B … Z, AA),
 * columns numbered from the left. Neighbouring tiles show the same strip of the drawing, the
 * overlap. A sheet lies over those on its left and above it: its left and top edges are trimmed,
 * its right and lower strips are glued under.
 */

import { done, type Result, refused } from "../../base/fault.ts";
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type Bounds, boundsHeight, boundsWidth, growBounds } from "../../geometry/bounds.ts";
import { LONGEST_SIDE_MM } from "../../output/paper.ts";
import type { Paper } from "../../output/paper-size.ts";

export interface TileOptions {
  readonly paper: Paper;
  /** What the printer leaves white all round; nothing is drawn there. */
  readonly marginMm: number;
  /** How wide the strip is that neighbouring sheets both show. */
  readonly overlapMm: number;
  /** Left and right exchanged, for a transfer face down. */
  readonly mirrored?: boolean;
}

export interface Tile {
  /** From 0 at the top and at the left. */
  readonly row: number;
  readonly column: number;
  readonly label: string;
  /** What it shows of the drawing, in the drawing's mm. */
  readonly shows: Bounds;
}

export interface TileGrid {
  readonly rows: number;
  readonly columns: number;
  readonly pageWidthMm: number;
  readonly pageHeightMm: number;
  /** The page with the map is as large, but on a roll no longer than it needs. */
  readonly mapWidthMm: number;
  readonly mapHeightMm: number;
  readonly marginMm: number;
  readonly overlapMm: number;
  /** Where tiles lie on their pages, at most; each begins at the upper left corner of it. */
  readonly frame: Bounds;
  /** All that the tiles show together. */
  readonly region: Bounds;
  /** Row by row. */
  readonly tiles: readonly Tile[];
}

/** Crop marks, and the labels of neighbours, stand in this room round a tile. */
export const MARK_ROOM_MM = 7;
/** What stands under every tile: three lines of words and a ruler. */
export const FOOT_ROOM_MM = 21;
/** The side of the square that shows whether a print is true. */
export const CHECK_SQUARE_MM = 100;
/** Shown beyond the edge of the drawing, so that a line on the edge is whole. */
const EDGE_ROOM_MM = 2;
/** The longer side of an A3 sheet: room for map, words and square beside each other. */
const LONGEST_MAP_MM = 420;
/** So that the check square keeps off the marks. */
const LEAST_TILE_MM = CHECK_SQUARE_MM + 4;
/** More sheets than anyone would lay out on a floor, and a bound for our own work. */
const MOST_TILES = 2000;

/**
 * The grid with the fewest pages, sheets upright or on their side; with as many, the one with the
 * shorter roll, else upright.
 *
 * Faults: `paper-impossible`.
 */
export function layTiles(
  bounds: Bounds,
  { paper, marginMm, overlapMm }: Omit<TileOptions, "mirrored">,
): Result<TileGrid> {
  const refuse = (reason: string) => refused<TileGrid>({ code: "paper-impossible", reason });
  const [width, height] = [boundsWidth(bounds), boundsHeight(bounds)];
  if (!(width > SAME_POINT_MM && height > SAME_POINT_MM))
    return refuse(
      `the piece measures ${sizeWords(Math.max(0, width), Math.max(0, height))}, so there is nothing to print`,
    );
  if (!(marginMm >= 0)) return refuse(`the margin is ${formatMm(marginMm)}, and must be 0 or more`);
  if (!(overlapMm >= 0)) return refuse(`the overlap is ${formatMm(overlapMm)}, and must be 0 or more`);

  const grids: TileGrid[] = [];
  const problems: string[] = [];
  for (const lying of [false, true]) {
    const made = gridOn(growBounds(bounds, EDGE_ROOM_MM), { paper, marginMm, overlapMm }, lying);
    if (typeof made === "string") problems.push(made);
    else grids.push(made);
  }
  const best = grids.sort((a, b) => a.tiles.length - b.tiles.length || areaOf(a) - areaOf(b))[0];
  return best ? done(best) : refuse(problems[0] ?? "");
}

function areaOf({ tiles, pageWidthMm, pageHeightMm }: TileGrid): number {
  return tiles.length * pageWidthMm * pageHeightMm;
}

/** The grid for paper upright or on its side, or what stands in its way. */
function gridOn(
  region: Bounds,
  { paper, marginMm, overlapMm }: Omit<TileOptions, "mirrored">,
  lying: boolean,
): TileGrid | string {
  const across = 2 * (marginMm + MARK_ROOM_MM);
  const down = across + FOOT_ROOM_MM;
  const fixed =
    paper.kind === "sheet"
      ? ([paper.widthMm, paper.heightMm] as const)
      : ([paper.widthMm, undefined] as const);
  const [pageWidth, pageHeight] = lying ? [fixed[1], fixed[0]] : fixed;
  const problem = sizeProblem(paper, marginMm, [pageWidth, across], [pageHeight, down]);
  if (problem !== undefined) return problem;
  const columns = shareOut(boundsWidth(region), pageWidth, across, overlapMm);
  const rows = shareOut(boundsHeight(region), pageHeight, down, overlapMm);
  if (overlapMm > Math.min(columns.tileMm, rows.tileMm) / 2)
    return `an overlap of ${formatMm(overlapMm)} is more than half of what a page shows, ${sizeWords(columns.tileMm, rows.tileMm)}`;
  if (rows.count * columns.count > MOST_TILES)
    return `it would take ${rows.count} × ${columns.count} pages, and ${MOST_TILES} are the most; take larger paper, or a smaller piece`;
  const corner = marginMm + MARK_ROOM_MM;
  const frame = {
    minX: corner,
    minY: corner + FOOT_ROOM_MM,
    maxX: corner + columns.tileMm,
    maxY: corner + FOOT_ROOM_MM + rows.tileMm,
  };
  return {
    rows: rows.count,
    columns: columns.count,
    pageWidthMm: columns.tileMm + across,
    pageHeightMm: rows.tileMm + down,
    mapWidthMm: pageWidth ?? Math.min(columns.tileMm + across, LONGEST_MAP_MM),
    mapHeightMm: pageHeight ?? Math.min(rows.tileMm + down, LONGEST_MAP_MM),
    marginMm,
    overlapMm,
    frame,
    region,
    tiles: tilesOf(region, columns, rows, overlapMm),
  };
}

type Side = readonly [lengthMm: number | undefined, furnitureMm: number];

function sizeProblem(paper: Paper, marginMm: number, ...sides: readonly Side[]): string | undefined {
  const short = sides.find(([length, used]) => length !== undefined && length - used < LEAST_TILE_MM);
  const long = sides.find(([length]) => length !== undefined && !(length <= LONGEST_SIDE_MM));
  const name = paper.kind === "sheet" ? `${paper.name} paper` : `a roll ${formatMm(paper.widthMm)} wide`;
  if (long) return `${name} is larger than the ${formatMm(LONGEST_SIDE_MM)} that a page may measure`;
  if (!short) return undefined;
  const left = Math.max(0, (short[0] ?? 0) - short[1]);
  return `${name} with margins of ${formatMm(marginMm)} leaves ${formatMm(left)} between its marks, and ${formatMm(LEAST_TILE_MM)} are needed for the square that shows whether the print is true`;
}

interface Shares {
  readonly count: number;
  /** How much of the drawing one page can show. */
  readonly tileMm: number;
}

/** How many pages a length takes; where the paper is a roll, pages are as long as it needs, within bounds. */
function shareOut(length: number, page: number | undefined, used: number, overlap: number): Shares {
  const most = (page ?? LONGEST_SIDE_MM) - used;
  const count = Math.max(1, Math.ceil((length - overlap - SAME_POINT_MM) / (most - overlap)));
  if (page !== undefined) return { count, tileMm: most };
  return { count, tileMm: Math.max(LEAST_TILE_MM, (length - overlap) / count + overlap) };
}

function tilesOf(region: Bounds, columns: Shares, rows: Shares, overlapMm: number): Tile[] {
  const tiles: Tile[] = [];
  for (let row = 0; row < rows.count; row++) {
    const maxY = region.maxY - row * (rows.tileMm - overlapMm);
    const minY = Math.max(region.minY, maxY - rows.tileMm);
    for (let column = 0; column < columns.count; column++) {
      const minX = region.minX + column * (columns.tileMm - overlapMm);
      const maxX = Math.min(region.maxX, minX + columns.tileMm);
      tiles.push({ row, column, label: tileLabel(row, column), shows: { minX, minY, maxX, maxY } });
    }
  }
  return tiles;
}

/** "A1" at the top left, "A2" on its right, "B1" below; after "Z" comes "AA". */
export function tileLabel(row: number, column: number): string {
  let letters = "";
  for (let rest = row + 1; rest > 0; rest = Math.floor((rest - 1) / 26))
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  return `${letters}${column + 1}`;
}

/** The tile at a row and column, if there is one. */
export function tileAt({ tiles, rows, columns }: TileGrid, row: number, column: number): Tile | undefined {
  if (row < 0 || row >= rows || column < 0 || column >= columns) return undefined;
  return tiles[row * columns + column];
}

/** The box on its page that a tile fills. */
export function tileBox({ frame }: TileGrid, { shows }: Tile): Bounds {
  return {
    minX: frame.minX,
    minY: frame.maxY - boundsHeight(shows),
    maxX: frame.minX + boundsWidth(shows),
    maxY: frame.maxY,
  };
}

/** "420 × 297 mm", to a tenth. */
export function sizeWords(width: number, height: number): string {
  return `${formatNumber(width, 1)} × ${formatNumber(height, 1)} mm`;
}
