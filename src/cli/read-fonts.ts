/** The typeface that printed pages embed: Noto Sans (SIL Open Font License 1.1), as a package brings it. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { PaperFonts } from "../formats/pdf/faces.ts";

/** Subsets by script, the first for most; all others for names in other alphabets. */
const SCRIPTS = ["latin", "latin-ext", "greek", "cyrillic", "vietnamese"];

let known: PaperFonts | undefined;

export function readFonts(): PaperFonts {
  known ??= loadFonts();
  return known;
}

function loadFonts(): PaperFonts {
  const find = createRequire(import.meta.url);
  const face = (script: string, weight: number) =>
    readFileSync(find.resolve(`@fontsource/noto-sans/files/noto-sans-${script}-${weight}-normal.woff`));
  const [first = { regular: new Uint8Array(), bold: new Uint8Array() }, ...more] = SCRIPTS.map((script) => ({
    regular: face(script, 400),
    bold: face(script, 700),
  }));
  return { ...first, more };
}
