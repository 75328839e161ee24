/** Random curves for property tests. */
import fc from "fast-check";
import type { ArcChain, Vertex } from "../../src/geometry/arc-chain.ts";
import { segmentsOf, signedArea } from "../../src/geometry/arc-chain.ts";
import type { Segment } from "../../src/geometry/segment.ts";
import { selfMeets } from "../../src/geometry/self-meets.ts";

/** Numbers to six decimals: finer ones are told apart by no machine, and shrink without end. */
export const millionths = (min: number, max: number) =>
  fc.integer({ min: Math.round(min * 1e6), max: Math.round(max * 1e6) }).map((count) => count / 1e6);

/** Points round the origin at random reaches, joined by lines and arcs; counter-clockwise, never crossing itself. */
export function starChain(): fc.Arbitrary<ArcChain> {
  const corner = fc.record({
    share: millionths(0.2, 1),
    reach: millionths(3, 10),
    bulge: fc.oneof(fc.constant(0), millionths(0.01, 0.6), millionths(-0.6, -0.01)),
  });
  return fc
    .array(corner, { minLength: 3, maxLength: 12 })
    .map((corners): ArcChain => {
      const total = corners.reduce((sum, { share }) => sum + share, 0);
      let angle = 0;
      const vertices = corners.map(({ share, reach, bulge }): Vertex => {
        const vertex = { x: reach * Math.cos(angle), y: reach * Math.sin(angle), bulge };
        angle += (2 * Math.PI * share) / total;
        return vertex;
      });
      return { closed: true, vertices };
    })
    .filter((chain) => signedArea(chain) > 1 && selfMeets(segmentsOf(chain), true).length === 0);
}

/** Lines and arcs in a 20 mm square, none shorter than 0.1 mm. */
export function segment(): fc.Arbitrary<Segment> {
  const point = fc.record({ x: millionths(-10, 10), y: millionths(-10, 10) });
  return fc
    .record({
      from: point,
      to: point,
      bulge: fc.oneof(fc.constant(0), millionths(0.05, 1), millionths(-1, -0.05)),
    })
    .filter(({ from, to }) => Math.hypot(to.x - from.x, to.y - from.y) > 0.1);
}
