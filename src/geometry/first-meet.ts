/** Where one open chain first runs into another. */

import { SAME_POINT_MM } from "../base/tolerance.ts";
import type { ArcChain, ChainPlace } from "./arc-chain.ts";
import { segmentsOf } from "./arc-chain.ts";
import { boundsGap } from "./bounds.ts";
import { meet } from "./meet.ts";
import type { Point } from "./point.ts";
import { segmentBounds } from "./segment.ts";

export interface ChainMeet {
  readonly point: Point;
  readonly onA: ChainPlace;
  readonly onB: ChainPlace;
}

/** The meeting point of `a` and `b` that comes first along `a`, or undefined when they do not meet. */
export function firstMeet(a: ArcChain, b: ArcChain): ChainMeet | undefined {
  const others = segmentsOf(b).map((segment) => ({ segment, box: segmentBounds(segment) }));
  for (const [index, segment] of segmentsOf(a).entries()) {
    const box = segmentBounds(segment);
    let first: ChainMeet | undefined;
    for (const [there, other] of others.entries()) {
      if (boundsGap(box, other.box) > SAME_POINT_MM) continue;
      const found = meet(segment, other.segment);
      if (found.kind === "none") continue;
      for (const { point, onA, onB } of found.at) {
        if (first && first.onA.t <= onA) continue;
        first = { point, onA: { index, t: onA }, onB: { index: there, t: onB } };
      }
    }
    if (first) return first;
  }
  return undefined;
}

/** Whether one place on a chain comes before another. */
export function isBefore(a: ChainPlace, b: ChainPlace): boolean {
  return a.index < b.index || (a.index === b.index && a.t < b.t);
}

/** The same place on the chain run the other way. */
export function reversedPlace(chain: ArcChain, { index, t }: ChainPlace): ChainPlace {
  return { index: chain.vertices.length - 2 - index, t: 1 - t };
}
