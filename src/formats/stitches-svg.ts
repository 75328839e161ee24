/**
 * Stitch plans as pictures: every stitch drawn as thread of its real width, in sewing order, one
 * group for each block of thread. One user unit = 1 mm, y down. A run of stitches in one direction
 * (thread-runs.ts) is a body and a light crest, each the stroke of one path, over the dark edges of
 * all that is drawn with it: a large panel has hundreds of thousands of stitches. Moves without sewing are drawn on top, in groups of
 * their own ("jumps", "trims") that can be hidden.
 */
import { formatNumber } from "../base/format-number.ts";
import {
  type Bounds,
  boundsHeight,
  boundsOf,
  boundsWidth,
  growBounds,
  mergeBounds,
} from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";
import { JUMP, type StitchPlan, type Thread, type ThreadBlock, TRIM } from "../output/stitches.ts";
import { threadTones } from "./thread-look.ts";
import {
  type PageCorner,
  RelativePath,
  type ThreadStretch,
  threadStretches,
  toSteps,
} from "./thread-runs.ts";
import { xmlText } from "./xml-text.ts";

const DECIMALS = 2;
/** Widths are a share of a thread's: fine threads need more places. */
const WIDTH_DECIMALS = 3;

/** Shares of the thread's width. Lines of satin lie half a width apart, so that a body leaves room for its neighbour's edge. */
const BODY_SHARE = 0.5;
const CREST_SHARE = 0.26;

const CLOTH = "#ece6d8";
const CLOTH_SHADE = "#dfd8c8";
/** From one thread of the cloth to the next: a linen of 24 threads in a centimetre. */
const CLOTH_THREAD_MM = 0.42;
const CLOTH_LINE_MM = 0.07;

const JUMP_LINE_MM = 0.15;
const JUMP_DASH_MM = "0.6 0.5";
const TRIM_COLOUR = "#c2185b";
const TRIM_MARK_MM = 0.35;

/**
 * The picture as SVG text for UTF-8, as large as the plan's bounds and all that is sewn.
 *
 * @throws InternalError for a number that is not finite.
 */
export function writeStitchesSvg(plan: StitchPlan): string {
  const page = pageOf(plan);
  const [width, height] = [mm(boundsWidth(page)), mm(boundsHeight(page))];
  const corner: PageCorner = { left: page.minX, top: page.maxY };
  const lines = [
    `<?xml version="1.0" encoding="UTF-8"?>`,
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" role="img">`,
    `<title>${xmlText(plan.title)}</title>`,
    `<desc>${xmlText(description(plan))}</desc>`,
    "<style>",
    ...plan.blocks.flatMap(({ thread }, i) => looks(thread, i + 1)),
    "</style>",
    ...cloth(width, height),
  ];
  for (const [i, block] of plan.blocks.entries()) {
    const { name } = block.thread;
    lines.push(
      `<g id="thread-${i + 1}" fill="none" stroke-linecap="round" stroke-linejoin="round">`,
      `<title>${xmlText(`${i + 1}. ${name}`)}</title>`,
    );
    for (const stretch of threadStretches(block, corner)) lines.push(...drawStretch(stretch, i + 1));
    lines.push("</g>");
  }
  lines.push(...jumps(plan.blocks, corner), ...trims(plan.blocks, corner), "</svg>", "");
  return lines.join("\n");
}

function description({ notes, blocks }: StitchPlan): string {
  const threads = blocks.map(({ thread }, i) => `${i + 1}. ${thread.name}`);
  return [`Every stitch as thread, in sewing order: ${threads.join("; ") || "nothing"}.`, ...notes].join(
    "\n",
  );
}

function pageOf({ bounds, blocks }: StitchPlan): Bounds {
  const boxes = blocks.map(({ x, y, thread }) => growBounds(boundsOf(pointsOf(x, y)), thread.widthMm));
  const page = mergeBounds([bounds, ...boxes]);
  return page.minX > page.maxX ? boundsOf([{ x: 0, y: 0 }]) : page;
}

function* pointsOf(x: Float64Array, y: Float64Array): Iterable<Point> {
  for (let i = 0; i < x.length; i++) yield { x: x[i] ?? Number.NaN, y: y[i] ?? Number.NaN };
}

