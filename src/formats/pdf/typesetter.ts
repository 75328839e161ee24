/** Words in lines: how wide they are, and where they break. */
import { type PaperWeight, POINT_MM } from "../../output/paper.ts";
import { Faces, type PaperFonts } from "./faces.ts";
import { PdfFile } from "./pdf-file.ts";

export interface TypeStyle {
  readonly sizeMm: number;
  readonly colour: string;
  readonly weight?: PaperWeight;
  /** From foot to foot. */
  readonly lineMm: number;
}

/** Where a word that is longer than its line may break without a hyphen of its own. */
const BREAK_AFTER = /(?<=[-–—/_.,])/u;

/** How finely even lines are looked for. */
const BALANCE_STEP = 0.02;

export class Typesetter {
  readonly #faces: Faces;

  constructor(fonts: PaperFonts) {
    // A file that is never written: only its faces are asked.
    this.#faces = new Faces(new PdfFile({ title: "", language: "en" }), fonts);
  }

  /** The width of one line, mm. */
  width(text: string, { sizeMm, weight = "regular" }: Pick<TypeStyle, "sizeMm" | "weight">): number {
    return this.#faces.widthMm(text, sizeMm, weight);
  }

  /** The width of the longest word, mm: a line needs no less. */
  wordWidth(text: string, style: TypeStyle): number {
    return Math.max(0, ...words(text).map((word) => this.width(word, style)));
  }

  /** The lines of a text that are no wider than `widthMm`; no line at all for no words. */
  lines(text: string, style: TypeStyle, widthMm: number): string[] {
    const lines: string[] = [];
    let line = "";
    for (const word of words(text)) {
      const longer = line === "" ? word : `${line} ${word}`;
      if (this.width(longer, style) <= widthMm) {
        line = longer;
        continue;
      }
      if (line !== "") lines.push(line);
      const pieces = this.#pieces(word, style, widthMm);
      line = pieces.pop() ?? "";
      lines.push(...pieces);
    }
    return line === "" ? lines : [...lines, line];
  }

  /** The same number of lines, as even as they can be. */
  balancedLines(text: string, style: TypeStyle, widthMm: number): string[] {
    const lines = this.lines(text, style, widthMm);
    let best = lines;
    for (let share = 1; share > 0.5; share -= BALANCE_STEP) {
      const tried = this.lines(text, style, widthMm * share);
      if (tried.length > lines.length) break;
      best = tried;
    }
    return best;
  }

  /** A word as it is where it fits, else broken after its marks, else anywhere. */
  #pieces(word: string, style: TypeStyle, widthMm: number): string[] {
    if (this.width(word, style) <= widthMm) return [word];
    const pieces: string[] = [];
    let piece = "";
    const parts = word
      .split(BREAK_AFTER)
      .flatMap((part) => (this.width(part, style) <= widthMm ? [part] : Array.from(part)));
    for (const part of parts) {
      if (piece !== "" && this.width(piece + part, style) > widthMm) {
        pieces.push(piece);
        piece = "";
      }
      piece += part;
    }
    return [...pieces, piece];
  }
}

function words(text: string): string[] {
  // A no-break space holds words together, so it is none of these.
  return text.split(/[ \t\n\r]+/).filter((word) => word !== "");
}

/** A style by its size in points; lines are as far apart as `leading` says, in sizes of the type. */
export function typeStyle(
  points: number,
  colour: string,
  weight: PaperWeight = "regular",
  leading = 1.34,
): TypeStyle {
  const sizeMm = points * POINT_MM;
  return { sizeMm, colour, weight, lineMm: leading * sizeMm };
}

/** How far below the top of a line its foot lies, in sizes of the type: half the leading, and the capitals. */
export function footBelowTop({ sizeMm, lineMm }: TypeStyle): number {
  return lineMm / 2 + 0.36 * sizeMm;
}
