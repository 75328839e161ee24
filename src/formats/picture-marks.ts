/**
 * What a picture says beside the piece: dimension lines, a scale bar, numbered places. Each is
 * SVG text in the picture's mm with y turned over (y' = -y), and the room that it takes, y up.
 *
 * Drawn as workshop drawings are (ISO 129-1): thin extension lines that keep off the piece and
 * run a little past the dimension line, slim filled arrow heads, the figure above its line and
 * along it, to be read from below or from the right. Where a length is too short for its arrow
 * heads or its figure, the heads point inward from outside and the figure stands beyond the end.
 */
import { formatMm, formatNumber } from "../base/format-number.ts";
import { SAME_DIRECTION_RAD, SAME_POINT_MM } from "../base/tolerance.ts";
import { type Bounds, boundsOf, growBounds, mergeBounds } from "../geometry/bounds.ts";
import { along, between, distance, leftOf, minus, type Point, unit, type Vec } from "../geometry/point.ts";
import type { PictureItem } from "../output/picture.ts";
import { xmlText } from "./xml-text.ts";

export interface Mark {
  readonly svg: string;
  readonly room: Bounds;
}

type ItemOf<Kind extends PictureItem["kind"]> = Extract<PictureItem, { readonly kind: Kind }>;

export const MARK_DECIMALS = 2;

const INK = "#222";
const FAILED_INK = "#8a2b14";
const WARNED_INK = "#1d3f72";

/** Shares of the size of the letters. */
const ARROW_LENGTH = 0.85;
const ARROW_HALF_WIDTH = 0.14;
const LINE_WIDTH = 0.07;
const CLEAR_OF_PIECE = 0.3;
const PAST_THE_LINE = 0.4;
const ABOVE_THE_LINE = 0.3;
/** A generous mean for sans-serif letters and figures; some fonts are narrower. */
const LETTER_WIDTH = 0.64;
const CAPITAL_HEIGHT = 0.73;
const BAR_HEIGHT = 0.5;
const RING_RADIUS = 0.85;

/** A dimension line, with letters `textMm` high. */
export function dimensionMark({ from, to, asideMm, text }: ItemOf<"dimension">, textMm: number): Mark {
  const length = distance(from, to);
  const dir: Vec = length > SAME_POINT_MM ? unit(minus(to, from)) : { x: 1, y: 0 };
  const start = along(from, leftOf(dir), asideMm);
  const end = along(to, leftOf(dir), asideMm);
  const arrow = ARROW_LENGTH * textMm;
  const width = textWidth(text, textMm);
  const roomy = length >= Math.max(width, 4 * arrow);

  const forward = readsForward(dir);
  const reading: Vec = forward ? dir : { x: -dir.x, y: -dir.y };
  const [left, right] = forward ? [start, end] : [end, start];
  const inward = roomy ? -1 : 1;
  const lines = [
    ...extensionLine(from, start, textMm),
    ...extensionLine(to, end, textMm),
    // A head's own point is finer than a line that ran into it.
    roomy
      ? lineData(along(left, reading, arrow / 2), along(right, reading, -arrow / 2))
      : lineData(along(left, reading, -2 * arrow), along(right, reading, 2 * arrow + width)),
  ];
  const heads = [arrowHead(left, reading, inward, textMm), arrowHead(right, reading, -inward, textMm)];
  const above = ABOVE_THE_LINE * textMm;
  const foot = roomy
    ? along(between(left, right, 0.5), reading, -width / 2)
    : along(right, reading, 1.6 * arrow);
  const label = along(foot, leftOf(reading), above);
  const middle = along(label, reading, width / 2);
  const turn = formatNumber((-Math.atan2(reading.y, reading.x) * 180) / Math.PI, MARK_DECIMALS);

  const svg = [
    `<g fill="${INK}"><path d="${lines.join("")}" stroke="${INK}" stroke-width="${mm(LINE_WIDTH * textMm)}"/>`,
    `<path d="${heads.join("")}"/>`,
    lettering(text, middle, turn === "0" ? "" : ` transform="rotate(${turn} ${place(middle)})"`),
    "</g>",
  ].join("");
  const far = along(label, leftOf(reading), CAPITAL_HEIGHT * textMm);
  const corners = [label, far, along(label, reading, width), along(far, reading, width)];
  const ends = roomy ? [start, end] : [along(left, reading, -2 * arrow), along(right, reading, 2 * arrow)];
  return { svg, room: growBounds(boundsOf([...corners, ...ends]), PAST_THE_LINE * textMm) };
}

/** A scale bar that hangs from its left upper corner; its length and its zero stand below. */
export function rulerMark({ at, lengthMm }: ItemOf<"ruler">, textMm: number): Mark {
  const high = BAR_HEIGHT * textMm;
  const fields = fieldCount(lengthMm);
  const wide = lengthMm / fields;
  const dark: string[] = [];
  for (let field = 0; field < fields; field += 2)
    dark.push(`M${place({ x: at.x + field * wide, y: at.y })}h${mm(wide)}v${mm(high)}h${mm(-wide)}Z`);
  const foot = at.y - high - 1.15 * textMm;
  const label = formatMm(lengthMm);
  const right = { x: at.x + lengthMm, y: foot };
  const svg = [
    `<g fill="${INK}">`,
    `<rect x="${mm(at.x)}" y="${mm(-at.y)}" width="${mm(lengthMm)}" height="${mm(high)}" fill="#fff" stroke="${INK}" stroke-width="${mm(LINE_WIDTH * textMm)}"/>`,
    `<path d="${dark.join("")}"/>`,
    lettering("0", { x: at.x, y: foot }),
    lettering(label, right),
    "</g>",
  ].join("");
  const half = textWidth(label, textMm) / 2;
  const room = boundsOf([
    { x: at.x - textMm / 2, y: at.y + LINE_WIDTH * textMm },
    { x: right.x + half, y: foot - 0.25 * textMm },
  ]);
  return { svg, room };
}

