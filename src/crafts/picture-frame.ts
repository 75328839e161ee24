/** What pictures of all crafts have round the piece: its measures, a ruler, the places that checks name. */
import { formatMm } from "../base/format-number.ts";
import type { CheckResult } from "../checks/check.ts";
import type { PictureItem } from "../output/picture.ts";

/** Width below, height at the left, and a ruler under all that. */
export function measures({
  width,
  height,
}: {
  readonly width: number;
  readonly height: number;
}): PictureItem[] {
  const aside = Math.max(width, height) * 0.06;
  return [
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
  ];
}

/** The places that failed checks name, numbered by check as the report lists them. */
export function checkPlaces(checks: readonly CheckResult[]): PictureItem[] {
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
