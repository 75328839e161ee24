/** The two looks of the drawing itself: its edges as lines, and its ribbons filled strand by strand. */
import type { PictureItem } from "../../output/picture.ts";
import { strandColour } from "../strand-colours.ts";
import { type FinishedKnot, insetPieces, pieceChains, type WovenKnot } from "./finished-knot.ts";
import { mixTints } from "./tints.ts";

const INK = "#1c1a17";

/** Of the ribbon's width: a line that is firm at every size. */
export const LINE_SHARE = 0.09;

/** Edges alone, what lies between them open. The edges of under-strands run up to those of over-strands. */
export function lineLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  return insetPieces(woven, knot, LINE_SHARE * knot.widthMm, 0).map(([piece, inset]) => ({
    kind: "area",
    chains: pieceChains(inset ? [piece, inset] : [piece]),
    fill: INK,
  }));
}

const EDGE_SHARE = 0.07;

/** Each strand in its colour, with an edge of a darker tone all round. */
export function ribbonLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  const edge = EDGE_SHARE * knot.widthMm;
  const insets = insetPieces(woven, knot, edge, edge);
  return knot.byStrand.flatMap(([strand, pieces]): PictureItem[] => {
    const colour = strandColour(strand);
    const inner = insets.flatMap(([piece, inset]) => (inset && piece.strand === strand ? [inset] : []));
    return [
      {
        kind: "area",
        chains: pieceChains(pieces),
        fill: mixTints(colour, INK, 0.72),
        name: `strand ${strand + 1}`,
      },
      { kind: "area", chains: pieceChains(inner), fill: colour },
    ];
  });
}
