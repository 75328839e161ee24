/**
 * Planar diagram code (KnotTheory convention): the edges are numbered from 1 along each strand
 * in turn; each crossing lists its four edges counter-clockwise from the incoming under edge.
 * Strands without a crossing cannot be written in it.
 */
import { type HalfEdge, isOver, type KnotDiagram, nextSlot, opposite, twin } from "./knot-diagram.ts";
import { type Strands, strandWalk } from "./strands.ts";

export type PlanarDiagramCode = readonly (readonly [number, number, number, number])[];

export function planarDiagramCode(diagram: KnotDiagram, strands: Strands): PlanarDiagramCode {
  const label = new Int32Array(diagram.twin.length);
  /** The half-edge by which the lower strand arrives at each crossing. */
  const incomingUnder = new Int32Array(diagram.x.length);
  let number = 0;
  for (const first of strands.first) {
    for (const half of strandWalk(diagram, first)) {
      const arriving = twin(diagram, half);
      number++;
      label[half] = number;
      label[arriving] = number;
      if (!isOver(diagram, arriving)) incomingUnder[arriving >> 2] = arriving;
    }
  }
  const at = (half: HalfEdge) => label[half] ?? 0;
  return Array.from(incomingUnder, (under) => [
    at(under),
    at(nextSlot(under)),
    at(opposite(under)),
    at(nextSlot(under, 3)),
  ]);
}
