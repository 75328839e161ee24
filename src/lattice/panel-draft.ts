/**
 * Panel text to begin with: rings, borders round an opening, strips with shaped ends. Each is a
 * set of unit squares (panel.ts) written down with a crossing on every site inside and the
 * boundary's breaklines round it.
 */
import { done, type Fault, type Result, refused } from "../base/fault.ts";

/** Whether a unit square, by its top left place, belongs to the panel. */
type Region = (row: number, column: number) => boolean;

/**
 * A plain ring of so many strands side by side, `around` cells round. The last column repeats
 * the first, which closes the picture.
 *
 * @param around 3 or more
 * @param strands 1 or more; an odd number has its inner edge half a cell off
 */
export function draftRing(around: number, strands: number): string[] {
  return regionRows(strands + 1, 2 * around + 1, (row) => row >= 0 && row < strands);
}

export interface FrameDraft {
  /** Strands side by side in the border, 2 or more. */
  readonly strands: number;
  /** The opening's size in cells. */
  readonly opening: { readonly across: number; readonly down: number };
}

/**
 * A border of the same number of strands all round an opening. An odd number has the opening's
 * edge half a cell off.
 */
export function draftFrame({ strands, opening }: FrameDraft): Result<string[]> {
  const faults = [
    ...wholeNumber(strands, 2, "strands"),
    ...wholeNumber(opening.across, 1, "opening", "across"),
    ...wholeNumber(opening.down, 1, "opening", "down"),
  ];
  if (faults.length > 0) return refused(...faults);
  const rows = 2 * (strands + opening.down);
  const columns = 2 * (strands + opening.across);
  const isBorder = (at: number, size: number) => at < strands || at >= size - strands;
  return done(
    regionRows(
      rows + 1,
      columns + 1,
      (row, column) =>
        isWithin(row, rows) &&
        isWithin(column, columns) &&
        (isBorder(row, rows) || isBorder(column, columns)),
    ),
  );
}

export type StripEnd = "square" | "pointed" | "rounded";

export interface StripDraft {
  /**
   * Strands side by side, an even number: the edges of a strip and its ends run through dots of
   * one kind, so its height is a whole number of cells.
   */
  readonly strands: number;
  /** The whole length in cells, ends included. */
  readonly repeats: number;
  /** Shaped ends show from six strands on: narrower ones have no cells to leave out. */
  readonly end: StripEnd;
}

/** A straight strip, for a belt or a bookmark. */
export function draftStrip({ strands, repeats, end }: StripDraft): Result<string[]> {
  const faults = [...wholeNumber(strands, 2, "strands"), ...wholeNumber(repeats, 1, "repeats")];
  if (strands % 2 === 1)
    faults.push({ code: "wrong-kind", path: ["strands"], found: `${strands}`, wanted: "an even number" });
  if (faults.length > 0) return refused(...faults);
  const high = strands / 2;
  const rows = 2 * high;
  const columns = 2 * repeats;
  const isInside: Region = (row, column) => {
    if (!isWithin(column, columns)) return false;
    const cell = Math.floor(column / 2);
    const margin = high - endHeight(high, Math.min(cell, repeats - 1 - cell), end);
    return row >= margin && row < rows - margin;
  };
  const text = regionRows(rows + 1, columns + 1, isInside);
  const hasTips = high > 1 && endHeight(high, 0, end) === 1;
  // A cell that hangs on one crossing could be untwisted: a breakline makes it a loop of the strand.
  return done(
    text.map((line, row) => (hasTips && row === high ? withBreaklines(line, [2, columns - 2]) : line)),
  );
}

function withBreaklines(line: string, columns: readonly number[]): string {
  return Array.from(line, (found, column) => (columns.includes(column) ? "-" : found)).join("");
}

/** How many cells high a strip is so many cells from its end; always an even number fewer than in its middle. */
function endHeight(high: number, fromEnd: number, end: StripEnd): number {
  if (end === "square") return high;
  const least = high % 2 === 0 ? 2 : 1;
  if (end === "pointed") return Math.min(high, least + 2 * fromEnd);
  // The chord of a half circle, and half a cell more: its edge passes through cells, not round them.
  const fromMiddle = Math.max(0, high / 2 - fromEnd - 0.5);
  const chord = 2 * Math.sqrt((high / 2) ** 2 - fromMiddle ** 2) + 0.5;
  return Math.max(least, high - 2 * Math.ceil((high - chord) / 2));
}

function isWithin(at: number, size: number): boolean {
  return at >= 0 && at < size;
}

function wholeNumber(found: number, least: number, ...path: string[]): Fault[] {
  if (!Number.isInteger(found))
    return [{ code: "wrong-kind", path, found: `${found}`, wanted: "a whole number" }];
  return found < least ? [{ code: "number-out-of-range", path, found, least, unit: "" }] : [];
}

/** The text of a region, so many rows and columns of places. */
function regionRows(rows: number, columns: number, region: Region): string[] {
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) => placeText(region, row, column))
      .join("")
      .trimEnd(),
  );
}

function placeText(region: Region, row: number, column: number): string {
  const above = [region(row - 1, column - 1), region(row - 1, column)];
  const below = [region(row, column - 1), region(row, column)];
  const count = [...above, ...below].filter(Boolean).length;
  if (count === 0) return " ";
  if ((row + column) % 2 === 0) return row % 2 === 0 ? "+" : "o";
  if (count === 4) return "x";
  return above[0] === above[1] ? "-" : "|";
}
