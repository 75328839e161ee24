/**
 * A line of straight legs made smooth by tangent arcs, each leg shared between the corners at
 * its ends in proportion to tan(turn/2), so that a corner's radius is the least of
 * leg / (sum of both ends' tan(turn/2)) over its two legs.
 */
import type { ArcChain } from "./arc-chain.ts";
import { filletPoints } from "./fillet.ts";
import { distance, minus, type Point, turnBetween } from "./point.ts";

/** The filleted open line; points where the direction does not change are no corners. */
export function filletLegs(points: readonly Point[]): ArcChain {
  const takes = points.map((point, i) => {
    const before = points[i - 1];
    const after = points[i + 1];
    return before && after
      ? Math.tan(Math.abs(turnBetween(minus(point, before), minus(after, point))) / 2)
      : 0;
  });
  const radii = points.map((point, i) => {
    const before = points[i - 1];
    const after = points[i + 1];
    const own = takes[i] ?? 0;
    if (!before || !after || own < 1e-12) return 0;
    return Math.min(
      distance(before, point) / ((takes[i - 1] ?? 0) + own),
      distance(point, after) / (own + (takes[i + 1] ?? 0)),
    );
  });
  return filletPoints(points, radii, false);
}
