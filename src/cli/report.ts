/** What the command line says: results on standard output, faults on standard error. */

import { explain } from "../base/explain.ts";
import type { Fault } from "../base/fault.ts";
import { formatMm } from "../base/format-number.ts";
import type { CheckResult } from "../checks/check.ts";
import { measuredText, placesText, valueText } from "../crafts/leather-inlay/inlay-sheet.ts";
import { strandName } from "../diagram/strands.ts";
import type { Inspection } from "../documents/inspect-design.ts";
import { worstFirst } from "../documents/job-files.ts";
import type { PictureMark } from "../lattice/panel-picture.ts";
import { colours as pc } from "./colours.ts";

export const EXIT = { done: 0, checkFailed: 1, badInput: 2, ourFault: 70 } as const;

export function print(line = ""): void {
  process.stdout.write(`${line}\n`);
}

export function printJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

/** Tells the faults and answers the exit code for bad input. */
export function tellFaults(faults: readonly Fault[], json: boolean): number {
  if (json) printJson({ faults });
  for (const fault of faults) process.stderr.write(`${pc.red("error")} ${explain(fault)}\n`);
  return EXIT.badInput;
}

const MARKS = {
  pass: () => pc.green("pass"),
  warning: () => pc.yellow("warn"),
  fail: () => pc.red("FAIL"),
} as const;

export function printChecks(checks: readonly CheckResult[]): void {
  for (const check of worstFirst(checks)) {
    const limit =
      check.limit === null || check.rule === "kerf-measured"
        ? ""
        : ` (${check.sense === "least" ? "at least" : "at most"} ${valueText(check.limit, check.unit)})`;
    print(`  ${MARKS[check.verdict]()}  ${check.title}: ${measuredText(check)}${limit}`);
    if (check.verdict === "pass") continue;
    if (check.count > 0 && check.places.length > 0)
      print(`        where   ${placesText(check)}, mm from the lower left corner`);
    print(`        why     ${check.note}`);
    for (const { text } of check.remedies) print(`        remedy  ${text}`);
  }
}

export function printInspection(title: string, inspection: Inspection): void {
  const { width, height } = inspection.size;
  const [across, down] = inspection.pitchMm;
  print(pc.bold(title));
  print(
    `  size       ${formatMm(width)} × ${formatMm(height)}, ribbon ${formatMm(inspection.ribbonWidthMm)}`,
  );
  print(
    `  pitch      ${across === down ? formatMm(across) : `${formatMm(across)} across, ${formatMm(down)} down`}`,
  );
  print(`  crossings  ${inspection.crossings}${crossingWords(inspection)}`);
  print(
    `  faces      ${inspection.faces}${inspection.parts > 1 ? `, ${inspection.parts} separate parts` : ""}`,
  );
  print(`  strands    ${inspection.strands}`);
  for (const [strand, length] of inspection.strandLengths.slice(0, MOST_STRANDS).entries()) {
    print(`    ${strandColour(strand)(strandName(strand).padEnd(3))} ${formatMm(length)}`);
  }
  const more = inspection.strandLengths.length - MOST_STRANDS;
  if (more > 0) print(`    and ${more} more (--json lists all)`);
  if (inspection.nugatory.length > 0) {
    const first = inspection.nugatory[0];
    print(
      `  note       ${inspection.nugatory.length} ${inspection.nugatory.length === 1 ? "crossing" : "crossings"} could be untwisted by turning one side over, the first at ${first ? `(${formatMm(first.x)}, ${formatMm(first.y)})` : ""} from the lower left`,
    );
  }
}

const MOST_STRANDS = 24;

function crossingWords({ crossings, alternating, hand }: Inspection): string {
  if (crossings === 0) return "";
  return `, ${alternating ? "alternating" : "not alternating"}${hand === null ? "" : `, hand ${hand}`}`;
}

/** The plan, if the terminal is wide enough for it. */
export function printPicture(lines: readonly (readonly PictureMark[])[]): void {
  const widest = lines.reduce((most, line) => Math.max(most, line.length), 0);
  const room = process.stdout.columns ?? 200;
  if (widest + 2 > room || lines.length > 400) {
    print(`  (the plan is ${widest} characters wide and ${lines.length} lines high: too large to show here)`);
    return;
  }
  for (const line of lines) {
    print(
      `  ${line.map(({ text, strand }) => (strand === undefined ? pc.dim(text) : strandColour(strand)(text))).join("")}`,
    );
  }
}

function strandColour(strand: number): (text: string) => string {
  const colours = [pc.yellow, pc.cyan, pc.magenta, pc.green, pc.red, pc.blue];
  return colours[strand % colours.length] ?? pc.white;
}
