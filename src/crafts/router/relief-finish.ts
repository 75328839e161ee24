/**
 * Finishing of a relief by a ball in parallel lines, to and fro. Where more would come off at once
 * than the ball may cut (beside walls, in inner edges that roughing could not enter) it goes over
 * the place several times, each pass deeper, before it goes on. It stays down from line to line;
 * over stretches that lie at the stock's face it is lifted.
 */

import { scallopHeight } from "./rates.ts";
import { type Detour, detoursBetween } from "./relief-detours.ts";
import { type Finishing, goAlong } from "./relief-follow.ts";
import { FinishingLines, type TipHeight } from "./relief-line.ts";
import { tipAtPlace } from "./relief-reach.ts";
import { finishApart } from "./relief-scallop.ts";
import { type Height, simplifiedHeights } from "./relief-simplify.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

/**
 * The ball keeps this share of the tolerance away from the surface, and straight moves may miss the
 * tip's way by as much: together they leave the surface whole. Both are square to the way, so they
 * count for more where it is steep, up to a limit.
 */
const CLEAR_SHARE = 0.25;
const GIVE_SHARE = 0.25;
const MOST_STEEP = 4;

/** Nothing is cut where the tip stays above this. */
const AT_FACE_MM = 1e-4;

/** Stretches at the face shorter than this many ball diameters are crossed without lifting. */
const SHORT_LIFT = 2;

/** Places that need several passes and lie closer than this share of the ball's diameter are done together. */
const TOGETHER = 0.5;

export function finish(finishing: Finishing): void {
  const { ball, settings, field, stock, maker } = finishing;
  const height = field.rows * field.stepMm;
  const count = Math.max(1, Math.ceil(height / finishApart(ball, settings.scallopMm) - 1e-9));
  const lines = new FinishingLines(
    field,
    stock,
    ball.shape.diameterMm / 2,
    CLEAR_SHARE * settings.toleranceMm,
  );
  const lineY = (i: number) => field.minY + (height * i) / count;
  let forward = true;
  let next = lines.heightsAt(lineY(0));
  for (let i = 0; i <= count; i++) {
    const y = lineY(i);
    const heights = lines.touching(next, y);
    if (i < count) next = lines.heightsAt(lineY(i + 1));
    const detours =
      i < count
        ? detoursBetween({
            lines,
            field,
            from: heights,
            to: next,
            y,
            apart: height / count,
            toleranceMm: settings.toleranceMm,
          })
        : [];
    const pieces = cutPieces(heights, detours, finishing);
    if (!forward) for (const list of [heights, pieces, ...pieces]) list.reverse();
    for (const [j, piece] of pieces.entries()) {
      const linked = j === 0 && stepOver(finishing, heights, piece, y);
      if (!linked) comeDown(finishing, piece, y);
      followPiece(finishing, { lines, piece, y, detours, forward });
    }
    if (pieces.length > 0) forward = !forward;
  }
  maker.retract();
}

/** The stretches of a line that lie below the stock's face, and those with lines between it and the next. */
function cutPieces(
  heights: readonly TipHeight[],
  detours: readonly Detour[],
  { ball, settings }: Finishing,
): TipHeight[][] {
  const shortMm = SHORT_LIFT * ball.shape.diameterMm;
  const clearMm = CLEAR_SHARE * settings.toleranceMm;
  const spans: [from: number, to: number][] = [];
  let detour = 0;
  for (const [i, { at, z }] of heights.entries()) {
    while ((detours[detour]?.to ?? Number.POSITIVE_INFINITY) < at) detour++;
    if (z >= clearMm - AT_FACE_MM && at < (detours[detour]?.from ?? Number.POSITIVE_INFINITY)) continue;
    const from = Math.max(0, i - 1);
    const to = Math.min(heights.length - 1, i + 1);
    const last = spans.at(-1);
    const end = last && heights[last[1]];
    if (last && end && at - end.at <= shortMm) last[1] = to;
    else spans.push([from, to]);
  }
  return spans.map(([from, to]) => heights.slice(from, to + 1));
}

