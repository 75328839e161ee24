/** What all looks in a material begin with: the strands in their colours, without a seam anywhere. */
import { type ArcChain, joinChains, mergeStraights } from "../../geometry/arc-chain.ts";
import type { PictureItem } from "../../output/picture.ts";
import { makeRibbons, type RibbonPiece } from "../../ribbon/ribbon.ts";
import { type FinishedKnot, pieceChains, type WovenKnot } from "./finished-knot.ts";
import { castShadow } from "./light.ts";
import { mixTints, strandTint, type Tints } from "./tints.ts";

const DEEP = "#120a05";

/** How far the strands below reach under the ones above, of the ribbon's width. */
const UNDERLAP_SHARE = 0.2;
/** How much narrower they are there, at each side: edges that lie on each other would show twice. */
const NARROWER_SHARE = 0.04;

/**
 * Shadow on the ground, then the strands with their ends reaching below the others, then the
 * strands as they show: where two of them meet, nothing of the ground shines through.
 *
 * @param darkened how much of the way to black their colours go (0 to 1), where more is to lie on them
 */
export function materialBody(
  { diagram, strands }: WovenKnot,
  knot: FinishedKnot,
  tints: Tints,
  darkened = 0,
): PictureItem[] {
  const below = makeRibbons(diagram, strands, {
    widthMm: (1 - 2 * NARROWER_SHARE) * knot.widthMm,
    gapMm: (NARROWER_SHARE - UNDERLAP_SHARE) * knot.widthMm,
  });
  return [
    ...castShadow(
      knot.byStrand.map(([, pieces]) => strandCentreline(pieces)),
      knot.widthMm,
    ),
    ...knot.byStrand.map(([strand]): PictureItem => {
      const pieces = below.pieces.filter((piece) => piece.strand === strand);
      return {
        kind: "area",
        chains: pieceChains(pieces),
        fill: mixTints(strandTint(tints, strand), DEEP, 0.6),
      };
    }),
    ...knot.byStrand.map(
      ([strand, pieces]): PictureItem => ({
        kind: "area",
        chains: pieceChains(pieces),
        fill: mixTints(strandTint(tints, strand), DEEP, darkened),
        name: `strand ${strand + 1}`,
      }),
    ),
  ];
}

/** The pieces of a strand follow each other from crossing to crossing, round to the first. */
function strandCentreline(pieces: readonly RibbonPiece[]): ArcChain {
  const centrelines = pieces.map(({ centreline }) => openChain(centreline));
  return mergeStraights(joinChains(centrelines, true));
}

function openChain(chain: ArcChain): ArcChain {
  const [first] = chain.vertices;
  return chain.closed && first
    ? { closed: false, vertices: [...chain.vertices, { ...first, bulge: 0 }] }
    : chain;
}
