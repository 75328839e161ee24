/** What the job sheet says of a leather inlay. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { groupBy } from "../../base/group-by.ts";
import type { CheckResult } from "../../checks/check.ts";
import { strandName } from "../../diagram/strands.ts";
import type { JobSheet, SheetCheck } from "../../output/job-sheet.ts";
import { shapeArea } from "./cut-drawing.ts";
import type { InlayJob } from "./inlay-job.ts";
import { inlayPicture } from "./inlay-picture.ts";
import { type InlaySettings, pathShift } from "./settings.ts";

/** What the profile says in words. */
export interface CraftWords {
  readonly title: string;
  readonly materials: readonly { readonly part: string; readonly material: string; readonly notes: string }[];
  readonly numbers: readonly {
    readonly key: string;
    readonly value: number;
    readonly unit: string;
    readonly meaning: string;
    readonly source: string;
  }[];
  readonly cautions: readonly string[];
  readonly standingLine: string;
  readonly orderOfWork: readonly string[];
}

export interface SheetOptions {
  readonly title: string;
  readonly settings: InlaySettings;
  readonly words: CraftWords;
  readonly files: readonly { readonly name: string; readonly purpose: string }[];
  readonly footer: string;
}

export function inlaySheet(job: InlayJob, { title, settings, words, files, footer }: SheetOptions): JobSheet {
  return {
    title,
    craft: words.title,
    verdict: verdictOf(job.checks),
    picture: inlayPicture(title, job),
    sizes: sizesOf(job, settings),
    materials: [
      ...materialRows(job),
      ...words.materials.map(({ part, material, notes }) => ({ part, material, amount: "", note: notes })),
    ],
    numbers: words.numbers.map(({ key, value, unit, meaning, source }) => ({
      name: key,
      value: `${formatNumber(value, 3)}${unitText(unit)}`,
      meaning: firstSentence(meaning),
      source,
    })),
    parts: partRows(job),
    steps: words.orderOfWork,
    checks: job.checks.map(sheetCheck),
    files,
    cautions: words.cautions,
    standingLine: words.standingLine,
    footer,
  };
}

/** The rest of a number's meaning is in the profile. */
function firstSentence(text: string): string {
  return /^.*?[.](?= )/.exec(text)?.[0] ?? text;
}

export function verdictOf(checks: readonly CheckResult[]): {
  readonly ready: boolean;
  readonly text: string;
} {
  const failed = checks.filter(({ verdict }) => verdict === "fail").length;
  const warned = checks.filter(({ verdict }) => verdict === "warning").length;
  const warnings = warned === 0 ? "" : `, ${warned} ${warned === 1 ? "warning" : "warnings"}`;
  return failed === 0
    ? { ready: true, text: `Ready to cut: all checks passed${warnings}.` }
    : {
        ready: false,
        text: `Do not cut: ${failed} of ${checks.length} checks failed${warnings}.`,
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

function partRows(job: InlayJob): JobSheet["parts"] {
  return [...groupBy(job.parts.parts, (part) => part.strand)]
    .sort(([a], [b]) => a - b)
    .map(([strand, parts]) => {
      const first = parts[0]?.label ?? "";
      const last = parts.at(-1)?.label ?? "";
      return {
        label: first === last ? first : `${first} – ${last}`,
        what: `strand ${strandName(strand)}, numbered along the strand`,
        count: `${parts.length}`,
        size: areaText(parts.reduce((sum, { nominal }) => sum + shapeArea(nominal), 0)),
      };
    });
}

function sheetCheck(check: CheckResult): SheetCheck {
  const least = check.sense === "least" ? "at least" : "at most";
  return {
    title: check.title,
    verdict: check.verdict,
    measured: measuredText(check),
    limit:
      check.limit === null || check.rule === "kerf-measured"
        ? ""
        : `${least} ${valueText(check.limit, check.unit)}`,
    places: placesText(check),
    // A check that passed speaks for itself; the sheet is to fit on two pages.
    note: check.verdict === "pass" ? "" : check.note,
    remedies: check.remedies.map(({ text }) => text),
  };
}

/** The measured value in words; nothing near enough to measure is said so. */
export function measuredText(check: CheckResult): string {
  if (check.rule === "kerf-measured") return check.measured === 1 ? "yes" : "no";
  return check.measured === null ? "none near" : valueText(check.measured, check.unit);
}

export function valueText(value: number, unit: CheckResult["unit"]): string {
  return `${formatNumber(value, unit === "mm" ? 3 : 1)}${unitText(unit)}`;
}

function unitText(unit: string): string {
  if (unit === "mm") return " mm";
  if (unit === "mm2") return " mm²";
  return unit === "degrees" ? "°" : "";
}

/** "3 places: 12.5, 40 …": mm from the lower left corner of the finished piece. */
export function placesText({ count, places }: CheckResult): string {
  if (count === 0 || places.length === 0) return count === 0 ? "" : `${count}`;
  const named = places.slice(0, 3).map(({ x, y }) => `(${formatNumber(x, 1)}, ${formatNumber(y, 1)})`);
  return `${count} ${count === 1 ? "place" : "places"}: ${named.join(" ")}${count > named.length ? " …" : ""}`;
}
