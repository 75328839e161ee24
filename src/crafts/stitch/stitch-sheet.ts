/** The chart of a piece of needle work: threads in sewing order, counts, lengths, hoop, time. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import type { JobSheet, SheetTable } from "../../output/job-sheet.ts";
import type { Picture } from "../../output/picture.ts";
import { sheetCheck, verdictOf } from "../check-words.ts";
import { type CraftWords, wordsOnSheet } from "../craft-words.ts";
import type { LaidCloth } from "./cloth.ts";
import type { StitchSettings } from "./settings.ts";
import type { Sewn } from "./stitch-work.ts";
import type { PlanUse } from "./thread-use.ts";

export interface StitchSheetOptions {
  readonly title: string;
  readonly words: CraftWords;
  readonly checks: readonly CheckResult[];
  readonly picture: Picture;
  readonly figures: JobSheet["figures"];
  readonly sewn: Sewn | undefined;
  readonly use: PlanUse | undefined;
  readonly files: JobSheet["files"];
  readonly footer: string;
}

export function stitchSheet(
  cloth: LaidCloth,
  settings: StitchSettings,
  options: StitchSheetOptions,
): JobSheet {
  const { title, words, checks, picture, figures, sewn, use, files, footer } = options;
  const common = wordsOnSheet(words);
  return {
    ...common,
    title,
    verdict: verdictOf(checks, "sew"),
    picture,
    figures,
    sizes: sizesOf(cloth, settings, use),
    tables: sewn && use ? [chart(sewn, use), ...sewn.tables] : [],
    steps: [...(sewn?.facts ?? []), ...common.steps],
    checks: checks.map(sheetCheck),
    files,
    footer,
  };
}

function sizesOf({ size }: LaidCloth, settings: StitchSettings, use: PlanUse | undefined): JobSheet["sizes"] {
  const { pitchMm, widthMm } = settings.ribbon;
  const { across, down } = pitchMm;
  return [
    { name: "Finished piece", value: `${formatMm(size.width)} × ${formatMm(size.height)}` },
    {
      name: "Pitch",
      value: across === down ? formatMm(across) : `${formatMm(across)} across, ${formatMm(down)} down`,
    },
    { name: "Ribbon", value: formatMm(widthMm) },
    {
      name: "Field of the hoop",
      value: `${formatMm(settings.hoopWidthMm)} × ${formatMm(settings.hoopHeightMm)}, ${formatMm(settings.hoopMarginMm)} kept free`,
    },
    { name: "Needle", value: `size ${Math.round(settings.needleMm * 100)} (${formatMm(settings.needleMm)})` },
    { name: "Upper thread", value: `${formatNumber(settings.threadTex, 0)} tex` },
    ...(use
      ? [
          { name: "Stitches", value: formatNumber(use.stitches, 0) },
          { name: "Bobbins", value: `${use.bobbins} of ${formatNumber(settings.bobbinMetres, 0)} m` },
          { name: "Time at the machine", value: `about ${Math.max(1, Math.round(use.minutes))} min` },
        ]
      : []),
  ];
}

function chart({ blocks, purposes }: Sewn, use: PlanUse): SheetTable {
  const metres = (mm: number) => `${formatNumber(mm / 1000, 1)} m`;
  return {
    title: "Threads, in sewing order",
    columns: [
      { title: "Order" },
      { title: "Thread" },
      { title: "Colour in the pictures" },
      { title: "What it sews" },
      { title: "Stitches", isFigure: true },
      { title: "Trims", isFigure: true },
      { title: "Upper", isFigure: true },
      { title: "Bobbin", isFigure: true },
      { title: "Minutes", isFigure: true },
    ],
    rows: blocks.map(({ thread }, i) => {
      const own = use.blocks[i];
      return [
        `${i + 1}`,
        thread.name,
        thread.colour,
        purposes[i] ?? "",
        formatNumber(own?.stitches ?? 0, 0),
        `${own?.trims ?? 0}`,
        metres(own?.upperMm ?? 0),
        metres(own?.bobbinMm ?? 0),
        formatNumber(own?.minutes ?? 0, 1),
      ];
    }),
  };
}
