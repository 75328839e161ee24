/** A job sheet as its two files: one for screens, one for printers. */
import { writeJobSheetHtml } from "../formats/job-sheet-html.ts";
import type { PaperFonts } from "../formats/pdf/faces.ts";
import { writeJobSheetPdf } from "../formats/pdf/job-sheet-pdf.ts";
import type { JobSheet } from "../output/job-sheet.ts";
import type { PlannedFile } from "./craft.ts";

/** The names and purposes, as the sheet itself lists them. */
export const SHEET_FILES = [
  { path: "job-sheet.html", kind: "sheet", purpose: "to read on a screen, and to print" },
  { path: "job-sheet.pdf", kind: "sheet", purpose: "the same, to print and take to the bench" },
] as const satisfies readonly Omit<PlannedFile, "content">[];

export type MadeFile = Omit<PlannedFile, "content"> & { readonly content: string | Uint8Array };

export function sheetFiles(sheet: JobSheet, fonts: () => PaperFonts): MadeFile[] {
  const [screen, printer] = SHEET_FILES;
  return [
    { ...screen, content: writeJobSheetHtml(sheet) },
    { ...printer, content: writeJobSheetPdf(sheet, fonts()) },
  ];
}
