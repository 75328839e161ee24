/**
 * A knot diagram: a 4-valent plane map with over and under at every crossing.
 *
 * Each crossing has four slots, numbered 0 to 3 counter-clockwise (y up); slots 0 and 2 are
 * the two ends of one strand, 1 and 3 of the other. A half-edge is a crossing's slot, numbered
 * 4 x crossing + slot; `twin` leads to the other end of its edge. Everything that walks a
 * diagram is made of three moves: `twin`, `opposite` (straight on through the crossing) and
 * `nextSlot` (round the crossing). The lists are flat arrays, so that a diagram of a hundred
 * thousand crossings stays small.
 */
import { type ArcChain, polyline, reverseChain } from "../geometry/arc-chain.ts";
import type { Point } from "../geometry/point.ts";

export type CrossingId = number & { readonly id?: "crossing" };
export type HalfEdge = number & { readonly id?: "half-edge" };

export interface KnotDiagram {
  /** Where each crossing lies, mm. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** The half-edge at the other end of each half-edge's edge. */
  readonly twin: Int32Array;
  /** For each crossing, which strand lies over: 0 that of slots 0 and 2, 1 that of slots 1 and 3. */
  readonly over: Uint8Array;
  /** The curve of each edge that is not a straight line, under one of its two half-edges, from there to its twin. */
  readonly curves: ReadonlyMap<HalfEdge, ArcChain>;
  /** Closed strands that cross nothing. */
  readonly loops: readonly ArcChain[];
}

export function crossingCount(diagram: KnotDiagram): number {
  return diagram.x.length;
}

export function crossingPoint(diagram: KnotDiagram, crossing: CrossingId): Point {
  return { x: diagram.x[crossing] ?? Number.NaN, y: diagram.y[crossing] ?? Number.NaN };
}

export function crossingOf(half: HalfEdge): CrossingId {
  return half >> 2;
}

export function halfEdge(crossing: CrossingId, slot: number): HalfEdge {
  return (crossing << 2) | (slot & 3);
}

/** The other end of the edge. */
export function twin(diagram: KnotDiagram, half: HalfEdge): HalfEdge {
  return diagram.twin[half] ?? -1;
}

/** Straight on through the crossing: the same strand's other slot. */
export function opposite(half: HalfEdge): HalfEdge {
  return half ^ 2;
}

/** The next slot of the same crossing, counter-clockwise; `by` 3 is the next clockwise. */
export function nextSlot(half: HalfEdge, by = 1): HalfEdge {
  return (half & ~3) | ((half + by) & 3);
}

/** Whether the strand at this half-edge lies over at its crossing. */
export function isOver(diagram: KnotDiagram, half: HalfEdge): boolean {
  return (half & 1) === diagram.over[half >> 2];
}

/** Whether the edge is the straight line between its crossings. */
export function isStraightEdge(diagram: KnotDiagram, half: HalfEdge): boolean {
  return !diagram.curves.has(half) && !diagram.curves.has(twin(diagram, half));
}

/** The curve of the edge, from this half-edge's crossing to its twin's. */
export function edgeCurve(diagram: KnotDiagram, half: HalfEdge): ArcChain {
  const own = diagram.curves.get(half);
  if (own) return own;
  const other = twin(diagram, half);
  const back = diagram.curves.get(other);
  if (back) return reverseChain(back);
  return polyline(
    [crossingPoint(diagram, crossingOf(half)), crossingPoint(diagram, crossingOf(other))],
    false,
  );
}
