/** Whether every bend leaves room for the inner edge of the ribbon. */
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import { arcOf, segmentPoint } from "../geometry/segment.ts";
import { type Finding, LeastFinder } from "./judge.ts";

/** The inner edge's radius at every bend, mm: the centreline's less half the width. */
export function measureBends(centrelines: readonly ArcChain[], widthMm: number, limitMm: number): Finding {
  const found = new LeastFinder(limitMm);
  for (const centreline of centrelines) {
    for (const segment of segmentsOf(centreline)) {
      if (segment.bulge !== 0) found.add(arcOf(segment).radius - widthMm / 2, segmentPoint(segment, 0.5));
    }
  }
  return found.finding;
}
