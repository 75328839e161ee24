/**
 * Transfer sheets as SVG, 1:1: one user unit = 1 mm, y down. Every stitch is a dash that stops short
 * of its holes, so that stitch lengths can be read off the cloth. Below the lines stands a square to
 * check the print with, and in it what is to be said, the right way round on the mirrored sheet too.
 */
import { formatNumber } from "../base/format-number.ts";
import { boundsHeight, boundsOf, boundsWidth, mergeBounds } from "../geometry/bounds.ts";
import { between, distance, type Point } from "../geometry/point.ts";
import type { TransferLine, TransferSheet } from "../output/transfer-sheet.ts";
import { xmlText } from "./xml-text.ts";

const DECIMALS = 2;
const MARGIN_MM = 8;
const LINE_MM = 0.35;
/** Of the room at a hole, half belongs to each stitch; short stitches leave a quarter of their length. */
const GAP_MM = 0.5;
const GAP_SHARE = 0.25;
const CHECK_SQUARE_MM = 100;
/** What is written stands in the square: so many characters of this size fit into a line of it. */
const TEXT_MM = 3;
const TEXT_LINE_MM = 4.5;
const LINE_CHARACTERS = 50;
const LINES_IN_SQUARE = 20;
/** Arms of the marks at the middle and the corners of the piece. */
const MARK_MM = 3;

/**
 * The sheet as SVG text for UTF-8.
 *
 * @throws InternalError for a number that is not finite.
 */
export function writeTransferSvg(sheet: TransferSheet, { mirrored }: { readonly mirrored: boolean }): string {
  const box = mergeBounds([sheet.bounds, ...sheet.lines.map(({ holes }) => boundsOf(holes))]);
  const onPage = ({ x, y }: Point): Point => ({
    x: MARGIN_MM + (mirrored ? box.maxX - x : x - box.minX),
    y: MARGIN_MM + box.maxY - y,
  });
  const words = wordsOf(sheet, mirrored);
  const lines = words.flatMap(wrapped).slice(0, LINES_IN_SQUARE);
  const below = boundsHeight(box) + 2 * MARGIN_MM;
  const width = mm(Math.max(boundsWidth(box), CHECK_SQUARE_MM) + 2 * MARGIN_MM);
  const height = mm(below + CHECK_SQUARE_MM + MARGIN_MM);
  return [
    `<?xml version="1.0" encoding="UTF-8"?>`,
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `<title>${xmlText(words[0] ?? sheet.title)}</title>`,
    `<desc>${xmlText(words.slice(1).join("\n"))}</desc>`,
    `<rect width="${width}" height="${height}" fill="#fff"/>`,
    `<g id="lines" fill="none" stroke="#000" stroke-width="${LINE_MM}" stroke-linecap="round">`,
    ...sheet.lines.map((line) => `<path d="${dashes(line, onPage)}"/>`),
    "</g>",
    `<g id="marks" fill="none" stroke="#000" stroke-width="${LINE_MM / 2}">`,
    `<path d="${placeMarks(sheet, onPage)}"/>`,
    "</g>",
    `<g id="check">`,
    `<rect x="${MARGIN_MM}" y="${mm(below)}" width="${CHECK_SQUARE_MM}" height="${CHECK_SQUARE_MM}" fill="none" stroke="#000" stroke-width="${LINE_MM}"/>`,
    "</g>",
    `<g id="words" font-family="Helvetica, Arial, sans-serif" font-size="${TEXT_MM}">`,
    ...lines.map((text, i) => {
      const y = mm(below + (i + 1.5) * TEXT_LINE_MM);
      return `<text x="${MARGIN_MM + TEXT_LINE_MM}" y="${y}">${xmlText(text)}</text>`;
    }),
    "</g>",
    "</svg>",
    "",
  ].join("\n");
}

function wordsOf({ title, notes }: TransferSheet, mirrored: boolean): string[] {
  return [
    mirrored ? `${title}: transfer sheet, mirrored` : `${title}: transfer sheet`,
    `Print at 100 %, not fitted to the page: this square must measure ${CHECK_SQUARE_MM} mm both ways.`,
    mirrored
      ? "For transfer face down, as with an iron-on pen."
      : "For transfer face up, as on a light box or with pricked holes.",
    "Each dash is one stitch.",
    ...notes,
  ];
}

/** A text in lines that fit into the square, broken between words. */
function wrapped(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= LINE_CHARACTERS)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word.slice(0, LINE_CHARACTERS));
  }
  return lines;
}

function dashes({ holes, closed }: TransferLine, onPage: (point: Point) => Point): string {
  const points = holes.map(onPage);
  return points
    .map((from, i) => {
      const to = points[i + 1] ?? (closed ? points[0] : undefined);
      if (!to) return "";
      const length = distance(from, to);
      const gap = length === 0 ? 0 : Math.min(GAP_SHARE, GAP_MM / 2 / length);
      return `M${place(between(from, to, gap))}L${place(between(from, to, 1 - gap))}`;
    })
    .join("");
}

/** A cross at the middle of the piece, and angles at its corners, to lay the sheet straight. */
function placeMarks({ bounds }: TransferSheet, onPage: (point: Point) => Point): string {
  const { minX, minY, maxX, maxY } = bounds;
  const middle = { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
  const stroke = (...points: readonly Point[]) => `M${points.map((point) => place(onPage(point))).join("L")}`;
  const angle = (x: number, y: number) => {
    const inX = x < middle.x ? MARK_MM : -MARK_MM;
    const inY = y < middle.y ? MARK_MM : -MARK_MM;
    return stroke({ x: x + inX, y }, { x, y }, { x, y: y + inY });
  };
  return [
    stroke({ x: middle.x - MARK_MM, y: middle.y }, { x: middle.x + MARK_MM, y: middle.y }),
    stroke({ x: middle.x, y: middle.y - MARK_MM }, { x: middle.x, y: middle.y + MARK_MM }),
    angle(minX, minY),
    angle(maxX, minY),
    angle(maxX, maxY),
    angle(minX, maxY),
  ].join("");
}

function place({ x, y }: Point): string {
  return `${mm(x)} ${mm(y)}`;
}

function mm(value: number): string {
  return formatNumber(value, DECIMALS);
}
