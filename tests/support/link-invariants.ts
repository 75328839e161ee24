/** Invariants of a link computed straight from its diagram, by two roads that share nothing. */
import type { CheckerboardGraph } from "../../src/diagram/checkerboard.ts";
import { crossingCount, isOver, type KnotDiagram, opposite, twin } from "../../src/diagram/knot-diagram.ts";
import { addTo, corankModulo2, determinant, firstMinor, zeros } from "./whole-numbers.ts";

/**
 * The determinant by colouring: an arc runs from one under-crossing to the next; each crossing
 * asks 2 over = under + under. Any first minor of these equations (Fox; e.g. Livingston, "Knot
 * Theory", 1993, chapter 3, from memory). Needs every strand to pass under somewhere.
 */
export function colouringDeterminant(diagram: KnotDiagram): bigint {
  const crossings = crossingCount(diagram);
  const arcOf = new Int32Array(diagram.twin.length).fill(-1);
  let arcs = 0;
  for (let half = 0; half < arcOf.length; half++) {
    if (isOver(diagram, half) || arcOf[half] !== -1) continue;
    let at = half;
    while (true) {
      arcOf[at] = arcs;
      const arriving = twin(diagram, at);
      arcOf[arriving] = arcs;
      if (!isOver(diagram, arriving)) break;
      at = opposite(arriving);
    }
    arcs++;
  }
  if (arcs !== crossings || arcOf.includes(-1)) throw new Error("a strand never passes under");
  const rows = zeros(crossings, crossings);
  for (let crossing = 0; crossing < crossings; crossing++) {
    for (let slot = 0; slot < 4; slot++) {
      const half = 4 * crossing + slot;
      // Both halves of the over-strand lie on one arc: 1 each.
      addTo(rows, crossing, arcOf[half] ?? -1, isOver(diagram, half) ? 1n : -1n);
    }
  }
  const value = determinant(firstMinor(rows));
  return value < 0n ? -value : value;
}

/** The Laplacian of a graph. */
function laplacian({ vertices, lines }: CheckerboardGraph): bigint[][] {
  const rows = zeros(vertices, vertices);
  for (const [a, b] of lines) {
    addTo(rows, a, a, 1n);
    addTo(rows, b, b, 1n);
    addTo(rows, a, b, -1n);
    addTo(rows, b, a, -1n);
  }
  return rows;
}

/** Spanning trees by the matrix-tree theorem (Kirchhoff 1847). */
export function spanningTrees(graph: CheckerboardGraph): bigint {
  return determinant(firstMinor(laplacian(graph)));
}

/** Strands of a connected diagram: the corank of the Laplacian modulo 2 (Godsil & Royle, chapters 14-17). */
export function strandsByCorank(graph: CheckerboardGraph): number {
  return corankModulo2(laplacian(graph));
}
