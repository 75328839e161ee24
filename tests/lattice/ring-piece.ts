/** Rings all the way to woven diagrams. */
import type { Result } from "../../src/base/fault.ts";
import { type Faces, findFaces } from "../../src/diagram/faces.ts";
import type { KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { edgeCurve } from "../../src/diagram/knot-diagram.ts";
import { findStrands, type Strands, strandWalk } from "../../src/diagram/strands.ts";
import { type Hand, weave } from "../../src/diagram/weave.ts";
import { type ArcChain, joinChains } from "../../src/geometry/arc-chain.ts";
import { type RingSpec, ringDiagram } from "../../src/lattice/ring.ts";

export interface WovenRing {
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

/** mm; a comfortable size. */
export const INNER = 40;

export function unwrapped<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.value;
}

export function woven(flat: KnotDiagram, hand: Hand = "Z"): WovenRing {
  const faces = findFaces(flat);
  const diagram = weave(flat, faces, hand);
  return { diagram, faces, strands: findStrands(diagram) };
}

/** A ring of these rows, or of so many cells round and across. */
export function wovenRing(
  panel: RingSpec["panel"],
  more: Partial<RingSpec> = {},
  corner: "pointed" | "round" = "round",
): WovenRing {
  return woven(
    unwrapped(ringDiagram({ panel, innerMm: INNER, spacing: "conformal", hub: false, ...more }, { corner })),
  );
}

/** The closed centreline of every strand. */
export function centrelines({ diagram, strands }: WovenRing): ArcChain[] {
  const walked = strands.first.map((first) =>
    joinChains(
      [...strandWalk(diagram, first)].map((half) => edgeCurve(diagram, half)),
      true,
    ),
  );
  return [...walked, ...diagram.loops];
}
