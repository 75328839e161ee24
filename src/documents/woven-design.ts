/** Design -> woven knot diagram. */
import { done, type Result, refused } from "../base/fault.ts";
import { type Faces, findFaces } from "../diagram/faces.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { placeDiagram } from "../diagram/place-diagram.ts";
import { findStrands, type Strands } from "../diagram/strands.ts";
import { type Hand, weave } from "../diagram/weave.ts";
import { scaleBy } from "../geometry/transform.ts";
import { type Panel, parsePanel } from "../lattice/panel.ts";
import { type LatticeOptions, panelDiagram } from "../lattice/panel-diagram.ts";
import { type ComposedPiece, composeDesign } from "./compose-design.ts";
import type { WrittenComposition } from "./composition.ts";
import type { Design } from "./design.ts";
import type { PieceContext } from "./draw-piece.ts";
import type { LaidPiece } from "./laid-piece.ts";
import type { MadeJoin } from "./make-join.ts";

export interface Woven {
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

export interface WovenDesign extends Woven {
  /** Of a composed design: its pieces as they lie, and the joins made. */
  readonly pieces: readonly ComposedPiece[];
  readonly joins: readonly MadeJoin[];
  /** Of a composed design: the pieces before they were joined. */
  readonly laid?: readonly LaidPiece[];
  /** Of a design of one panel. */
  readonly panel?: Panel;
}

export type ReadBeside = PieceContext["readBeside"];

/** Where there are no files beside a design. */
export function readsNothing(name: string): Result<string> {
  return refused({ code: "file-unreadable", file: name, reason: "there is no folder to read it from" });
}

/** The panel's diagram in mm, woven in the given hand. */
export function weavePanel(panel: Panel, hand: Hand, lattice: LatticeOptions): Woven {
  const flat = panelDiagram(panel, lattice);
  const faces = findFaces(flat);
  const diagram = weave(flat, faces, hand);
  return { diagram, faces, strands: findStrands(diagram) };
}

/** Faults: those of the panel (path ["panel"]) or of the composition. */
export function weaveDesign(design: Design, context: PieceContext): Result<WovenDesign> {
  if (design.composition) return weaveComposition(design.composition, design.wholeHand, context);
  const panel = parsePanel(design.panel, ["panel"]);
  if (!panel.ok) return panel;
  return done({
    ...weavePanel(panel.value, design.hand, context),
    panel: panel.value,
    pieces: [],
    joins: [],
  });
}

/** Each part in the hand of its first piece, or all of them in one. */
function weaveComposition(
  composition: WrittenComposition,
  hand: Hand | undefined,
  context: PieceContext,
): Result<WovenDesign> {
  const composed = composeDesign(composition, context);
  if (!composed.ok || hand === undefined) return composed;
  const { diagram, faces } = composed.value;
  return done({ ...composed.value, diagram: weave(diagram, faces, hand) });
}

/**
 * The same design at another pitch. A panel is drawn anew; a composed design is scaled as a
 * whole, which a stretched lattice cannot be.
 */
export function redraw(
  { pitchMm: drawn, hand }: Design,
  woven: WovenDesign,
  pitchMm: PieceContext["pitchMm"],
  { corner }: Omit<PieceContext, "pitchMm">,
): Result<Woven> {
  if (pitchMm.across === drawn.across && pitchMm.down === drawn.down) return done(woven);
  if (woven.panel) return done(weavePanel(woven.panel, hand, { pitchMm, corner }));
  const scale = pitchMm.across / drawn.across;
  if (Math.abs(pitchMm.down / drawn.down - scale) > SAME_SCALE * scale)
    return refused({ code: "stretch-composed" });
  return done({ ...woven, diagram: placeDiagram(woven.diagram, scaleBy(scale)) });
}

const SAME_SCALE = 1e-9;
