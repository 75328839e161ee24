/** The finished inlay as it will lie on the bench, seen from the front, with its sizes. */
import { formatMm } from "../../base/format-number.ts";
import { groupBy } from "../../base/group-by.ts";
import { chainBounds } from "../../geometry/arc-chain.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import { checkPlaces, measures } from "../picture-frame.ts";
import { strandColour } from "../strand-colours.ts";
import type { InlayJob } from "./inlay-job.ts";

const GROUND = "#4b3526";
const EDGE = "#2a1c12";

export function inlayPicture(title: string, job: InlayJob): Picture {
  const { width, height } = job.size;
  const items: PictureItem[] = [{ kind: "area", chains: [job.ground], fill: GROUND, name: "ground" }];
  const byStrand = groupBy(job.parts.parts, (part) => part.strand);
  for (const [strand, parts] of [...byStrand].sort(([a], [b]) => a - b)) {
    items.push({
      kind: "area",
      chains: parts.flatMap(({ nominal }) => [nominal.outline, ...nominal.holes]),
      fill: strandColour(strand),
      edge: { colour: EDGE, widthMm: Math.min(0.2, width / 1000) },
      name: `strand ${strand + 1}`,
    });
    const lines = parts.flatMap((part) => part.lines);
    if (lines.length > 0) items.push({ kind: "line", chains: lines, colour: EDGE, widthMm: 0.3 });
  }
  items.push(...measures(job.size), ...checkPlaces(job.checks));
  return {
    title,
    description: `The finished leather inlay, ${formatMm(width)} wide and ${formatMm(height)} high, ${job.parts.parts.length} parts in ${byStrand.size} colours.`,
    bounds: chainBounds(job.ground),
    items,
  };
}
