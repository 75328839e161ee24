/** Where one open chain first, or last, runs into another; chains by their segments, made once for several questions. */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import type { ChainPlace } from "./arc-chain.ts";
import { boundsGap } from "./bounds.ts";
import { meet } from "./meet.ts";
import type { Point } from "./point.ts";
import { type Segment, segmentBounds } from "./segment.ts";

export interface ChainMeet {
  readonly point: Point;
  readonly onA: ChainPlace;
  readonly onB: ChainPlace;
}

/** The meeting point of `a` and `b` that comes first along `a`, or undefined when they do not meet. */
export function firstMeet(a: readonly Segment[], b: readonly Segment[]): ChainMeet | undefined {
  for (let index = 0; index < a.length; index++) {
    const segment = a[index];
    const found = segment && outermostMeet(segment, index, b, -1);
    if (found) return found;
  }
  return undefined;
}

/** The meeting point of `a` and `b` that comes last along `a`, or undefined when they do not meet. */
export function lastMeet(a: readonly Segment[], b: readonly Segment[]): ChainMeet | undefined {
  for (let index = a.length - 1; index >= 0; index--) {
    const segment = a[index];
    const found = segment && outermostMeet(segment, index, b, 1);
    if (found) return found;
  }
  return undefined;
}

/** The meeting point on one segment that lies first (`towards` -1) or last (1) on it. */
function outermostMeet(
  segment: Segment,
  index: number,
  others: readonly Segment[],
  towards: -1 | 1,
): ChainMeet | undefined {
  // Boxes save work only where there is much to leave out.
  const box = others.length > 2 ? segmentBounds(segment) : undefined;
  let best: ChainMeet | undefined;
  for (const [there, other] of others.entries()) {
    if (box && boundsGap(box, segmentBounds(other)) > SAME_POINT_MM) continue;
    const found = meet(segment, other);
    if (found.kind === "none") continue;
    for (const { point, onA, onB } of found.at) {
      if (best && (onA - best.onA.t) * towards <= 0) continue;
      best = { point, onA: { index, t: onA }, onB: { index: there, t: onB } };
    }
  }
  return best;
}

/** Whether one place on a chain comes before another. */
export function isBefore(a: ChainPlace, b: ChainPlace): boolean {
  return a.index < b.index || (a.index === b.index && a.t < b.t);
}
