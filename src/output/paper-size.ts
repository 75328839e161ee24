/** Sizes of paper, mm, upright. */
import { POINT_MM } from "./paper.ts";

export interface SheetSize {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly source: string;
}

/** What is printed on: sheets of one size, or a roll that is cut off where a page ends. */
export type Paper =
  | ({ readonly kind: "sheet" } & Omit<SheetSize, "source">)
  | { readonly kind: "roll"; readonly widthMm: number };

const ISO = "ISO 216, A series";
const ANSI = "ANSI/ASME Y14.1";
const INCH_MM = 72 * POINT_MM;

export const SHEET_SIZES: readonly SheetSize[] = [
  { name: "A5", widthMm: 148, heightMm: 210, source: ISO },
  { name: "A4", widthMm: 210, heightMm: 297, source: ISO },
  { name: "A3", widthMm: 297, heightMm: 420, source: ISO },
  { name: "A2", widthMm: 420, heightMm: 594, source: ISO },
  { name: "A1", widthMm: 594, heightMm: 841, source: ISO },
  { name: "A0", widthMm: 841, heightMm: 1189, source: ISO },
  { name: "Letter", widthMm: 8.5 * INCH_MM, heightMm: 11 * INCH_MM, source: `${ANSI}, size A` },
  { name: "Legal", widthMm: 8.5 * INCH_MM, heightMm: 14 * INCH_MM, source: "common practice" },
  { name: "Ledger", widthMm: 11 * INCH_MM, heightMm: 17 * INCH_MM, source: `${ANSI}, size B` },
];

/** The sheet of that name, whatever its letters' case; undefined where there is none. */
export function sheetNamed(name: string): Extract<Paper, { readonly kind: "sheet" }> | undefined {
  const size = SHEET_SIZES.find((known) => known.name.toLowerCase() === name.toLowerCase());
  return size && { kind: "sheet", name: size.name, widthMm: size.widthMm, heightMm: size.heightMm };
}
