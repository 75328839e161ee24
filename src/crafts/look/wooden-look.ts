/** Strands carved of wood: straight grain through the whole board, edges rounded towards the ground. */
import type { PictureItem } from "../../output/picture.ts";
import { materialBody } from "./body.ts";
import { type FinishedKnot, framesOf, insetPieces, type WovenKnot } from "./finished-knot.ts";
import { grainLines } from "./grain.ts";
import { edgeLines, litSlopes, underShadows } from "./light.ts";
import { mixTints, strandTint } from "./tints.ts";

const LATE_WOOD = "#2a1206";

const EARLY_WOOD = "#ffe2b0";

/** Grain ends a little inside the edges, of the width: its lines have a width of their own. */
const GRAIN_INSET = 0.025;

export function woodenLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  const frames = framesOf(woven, knot);
  const insides = insetPieces(woven, knot, GRAIN_INSET * knot.widthMm, 0);
  const grain = knot.byStrand.flatMap(([strand]) => {
    const pieces = insides.flatMap(([piece, inside]) => (inside && piece.strand === strand ? [inside] : []));
    const tint = strandTint("wood", strand);
    const tones = { late: mixTints(tint, LATE_WOOD, 0.68), early: mixTints(tint, EARLY_WOOD, 0.45) };
    return grainLines(pieces, { widthMm: knot.widthMm, board: strand }).map(
      ({ chains, widthMm, opacity, tone }): PictureItem => ({
        kind: "line",
        chains,
        colour: tones[tone],
        widthMm,
        opacity,
      }),
    );
  });
  return [
    ...materialBody(woven, knot, "wood"),
    ...grain,
    ...litSlopes(frames, { across: [0.4, 1], light: 0.1, shade: 0.14 }),
    ...litSlopes(frames, { across: [0.7, 1], light: 0.24, shade: 0.26 }),
    edgeLines(frames, 0.06, LATE_WOOD, 0.5),
    underShadows(frames, { reach: 1.1, darkness: 0.8 }),
  ];
}
