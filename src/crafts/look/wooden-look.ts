/** Strands carved of wood: straight grain through the whole board, edges rounded towards the ground. */
import type { PictureItem } from "../../output/picture.ts";
import { materialBody } from "./body.ts";
import { type FinishedKnot, framesOf, type WovenKnot } from "./finished-knot.ts";
import { grainLines } from "./grain.ts";
import { band, litSlopes, underShadows } from "./light.ts";
import { mixTints, strandTint } from "./tints.ts";

const LATE_WOOD = "#2a1206";

export function woodenLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  const frames = framesOf(woven, knot);
  const grain = knot.byStrand.flatMap(([strand, pieces]) => {
    const colour = mixTints(strandTint("wood", strand), LATE_WOOD, 0.62);
    return grainLines(pieces, { widthMm: knot.widthMm, board: strand }).map(
      ({ chains, widthMm, opacity }): PictureItem => ({ kind: "line", chains, colour, widthMm, opacity }),
    );
  });
  return [
    ...materialBody(woven, knot, "wood"),
    ...grain,
    ...litSlopes(frames, { across: [0.45, 1], light: 0.14, shade: 0.16 }),
    ...litSlopes(frames, { across: [0.7, 1], light: 0.2, shade: 0.22 }),
    band(
      frames,
      [
        [0.94, 1],
        [-1, -0.94],
      ],
      LATE_WOOD,
      0.45,
    ),
    ...underShadows(frames, { reach: 1.1, darkness: 0.62 }),
  ];
}