/** Plain weave, faintly. */
function cloth(width: string, height: string): string[] {
  const size = mm(2 * CLOTH_THREAD_MM);
  const one = CLOTH_THREAD_MM;
  const line = (x: number, y: number, command: string) => `M${mm(x)} ${mm(y)}${command}${mm(0.8 * one)}`;
  const weave =
    line(0.1 * one, 0.5 * one, "h") +
    line(1.1 * one, 1.5 * one, "h") +
    line(1.5 * one, 0.1 * one, "v") +
    line(0.5 * one, 1.1 * one, "v");
  return [
    `<defs><pattern id="weave" patternUnits="userSpaceOnUse" width="${size}" height="${size}"><rect width="${size}" height="${size}" fill="${CLOTH}"/><path d="${weave}" stroke="${CLOTH_SHADE}" stroke-width="${CLOTH_LINE_MM}" stroke-linecap="round"/></pattern></defs>`,
    `<rect id="cloth" width="${width}" height="${height}" fill="url(#weave)"/>`,
  ];
}

/** Strokes by class, since thousands of paths share one look: edge, and body and crest for each direction. */
function looks({ colour, widthMm }: Thread, block: number): string[] {
  const stroke = (name: string, tone: string, share: number) =>
    `.${name}{stroke:${tone};stroke-width:${formatNumber(widthMm * share, WIDTH_DECIMALS)}}`;
  const { edge, directions } = threadTones(colour);
  return [
    stroke(`e${block}`, edge, 1),
    ...directions.flatMap(({ body, crest }, direction) => [
      stroke(`b${block}-${direction}`, body, BODY_SHARE),
      stroke(`c${block}-${direction}`, crest, CREST_SHARE),
    ]),
  ];
}

function* drawStretch({ thread, runs }: ThreadStretch, block: number): Iterable<string> {
  yield `<path class="e${block}" d="${thread}"/>`;
  for (const run of runs) yield `<path class="b${block}-${run.direction}" d="${run.thread}"/>`;
  for (const run of runs) {
    if (run.crest !== "") yield `<path class="c${block}-${run.direction}" d="${run.crest}"/>`;
  }
}

function jumps(blocks: readonly ThreadBlock[], corner: PageCorner): string[] {
  const paths = blocks.flatMap((block) => {
    const path = new RelativePath();
    for (const [from, to] of movesOf(block, JUMP, corner)) {
      path.moveTo(from.x, from.y);
      path.lineTo(to.x, to.y);
    }
    return path.data === "" ? [] : [`<path d="${path.data}" stroke="${xmlText(block.thread.colour)}"/>`];
  });
  return [
    `<g id="jumps" fill="none" stroke-width="${JUMP_LINE_MM}" stroke-dasharray="${JUMP_DASH_MM}">`,
    "<title>Jumps: the needle moves without sewing</title>",
    ...paths,
    "</g>",
  ];
}

/** A cross where the thread is cut, an upright square where it begins again. */
function trims(blocks: readonly ThreadBlock[], corner: PageCorner): string[] {
  const path = new RelativePath();
  const r = toSteps(TRIM_MARK_MM);
  for (const block of blocks) {
    for (const [{ x, y }, to] of movesOf(block, TRIM, corner)) {
      path.moveTo(x - r, y - r);
      path.lineTo(x + r, y + r);
      path.moveTo(x - r, y + r);
      path.lineTo(x + r, y - r);
      path.moveTo(to.x - r, to.y - r);
      path.lineTo(to.x + r, to.y - r);
      path.lineTo(to.x + r, to.y + r);
      path.lineTo(to.x - r, to.y + r);
      path.lineTo(to.x - r, to.y - r);
    }
  }
  return [
    `<g id="trims" fill="none" stroke="${TRIM_COLOUR}" stroke-width="${JUMP_LINE_MM}">`,
    "<title>Trims: a cross where the thread is cut, a square where it begins again</title>",
    ...(path.data === "" ? [] : [`<path d="${path.data}"/>`]),
    "</g>",
  ];
}

/** Moves of one kind within a block, on the page. */
function* movesOf(
  { x, y, kind }: ThreadBlock,
  wanted: number,
  corner: PageCorner,
): Iterable<readonly [Point, Point]> {
  const at = (i: number): Point => ({
    x: toSteps((x[i] ?? Number.NaN) - corner.left),
    y: toSteps(corner.top - (y[i] ?? Number.NaN)),
  });
  for (let i = 1; i < x.length; i++) if (kind[i] === wanted) yield [at(i - 1), at(i)];
}

function mm(value: number): string {
  return formatNumber(value, DECIMALS);
}