/**
 * From the end of the last line straight over to this one and along it to where it begins, where
 * that is near; whether it did.
 */
function stepOver(
  finishing: Finishing,
  heights: readonly TipHeight[],
  piece: readonly TipHeight[],
  y: number,
): boolean {
  const { maker, ball, settings } = finishing;
  const { at } = maker;
  const [first] = piece;
  const near = SHORT_LIFT * ball.shape.diameterMm;
  if (!first || at.z > settings.toleranceMm || Math.abs(y - at.y) > near || Math.abs(first.at - at.x) > near)
    return false;
  const begin = heights.indexOf(first);
  const arrive = nearestHeight(heights, at.x);
  const way = arrive <= begin ? heights.slice(arrive, begin) : heights.slice(begin, arrive + 1).reverse();
  const free = [...way, first].map(overStock);
  crossOver(finishing, free[0] ?? first, y);
  goAlong(finishing, simplify(free, settings), y);
  return true;
}

/** Where the tip touches what roughing left: from there down the passes begin. */
function overStock({ at, z, touch }: TipHeight): Height {
  return { at, z: Math.max(z, Math.min(0, touch)) };
}

/** Up, straight over to another line, and down to `to`, over all that stands between. */
function crossOver({ maker, ball, field, settings }: Finishing, to: Height, y: number): void {
  const { at } = maker;
  const clear = CLEAR_SHARE * settings.toleranceMm;
  const radius = ball.shape.diameterMm / 2 + clear;
  const steps = Math.ceil(Math.hypot(y - at.y, to.at - at.x) / field.stepMm);
  let top = Math.max(at.z, to.z);
  for (let i = 1; i < steps; i++) {
    const t = i / steps;
    const tip = tipAtPlace(field, radius, at.x + (to.at - at.x) * t, at.y + (y - at.y) * t);
    top = Math.max(top, tip + clear);
  }
  // Between the places looked at the ball may come higher by what it leaves between lines so close.
  const z = top + scallopHeight(radius, field.stepMm);
  maker.lineTo(at.x, at.y, z, ball.feedMmPerMin);
  maker.lineTo(to.at, y, z, ball.feedMmPerMin);
}

function nearestHeight(heights: readonly TipHeight[], x: number): number {
  let nearest = 0;
  for (const [i, { at }] of heights.entries())
    if (Math.abs(at - x) < Math.abs((heights[nearest]?.at ?? at) - x)) nearest = i;
  return nearest;
}

/** Down to where the piece begins; where stock stands there, in a ramp along the piece and back. */
function comeDown(finishing: Finishing, piece: readonly TipHeight[], y: number): void {
  const { maker, ball, settings } = finishing;
  const [first] = piece;
  if (!first) return;
  const top = Math.min(0, Math.max(first.z, first.touch));
  maker.rapidOver(first.at, y, Math.min(settings.approachMm, top + settings.approachMm));
  if (settings.plungeAllowed || top - first.z <= settings.roughAllowanceMm) {
    maker.lineTo(first.at, y, first.z, ball.plungeMmPerMin);
    return;
  }
  const fall = Math.tan((settings.rampDeg * Math.PI) / 180);
  const ramp: TipHeight[] = [];
  for (const height of piece) {
    const z = top - Math.abs(height.at - first.at) * fall;
    ramp.push({ ...height, z: Math.max(z, height.z) });
    if (z <= height.z) break;
  }
  goAlong(finishing, simplify(ramp, settings), y);
  goAlong(finishing, simplify(piece.slice(0, ramp.length).reverse(), settings), y);
}

interface Following {
  readonly lines: FinishingLines;
  readonly piece: readonly TipHeight[];
  readonly y: number;
  readonly detours: readonly Detour[];
  readonly forward: boolean;
}