/** Words from a point to the right; a swatch stands before them, as high as capitals. */
export function labelMark({ at, text, swatch }: ItemOf<"label">, textMm: number): Mark {
  const side = CAPITAL_HEIGHT * textMm;
  const field = swatch
    ? `<rect x="${mm(at.x)}" y="${mm(-at.y - side)}" width="${mm(side)}" height="${mm(side)}" fill="${xmlText(swatch)}" stroke="${INK}" stroke-width="${mm(LINE_WIDTH * textMm)}"/>`
    : "";
  const foot = { x: at.x + (swatch ? 1.8 * side : 0), y: at.y };
  const svg = `<g fill="${INK}">${field}${lettering(text, foot, ` text-anchor="start"`)}</g>`;
  const end = { x: foot.x + textWidth(text, textMm), y: at.y + side };
  return { svg, room: growBounds(boundsOf([at, end]), 0.25 * textMm) };
}

/**
 * A ring round a place, its number on a white field beside it. A failed place has a heavy solid
 * ring, another a lighter dashed one: colour alone tells nothing on a black and white print.
 */
export function placeMark({ at, text, failed }: ItemOf<"place">, textMm: number): Mark {
  const colour = failed ? FAILED_INK : WARNED_INK;
  const line = (failed ? 0.2 : 0.13) * textMm;
  const radius = RING_RADIUS * textMm;
  const dashes = failed ? "" : ` stroke-dasharray="${mm(0.3 * textMm)} ${mm(0.2 * textMm)}"`;
  const ring = `<circle cx="${mm(at.x)}" cy="${mm(-at.y)}" r="${mm(radius)}"`;
  const wide = textWidth(text, textMm) + 0.5 * textMm;
  const high = 1.15 * textMm;
  const corner = { x: at.x + 0.75 * radius, y: at.y + 0.75 * radius + high };
  const foot = { x: corner.x + wide / 2, y: corner.y - (high + CAPITAL_HEIGHT * textMm) / 2 };
  const svg = [
    `<g fill="none" stroke="${colour}" stroke-width="${mm(line)}">`,
    // A white ring below keeps the mark clear of dark leather and wood.
    `${ring} stroke="#fff" stroke-width="${mm(line + 0.16 * textMm)}"/>`,
    `${ring}${dashes}/>`,
    `<rect x="${mm(corner.x)}" y="${mm(-corner.y)}" width="${mm(wide)}" height="${mm(high)}" rx="${mm(0.2 * textMm)}" fill="#fff"/>`,
    `<text x="${mm(foot.x)}" y="${mm(-foot.y)}" fill="${colour}" stroke="none" font-weight="bold">${xmlText(text)}</text>`,
    "</g>",
  ].join("");
  const box = boundsOf([corner, { x: corner.x + wide, y: corner.y - high }]);
  return { svg, room: growBounds(mergeBounds([growBounds(boundsOf([at]), radius), box]), line) };
}

/** Whether a line of writing along this direction can be read from below or from the right. */
function readsForward({ x, y }: Vec): boolean {
  return Math.abs(x) > SAME_DIRECTION_RAD ? x > 0 : y > 0;
}

/** From beside the measured point to a little past the dimension line; none where there is no way to go. */
function extensionLine(from: Point, to: Point, textMm: number): string[] {
  const length = distance(from, to);
  const clear = CLEAR_OF_PIECE * textMm;
  if (length <= clear) return [];
  const dir = unit(minus(to, from));
  return [lineData(along(from, dir, clear), along(to, dir, PAST_THE_LINE * textMm))];
}

/** A head with its tip at `tip`; `side` 1 points along the direction, -1 against it. */
function arrowHead(tip: Point, dir: Vec, side: number, textMm: number): string {
  const back = along(tip, dir, -side * ARROW_LENGTH * textMm);
  const half = ARROW_HALF_WIDTH * textMm;
  const wings = [along(back, leftOf(dir), half), along(back, leftOf(dir), -half)];
  return `M${place(tip)}${wings.map((wing) => `L${place(wing)}`).join("")}Z`;
}

function lineData(from: Point, to: Point): string {
  return `M${place(from)}L${place(to)}`;
}

/** Letters with a white rim, so that a line that they cross does not spoil them. */
function lettering(text: string, { x, y }: Point, attributes = ""): string {
  return `<text x="${mm(x)}" y="${mm(-y)}"${attributes} stroke="#fff" stroke-width=".3em" stroke-linejoin="round" paint-order="stroke">${xmlText(text)}</text>`;
}

/** How many fields make each a round number: 2, 4, 8 go by four, 3, 6, 9 by three, the rest by five. */
function fieldCount(lengthMm: number): number {
  const [first] = lengthMm.toExponential();
  if (first === "2" || first === "4" || first === "8") return 4;
  return first === "3" || first === "6" || first === "9" ? 3 : 5;
}

function textWidth(text: string, textMm: number): number {
  return Array.from(text).length * LETTER_WIDTH * textMm;
}

function place({ x, y }: Point): string {
  return `${mm(x)} ${mm(-y)}`;
}

function mm(value: number): string {
  return formatNumber(value, MARK_DECIMALS);
}
