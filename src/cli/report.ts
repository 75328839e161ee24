/** What the command line says: results on standard output, faults on standard error. */

import { explain } from "../base/explain.ts";
import type { Fault } from "../base/fault.ts";
import { formatMm } from "../base/format-number.ts";
import type { CheckResult } from "../checks/check.ts";
import { limitText, measuredText, placesText, worstFirst } from "../crafts/check-words.ts";
import { MOST_JONES_CROSSINGS } from "../diagram/jones.ts";
import type { Inspection } from "../documents/inspect-design.ts";
import type { InspectedLink } from "../documents/inspect-link.ts";
import type { ListedStrand } from "../documents/strand-list.ts";
import type { PictureMark } from "../lattice/panel-picture.ts";
import { colours as pc } from "./colours.ts";

export const EXIT = { done: 0, checkFailed: 1, badInput: 2, ourFault: 70 } as const;

export function print(line = ""): void {
  process.stdout.write(`${line}\n`);
}

/** Figures are rounded far below a micrometre, so that 72 mm do not read 72.00000000000001. */
export function printJson(value: unknown): void {
  const rounded = (_key: string, own: unknown) => (typeof own === "number" ? Number(own.toFixed(9)) : own);
  process.stdout.write(`${JSON.stringify(value, rounded, 2)}\n`);
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
    const limit = limitText(check);
    print(
      `  ${MARKS[check.verdict]()}  ${check.title}: ${measuredText(check)}${limit === "" ? "" : ` (${limit})`}`,
    );
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
  if (inspection.leastBend) {
    const { radiusMm, at } = inspection.leastBend;
    print(
      `  bends      ${formatMm(radiusMm)} radius at the tightest, at (${formatMm(at.x)}, ${formatMm(at.y)})`,
    );
  }
  print(`  strands    ${inspection.strands}`);
  for (const [strand, listed] of inspection.strandList.slice(0, MOST_STRANDS).entries()) {
    print(
      `    ${strandColour(strand)(listed.name.padEnd(3))} ${strandWords(listed, inspection.pieces.length)}`,
    );
  }
  const more = inspection.strandList.length - MOST_STRANDS;
  if (more > 0) print(`    and ${more} more (--json lists all)`);
  printComposition(inspection);
  if (inspection.nugatory.length > 0) {
    const first = inspection.nugatory[0];
    print(
      `  note       ${inspection.nugatory.length} ${inspection.nugatory.length === 1 ? "crossing" : "crossings"} could be untwisted by turning one side over, the first at ${first ? `(${formatMm(first.x)}, ${formatMm(first.y)})` : ""} from the lower left`,
    );
  }
}

/** Length, crossings, and the pieces where there are several. */
function strandWords({ lengthMm, crossings, pieces }: ListedStrand, ofPieces: number): string {
  const counted = `${formatMm(lengthMm)}, ${crossings} ${crossings === 1 ? "crossing" : "crossings"}`;
  if (ofPieces < 2 || pieces.length === 0) return counted;
  if (pieces.length === ofPieces && ofPieces > 2) return `${counted}, through all pieces`;
  const shown = pieces.slice(0, MOST_PIECES).join(", ");
  const more = pieces.length - MOST_PIECES;
  return `${counted}, through ${shown}${more > 0 ? ` and ${more} more` : ""}`;
}

/** What `inspect --link` says. */
export function printLink({ determinant, split, untwistedCrossings, jones, sameAs }: InspectedLink): void {
  if (split) {
    print("  link       determinant 0: the separate parts can be pulled apart");
    return;
  }
  print(`  link       ${determinantWords(determinant)}`);
  if (!jones) {
    print(
      `             ${untwistedCrossings} crossings when untwisted; only links of up to ${MOST_JONES_CROSSINGS} are known by name`,
    );
    return;
  }
  if (!sameAs) {
    print("             none of the well-known small links has the same invariants");
    return;
  }
  const { name, called, hand } = sameAs;
  const names = called === null ? name : `${name} (${called})`;
  print(`             has the invariants of ${names}${hand === null ? "" : `, ${hand}-handed`}`);
}

function determinantWords(determinant: InspectedLink["determinant"]): string {
  if (determinant.kind === "too-large")
    return `${determinant.crossings} crossings are too many for the determinant, which is found up to ${determinant.most}`;
  const digits = String(determinant.value);
  if (digits.length <= MOST_DIGITS) return `determinant ${digits}`;
  return `determinant ${digits.slice(0, 12)}…, ${digits.length} digits (--json has all)`;
}

const MOST_DIGITS = 30;
const MOST_PIECES = 6;

/** The pieces of a composed design with their hands, and the joins that were made. */
function printComposition({ pieces, joins, hand }: Inspection): void {
  if (pieces.length < 2 && joins.length === 0) return;
  print(`  pieces     ${pieces.length}`);
  for (const { name, hand: own, exchanged } of pieces.slice(0, MOST_STRANDS)) {
    const why = exchanged ? `, overs and unders exchanged to match the part it is joined to` : "";
    print(`    ${name}  hand ${own} as it lies${why}`);
  }
  if (pieces.length > MOST_STRANDS) print(`    and ${pieces.length - MOST_STRANDS} more (--json lists all)`);
  if (hand === null) print("    parts of both hands: they are not joined");
  for (const { kind, pieces: of, twists, at } of joins) {
    const places = at.map(({ x, y }) => `(${formatMm(x)}, ${formatMm(y)})`).join(" ");
    const how =
      kind === "hook"
        ? "hooked"
        : twists === 0
          ? "tied"
          : `tied, ${twists} ${twists === 1 ? "twist" : "twists"}`;
    print(`  join       ${of.join(" and ")} ${how}, at ${places}`);
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
