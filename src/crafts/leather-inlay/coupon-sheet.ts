/** The sheet that goes with the kerf test piece. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import type { Drawing } from "../../output/drawing.ts";
import type { JobSheet } from "../../output/job-sheet.ts";
import type { CraftWords } from "../craft-words.ts";
import { COUPON_KERFS_MM, TONGUE_MM } from "./coupon.ts";
import { PART_COLUMNS } from "./part-columns.ts";

export function couponSheet(
  drawing: Drawing,
  words: CraftWords,
  files: JobSheet["files"],
  footer: string,
): JobSheet {
  const { bounds } = drawing;
  const size = `${formatMm(boundsWidth(bounds))} × ${formatMm(boundsHeight(bounds))}`;
  const kerfs = COUPON_KERFS_MM.map((kerf) => formatNumber(kerf, 2));
  const look = { MARK: "#8a6500", POCKET: "#a3007a", INLAY: "#007a7a", PANEL: "#222222" } as const;
  return {
    title: drawing.title,
    craft: words.title,
    verdict: {
      ready: true,
      text: "Cut it once for each leather, machine and setting, and keep it with them.",
    },
    picture: {
      title: drawing.title,
      description: `A base plate with ${kerfs.length} openings, and ${kerfs.length} tongues, each pair marked with a kerf.`,
      bounds,
      items: [
        ...drawing.layers.map((layer) => ({
          kind: "line" as const,
          chains: layer.paths,
          colour: look[layer.name as keyof typeof look] ?? "#222222",
          widthMm: 0.3,
        })),
        { kind: "ruler" as const, at: { x: 0, y: -10 }, lengthMm: 50 },
      ],
    },
    sizes: [
      { name: "Leather needed", value: size },
      { name: "Kerfs tried", value: `${kerfs[0]} to ${kerfs.at(-1)} mm` },
      {
        name: "Tongue at the true kerf",
        value: `${formatMm(TONGUE_MM.width)} × ${formatMm(TONGUE_MM.height)}`,
      },
    ],
    materials: [
      { part: "Test piece", material: "the leather that the job will use", amount: size, note: "" },
    ],
    numbers: [],
    figures: [],
    tables: [
      {
        title: "Parts",
        columns: PART_COLUMNS,
        rows: [
          [
            `${kerfs[0]} – ${kerfs.at(-1)}`,
            "an opening and a tongue for each kerf",
            `${2 * kerfs.length}`,
            formatMm(TONGUE_MM.width),
          ],
        ],
      },
    ],
    steps: [
      "Cut with the settings that the job will use: marks first, then openings and tongues, the outer edge last.",
      "Lay each tongue into the opening of the same number, without pressing.",
      "The pair that goes in by hand and shows no light round it was drawn for your kerf. A lower number has play, a higher one does not go in.",
      `Check with a calliper: the tongue of that pair is ${formatNumber(TONGUE_MM.width, 2)} mm wide, and so is its opening. Leather gives way: measure lightly.`,
      "Give the number with --kerf, or enter it as kerfMm in a profile of your own and set kerfMeasured to true.",
    ],
    checks: [],
    files,
    cautions: words.cautions,
    standingLine: words.standingLine,
    footer,
  };
}
