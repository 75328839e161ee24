/** A link without the crossings that could be untwisted, as bare wiring. */
import { nugatoryCrossings } from "./checkerboard.ts";
import type { Faces } from "./faces.ts";
import type { HalfEdge, KnotDiagram } from "./knot-diagram.ts";

/** A diagram without its places: all that a link invariant needs. */
export type Wired = Pick<KnotDiagram, "twin" | "over">;

/**
 * The link's reduced diagram. Each nugatory crossing is opened so that both sides of it stay
 * together; it is the connected sum of what lies on its two sides, and opening it gives that sum
 * without the half turn (Kauffman, Murasugi, Thistlethwaite 1987). An alternating diagram stays
 * alternating. An alternating reduced diagram has the fewest crossings that the link can have.
 * Of a single strand that is all twists nothing is left.
 */
export function untwisted(diagram: KnotDiagram, faces: Faces): Wired {
  const gone = new Set(nugatoryCrossings(diagram, faces));
  const twin = diagram.twin.slice();
  const join = (a: HalfEdge, b: HalfEdge) => {
    const [from, to] = [twin[a] ?? -1, twin[b] ?? -1];
    // A closed strand comes off only where nothing else is left.
    if (from === b) return;
    twin[from] = to;
    twin[to] = from;
  };
  for (const crossing of gone) {
    const at = 4 * crossing;
    // The face that touches the crossing twice is kept apart, or the diagram would fall in two.
    const twice = faces.faceOf[at] === faces.faceOf[at + 2];
    join(at, twice ? at + 1 : at + 3);
    join(at + 2, twice ? at + 3 : at + 1);
  }
  const kept = Array.from(diagram.over.keys()).filter((crossing) => !gone.has(crossing));
  const numbers = new Map(kept.map((crossing, number) => [crossing, number]));
  const renumbered = (half: HalfEdge) => 4 * (numbers.get(half >> 2) ?? -1) + (half & 3);
  return {
    twin: Int32Array.from(
      kept.flatMap((crossing) => [0, 1, 2, 3].map((slot) => renumbered(twin[4 * crossing + slot] ?? -1))),
    ),
    over: Uint8Array.from(kept, (crossing) => diagram.over[crossing] ?? 0),
  };
}
