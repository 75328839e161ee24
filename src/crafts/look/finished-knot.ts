/** A woven knot with all that the looks draw on: its ribbons, coordinates on them, and their body. */
import { groupBy } from "../../base/group-by.ts";
import type { KnotDiagram } from "../../diagram/knot-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type ArcChain, chainBounds } from "../../geometry/arc-chain.ts";
import { type Bounds, mergeBounds } from "../../geometry/bounds.ts";
import { makeRibbons, type RibbonPiece, type RibbonSize, type Ribbons } from "../../ribbon/ribbon.ts";
import { makeFrame } from "./make-frame.ts";
import type { RibbonFrame } from "./ribbon-frame.ts";

export interface WovenKnot {
  readonly diagram: KnotDiagram;
  readonly strands: Strands;
}

export interface FinishedKnot {
  readonly widthMm: number;
  /** The ribbons as they show. */
  readonly ribbons: Ribbons;
  /** In order of their strands. */
  readonly byStrand: readonly (readonly [strand: number, pieces: readonly RibbonPiece[]])[];
  readonly bounds: Bounds;
}

export function finishedKnot({ diagram, strands }: WovenKnot, size: RibbonSize): FinishedKnot {
  const ribbons = makeRibbons(diagram, strands, size);
  return {
    widthMm: size.widthMm,
    ribbons,
    byStrand: [...groupBy(ribbons.pieces, ({ strand }) => strand)].sort(([a], [b]) => a - b),
    bounds: mergeBounds(ribbons.pieces.map(({ outline }) => chainBounds(outline))),
  };
}

/**
 * Strands in a material run on below others: their ends touch the edge of what passes over. As
 * good as no gap; at none at all a strand that passes over its own end would touch itself.
 */
export const CLOSED_GAP_SHARE = 0.004;

export function framesOf({ diagram }: WovenKnot, { ribbons, widthMm }: FinishedKnot): RibbonFrame[] {
  return ribbons.pieces.flatMap((piece) => makeFrame(diagram, piece, widthMm) ?? []);
}

export function pieceChains(pieces: readonly RibbonPiece[]): ArcChain[] {
  return pieces.flatMap(({ outline, holes }) => [outline, ...holes]);
}

/**
 * The pieces drawn in by `byMm` at their sides, and at their ends so that they stop `endMm`
 * from where the ends of the ribbon pieces are; each with the piece that it lies in. A piece
 * too narrow for that has none.
 */
export function insetPieces(
  { diagram, strands }: WovenKnot,
  { widthMm, ribbons }: FinishedKnot,
  byMm: number,
  endMm: number,
): (readonly [piece: RibbonPiece, inset: RibbonPiece | undefined])[] {
  // The end lies half a width and the gap from the over-strand's centreline: a narrower ribbon needs a wider gap.
  const size = { widthMm: widthMm - 2 * byMm, gapMm: ribbons.gapMm + byMm + endMm };
  const insets = new Map(makeRibbons(diagram, strands, size).pieces.map((inset) => [keyOf(inset), inset]));
  return ribbons.pieces.map((piece) => [piece, insets.get(keyOf(piece))]);
}

/** No two pieces begin at the same crossing, and none without ends is of the same strand. */
function keyOf({ strand, ends, over }: RibbonPiece): string {
  return [strand, ends.join("-"), over.join("-")].join(" ");
}
