/**
 * Where an under-strand comes down to a crossing: from full height to the edge of the strand
 * that passes over it.
 */
import {
  crossingCount,
  crossingOf,
  edgeCurve,
  type HalfEdge,
  halfEdge,
  isOver,
  type KnotDiagram,
  nextSlot,
  twin,
} from "../../diagram/knot-diagram.ts";
import {
  type ArcChain,
  chainLength,
  chainPart,
  placeAtLength,
  segmentsOf,
} from "../../geometry/arc-chain.ts";
import { along, cross, dot, leftOf, type Point, type Vec } from "../../geometry/point.ts";
import { directionAt, segmentPoint, startDirection } from "../../geometry/segment.ts";

export interface Slope {
  /** Leaves the crossing along the under-strand. */
  readonly half: HalfEdge;
  /** The under-strand's centreline, from the crossing on. */
  readonly centreline: ArcChain;
  /** Along it: where the over-strand's edge lies, and where full height is reached, mm. */
  readonly low: number;
  readonly high: number;
  /** How much further along the over-strand's edge lies for each mm to the left, where strands cross at a slant. */
  readonly slant: number;
}

/** The slope at each end of every under-strand, as long as asked or as there is room for. */
export function slopesOf(diagram: KnotDiagram, widthMm: number, runMm: number): Slope[] {
  const slopes: Slope[] = [];
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    for (let slot = 0; slot < 4; slot++) {
      const half = halfEdge(crossing, slot);
      if (!isOver(diagram, half)) slopes.push(slopeAt(diagram, half, widthMm, runMm));
    }
  }
  return slopes;
}

export function slopeRun({ low, high }: Slope): number {
  return high - low;
}

function slopeAt(diagram: KnotDiagram, half: HalfEdge, widthMm: number, runMm: number): Slope {
  const centreline = edgeCurve(diagram, half);
  const { hidden, slant } = hiddenAt(diagram, half, widthMm);
  const there = twin(diagram, half);
  const end = chainLength(centreline) - hiddenAt(diagram, there, widthMm).hidden;
  // Full height before it passes over another; two slopes towards each other share the room.
  const room = isOver(diagram, there) ? end - hidden : (end - hidden) / 2;
  return { half, centreline, low: hidden, high: hidden + Math.max(0, Math.min(runMm, room)), slant };
}

/** How much of a centreline lies under, or over, the other strand at its crossing: half a width over the sine of their angle. */
function hiddenAt(
  diagram: KnotDiagram,
  half: HalfEdge,
  widthMm: number,
): { readonly hidden: number; readonly slant: number } {
  const own = directionOf(diagram, half);
  const other = directionOf(diagram, nextSlot(half));
  const sine = Math.abs(cross(own, other));
  return { hidden: widthMm / 2 / sine, slant: dot(own, other) / sine };
}

function directionOf(diagram: KnotDiagram, half: HalfEdge): Vec {
  const first = segmentsOf(edgeCurve(diagram, half))[0];
  return first ? startDirection(first) : { x: 0, y: 0 };
}

/** The point so far along the slope's centreline (counted from the crossing) and so far to the left of it. */
export function pointOnSlope({ centreline }: Slope, alongMm: number, leftMm: number): Point {
  const { segment, t } = placeAtLength(centreline, alongMm);
  return along(segmentPoint(segment, t), leftOf(directionAt(segment, t)), leftMm);
}

/** The centrelines of visible ribbon between slopes: from where full height is reached to where it is left. */
export function levelCentrelines(diagram: KnotDiagram, slopes: readonly Slope[]): ArcChain[] {
  const highs = new Map(slopes.map((slope) => [slope.half, slope.high]));
  const lines: ArcChain[] = [];
  for (let half = 0; half < diagram.twin.length; half++) {
    const there = twin(diagram, half);
    if (there < half) continue;
    const curve = edgeCurve(diagram, half);
    const from = highs.get(half) ?? 0;
    const to = chainLength(curve) - (highs.get(there) ?? 0);
    if (to > from) lines.push(chainPart(curve, from, to));
  }
  return [...lines, ...diagram.loops];
}

/** The crossing that a slope comes down to. */
export function slopeCrossing({ half }: Slope): number {
  return crossingOf(half);
}
