/** Checks in words, the same on the sheet and on the command line. */
import { formatNumber } from "../base/format-number.ts";
import type { CheckResult } from "../checks/check.ts";
import type { SheetCheck } from "../output/job-sheet.ts";

/** @param verb what is done when all is well: "cut", "carve", "sew" */
export function verdictOf(
  checks: readonly CheckResult[],
  verb: string,
): { readonly ready: boolean; readonly text: string } {
  const failed = checks.filter(({ verdict }) => verdict === "fail").length;
  const warned = checks.filter(({ verdict }) => verdict === "warning").length;
  const warnings = warned === 0 ? "" : `, ${warned} ${warned === 1 ? "warning" : "warnings"}`;
  return failed === 0
    ? { ready: true, text: `Ready to ${verb}: all checks passed${warnings}.` }
    : { ready: false, text: `Do not ${verb}: ${failed} of ${checks.length} checks failed${warnings}.` };
}

export function sheetCheck(check: CheckResult): SheetCheck {
  return {
    title: check.title,
    verdict: check.verdict,
    measured: measuredText(check),
    limit: limitText(check),
    places: placesText(check),
    // A check that passed speaks for itself; the sheet is to fit on two pages.
    note: check.verdict === "pass" ? "" : check.note,
    remedies: check.remedies.map(({ text }) => text),
  };
}

/** "at least 1.5 mm"; nothing where the question is answered by yes or no. */
export function limitText({ limit, sense, unit }: CheckResult): string {
  if (limit === null || unit === "yes-no") return "";
  return `${sense === "least" ? "at least" : "at most"} ${valueText(limit, unit)}`;
}

/** The measured value in words; nothing near enough to measure is said so. */
export function measuredText({ measured, unit }: CheckResult): string {
  if (unit === "yes-no") return measured === 1 ? "yes" : "no";
  return measured === null ? "none near" : valueText(measured, unit);
}

function valueText(value: number, unit: CheckResult["unit"]): string {
  return `${formatNumber(value, unit === "mm" ? 3 : 1)}${unitText(unit)}`;
}

/** Of a check or of a number of a profile. */
export function unitText(unit: string): string {
  switch (unit) {
    case "":
    case "count":
      return "";
    case "mm2":
      return " mm²";
    case "per-mm2":
      return " per mm²";
    case "degrees":
      return "°";
    case "percent":
      return " %";
    default:
      return ` ${unit}`;
  }
}

/** "3 places: 12.5, 40 …": mm from the lower left corner of the finished piece. */
export function placesText({ count, places }: CheckResult): string {
  if (count === 0 || places.length === 0) return count === 0 ? "" : `${count}`;
  const named = places.slice(0, 3).map(({ x, y }) => `(${formatNumber(x, 1)}, ${formatNumber(y, 1)})`);
  return `${count} ${count === 1 ? "place" : "places"}: ${named.join(" ")}${count > named.length ? " …" : ""}`;
}

/** The failed checks and warnings first, as people want to read them. */
export function worstFirst(checks: readonly CheckResult[]): CheckResult[] {
  const order = { fail: 0, warning: 1, pass: 2 };
  return [...checks].sort((a, b) => order[a.verdict] - order[b.verdict]);
}
