/** What the job sheet says of a leather inlay. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { groupBy } from "../../base/group-by.ts";
import { strandName } from "../../diagram/strands.ts";
import type { JobSheet, SheetTable } from "../../output/job-sheet.ts";
import { sheetCheck, verdictOf } from "../check-words.ts";
import { type CraftWords, wordsOnSheet } from "../craft-words.ts";
import { shapeArea } from "./cut-drawing.ts";
import type { InlayJob } from "./inlay-job.ts";
import { inlayPicture } from "./inlay-picture.ts";
import { PART_COLUMNS } from "./part-columns.ts";
import { type InlaySettings, pathShift } from "./settings.ts";

export interface SheetOptions {
  readonly title: string;
  readonly settings: InlaySettings;
  readonly words: CraftWords;
  readonly files: readonly { readonly name: string; readonly purpose: string }[];
  readonly footer: string;
}

export function inlaySheet(job: InlayJob, { title, settings, words, files, footer }: SheetOptions): JobSheet {
  const common = wordsOnSheet(words);
  return {
    ...common,
    title,
    verdict: verdictOf(job.checks, "cut"),
    picture: inlayPicture(title, job),
    sizes: sizesOf(job, settings),
    materials: [...materialRows(job), ...common.materials],
    figures: [],
    tables: [partTable(job)],
    checks: job.checks.map(sheetCheck),
    files,
    footer,
  };
}

function sizesOf(job: InlayJob, settings: InlaySettings): JobSheet["sizes"] {
  const { across, down } = settings.ribbon.pitchMm;
  const pitch = across === down ? formatMm(across) : `${formatMm(across)} across, ${formatMm(down)} down`;
  return [
    { name: "Finished panel", value: `${formatMm(job.size.width)} × ${formatMm(job.size.height)}` },
    { name: "Pitch", value: pitch },
    { name: "Ribbon", value: formatMm(settings.ribbon.widthMm) },
    { name: "Gap at crossings", value: formatMm(settings.ribbon.gapMm) },
    { name: "Kerf", value: `${formatMm(settings.kerfMm)}${settings.kerfMeasured ? "" : " (not measured)"}` },
    { name: "Clearance per side", value: formatMm(settings.clearancePerSideMm) },
    {
      name: "Cut paths moved by",
      value: `${formatNumber(pathShift(settings), 3)} mm (parts out, openings in)`,
    },
    { name: "Cut from the", value: settings.cutFace === "back" ? "back (files are mirrored)" : "front" },
    { name: "Length of cut", value: metres(job.cut.cutting.lengthMm) },
    {
      name: "Way between cuts",
      value: `${metres(job.cut.cutting.travelMm)} (${metres(job.cut.cutting.travelInFileOrderMm)} in the order of the design)`,
    },
  ];
}

function metres(mm: number): string {
  return `${formatNumber(mm / 1000, 2)} m`;
}

function materialRows(job: InlayJob): JobSheet["materials"] {
  const { width, height } = job.size;
  return [
    {
      part: "Ground",
      material: "one panel, and a little to hold it",
      amount: `${formatMm(width)} × ${formatMm(height)}`,
      note: `openings ${areaText(job.parts.parts.reduce((sum, { nominal }) => sum + shapeArea(nominal), 0))}`,
    },
    ...job.cut.sheets.map(({ name, strand, width: w, height: h, parts }) => ({
      part: `Sheet ${name}`,
      material: `leather for strand ${strandName(strand)}`,
      amount: `${formatMm(w)} × ${formatMm(h)}`,
      note: `${parts.length} ${parts.length === 1 ? "part" : "parts"}, ${areaText(parts.reduce((sum, { part }) => sum + shapeArea(part.nominal), 0))}`,
    })),
  ];
}

function areaText(mm2: number): string {
  return `${formatNumber(mm2 / 100, 1)} cm²`;
}

function partTable(job: InlayJob): SheetTable {
  const rows = [...groupBy(job.parts.parts, (part) => part.strand)]
    .sort(([a], [b]) => a - b)
    .map(([strand, parts]) => {
      const first = parts[0]?.label ?? "";
      const last = parts.at(-1)?.label ?? "";
      return [
        first === last ? first : `${first} – ${last}`,
        `strand ${strandName(strand)}, numbered along the strand`,
        `${parts.length}`,
        areaText(parts.reduce((sum, { nominal }) => sum + shapeArea(nominal), 0)),
      ];
    });
  return { title: "Parts", columns: PART_COLUMNS, rows };
}
