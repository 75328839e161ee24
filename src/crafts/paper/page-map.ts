/** The first page of a set: what it is, how to print and join it, and which sheet lies where. */
import { type Bounds, boundsHeight, boundsOf, boundsWidth, growBounds } from "../../geometry/bounds.ts";
import { rectangleChain } from "../../geometry/plain-shapes.ts";
import type { Point } from "../../geometry/point.ts";
import { type Transform, transformPoint } from "../../geometry/transform.ts";
import type { PaperElement, PaperItem, PaperPage } from "../../output/paper.ts";
import { checkSquare } from "./check-marks.ts";
import { INK, lines, SOFT_INK, straight } from "./mark-look.ts";
import { pageFoot } from "./page-foot.ts";
import type { TileContent } from "./tile-content.ts";
import { CHECK_SQUARE_MM, FOOT_ROOM_MM, type TileGrid } from "./tile-grid.ts";

const TITLE_TYPE_MM = 7;
const TITLE_GAP_MM = 2;
const LINE_TYPE_MM = 3.6;
const LINE_MM = 5.2;
/** Of a letter in running text, generous, in sizes of the type: all lines get the size at which the longest fits. */
const LETTER_WIDTH = 0.56;
const GAP_MM = 6;
/** A map lower than this says nothing. */
const LEAST_MAP_MM = 45;
/** Above it a small picture of the whole would take longer than all sheets. */
const MOST_VERTICES = 60_000;

export interface MapWords {
  readonly title: string;
  /** Facts and what to do, a line each. */
  readonly lines: readonly string[];
  readonly foot: readonly string[];
}

export interface MapPage {
  readonly page: PaperPage;
  readonly structure: readonly PaperElement[];
}

/** The page, as large as the tiles' pages; on a roll, no longer than it needs. */
export function mapPage(grid: TileGrid, content: TileContent, words: MapWords): MapPage {
  const { mapWidthMm: widthMm, mapHeightMm: heightMm } = grid;
  const printable = printableBox({ widthMm, heightMm }, grid.marginMm);
  const structure: PaperElement[] = [];
  const element = (role: PaperElement["role"], alt?: string): PaperElement => {
    const made = { role, children: [], ...(alt === undefined ? {} : { alt }) };
    structure.push(made);
    return made;
  };
  const items: PaperItem[] = [];
  const { square, map, wordsMm: most } = layPage(printable, words.lines.length);
  const longest = Math.max(...words.lines.map(({ length }) => length));
  const bodyMm = Math.min(LINE_TYPE_MM, most / (LETTER_WIDTH * longest));
  let y = printable.maxY - TITLE_TYPE_MM;
  const say = (text: string, at: Point, title: boolean) =>
    items.push({
      kind: "marked",
      element: element(title ? "heading1" : "paragraph"),
      items: [
        {
          kind: "text",
          text,
          at,
          sizeMm: title ? TITLE_TYPE_MM : bodyMm,
          colour: INK,
          weight: title ? "bold" : "regular",
          mostMm: most,
        },
      ],
    });
  say(words.title, { x: printable.minX, y }, true);
  y -= TITLE_GAP_MM;
  for (const line of words.lines) {
    y -= LINE_MM;
    say(line, { x: printable.minX, y }, false);
  }
  items.push(...checkSquare(square, INK));
  const alt = `Map of the sheets: rows ${rowNames(grid)} from the top, columns 1 to ${grid.columns} from the left.`;
  items.push({ kind: "marked", element: element("figure", alt), items: drawMap(grid, content, map) });
  const foot = words.foot.map((text) => ({ text, element: element("paragraph") }));
  items.push(...pageFoot(printable, { lines: foot }));
  return { page: { widthMm, heightMm, items }, structure };
}

export function printableBox(
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  marginMm: number,
): Bounds {
  return growBounds({ minX: 0, minY: 0, maxX: widthMm, maxY: heightMm }, -marginMm);
}

export function rowNames({ tiles, columns }: TileGrid): string {
  const name = (index: number) => (tiles[index]?.label ?? "").replace(/\d/g, "");
  const [first, last] = [name(0), name(tiles.length - columns)];
  return first === last ? first : `${first} to ${last}`;
}

