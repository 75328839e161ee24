/** Sharp points, of parts and of the ground between them. */
import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import { turnBetween } from "../geometry/point.ts";
import { endDirection, startDirection } from "../geometry/segment.ts";
import { type Finding, LeastFinder } from "./judge.ts";

/** The angle at every corner of closed outlines, degrees: of the part where it points out, of the ground where it points in. */
export function measurePoints(outlines: Iterable<ArcChain>, limitDeg: number): Finding {
  const found = new LeastFinder(limitDeg);
  for (const outline of outlines) {
    const segments = segmentsOf(outline);
    for (const [i, segment] of segments.entries()) {
      const next = segments[i + 1] ?? segments[0];
      if (!next) continue;
      const turn = Math.abs(turnBetween(endDirection(segment), startDirection(next)));
      if (turn > SAME_DIRECTION_RAD) found.add(180 - (turn * 180) / Math.PI, segment.to);
    }
  }
  return found.finding;
}
