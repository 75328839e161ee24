/** The finished inlay as it will lie on the bench, seen from the front, with its sizes. */
import { formatMm } from "../../base/format-number.ts";
import { groupBy } from "../../base/group-by.ts";
import type { CheckResult } from "../../checks/check.ts";
import { chainBounds } from "../../geometry/arc-chain.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import { strandColour } from "../strand-colours.ts";
import type { InlayJob } from "./inlay-job.ts";

const GROUND = "#4b3526";
const EDGE = "#2a1c12";

export function inlayPicture(title: string, job: InlayJob): Picture {
  const { width, height } = job.size;
  const aside = Math.max(width, height) * 0.06;
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
  items.push(
    {
      kind: "dimension",
      from: { x: width, y: 0 },
      to: { x: 0, y: 0 },
      asideMm: aside,
      text: formatMm(width),
    },
    {
      kind: "dimension",
      from: { x: 0, y: 0 },
      to: { x: 0, y: height },
      asideMm: aside,
      text: formatMm(height),
    },
    { kind: "ruler", at: { x: 0, y: -2.6 * aside }, lengthMm: rulerLength(width) },
    ...checkPlaces(job.checks),
  );
  return {
    title,
    description: `The finished leather inlay, ${formatMm(width)} wide and ${formatMm(height)} high, ${job.parts.parts.length} parts in ${byStrand.size} colours.`,
    bounds: chainBounds(job.ground),
    items,
  };
}

/** The places that failed checks name, numbered by check as the report lists them. */
function checkPlaces(checks: readonly CheckResult[]): PictureItem[] {
  return checks
    .filter(({ verdict }) => verdict === "fail")
    .flatMap(({ places }, i) =>
      places.map((at): PictureItem => ({ kind: "place", at, text: `${i + 1}`, failed: true })),
    );
}

/** A round length of about a third of the width. */
function rulerLength(width: number): number {
  const rough = width / 3;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [5, 2, 1].find((factor) => factor * power <= rough) ?? 1;
  return step * power;
}
