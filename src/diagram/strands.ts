/** Strands: the closed curves of a diagram, walked straight on through every crossing. */
import { chainLength } from "../geometry/arc-chain.ts";
import { distance } from "../geometry/point.ts";
import {
  crossingCount,
  crossingOf,
  crossingPoint,
  type HalfEdge,
  type KnotDiagram,
  opposite,
  twin,
} from "./knot-diagram.ts";

export interface Strands {
  /** The strand of each half-edge. Loops without a crossing are numbered after all others. */
  readonly strandOf: Int32Array;
  /** The half-edge that each strand with crossings starts along. */
  readonly first: readonly HalfEdge[];
  /** Strands, loops without a crossing included. */
  readonly count: number;
}

export function findStrands(diagram: KnotDiagram): Strands {
  const strandOf = new Int32Array(4 * crossingCount(diagram)).fill(-1);
  const first: HalfEdge[] = [];
  for (let half = 0; half < strandOf.length; half++) {
    if (strandOf[half] !== -1) continue;
    for (const at of strandWalk(diagram, half)) {
      strandOf[at] = first.length;
      strandOf[twin(diagram, at)] = first.length;
    }
    first.push(half);
  }
  return { strandOf, first, count: first.length + diagram.loops.length };
}

/** The half-edges along a strand, each leaving a crossing, from `half` until it comes round again. */
export function* strandWalk(diagram: KnotDiagram, half: HalfEdge): Iterable<HalfEdge> {
  let at = half;
  do {
    yield at;
    at = opposite(twin(diagram, at));
  } while (at !== half);
}

/** The length of each strand's centreline, mm, in the order of their numbers. */
export function strandLengths(diagram: KnotDiagram, strands: Strands): number[] {
  const withCrossings = strands.first.map((half) => {
    let length = 0;
    for (const at of strandWalk(diagram, half)) length += edgeLength(diagram, at);
    return length;
  });
  return [...withCrossings, ...diagram.loops.map(chainLength)];
}

function edgeLength(diagram: KnotDiagram, half: HalfEdge): number {
  const other = twin(diagram, half);
  const curve = diagram.curves.get(half) ?? diagram.curves.get(other);
  if (curve) return chainLength(curve);
  return distance(crossingPoint(diagram, crossingOf(half)), crossingPoint(diagram, crossingOf(other)));
}

/** A name for people: A, B, … Z, AA, AB … */
export function strandName(strand: number): string {
  const letter = String.fromCharCode(65 + (strand % 26));
  return strand < 26 ? letter : strandName(Math.floor(strand / 26) - 1) + letter;
}
