/**
 * Marks for work that goes on from hoop to hoop: a cross at both ends of the left and of the right
 * edge of the piece. The cloth is hooped anew so that the left marks of the next piece fall on the
 * right marks of the last; the pieces then stand side by side, as far apart as their borders make
 * them. Sewn first, in a thread that comes out again.
 */
import { STITCH, StitchMaker, type Thread, type ThreadBlock, TRIM } from "../../output/stitches.ts";
import type { LaidCloth } from "./cloth.ts";
import type { StitchSettings } from "./settings.ts";

/** Half the length of a cross's arms. */
const ARM_MM = 3;
/** From the upper and the lower edge, as a share of the height. */
const FROM_EDGE = 0.15;
const COLOUR = "#3f6277";

export function alignmentMarks(
  { size }: LaidCloth,
  { threadTex, threadWidthMm }: StitchSettings,
): ThreadBlock {
  const { width, height } = size;
  const maker = new StitchMaker();
  for (const x of [0, width])
    for (const y of [FROM_EDGE * height, (1 - FROM_EDGE) * height]) {
      // Out and back along each arm, so that both end in the middle.
      maker.add(x - ARM_MM, y, TRIM, "mark");
      for (const at of [x, x + ARM_MM, x]) maker.add(at, y, STITCH, "mark");
      for (const at of [y + ARM_MM, y, y - ARM_MM]) maker.add(x, at, STITCH, "mark");
    }
  const thread: Thread = {
    name: "alignment marks, thread that comes out again",
    colour: COLOUR,
    tex: threadTex,
    widthMm: threadWidthMm,
  };
  return maker.made(thread);
}
