/**
 * The typeface of a file in two weights. A character that it lacks is looked for in the further
 * faces, then written in other letters.
 */
import type { PDFDocument } from "pdfkit";
import { type PaperWeight, POINT_MM } from "../../output/paper.ts";

/** Font files (TrueType, OpenType or WOFF; not WOFF2) of one family. */
export interface PaperFonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
  /** For characters that the first pair lacks, in this order. */
  readonly more?: readonly { readonly regular: Uint8Array; readonly bold: Uint8Array }[];
}

/** A stretch of text in one face. */
export interface FaceRun {
  readonly face: string;
  readonly text: string;
}

/** Where a typeface lacks a sign. */
const OTHER_LETTERS: Readonly<Record<string, string>> = {
  "≥": ">=",
  "≤": "<=",
  "≈": "~",
  "→": "->",
  "−": "-",
  "×": "x",
};
const NO_LETTER = "?";

export class Faces {
  readonly #file: PDFDocument;
  readonly #names: Readonly<Record<PaperWeight, readonly string[]>>;
  /** The face and the letters of each weight and character met so far. */
  readonly #known = new Map<string, FaceRun>();

  constructor(file: PDFDocument, fonts: PaperFonts) {
    this.#file = file;
    const sources = [fonts, ...(fonts.more ?? [])];
    const registered = (weight: PaperWeight) =>
      sources.map((source, index) => {
        const name = `${weight}-${index}`;
        file.registerFont(name, source[weight]);
        return name;
      });
    this.#names = { regular: registered("regular"), bold: registered("bold") };
  }

  /** The text in stretches that each need one face; line ends and tabs become blanks. */
  runsOf(text: string, weight: PaperWeight): FaceRun[] {
    const runs: FaceRun[] = [];
    for (const character of text.normalize("NFC").replace(/[\t\n\r]+/g, " ")) {
      const own = this.#runOf(character, weight);
      const last = runs.at(-1);
      if (last?.face === own.face) runs[runs.length - 1] = { face: own.face, text: last.text + own.text };
      else runs.push(own);
    }
    return runs;
  }

  /** The width of one line of text, mm. */
  widthMm(text: string, sizeMm: number, weight: PaperWeight): number {
    let points = 0;
    for (const run of this.runsOf(text, weight)) points += this.use(run.face, sizeMm).widthOfString(run.text);
    return points * POINT_MM;
  }

  /** The file with a face in use at a size. */
  use(face: string, sizeMm: number): PDFDocument {
    return this.#file.font(face).fontSize(sizeMm / POINT_MM);
  }

  #runOf(character: string, weight: PaperWeight): FaceRun {
    const key = weight + character;
    let run = this.#known.get(key);
    if (!run) {
      run = this.#find(character, weight);
      this.#known.set(key, run);
    }
    return run;
  }

  #find(character: string, weight: PaperWeight): FaceRun {
    const names = this.#names[weight];
    const [first = ""] = names;
    const having = (letters: string) => names.find((name) => this.#has(name, letters));
    const face = having(character);
    if (face !== undefined) return { face, text: character };
    const bare = character.normalize("NFD").replace(/\p{M}/gu, "");
    const text = OTHER_LETTERS[character] ?? (bare !== "" && having(bare) === first ? bare : NO_LETTER);
    return { face: first, text };
  }

  #has(name: string, letters: string): boolean {
    const { font } = this.#file.font(name)._font;
    return Array.from(letters).every((letter) => font.hasGlyphForCodePoint(letter.codePointAt(0) ?? 0));
  }
}
