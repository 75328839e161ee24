/** Whether a point lies inside a closed chain: crossings of a ray to the right, arcs included. */
import { type ArcChain, segmentsOf } from "./arc-chain.ts";
import type { Point } from "./point.ts";
import { arcOf, arcSpans, type Segment } from "./segment.ts";
import { sideOf } from "./side.ts";

export function insideChain(chain: ArcChain, point: Point): boolean {
  let inside = false;
  for (const segment of segmentsOf(chain)) {
    if (crossesRay(segment, point)) inside = !inside;
    // Between an arc and its chord the chord's answer is the wrong one.
    if (segment.bulge !== 0 && inBow(segment, point)) inside = !inside;
  }
  return inside;
}

function crossesRay({ from, to }: Segment, point: Point): boolean {
  if (from.y > point.y === to.y > point.y) return false;
  const side = sideOf(from, to, point);
  return to.y > from.y ? side > 0 : side < 0;
}

function inBow(segment: Segment, point: Point): boolean {
  const { centre, radius } = arcOf(segment);
  return Math.hypot(point.x - centre.x, point.y - centre.y) < radius && arcSpans(segment, point);
}
