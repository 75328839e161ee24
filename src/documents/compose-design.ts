/**
 * A composed design -> one woven diagram: pieces drawn, laid out, joined in order. Each join
 * gives the hand of its first piece's part to all that it joins.
 */
import { done, type Result, refused } from "../base/fault.ts";
import { InternalError } from "../base/internal-error.ts";
import { type Faces, findFaces } from "../diagram/faces.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { findStrands, type Strands } from "../diagram/strands.ts";
import { type Hand, isAlternating, weaveParts } from "../diagram/weave.ts";
import type { Point } from "../geometry/point.ts";
import { Assembly } from "./assembly.ts";
import type { Composition, WrittenComposition } from "./composition.ts";
import type { PieceContext } from "./draw-piece.ts";
import { expandLayout } from "./expand-layout.ts";
import { findOverlap, type LaidPiece, layPieces } from "./laid-piece.ts";
import { type MadeJoin, makeJoin } from "./make-join.ts";

export interface ComposedPiece {
  readonly name: string;
  /** Its own hand, as it lies: mirroring exchanges it. */
  readonly hand: Hand;
  /** Whether its overs and unders were exchanged to match the part that it was joined to. */
  readonly exchanged: boolean;
}

/** The woven whole, its pieces as they lie, and the joins made. */
export interface Composed {
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
  readonly pieces: readonly ComposedPiece[];
  readonly joins: readonly MadeJoin[];
  /** The pieces before they were joined. Their crossings, in order, are the first ones of the whole. */
  readonly laid: readonly LaidPiece[];
}

/** Faults: those of the pieces, of included files, of the layout (`pieces-overlap`) and of each join. */
export function composeDesign(written: WrittenComposition, context: PieceContext): Result<Composed> {
  const expanded = expandLayout(written, context);
  if (!expanded.ok) return expanded;
  const composed = compose(expanded.value.composition, context);
  return composed.ok ? composed : refused(...composed.faults.map(expanded.value.placed));
}

function compose(composition: Composition, context: PieceContext): Result<Composed> {
  const laid = layPieces(composition, context);
  if (!laid.ok) return laid;
  const assembly = new Assembly(laid.value);
  const overlap = findOverlap(laid.value, fromCorner(assembly.diagram));
  if (overlap) return refused(overlap);
  const joins: MadeJoin[] = [];
  for (const [i, join] of composition.joins.entries()) {
    const made = makeJoin(assembly, join, context.pitchMm, ["joins", i]);
    if (!made.ok) return made;
    joins.push(made.value);
  }
  const faces = findFaces(assembly.diagram);
  if (!faces.planar) throw new InternalError("a join left the plane");
  const hands = assembly.hands(faces);
  const diagram = weaveParts(assembly.diagram, faces, (part) => hands.get(part) ?? "Z");
  // Proved of the whole, not assumed.
  if (!isAlternating(diagram)) throw new InternalError("a join broke the weave");
  const lies = fromCorner(diagram);
  return done({
    diagram,
    faces,
    strands: findStrands(diagram),
    pieces: laid.value.map((piece) => ({
      name: piece.name,
      hand: piece.hand,
      exchanged: assembly.isExchanged(piece),
    })),
    joins: joins.map((join) => ({ ...join, at: join.at.map(lies) })),
    laid: laid.value,
  });
}

function fromCorner(diagram: KnotDiagram): (at: Point) => Point {
  const { minX, minY } = diagramBounds(diagram);
  return ({ x, y }) => ({ x: x - minX, y: y - minY });
}
