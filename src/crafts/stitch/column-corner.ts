/**
 * How a satin column takes a pointed corner of its centreline.
 *
 * A slight turn is fanned: rungs turn gradually from before the inner point to behind it, over so
 * long a way that holes along the inner edge keep the least spacing; where there is less room,
 * stitches are shortened as in any bend. A
 * sharp turn is mitred: both ladders run on straight and meet on the bisector, each a little
 * past it, for otherwise the join opens. Fanned, a right angle would bring 2 w / spacing rungs of
 * up to 1.4 w to one inner point; mitred, it would turn 45 degrees with two or three stunted
 * rungs. Past the place where mitred rungs would be shorter than the least stitch, the rungs of
 * the first ladder run on over the whole tip (a lapped tip), and those of the second begin behind.
 *
 * Lengths along the outer edge are measured from the tip, where the outer edges meet.
 */
import {
  along,
  cross,
  distance,
  dot,
  minus,
  type Point,
  turnBetween,
  unit,
  type Vec,
} from "../../geometry/point.ts";
import { endDirection, startDirection } from "../../geometry/segment.ts";
import type { RuledChain } from "./ruled-chain.ts";

export interface CornerRule {
  /** Of the whole column, pull included. */
  readonly widthMm: number;
  readonly spacingMm: number;
  readonly leastHoleSpacingMm: number;
  /** How far mitred rungs run past the bisector. */
  readonly lapMm: number;
  readonly leastLengthMm: number;
}

export interface Corner {
  readonly at: Point;
  readonly alongMm: number;
  /** Positive to the left. */
  readonly turn: number;
  readonly into: Vec;
  readonly outOf: Vec;
  /** From the corner towards the inner point. */
  readonly inward: Vec;
  /** Along the centreline from the corner to beside the inner point, which is also how far the outer edges run on. */
  readonly needMm: number;
  /** Where the fan begins and ends, along the centreline to both sides of the corner; none for a mitre. */
  readonly fan: { readonly beforeMm: number; readonly afterMm: number } | undefined;
}

/** A smaller turn is no corner: rungs on both sides of it lie apart by less than a thread. */
const LEAST_TURN = Math.PI / 180;
/** Sharper corners are mitred. At 75 degrees the longest rung of a fan is a quarter longer than the column is wide; less than that, and a lapped tip shows as a notch. */
const MOST_FANNED = (75 * Math.PI) / 180;
/** A fan's inner holes lie a little more than the least apart, for the spacing is fitted to the column's length. */
const FAN_EASE = 1.05;
/** Where hole spacing and line spacing are all but one, a fan would never end. */
const MOST_EVEN = 0.8;
/** A spike that is sharper still is cut off where one of this turn would end. */
const SHARPEST = (160 * Math.PI) / 180;

/** The corners between `fromMm` and `toMm` along the centreline, in order. */
export function findCorners(
  centreline: RuledChain,
  fromMm: number,
  toMm: number,
  rule: CornerRule,
): Corner[] {
  const { segments, starts, lengthMm, closed } = centreline;
  const plain: Corner[] = [];
  for (const [i, after] of segments.entries()) {
    const before = segments[i - 1] ?? (closed ? segments.at(-1) : undefined);
    const alongMm = starts[i] ?? 0;
    if (!before || (!closed && (alongMm <= fromMm || alongMm >= toMm))) continue;
    const into = endDirection(before);
    const outOf = startDirection(after);
    const turn = turnBetween(into, outOf);
    if (Math.abs(turn) < LEAST_TURN) continue;
    plain.push({
      at: after.from,
      alongMm,
      turn,
      into,
      outOf,
      inward: unit({ x: outOf.x - into.x, y: outOf.y - into.y }),
      needMm: (rule.widthMm / 2) * Math.tan(Math.min(Math.abs(turn), SHARPEST) / 2),
      fan: undefined,
    });
  }
  return plain.map((corner, i) => {
    const before = plain[i - 1] ?? (closed ? plain.at(-1) : undefined);
    const after = plain[i + 1] ?? (closed ? plain[0] : undefined);
    const roomBefore = before ? corner.alongMm - before.alongMm : corner.alongMm - fromMm;
    const roomAfter = after ? after.alongMm - corner.alongMm : toMm - corner.alongMm;
    const round = closed ? lengthMm : 0;
    return withFan(corner, rule, {
      before: spare(corner, before, roomBefore > 0 ? roomBefore : roomBefore + round),
      after: spare(corner, after, roomAfter > 0 ? roomAfter : roomAfter + round),
    });
  });
}

