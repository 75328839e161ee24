/**
 * Lines divided into stitches: a hole at each corner, and between corners stitches of even length,
 * shorter in bends, so that none strays far from the line.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { distance, type Point, turnBetween } from "../../geometry/point.ts";
import {
  arcOf,
  endDirection,
  type Segment,
  segmentLength,
  segmentPoint,
  startDirection,
} from "../../geometry/segment.ts";

export interface StitchRule {
  /** No stitch is longer, unless the next even division were shorter than the least. */
  readonly stitchMm: number;
  /** In bends stitches are shortened, but not below this. */
  readonly tightStitchMm: number;
  /** No stitch is shorter. */
  readonly leastMm: number;
  /** How far a stitch may cut a bend, where that needs none below `tightStitchMm`. */
  readonly strayMm: number;
}

/** Of the thread's width: a stitch that cuts a bend by more shows as a corner. */
const STRAY_SHARE = 0.1;

/** The rule of a running line, whose bends are to look smooth. */
export function runningRule(
  stitchMm: number,
  settings: {
    readonly runStitchTightMm: number;
    readonly leastStitchMm: number;
    readonly threadWidthMm: number;
  },
): StitchRule {
  return {
    stitchMm,
    tightStitchMm: Math.min(stitchMm, settings.runStitchTightMm),
    leastMm: settings.leastStitchMm,
    strayMm: settings.threadWidthMm * STRAY_SHARE,
  };
}

/** A lesser turn is a joint of a smooth line, and gets no hole of its own. */
const CORNER_RAD = Math.PI / 36;

/**
 * The holes along a line, both ends of an open one among them; a closed one does not repeat its
 * first. Where corners lie closer than the least stitch, only one of them gets its hole. A line
 * shorter than one least stitch has no holes at all.
 */
export function divideLine(chain: ArcChain, rule: StitchRule): Point[] {
  const stretches = joinShort(stretchesOf(chain), chain.closed, rule.leastMm);
  const holes: Point[] = [];
  for (const stretch of stretches) holes.push(...divideStretch(stretch, rule));
  const first = stretches[0]?.[0]?.from;
  const last = stretches.at(-1)?.at(-1)?.to;
  if (!first || !last || holes.length === 0) return [];
  if (!chain.closed) holes.push(last);
  return holes.length > 1 ? holes : [];
}

type Stretch = readonly Segment[];

/** From corner to corner; a closed line begins at its first corner, where it has one. */
function stretchesOf(chain: ArcChain): Stretch[] {
  const segments = segmentsOf(chain);
  const isCorner = (i: number): boolean => {
    const before = segments[i === 0 && chain.closed ? segments.length - 1 : i - 1];
    const after = segments[i];
    if (!before || !after) return false;
    return Math.abs(turnBetween(endDirection(before), startDirection(after))) > CORNER_RAD;
  };
  const first = chain.closed
    ? Math.max(
        0,
        segments.findIndex((_, i) => isCorner(i)),
      )
    : 0;
  const stretches: Segment[][] = [];
  for (let step = 0; step < segments.length; step++) {
    const i = (first + step) % segments.length;
    const segment = segments[i];
    if (!segment) continue;
    if (step === 0 || isCorner(i)) stretches.push([segment]);
    else stretches.at(-1)?.push(segment);
  }
  return stretches;
}

/** Stretches shorter than the least stitch become part of the one before, the first of the one after it. */
function joinShort(stretches: readonly Stretch[], closed: boolean, leastMm: number): Stretch[] {
  const joined: Stretch[] = [];
  for (const stretch of stretches) {
    const before = joined.at(-1);
    if (before && (lengthOf(stretch) < leastMm || lengthOf(before) < leastMm))
      joined[joined.length - 1] = [...before, ...stretch];
    else joined.push(stretch);
  }
  const [first, second] = joined;
  const last = joined.at(-1);
  if (closed && first && last && second && lengthOf(last) < leastMm)
    return [[...last, ...first], ...joined.slice(1, -1)];
  return joined;
}

function lengthOf(stretch: Stretch): number {
  return stretch.reduce((sum, segment) => sum + segmentLength(segment), 0);
}

/** The start of each stitch of a stretch. */
function divideStretch(stretch: Stretch, rule: StitchRule): Point[] {
  const lengthMm = lengthOf(stretch);
  const first = stretch[0];
  const end = stretch.at(-1)?.to;
  if (!first || !end || lengthMm < rule.leastMm - SAME_POINT_MM) return [];
  // Each segment counts as so many stitches, not whole ones.
  const counts = stretch.map((segment) => segmentLength(segment) / stitchOn(segment, rule));
  const wanted = Math.ceil(counts.reduce((sum, count) => sum + count, 0) - SAME_POINT_MM);
  let count = Math.max(1, Math.min(wanted, Math.floor(lengthMm / rule.leastMm + SAME_POINT_MM)));
  // Chords of a bend are shorter than it is.
  for (; count > 1; count--) {
    const starts = startsOf(stretch, counts, count);
    const shortest = starts.reduce(
      (least, point, i) => Math.min(least, distance(point, starts[i + 1] ?? end)),
      lengthMm,
    );
    if (shortest >= rule.leastMm - SAME_POINT_MM) return starts;
  }
  return [first.from];
}

/** A chord of length s cuts a bend of radius r by about s squared / 8 r. */
function stitchOn(segment: Segment, { stitchMm, tightStitchMm, strayMm }: StitchRule): number {
  if (segment.bulge === 0) return stitchMm;
  const unstraying = Math.sqrt(8 * arcOf(segment).radius * strayMm);
  return Math.min(stitchMm, Math.max(tightStitchMm, unstraying));
}

/** Places at even shares of all that the segments count. */
function startsOf(stretch: Stretch, counts: readonly number[], count: number): Point[] {
  const total = counts.reduce((sum, own) => sum + own, 0);
  const starts: Point[] = [];
  let passed = 0;
  for (const [i, segment] of stretch.entries()) {
    const own = counts[i] ?? 0;
    const isLast = i === stretch.length - 1;
    while (starts.length < count) {
      const at = (starts.length * total) / count - passed;
      if (at >= own && !isLast) break;
      starts.push(segmentPoint(segment, own === 0 ? 0 : Math.min(1, at / own)));
    }
    passed += own;
  }
  return starts;
}
