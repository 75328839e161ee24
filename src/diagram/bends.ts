/** How tightly a diagram's strands bend. */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import type { Point } from "../geometry/point.ts";
import { arcOf, segmentPoint } from "../geometry/segment.ts";
import type { KnotDiagram } from "./knot-diagram.ts";

export interface Bend {
  readonly radiusMm: number;
  /** The middle of the bend. */
  readonly at: Point;
}

/** The tightest arc of all strands, or undefined where none bends. Pointed corners are no bends. */
export function leastBendRadius(diagram: KnotDiagram): Bend | undefined {
  let least: Bend | undefined;
  const look = (curve: ArcChain) => {
    for (const segment of segmentsOf(curve)) {
      if (segment.bulge === 0) continue;
      const { radius } = arcOf(segment);
      // The first of equal ones, whatever the rounding.
      if (!least || radius < least.radiusMm - SAME_POINT_MM)
        least = { radiusMm: radius, at: segmentPoint(segment, 0.5) };
    }
  };
  for (const curve of diagram.curves.values()) look(curve);
  for (const loop of diagram.loops) look(loop);
  return least;
}
