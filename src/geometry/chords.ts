/** Arc chains as chords, for consumers that cannot take arcs. */
import { type ArcChain, segmentsOf } from "./arc-chain.ts";
import type { Point } from "./point.ts";
import { arcOf, segmentPoint } from "./segment.ts";

/**
 * The corners of a chain whose arcs are replaced by inscribed chords that stray from them by at
 * most `errorMm`: the bow of a chord over the angle a is r (1 - cos(a/2)). The last point of an
 * open chain is among them; a closed one does not repeat its first.
 */
export function chordPoints(chain: ArcChain, errorMm: number): Point[] {
  const points: Point[] = [];
  const segments = segmentsOf(chain);
  for (const segment of segments) {
    const parts = segment.bulge === 0 ? 1 : chordCount(arcOf(segment), errorMm);
    for (let i = 0; i < parts; i++) points.push(segmentPoint(segment, i / parts));
  }
  const last = segments.at(-1);
  if (!chain.closed && last) points.push(last.to);
  return points;
}

function chordCount(
  { radius, sweep }: { readonly radius: number; readonly sweep: number },
  errorMm: number,
): number {
  const step = 2 * Math.acos(Math.max(0, 1 - errorMm / radius));
  return Math.max(1, Math.ceil(Math.abs(sweep) / step));
}
