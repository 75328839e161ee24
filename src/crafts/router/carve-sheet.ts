/** What the job sheet says of router work. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import type { JobSheet, SheetTable } from "../../output/job-sheet.ts";
import type { Picture } from "../../output/picture.ts";
import type { TimeEstimate } from "../../output/toolpath-time.ts";
import { sheetCheck, verdictOf } from "../check-words.ts";
import { type CraftWords, wordsOnSheet } from "../craft-words.ts";
import { woodMovement } from "./rates.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { LoadedCutter, RouterSettings } from "./settings.ts";
import type { RunMeasures } from "./simulate.ts";
import { setUpNotes } from "./tool-program.ts";

/** One run, as the sheet lists it. */
export interface SheetRun {
  readonly file: string;
  readonly purpose: string;
  readonly cutter: LoadedCutter;
  readonly time: TimeEstimate;
  readonly measures: RunMeasures;
}

export interface CarveSheetOptions {
  readonly title: string;
  readonly words: CraftWords;
  readonly checks: readonly CheckResult[];
  readonly picture: Picture;
  readonly figures: JobSheet["figures"];
  readonly runs: readonly SheetRun[];
  readonly facts: readonly string[];
  readonly files: JobSheet["files"];
  readonly footer: string;
}

export function carveSheet(
  panel: RouterPanel,
  settings: RouterSettings,
  options: CarveSheetOptions,
): JobSheet {
  const { title, words, checks, picture, figures, runs, files, footer, facts } = options;
  const common = wordsOnSheet(words);
  const { width, height } = panel.size;
  return {
    ...common,
    title,
    verdict: verdictOf(checks, "carve"),
    picture,
    figures,
    sizes: sizesOf(panel, settings, runs),
    materials: [
      {
        part: "Panel",
        material: "the board, and room round it to hold it",
        amount: `${formatMm(width)} × ${formatMm(height)} × ${formatMm(settings.stockThicknessMm)}`,
        note: movementNote(panel, settings),
      },
      ...common.materials,
    ],
    tables: runs.length > 0 ? [runTable(runs)] : [],
    steps: [...setUpNotes(panel, settings), ...facts, ...common.steps],
    checks: checks.map(sheetCheck),
    files,
    footer,
  };
}

function sizesOf(
  { size }: RouterPanel,
  settings: RouterSettings,
  runs: readonly SheetRun[],
): JobSheet["sizes"] {
  const { pitchMm, widthMm, gapMm } = settings.ribbon;
  const { across, down } = pitchMm;
  return [
    { name: "Finished panel", value: `${formatMm(size.width)} × ${formatMm(size.height)}` },
    { name: "Board", value: `${formatMm(settings.stockThicknessMm)} thick` },
    {
      name: "Pitch",
      value: across === down ? formatMm(across) : `${formatMm(across)} across, ${formatMm(down)} down`,
    },
    { name: "Ribbon", value: formatMm(widthMm) },
    { name: "Gap at crossings", value: formatMm(gapMm) },
    {
      name: "Zero",
      value: settings.origin === "centre" ? "middle of the panel" : "lower left corner of the panel",
    },
    { name: "Simulated in squares of", value: formatMm(settings.pixelMm) },
    ...(runs.length > 0
      ? [{ name: "Time at the cutter", value: `about ${timeText(totalSeconds(runs))}` }]
      : []),
  ];
}

export function totalSeconds(runs: readonly { readonly time: TimeEstimate }[]): number {
  return runs.reduce((sum, { time }) => sum + time.seconds, 0);
}

/** What moisture does to the panel's width across the grain. */
function movementNote({ size }: RouterPanel, settings: RouterSettings): string {
  const { grain, movementPerPercent, moistureChangePercent } = settings;
  const across = grain === "across" ? size.height : size.width;
  const change = woodMovement(across, movementPerPercent, moistureChangePercent);
  if (grain === "none" || change === 0) return "";
  return `moves by ${formatMm(change)} across the grain (${formatMm(across)}) when its moisture changes by ${formatNumber(moistureChangePercent, 1)} %: leave it room in a frame`;
}

function runTable(runs: readonly SheetRun[]): SheetTable {
  return {
    title: "Cutters, in working order",
    columns: [
      { title: "File" },
      { title: "Cutter" },
      { title: "What it does" },
      { title: "Turns a minute", isFigure: true },
      { title: "Feed, down", isFigure: true },
      { title: "Pass, most", isFigure: true },
      { title: "Deepest", isFigure: true },
      { title: "Way", isFigure: true },
      { title: "Time", isFigure: true },
    ],
    rows: runs.map(({ file, cutter, purpose, time, measures }) => [
      file,
      `T${cutter.number} ${cutter.name}`,
      purpose,
      formatNumber(cutter.spindleRpm, 0),
      `${cutter.feedMmPerMin}, ${cutter.plungeMmPerMin} mm/min`,
      `${formatMm(cutter.stepDownMm)}, ${formatMm(measures.deepestPassMm)}`,
      formatMm(-measures.lowestZ),
      `${formatNumber(time.cutMm / 1000, 1)} m`,
      timeText(time.seconds),
    ]),
  };
}

/** "1 h 05 min", "12 min", "40 s". */
export function timeText(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}