interface PageLayout {
  /** The lower left corner of the check square. */
  readonly square: Point;
  readonly map: Bounds;
  /** How long lines of words may be. */
  readonly wordsMm: number;
}

/**
 * Below the words the square, and the map above it or beside it, whichever leaves the map more
 * room; on a page too low for that the square stands at the right of words and map.
 */
function layPage(printable: Bounds, lineCount: number): PageLayout {
  const wordsHigh = TITLE_TYPE_MM + TITLE_GAP_MM + lineCount * LINE_MM + GAP_MM;
  const room = { ...printable, minY: printable.minY + FOOT_ROOM_MM + 2, maxY: printable.maxY - wordsHigh };
  if (boundsHeight(room) < CHECK_SQUARE_MM) {
    const left = room.maxX - CHECK_SQUARE_MM;
    const map = { ...room, maxX: left - GAP_MM };
    return { square: { x: left, y: room.minY }, map, wordsMm: boundsWidth(map) };
  }
  const square = { x: room.minX, y: room.minY };
  const above = { ...room, minY: room.minY + CHECK_SQUARE_MM + GAP_MM };
  const beside = { ...room, minX: room.minX + CHECK_SQUARE_MM + GAP_MM };
  const roomy = boundsHeight(above) >= LEAST_MAP_MM && smaller(above) >= smaller(beside);
  return { square, map: roomy ? above : beside, wordsMm: boundsWidth(printable) };
}

function smaller(box: Bounds): number {
  return Math.min(boundsWidth(box), boundsHeight(box));
}

/** The drawing made small, the sheets' edges on it, and their labels. */
function drawMap(
  { region, tiles, rows, columns }: TileGrid,
  content: TileContent,
  room: Bounds,
): PaperItem[] {
  const scale = Math.max(
    Math.min(boundsWidth(room) / boundsWidth(region), boundsHeight(room) / boundsHeight(region)),
    // Where nothing is left of the page the map is a speck rather than turned over.
    1e-3,
  );
  const place: Transform = {
    a: scale,
    b: 0,
    c: 0,
    d: scale,
    e: room.minX - region.minX * scale,
    f: room.maxY - region.maxY * scale,
  };
  const toMap = (x: number, y: number) => transformPoint({ x, y }, place);
  const xs = tiles.slice(0, columns).map(({ shows }) => shows.minX);
  const ys = Array.from({ length: rows }, (_, row) => tiles[row * columns]?.shows.maxY ?? 0);
  const cuts = [
    ...xs.slice(1).map((x) => straight(toMap(x, region.minY), toMap(x, region.maxY))),
    ...ys.slice(1).map((y) => straight(toMap(region.minX, y), toMap(region.maxX, y))),
  ];
  const whole = boundsOf([toMap(region.minX, region.minY), toMap(region.maxX, region.maxY)]);
  const small = content.vertexCount <= MOST_VERTICES ? content.within(region) : [];
  return [
    { kind: "group", clip: whole, items: [{ kind: "group", transform: place, items: small }] },
    lines(cuts, INK, 0.2),
    lines([rectangleChain(whole)], SOFT_INK, 0.2),
    ...labels(tiles, place),
  ];
}

function labels(tiles: TileGrid["tiles"], place: Transform): PaperItem[] {
  return tiles.map(({ label, shows }): PaperItem => {
    const wide = boundsWidth(shows) * place.a;
    const high = boundsHeight(shows) * place.a;
    const size = Math.min(5, 0.6 * high, (0.8 * wide) / (0.62 * label.length));
    const middle = transformPoint(
      { x: (shows.minX + shows.maxX) / 2, y: (shows.minY + shows.maxY) / 2 },
      place,
    );
    return {
      kind: "text",
      text: label,
      at: { x: middle.x, y: middle.y - 0.36 * size },
      sizeMm: size,
      colour: INK,
      weight: "bold",
      anchor: "middle",
      clearMm: 0.08 * size,
    };
  });
}
