/** Where a column ends beneath an over-strand, however that strand is bent. */
import {
  type CrossingId,
  crossingOf,
  edgeCurve,
  type HalfEdge,
  halfEdge,
  type KnotDiagram,
  opposite,
  twin,
} from "../../diagram/knot-diagram.ts";
import {
  type ArcChain,
  chainLength,
  chainPart,
  joinChains,
  mergeStraights,
  reverseChain,
} from "../../geometry/arc-chain.ts";
import { between, cross, distance, minus, type Point, type Vec } from "../../geometry/point.ts";
import type { Line } from "./column-corner.ts";
import { rungAcross } from "./ladder.ts";
import { nearestAlong, placeOn, type RuledChain, ruleChain } from "./ruled-chain.ts";

/** How far a point lies from the over-strand's centreline, negative beyond it. */
export type DepthField = (point: Point) => number;

export interface ColumnEnd {
  readonly crossing: CrossingId;
  /** Whether the column begins there. */
  readonly isStart: boolean;
  readonly depth: DepthField;
  /** The depth at which rungs are cut. */
  readonly leastDepthMm: number;
  /** The centreline's place at which the column ends, and at which it is clear of the over-strand's edge. */
  readonly cutMm: number;
  readonly clearMm: number;
}

/** The over-strand's centreline through a crossing, `reachMm` to both sides. */
function overThrough(diagram: KnotDiagram, crossing: CrossingId, reachMm: number): RuledChain {
  const ahead = halfEdge(crossing, diagram.over[crossing] ?? 0);
  const before = reverseChain(overFrom(diagram, opposite(ahead), reachMm));
  const after = overFrom(diagram, ahead, reachMm);
  return ruleChain(mergeStraights(joinChains([before, after], false)));
}

/** An edge that comes back to its own crossing turns into the strand beneath: half of it lies above. */
function overFrom(diagram: KnotDiagram, half: HalfEdge, reachMm: number): ArcChain {
  const curve = edgeCurve(diagram, half);
  const isLoop = crossingOf(twin(diagram, half)) === crossingOf(half);
  return chainPart(curve, 0, isLoop ? Math.min(reachMm, chainLength(curve) / 2) : reachMm);
}

/** Depth seen by a strand that leaves the crossing beneath `over` in the direction `leaving`. */
function depthBeside(over: RuledChain, at: Point, leaving: Vec): DepthField {
  const here = nearestAlong(over, at);
  const side = cross(here.direction, leaving) > 0 ? 1 : -1;
  const [only, ...more] = over.segments;
  if (only && more.length === 0 && only.bulge === 0)
    return (point) => side * cross(here.direction, minus(point, here.point));
  return (point) => {
    const near = nearestAlong(over, point);
    const left = cross(near.direction, minus(point, near.point)) > 0;
    return left === side > 0 ? near.distanceMm : -near.distanceMm;
  };
}

/** Rungs are looked at in so many places, and cut to within a 4000th of the space between. */
const PLACES = 8;
const HALVINGS = 12;

/** The longest part of a line that lies at least `least` deep, or undefined where none does. */
export function keptPart(line: Line, depth: DepthField, least: number): Line | undefined {
  const at = (t: number) => between(line.left, line.right, t);
  const isKept = (t: number) => depth(at(t)) >= least;
  const kept = Array.from({ length: PLACES + 1 }, (_, i) => isKept(i / PLACES));
  let best: readonly [number, number] | undefined;
  for (let from = 0; from <= PLACES; from++) {
    if (!kept[from]) continue;
    let to = from;
    while (kept[to + 1]) to++;
    if (!best || to - from > best[1] - best[0]) best = [from, to];
    from = to;
  }
  if (!best) return undefined;
  const [from, to] = best;
  if (from === 0 && to === PLACES) return line;
  return {
    left: from === 0 ? line.left : at(lastTrue(from / PLACES, (from - 1) / PLACES, isKept)),
    right: to === PLACES ? line.right : at(lastTrue(to / PLACES, (to + 1) / PLACES, isKept)),
  };
}

/** Halves the way from `yes`, where a law holds, to `no`, where it does not. */
function lastTrue(yes: number, no: number, holds: (t: number) => boolean, halvings = HALVINGS): number {
  let [good, bad] = [yes, no];
  for (let i = 0; i < halvings; i++) {
    const middle = (good + bad) / 2;
    if (holds(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

export interface EndQuestion {
  readonly diagram: KnotDiagram;
  readonly centreline: RuledChain;
  /** Whether the column begins or ends there. */
  readonly end: "start" | "end";
  readonly crossing: CrossingId;
  readonly widthMm: number;
  /** Of the over-strand as drawn. */
  readonly ribbonMm: number;
  /** How far from the over-strand's centreline the column ends. */
  readonly leastDepthMm: number;
  /** A rung this short is none. */
  readonly leastLengthMm: number;
}

/** Strides along the centreline to a width, then halved down to a millionth of a stride. */
const STRIDES = 4;
const END_HALVINGS = 20;
/** Over-strands are followed this many widths to both sides of a crossing. */
const REACH = 4;

/**
 * The column is cut along a line beside the over-strand's centreline. It begins where the first
 * rung of some length fits, but never beyond the crossing: there the next column of its own strand
 * begins, and what a slanting cut leaves out beyond lies beneath the over-strand anyhow.
 */
export function findEnd(question: EndQuestion): ColumnEnd {
  const { diagram, centreline, crossing, widthMm, ribbonMm, leastDepthMm, leastLengthMm } = question;
  const { lengthMm } = centreline;
  const isStart = question.end === "start";
  const over = overThrough(diagram, crossing, REACH * widthMm);
  const { point, direction } = placeOn(centreline, isStart ? 0 : lengthMm);
  const leaving = isStart ? direction : { x: -direction.x, y: -direction.y };
  const depth = depthBeside(over, point, leaving);
  const placeAt = (inward: number) => (isStart ? inward : lengthMm - inward);
  const rungAt = (inward: number) => rungAcross(centreline, placeAt(inward), widthMm);
  const hasRung = (inward: number) => {
    const kept = keptPart(rungAt(inward), depth, leastDepthMm);
    return kept !== undefined && distance(kept.left, kept.right) >= leastLengthMm;
  };
  const isClear = (inward: number) => {
    const rung = rungAt(inward);
    return keptPart(rung, depth, ribbonMm / 2) === rung;
  };
  // In strides, for a bent over-strand may come near again further on.
  const stride = widthMm / STRIDES;
  const firstWhere = (from: number, holds: (inward: number) => boolean) => {
    if (holds(from)) return from;
    for (let at = from + stride; at < lengthMm / 2; at += stride)
      if (holds(at)) return lastTrue(at, at - stride, holds, END_HALVINGS);
    return Math.max(from, lengthMm / 2);
  };
  const cut = firstWhere(0, hasRung);
  const clear = firstWhere(cut, isClear);
  return { crossing, isStart, depth, leastDepthMm, cutMm: placeAt(cut), clearMm: placeAt(clear) };
}
