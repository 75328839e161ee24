/** Arc chains as many short chords, for readers that know no arcs. */
import { type ArcChain, segmentsOf } from "../../src/geometry/arc-chain.ts";
import type { Point } from "../../src/geometry/point.ts";
import { arcOf, segmentPoint } from "../../src/geometry/segment.ts";

/**
 * The corners of a chain whose arcs are replaced by inscribed chords that stray from them by at
 * most `error` mm: e = r (1 - cos(step/2)).
 */
export function chorded(chain: ArcChain, error: number): Point[] {
  const points: Point[] = [];
  for (const segment of segmentsOf(chain)) {
    let parts = 1;
    if (segment.bulge !== 0) {
      const { radius, sweep } = arcOf(segment);
      const step = 2 * Math.acos(Math.max(0, 1 - error / radius));
      parts = Math.max(1, Math.ceil(Math.abs(sweep) / step));
    }
    for (let i = 0; i < parts; i++) points.push(segmentPoint(segment, i / parts));
  }
  const last = segmentsOf(chain).at(-1);
  if (!chain.closed && last) points.push(last.to);
  return points;
}

/** `count` points spread over every segment, ends left out. */
export function samplesOf(chain: ArcChain, count: number): Point[] {
  return segmentsOf(chain).flatMap((segment) =>
    Array.from({ length: count }, (_, i) => segmentPoint(segment, (i + 0.5) / count)),
  );
}