/** What a corner may take of the straight to its neighbour besides what it needs: half of what both leave. */
function spare(corner: Corner, neighbour: Corner | undefined, room: number): number {
  return neighbour ? (room - corner.needMm - neighbour.needMm) / 2 : room - corner.needMm;
}

function withFan(
  corner: Corner,
  rule: CornerRule,
  room: { readonly before: number; readonly after: number },
): Corner {
  if (Math.abs(corner.turn) > MOST_FANNED || Math.min(room.before, room.after) < 0) return corner;
  const free = Math.min(room.before, room.after);
  const { leastHoleSpacingMm, spacingMm } = rule;
  const even = fanLength(corner.needMm, (FAN_EASE * leastHoleSpacingMm) / spacingMm);
  // A short fan with every second stitch shortened looks better than a long one with all but too little room.
  const wanted = even <= free ? even : fanLength(corner.needMm, leastHoleSpacingMm / 2 / spacingMm);
  return {
    ...corner,
    fan: {
      beforeMm: corner.needMm + Math.min(wanted, room.before),
      afterMm: corner.needMm + Math.min(wanted, room.after),
    },
  };
}

/** How far a fan's inner edge runs to each side, for it to be to the outer one as `ratio`: e : e + 2 need. */
function fanLength(needMm: number, ratio: number): number {
  const held = Math.min(MOST_EVEN, ratio);
  return (2 * needMm * held) / (1 - held);
}

/** Where the inner edges meet, and where the outer ones do. */
export function innerPoint({ at, inward, turn }: Corner, widthMm: number): Point {
  return along(at, inward, widthMm / 2 / Math.cos(Math.min(Math.abs(turn), SHARPEST) / 2));
}

export function outerTip({ at, inward, turn }: Corner, widthMm: number): Point {
  return along(at, inward, -widthMm / 2 / Math.cos(Math.min(Math.abs(turn), SHARPEST) / 2));
}

/** A rung while it is made: whole across the column, then cut. */
export interface Line {
  readonly left: Point;
  readonly right: Point;
}

/** The rung of a ladder cut where it meets the mitre of a corner that the ladder runs to (`before`) or comes from. */
export function mitred(
  line: Line,
  corner: Corner,
  rule: CornerRule,
  side: "before" | "after",
  nextMm: number,
): Line {
  const outer = corner.turn > 0 ? line.right : line.left;
  const inner = corner.turn > 0 ? line.left : line.right;
  // A ladder that bends away comes back to the bisector's line elsewhere.
  if (distance(outer, corner.at) > 2 * (corner.needMm + rule.widthMm)) return line;
  const whole = distance(outer, inner);
  const inwards = unit(minus(inner, outer));
  const steep = cross(inwards, corner.inward);
  if (steep === 0) return line;
  const toBisector = cross(minus(corner.at, outer), corner.inward) / steep;
  if (toBisector < 0) return line;
  let length = toBisector + rule.lapMm;
  if (side === "before") {
    const fromTip = dot(minus(outerTip(corner, rule.widthMm), outer), corner.into);
    length = Math.max(length, lapLength(corner, fromTip, nextMm));
  }
  if (length >= whole) return line;
  const end = along(outer, inwards, length);
  return corner.turn > 0 ? { left: end, right: outer } : { left: outer, right: end };
}

/**
 * How long a rung of the first ladder must be, `fromTip` mm before the tip, to cover the tip up to
 * `nextMm` along the second ladder's outer edge; held inside that edge.
 */
function lapLength({ turn }: Corner, fromTip: number, nextMm: number): number {
  if (fromTip >= nextMm) return 0;
  const opening = Math.PI - Math.min(Math.abs(turn), SHARPEST);
  const toEdge = opening < Math.PI / 2 ? fromTip * Math.tan(opening) : Number.POSITIVE_INFINITY;
  const toNext = (nextMm - fromTip * Math.cos(opening)) / Math.sin(opening);
  return Math.max(0, Math.min(toEdge, toNext));
}

/**
 * How far from the tip, along both outer edges, a lapped tip must reach: there mitred rungs are as
 * long as the least stitch, and so are those that run on over the tip.
 */
export function shortOfTip({ turn }: Corner, { leastLengthMm }: CornerRule): number {
  const opening = Math.PI - Math.min(Math.abs(turn), SHARPEST);
  return leastLengthMm * Math.max(1 / Math.tan(opening / 2), Math.sin(opening));
}
