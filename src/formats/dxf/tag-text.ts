/**
 * The grammar of a DXF text: pairs of a group code and a value, a line each. This is the
 * one place where values become text, so that no file holds a number that is not finite,
 * an exponent, a character outside ASCII or a line break inside a value.
 *
 * Group code ranges: DXF Reference, "Group Code Value Types"; of the real ones only 10-59 occur.
 */
import { formatNumber } from "../../base/format-number.ts";
import { GRID_DECIMALS } from "../grid-chain.ts";

/** Bulges, angles and radii act at the far end of an arc: on a 1 m arc, 1e-9 is a thousandth of the grid. */
const SHAPE_DECIMALS = 9;

/** Lines are joined in chunks, so that a large file needs no list of all its lines at once. */
const CHUNK_LINES = 1 << 16;

export class TagText {
  readonly #chunks: string[] = [];
  #lines: string[] = [];

  /** @throws InternalError for a number that is not finite. */
  push(code: number, value: string | number): void {
    const text = typeof value === "number" ? formatNumber(value, decimalsOf(code)) : asciiText(value);
    this.#lines.push(String(code), text);
    if (this.#lines.length >= CHUNK_LINES) this.#closeChunk();
  }

  /** A point as group codes 10, 20, 30. */
  point(x: number, y: number, z = 0): void {
    this.push(10, x);
    this.push(20, y);
    this.push(30, z);
  }

  start(section: string): void {
    this.push(0, "SECTION");
    this.push(2, section);
  }

  end(): void {
    this.push(0, "ENDSEC");
  }

  headerVariable(name: string, pairs: readonly (readonly [number, string | number])[]): void {
    this.push(9, `$${name}`);
    for (const [code, value] of pairs) this.push(code, value);
  }

  /** A comment (group code 999, which readers skip); one pair for each line of the text. */
  comment(text: string): void {
    for (const line of text.split(/\r\n|[\n\r\u2028\u2029]/)) this.push(999, line);
  }

  append(other: TagText): void {
    this.#closeChunk();
    other.#closeChunk();
    for (const chunk of other.#chunks) this.#chunks.push(chunk);
  }

  toString(): string {
    this.#closeChunk();
    return this.#chunks.join("");
  }

  #closeChunk(): void {
    if (this.#lines.length === 0) return;
    this.#chunks.push(`${this.#lines.join("\n")}\n`);
    this.#lines = [];
  }
}

/** Coordinates lie on the output grid, other real numbers are finer, the rest are whole. */
function decimalsOf(code: number): number {
  if (code >= 10 && code <= 39) return GRID_DECIMALS;
  return code >= 40 && code <= 59 ? SHAPE_DECIMALS : 0;
}

/** Text in ASCII: other characters as \U+XXXX (UTF-16 units), control characters as blanks. */
function asciiText(text: string): string {
  return text.replace(/[^ -~]/g, (character) => {
    const unit = character.charCodeAt(0);
    const control = unit < 0x20 || unit === 0x7f;
    return control ? " " : `\\U+${unit.toString(16).toUpperCase().padStart(4, "0")}`;
  });
}
