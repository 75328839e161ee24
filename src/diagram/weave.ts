/**
 * Over and under. Every connected plane diagram has exactly two alternating weaves, named as
 * textiles name twist (ISO 2): at each crossing, turn the over-strand counter-clockwise until
 * it meets the under-strand; in hand Z it sweeps light faces, in hand S dark ones (faces.ts
 * colours the outer face light). A plain panel of hand Z has `/` on top at the sites between
 * side-by-side cells.
 */
import type { Faces } from "./faces.ts";
import { crossingCount, type HalfEdge, isOver, type KnotDiagram, twin } from "./knot-diagram.ts";

export type Hand = "Z" | "S";

/** The same diagram with every part woven alternately in the given hand. */
export function weave(diagram: KnotDiagram, faces: Faces, hand: Hand): KnotDiagram {
  return weaveParts(diagram, faces, () => hand);
}

/** The same diagram with each part woven alternately in its own hand. */
export function weaveParts(diagram: KnotDiagram, faces: Faces, handOf: (part: number) => Hand): KnotDiagram {
  const over = new Uint8Array(crossingCount(diagram));
  for (let crossing = 0; crossing < over.length; crossing++) {
    const swept = handOf(faces.partOfCrossing[crossing] ?? 0) === "S" ? 1 : 0;
    // The strand of slots 0 and 2 sweeps the corners 0 and 2; the other strand the other two.
    over[crossing] = faces.dark[faces.faceOf[4 * crossing] ?? -1] === swept ? 0 : 1;
  }
  return { ...diagram, over };
}

/** The hand of one crossing. */
function crossingHand(diagram: KnotDiagram, faces: Faces, crossing: number): Hand {
  const swept = 4 * crossing + (diagram.over[crossing] ?? 0);
  return faces.dark[faces.faceOf[swept] ?? -1] === 1 ? "S" : "Z";
}

/** The hand that all crossings share, or null when they differ or there are none. */
export function diagramHand(diagram: KnotDiagram, faces: Faces): Hand | null {
  if (crossingCount(diagram) === 0) return null;
  const hand = crossingHand(diagram, faces, 0);
  for (let crossing = 1; crossing < crossingCount(diagram); crossing++) {
    if (crossingHand(diagram, faces, crossing) !== hand) return null;
  }
  return hand;
}

/** Whether every strand passes over and under in turn. */
export function isAlternating(diagram: KnotDiagram): boolean {
  for (let half: HalfEdge = 0; half < diagram.twin.length; half++) {
    if (isOver(diagram, half) === isOver(diagram, twin(diagram, half))) return false;
  }
  return true;
}
