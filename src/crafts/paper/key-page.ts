/** The page behind a template's sheets: what each kind of line means, and what is to be said. */

import { moveBy } from "../../geometry/transform.ts";
import type { PaperDocument, PaperElement, PaperItem, PaperPage } from "../../output/paper.ts";
import { INK, SMALL_TYPE_MM, SOFT_INK } from "./mark-look.ts";
import { SAMPLE_HEIGHT_MM, SAMPLE_WIDTH_MM, type Template } from "./template.ts";

const TITLE_MM = 6;
const LINE_MM = 5.2;
const ROW_MM = 8;
const MARGIN_MM = 18;
/** Letters of this typeface are about half as wide as high. */
const LETTER_SHARE = 0.5;

interface KeySize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The document with its key: on pages of this size, as many as the words need. */
export function withKey(
  document: PaperDocument,
  template: Template,
  words: readonly string[],
  size: KeySize,
): PaperDocument {
  const pages = new KeyPages(size);
  pages.heading(`${template.title}: key`);
  for (const { name, purpose, sample } of template.groups)
    if (purpose !== "") pages.row(sample, `${name}: ${purpose}`);
  pages.heading("Notes");
  for (const note of [...template.notes, ...words]) pages.paragraph(note);
  return {
    ...document,
    pages: [...document.pages, ...pages.pages],
    structure: [...document.structure, ...pages.structure],
  };
}

class KeyPages {
  readonly structure: PaperElement[] = [];
  readonly #size: KeySize;
  readonly #pages: PaperItem[][] = [[]];
  #y: number;

  constructor(size: KeySize) {
    this.#size = size;
    this.#y = size.heightMm - MARGIN_MM;
  }

  get pages(): PaperPage[] {
    return this.#pages.map((items) => ({ ...this.#size, items }));
  }

  heading(text: string): void {
    this.#room(TITLE_MM + 2 * ROW_MM);
    this.#y -= TITLE_MM + 2;
    this.#text("heading2", [{ text, x: MARGIN_MM, y: this.#y, sizeMm: TITLE_MM * 0.8, bold: true }]);
    this.#y -= 3;
  }

  row(sample: readonly PaperItem[], text: string): void {
    const x = MARGIN_MM + SAMPLE_WIDTH_MM + 5;
    const lines = this.#wrapped(text, x);
    this.#room(Math.max(ROW_MM, lines.length * LINE_MM));
    const top = this.#y;
    this.#items.push({
      kind: "group",
      transform: moveBy(MARGIN_MM, top - SAMPLE_HEIGHT_MM - 1),
      items: sample,
    });
    this.#lines("paragraph", lines, x);
    this.#y = Math.min(this.#y, top - ROW_MM);
  }

  paragraph(text: string): void {
    const lines = this.#wrapped(text, MARGIN_MM);
    this.#room(lines.length * LINE_MM);
    this.#lines("paragraph", lines, MARGIN_MM);
    this.#y -= 1.5;
  }

  get #items(): PaperItem[] {
    const last = this.#pages.at(-1);
    if (last) return last;
    const first: PaperItem[] = [];
    this.#pages.push(first);
    return first;
  }

  /** A new page where the height is not left. */
  #room(heightMm: number): void {
    if (this.#y - heightMm >= MARGIN_MM) return;
    this.#pages.push([]);
    this.#y = this.#size.heightMm - MARGIN_MM;
  }

  #lines(role: PaperElement["role"], lines: readonly string[], x: number): void {
    const placed = lines.map((text) => {
      this.#y -= LINE_MM;
      return { text, x, y: this.#y, sizeMm: SMALL_TYPE_MM * 1.3, bold: false };
    });
    this.#text(role, placed);
  }

  #text(
    role: PaperElement["role"],
    lines: readonly { text: string; x: number; y: number; sizeMm: number; bold: boolean }[],
  ): void {
    const element: PaperElement = { role, children: [] };
    this.structure.push(element);
    const items = lines.map(
      ({ text, x, y, sizeMm, bold }): PaperItem => ({
        kind: "text",
        text,
        at: { x, y },
        sizeMm,
        colour: bold ? INK : SOFT_INK,
        weight: bold ? "bold" : "regular",
        mostMm: this.#size.widthMm - MARGIN_MM - x,
      }),
    );
    this.#items.push({ kind: "marked", element, items });
  }

  #wrapped(text: string, x: number): string[] {
    const most = Math.floor((this.#size.widthMm - MARGIN_MM - x) / (SMALL_TYPE_MM * 1.3 * LETTER_SHARE));
    const lines: string[] = [];
    let line = "";
    for (const word of text.split(" ")) {
      if (line !== "" && line.length + 1 + word.length > most) {
        lines.push(line);
        line = word;
      } else line = line === "" ? word : `${line} ${word}`;
    }
    return [...lines, line];
  }
}
