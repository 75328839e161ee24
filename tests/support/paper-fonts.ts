/** The typeface that PDF files are set in: Noto Sans, as the package @fontsource/noto-sans brings it. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { PaperFonts } from "../../src/formats/pdf/faces.ts";

function face(subset: string, weight: 400 | 700): Uint8Array {
  const path = `../../node_modules/@fontsource/noto-sans/files/noto-sans-${subset}-${weight}-normal.woff`;
  return new Uint8Array(readFileSync(fileURLToPath(new URL(path, import.meta.url))));
}

function pair(subset: string) {
  return { regular: face(subset, 400), bold: face(subset, 700) };
}

export const LATIN_FONTS: PaperFonts = pair("latin");

/** With the letters of other languages of Europe. */
export const WIDE_FONTS: PaperFonts = { ...LATIN_FONTS, more: [pair("latin-ext"), pair("greek")] };
