/**
 * A PDF file in memory. The package is a stream, but makes all its bytes within `end`: they are
 * taken as it hands them on, so that nothing has to be waited for, in Node or in a browser.
 */
import { PDFDocument } from "pdfkit";
import { xmlText } from "../xml-text.ts";

const MAKER = "plaitwright";

export interface PdfFacts {
  readonly title: string;
  readonly language: string;
}

export class PdfFile extends PDFDocument {
  /** Without a first value here: the first pieces come while the package's constructor still runs. */
  declare pieces?: Uint8Array[];

  constructor({ title, language }: PdfFacts) {
    super({
      autoFirstPage: false,
      font: null,
      pdfVersion: "1.7",
      tagged: true,
      lang: language,
      displayTitle: true,
      compress: true,
      info: {
        Title: title,
        Creator: MAKER,
        // biome-ignore lint/style/noRestrictedGlobals: the package puts the clock's time here unless it is given another, and the same input has to give the same bytes.
        CreationDate: new Date(0),
      },
    });
  }

  override push(piece: Uint8Array | null): boolean {
    this.pieces ??= [];
    if (piece) this.pieces.push(piece);
    return true;
  }

  /** The package writes the title into XML as it is; by now it stands elsewhere in the file already. */
  override _addInfo(): void {
    const { info } = this;
    info["Title"] = xmlText(String(info["Title"]));
    super._addInfo();
  }

  /** Ends the file. */
  bytes(): Uint8Array {
    this.end();
    const pieces = this.pieces ?? [];
    const bytes = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
    let offset = 0;
    for (const piece of pieces) {
      bytes.set(piece, offset);
      offset += piece.length;
    }
    return bytes;
  }
}
