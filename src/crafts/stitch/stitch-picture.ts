/** The worked piece in little, with its measures: ribbons in the colours of their threads. */
import { formatMm } from "../../base/format-number.ts";
import { groupBy } from "../../base/group-by.ts";
import type { CheckResult } from "../../checks/check.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import { boxOutline } from "../panel-outline.ts";
import { checkPlaces, measures } from "../picture-frame.ts";
import { strandColour } from "../strand-colours.ts";
import type { LaidCloth } from "./cloth.ts";
import { colourOf } from "./colour-blocks.ts";
import type { StitchSettings } from "./settings.ts";

const CLOTH = "#e8e1d3";
const WEAVE = "#cfc5b2";
const EDGE = "#33291f";

export function stitchPicture(
  title: string,
  cloth: LaidCloth,
  settings: StitchSettings,
  checks: readonly CheckResult[],
): Picture {
  const { width, height } = cloth.size;
  const thin = Math.max(width, height) / 1000;
  const items: PictureItem[] = [
    {
      kind: "area",
      chains: [boxOutline(cloth.bounds, 0)],
      fill: CLOTH,
      edge: { colour: WEAVE, widthMm: thin },
      name: "cloth",
    },
  ];
  for (const [colour, pieces] of groupBy(cloth.ribbons.pieces, ({ strand }) =>
    colourOf(strand, settings.colours),
  ))
    items.push({
      kind: "area",
      chains: pieces.flatMap(({ outline, holes }) => [outline, ...holes]),
      fill: strandColour(colour),
      edge: { colour: EDGE, widthMm: thin },
      name: `thread ${colour + 1}`,
    });
  items.push(...measures(cloth.size), ...checkPlaces(checks));
  return {
    title,
    description: `The piece as planned, ${formatMm(width)} wide and ${formatMm(height)} high.`,
    bounds: cloth.bounds,
    items,
  };
}
