/**
 * The parts of the package `pdfkit` that this folder uses, with those of its insides that it
 * needs: its published types bring Node's with them, which code outside `cli` must not see.
 */
declare module "pdfkit" {
  export class PDFDocument {
    constructor(options: PDFDocument.Options);
    readonly page: { readonly width: number; readonly height: number };
    readonly info: Record<string, unknown>;
    /** The typeface in use. */
    readonly _font: {
      readonly font: { hasGlyphForCodePoint(codePoint: number): boolean };
    };

    /** Takes the file's bytes in pieces, and null at the end. Called before the constructor is done. */
    push(piece: Uint8Array | null): boolean;
    /** Writes the metadata, `info` in its words. */
    _addInfo(): void;
    addPage(options: { readonly size: readonly [number, number]; readonly margin: number }): this;
    end(): void;

    registerFont(name: string, source: Uint8Array): this;
    font(name: string): this;
    fontSize(points: number): this;
    widthOfString(text: string): number;
    text(
      text: string,
      x: number,
      y: number,
      options: { readonly lineBreak: false; readonly baseline: "alphabetic" },
    ): this;
    image(
      source: Uint8Array | PDFDocument.Image,
      x: number,
      y: number,
      options: { readonly width: number; readonly height: number },
    ): this;
    openImage(source: Uint8Array): PDFDocument.Image;

    save(): this;
    restore(): this;
    transform(a: number, b: number, c: number, d: number, e: number, f: number): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    bezierCurveTo(ax: number, ay: number, bx: number, by: number, x: number, y: number): this;
    closePath(): this;
    rect(x: number, y: number, width: number, height: number): this;
    clip(): this;
    lineWidth(width: number): this;
    lineCap(style: "butt" | "round"): this;
    lineJoin(style: "miter" | "round"): this;
    dash(lengths: readonly number[], options: { readonly phase: number }): this;
    undash(): this;
    fillColor(colour: string): this;
    strokeColor(colour: string): this;
    fill(rule: "even-odd"): this;
    stroke(): this;

    markContent(tag: string): this;
    markStructureContent(tag: string): PDFDocument.Content;
    endMarkedContent(): this;
    struct(type: string, options?: { readonly alt?: string; readonly scope?: string }): PDFDocument.Element;
    addStructure(element: PDFDocument.Element): this;
  }

  export namespace PDFDocument {
    interface Options {
      readonly autoFirstPage: boolean;
      /** The typeface of the start; null for none. */
      readonly font: null;
      readonly pdfVersion: "1.7";
      readonly tagged: boolean;
      readonly lang: string;
      readonly displayTitle: boolean;
      readonly compress: boolean;
      readonly info: Readonly<Record<string, unknown>>;
    }
    /** A run of content on a page. */
    interface Content {
      readonly refs: readonly object[];
    }
    interface Image {
      readonly width: number;
      readonly height: number;
    }
    interface Element {
      readonly dictionary: { readonly data: Record<string, unknown> };
      add(child: Element | Content): this;
      end(): void;
    }
  }
}
