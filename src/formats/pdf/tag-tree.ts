/**
 * The structure of a tagged file (ISO 32000-1, 14.8): which runs of content belong to which
 * element, in the order of reading.
 */
import type { PDFDocument } from "pdfkit";
import { InternalError } from "../../base/internal-error.ts";
import type { PaperElement, PaperRole } from "../../output/paper.ts";

/** Standard structure types, ISO 32000-1, tables 333 to 337 and 340. */
const TAGS: Readonly<Record<PaperRole, string>> = {
  section: "Sect",
  heading1: "H1",
  heading2: "H2",
  heading3: "H3",
  paragraph: "P",
  list: "L",
  "list-item": "LI",
  "list-label": "Lbl",
  "list-body": "LBody",
  table: "Table",
  row: "TR",
  "column-header": "TH",
  "row-header": "TH",
  cell: "TD",
  figure: "Figure",
  caption: "Caption",
};

const SCOPES: Partial<Readonly<Record<PaperRole, string>>> = {
  "column-header": "Column",
  "row-header": "Row",
};

export class TagTree {
  readonly #file: PDFDocument;
  readonly #contents = new Map<PaperElement, PDFDocument.Content[]>();

  constructor(file: PDFDocument) {
    this.#file = file;
  }

  /** Draws what belongs to an element, on the page at hand. */
  mark(element: PaperElement, draw: () => void): void {
    const content = this.#file.markStructureContent(TAGS[element.role]);
    draw();
    this.#file.endMarkedContent();
    const known = this.#contents.get(element);
    if (known) known.push(content);
    else this.#contents.set(element, [content]);
  }

  /** Draws what a voice passes over. */
  passOver(draw: () => void): void {
    this.#file.markContent("Artifact");
    draw();
    this.#file.endMarkedContent();
  }

  /**
   * Puts the elements in order, when all pages are drawn.
   *
   * @throws InternalError if something drawn belongs to an element that is not among them.
   */
  finish(structure: readonly PaperElement[]): void {
    const root = this.#file.struct("Document");
    this.#file.addStructure(root);
    for (const element of structure) this.#add(element, root);
    root.end();
    for (const { role } of this.#contents.keys())
      throw new InternalError(`a ${role} was drawn that is no part of the document's structure`);
  }

  #add(element: PaperElement, parent: PDFDocument.Element): void {
    const { role, alt, columns, children } = element;
    const scope = SCOPES[role];
    const tag = this.#file.struct(TAGS[role], {
      ...(alt === undefined ? {} : { alt }),
      ...(scope === undefined ? {} : { scope }),
    });
    // The package has no option for it: ISO 32000-1, table 349.
    if (columns !== undefined) tag.dictionary.data["A"] = { O: "Table", ColSpan: columns };
    parent.add(tag);
    for (const content of this.#contents.get(element) ?? []) tag.add(content);
    this.#contents.delete(element);
    for (const child of children) this.#add(child, tag);
    tag.end();
  }
}
