/** The finished knot for listings and sharing, in one of several looks, nothing beside it. */
import { formatMm } from "../../base/format-number.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import type { RibbonSize, RibbonTrouble } from "../../ribbon/ribbon.ts";
import { lineLook, ribbonLook } from "./drawn-looks.ts";
import { CLOSED_GAP_SHARE, type FinishedKnot, finishedKnot, type WovenKnot } from "./finished-knot.ts";
import { leatherLook } from "./leather-look.ts";
import type { LookName } from "./look-names.ts";
import { threadLook } from "./thread-look.ts";
import { woodenLook } from "./wooden-look.ts";

interface Look {
  /** Whether strands stop before the ones above them, as a drawing shows it, or run on below. */
  readonly showsGaps: boolean;
  readonly inWords: string;
  readonly items: (woven: WovenKnot, knot: FinishedKnot) => PictureItem[];
}

const LOOKS: Readonly<Record<LookName, Look>> = {
  line: { showsGaps: false, inWords: "drawn as plain lines", items: lineLook },
  ribbon: { showsGaps: true, inWords: "its ribbons coloured by strand", items: ribbonLook },
  wood: { showsGaps: false, inWords: "as it could look in wood", items: woodenLook },
  leather: { showsGaps: false, inWords: "as it could look in leather", items: leatherLook },
  thread: { showsGaps: false, inWords: "as it could look in thread", items: threadLook },
};

export interface FinishedPicture {
  readonly picture: Picture;
  readonly strands: number;
  /** Of the ribbons, without what the picture leaves free round them. */
  readonly size: { readonly width: number; readonly height: number };
}

export interface PictureLook {
  readonly title: string;
  readonly look: LookName;
  /** A colour as SVG writes it; without one the ground is transparent. */
  readonly ground?: string;
}

/** Room round the ribbons, of their width: a shadow needs no more. */
const MARGIN_SHARE = 0.6;

/** A ribbon's width is drawn to a thousandth of itself. */
const GRAIN_OF_WIDTH = 1000;

/** Instead of a picture that lacks a piece, why and where a ribbon cannot be as wide as that. */
export function finishedPicture(
  woven: WovenKnot,
  { widthMm, gapMm }: RibbonSize,
  { title, look, ground }: PictureLook,
): FinishedPicture | RibbonTrouble {
  const { showsGaps, inWords, items } = LOOKS[look];
  const knot = finishedKnot(woven, { widthMm, gapMm: showsGaps ? gapMm : CLOSED_GAP_SHARE * widthMm });
  const [trouble] = knot.ribbons.troubles;
  if (trouble) return trouble;
  const size = { width: boundsWidth(knot.bounds), height: boundsHeight(knot.bounds) };
  const strands = knot.byStrand.length;
  return {
    picture: {
      title,
      description: `The finished knot of ${strands} ${strands === 1 ? "strand" : "strands"}, ${inWords}, ${formatMm(size.width)} wide and ${formatMm(size.height)} high.`,
      bounds: knot.bounds,
      items: items(woven, knot),
      ground: { marginMm: MARGIN_SHARE * widthMm, ...(ground === undefined ? {} : { colour: ground }) },
      decimals: Math.max(2, Math.ceil(Math.log10(GRAIN_OF_WIDTH / widthMm))),
    },
    strands,
    size,
  };
}
