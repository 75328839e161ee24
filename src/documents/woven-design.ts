/** Design -> woven knot diagram. */
import { type Faces, findFaces } from "../diagram/faces.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { findStrands, type Strands } from "../diagram/strands.ts";
import { weave } from "../diagram/weave.ts";
import type { Panel } from "../lattice/panel.ts";
import { type LatticeOptions, panelDiagram } from "../lattice/panel-diagram.ts";
import type { Hand } from "./design.ts";

export interface Woven {
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

/** The panel's diagram in mm, woven in the given hand. */
export function weavePanel(panel: Panel, hand: Hand, lattice: LatticeOptions): Woven {
  const flat = panelDiagram(panel, lattice);
  const faces = findFaces(flat);
  const diagram = weave(flat, faces, hand);
  return { diagram, faces, strands: findStrands(diagram) };
}
