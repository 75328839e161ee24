/** Drawn curves -> closed strands of lines and arcs, with the lower left corner of them all at 0, 0. */
import { done, type Fault, type Result } from "../base/fault.ts";
import { FIT_ERROR_MM, JOIN_ENDS_MM, SAME_POINT_MM } from "../base/tolerance.ts";
import { boundsOf, mergeBounds } from "../geometry/bounds.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { fitArcs } from "../geometry/fit-arcs.ts";
import { along, distance, type Point, type Vec } from "../geometry/point.ts";
import { reverseSegment, type Segment, segmentBounds } from "../geometry/segment.ts";
import type { DrawnCurve } from "./svg-curves.ts";

export interface StrandSegment extends Segment {
  /** The line of the file on which the element stands that drew it. */
  readonly line: number;
}

/** A closed curve: each segment begins where the one before ended, the first where the last did. */
export type DrawnStrand = readonly StrandSegment[];

interface Piece {
  readonly closed: boolean;
  readonly segments: readonly StrandSegment[];
}

/** Segments shorter than this go, and their neighbours meet: ten times what counts as one point. */
export const SLIVER_MM = 10 * SAME_POINT_MM;

/**
 * Open curves whose ends lie within JOIN_ENDS_MM of each other become one strand.
 *
 * Faults, in mm from the lower left corner: `strand-open`, `strand-branch` (each with its line), `drawing-empty`.
 */
export function drawnStrands(curves: readonly DrawnCurve[]): Result<readonly DrawnStrand[]> {
  const pieces = movedToOrigin(curves.map(fitted).filter(({ segments }) => segments.length > 0));
  const open = pieces.filter(({ closed }) => !closed);
  const joined = joinOpen(open);
  if (!joined.ok) return joined;
  const strands = [...pieces.filter(({ closed }) => closed), ...joined.value].flatMap(({ segments }) => {
    const closed = closedUp(segments);
    return closed.length > 1 ? [closed] : [];
  });
  return strands.length > 0 ? done(strands) : { ok: false, faults: [{ code: "drawing-empty" }] };
}

function fitted({ closed, curves, line }: DrawnCurve): Piece {
  const segments = curves.flatMap((curve) => fitArcs(curve, FIT_ERROR_MM).map((part) => ({ ...part, line })));
  return { closed, segments: withoutSlivers(segments) };
}

function movedToOrigin(pieces: readonly Piece[]): Piece[] {
  const { minX, minY } = mergeBounds(pieces.flatMap(({ segments }) => segments.map(segmentBounds)));
  const by: Vec = { x: -minX, y: -minY };
  return pieces.map(({ closed, segments }) => ({
    closed,
    segments: segments.map((part) => ({ ...part, from: along(part.from, by), to: along(part.to, by) })),
  }));
}

/** Each segment then begins exactly where the one before ends. */
function withoutSlivers(segments: readonly StrandSegment[]): StrandSegment[] {
  const kept: StrandSegment[] = [];
  let at = segments[0]?.from;
  for (const part of segments) {
    if (!at || distance(at, part.to) <= SLIVER_MM) continue;
    kept.push({ ...part, from: at });
    at = part.to;
  }
  return kept;
}

/**
 * The last segment ends exactly where the first begins. A path closed by its last command may
 * end in a hair's line there, left by rounded numbers: it goes.
 */
function closedUp(segments: readonly StrandSegment[]): DrawnStrand {
  const last = segments.at(-1);
  const first = segments[0];
  if (!first || !last || segments.length < 2) return [];
  const isHair = last.bulge === 0 && distance(last.from, last.to) <= JOIN_ENDS_MM;
  if (isHair && distance(last.to, first.from) <= SLIVER_MM) {
    const rest = segments.slice(0, -1);
    if (rest.length > 1) return closedUp(rest);
  }
  return [...segments.slice(0, -1), { ...last, to: first.from }];
}

/** Ends are numbered 2 x piece for its start and 2 x piece + 1 for its end. */
function joinOpen(pieces: readonly Piece[]): Result<readonly Piece[]> {
  const ends = pieces.flatMap(({ segments }, piece) => {
    const first = segments[0];
    const last = segments.at(-1);
    return first && last ? [endAt(first.from, first, piece), endAt(last.to, last, piece)] : [];
  });
  const index = new BoxIndex(ends.map(({ at }) => boundsOf([at])));
  const partners = ends.map(({ at }, end) =>
    index
      .near(boundsOf([at]), JOIN_ENDS_MM)
      .filter((other) => other !== end && distance(at, ends[other]?.at ?? at) <= JOIN_ENDS_MM),
  );
  const faults = ends.flatMap(({ at, line }, end): Fault[] => {
    const others = partners[end] ?? [];
    const place = { xMm: at.x, yMm: at.y, line };
    if (others.length === 0) return [{ code: "strand-open", ...place, joinMm: JOIN_ENDS_MM }];
    return others.length > 1 && others.every((other) => other > end)
      ? [{ code: "strand-branch", ...place }]
      : [];
  });
  if (faults.length > 0) return { ok: false, faults };
  return done(walkEnds(pieces, (end) => partners[end]?.[0] ?? end));
}

function endAt(at: Point, { line }: StrandSegment, piece: number) {
  return { at, line, piece };
}

function walkEnds(pieces: readonly Piece[], partnerOf: (end: number) => number): Piece[] {
  const used = new Set<number>();
  return pieces.flatMap((_, start) => {
    const segments: StrandSegment[] = [];
    let end = 2 * start;
    while (!used.has(end >> 1)) {
      used.add(end >> 1);
      const own = pieces[end >> 1]?.segments ?? [];
      segments.push(...(end % 2 === 0 ? own : reversed(own)));
      end = partnerOf(end ^ 1);
    }
    return segments.length > 0 ? [{ closed: true, segments: withoutSlivers(segments) }] : [];
  });
}

function reversed(segments: readonly StrandSegment[]): StrandSegment[] {
  return segments.map((part) => ({ ...reverseSegment(part), line: part.line })).reverse();
}
