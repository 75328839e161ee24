/** The checkerboard graph: a vertex for each dark face, a line through each crossing. */
import type { Faces } from "./faces.ts";
import { type CrossingId, crossingCount, type KnotDiagram } from "./knot-diagram.ts";

export interface CheckerboardGraph {
  /** How many dark faces there are; they are numbered from 0. */
  readonly vertices: number;
  /** For each crossing, the two dark faces that it joins. */
  readonly lines: readonly (readonly [number, number])[];
}

export function checkerboardGraph(diagram: KnotDiagram, faces: Faces): CheckerboardGraph {
  const numbers = new Map<number, number>();
  const numberOf = (face: number): number => {
    const known = numbers.get(face);
    if (known !== undefined) return known;
    numbers.set(face, numbers.size);
    return numbers.size - 1;
  };
  const lines: (readonly [number, number])[] = [];
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    const corner = faces.dark[faces.faceOf[4 * crossing] ?? -1] === 1 ? 0 : 1;
    lines.push([
      numberOf(faces.faceOf[4 * crossing + corner] ?? -1),
      numberOf(faces.faceOf[4 * crossing + corner + 2] ?? -1),
    ]);
  }
  return { vertices: numbers.size, lines };
}

/**
 * Crossings that could be untwisted by turning one side over: a face touches them from two
 * opposite corners (Kauffman, Murasugi, Thistlethwaite 1987: reduced diagrams have none).
 */
export function nugatoryCrossings(diagram: KnotDiagram, faces: Faces): CrossingId[] {
  const found: CrossingId[] = [];
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    const at = (slot: number) => faces.faceOf[4 * crossing + slot];
    if (at(0) === at(2) || at(1) === at(3)) found.push(crossing);
  }
  return found;
}
