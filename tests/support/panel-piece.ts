/** Panel text all the way to a woven diagram and its ribbons. */
import { type Faces, findFaces } from "../../src/diagram/faces.ts";
import type { KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { findStrands, type Strands } from "../../src/diagram/strands.ts";
import { type Hand, weave } from "../../src/diagram/weave.ts";
import { type Panel, parsePanel } from "../../src/lattice/panel.ts";
import { type LatticeOptions, panelDiagram } from "../../src/lattice/panel-diagram.ts";

export interface WovenPanel {
  readonly panel: Panel;
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

/** mm; a comfortable size. */
export const PITCH = 10;

export function wovenPanel(
  rows: readonly string[],
  hand: Hand = "Z",
  options: LatticeOptions = { pitchMm: { across: PITCH, down: PITCH }, corner: "pointed" },
): WovenPanel {
  const parsed = parsePanel(rows, []);
  if (!parsed.ok) throw new Error(`no valid panel: ${JSON.stringify(parsed.faults)}`);
  const plain = panelDiagram(parsed.value, options);
  const faces = findFaces(plain);
  const diagram = weave(plain, faces, hand);
  return { panel: parsed.value, diagram, faces, strands: findStrands(diagram) };
}