/** Along the piece; at the far end of each wall back and forth on the lines between, then on. */
function followPiece(finishing: Finishing, { lines, piece, y, detours, forward }: Following): void {
  const way = forward ? 1 : -1;
  const inOrder = forward ? detours : detours.toReversed();
  let begin = 0;
  for (const detour of inOrder) {
    const far = forward ? detour.to : detour.from;
    const end = piece.findIndex(({ at }) => way * (at - far) >= 0);
    if (end < begin || way * ((piece[begin]?.at ?? far) - far) > 0) continue;
    const part = piece.slice(begin, end + 1);
    followLine(finishing, part, y);
    lines.carve(part, y);
    for (const [i, line] of detour.lines.entries()) {
      const turned = (i % 2 === 0) === forward ? line.heights.toReversed() : line.heights;
      const heights = lines.touching(turned, line.y);
      const [first] = heights;
      if (first) crossOver(finishing, overStock(first), line.y);
      followLine(finishing, heights, line.y);
      lines.carve(heights, line.y);
    }
    const back = piece[end];
    if (back) crossOver(finishing, back, y);
    begin = end;
  }
  const rest = piece.slice(begin);
  followLine(finishing, rest, y);
  lines.carve(rest, y);
}

function followLine(finishing: Finishing, heights: readonly TipHeight[], y: number): void {
  for (const pass of passesAlong(heights, finishing.ball))
    goAlong(finishing, simplify(pass, finishing.settings), y);
}

/** The piece as ways that do not turn round: once along it, to and fro where more stands than the ball may cut at once. */
function passesAlong(piece: readonly TipHeight[], { stepDownMm, shape }: LoadedCutter): TipHeight[][] {
  const passes: TipHeight[][] = [];
  let done = 0;
  for (const [from, to] of deepSpans(piece, stepDownMm, TOGETHER * shape.diameterMm)) {
    const span = piece.slice(from, to + 1);
    const deepest = span.reduce((most, { z, touch }) => Math.max(most, touch - z), 0);
    // An odd number of passes, so that the last one leads on.
    const count = 2 * Math.floor(Math.ceil(deepest / stepDownMm - 1e-6) / 2) + 1;
    const level = (pass: number) =>
      span.map((height) => ({ ...height, z: Math.max(height.z, height.touch - (deepest * pass) / count) }));
    passes.push([...piece.slice(done, from), ...level(1)]);
    for (let pass = 2; pass < count; pass++)
      passes.push(pass % 2 === 0 ? level(pass).reverse() : level(pass));
    done = from;
  }
  passes.push(piece.slice(done));
  return passes;
}

/** Where more than `most` would come off at once. */
function deepSpans(
  piece: readonly TipHeight[],
  most: number,
  togetherMm: number,
): [from: number, to: number][] {
  const spans: [from: number, to: number][] = [];
  for (const [i, { at, z, touch }] of piece.entries()) {
    if (touch - z <= most) continue;
    const last = spans.at(-1);
    const end = last && piece[last[1]];
    if (last && end && Math.abs(at - end.at) <= togetherMm) last[1] = i;
    else spans.push([i, i]);
  }
  return spans;
}

function simplify(heights: readonly Height[], { toleranceMm }: ReliefSettings): Height[] {
  return simplifiedHeights(
    heights.map(({ at, z }, i) => {
      const weight = Math.min(
        MOST_STEEP,
        Math.max(lengthOverRun(heights[i - 1], heights[i]), lengthOverRun(heights[i], heights[i + 1])),
      );
      return { at, z, give: GIVE_SHARE * toleranceMm * weight };
    }),
  );
}

/** Length of a stretch for each mm along the line: 1 where it is level. */
function lengthOverRun(from: Height | undefined, to: Height | undefined): number {
  if (!from || !to) return 1;
  const run = to.at - from.at;
  const rise = to.z - from.z;
  return rise === 0 ? 1 : Math.sqrt(run * run + rise * rise) / Math.abs(run);
}
