/**
 * The header of the trade's stitch record: 512 bytes, of which 125 are used. Each field is two
 * characters, a colon, the value in a fixed number of characters and a carriage return; then
 * 1A hex, and blanks. Lengths are in units of 0.1 mm.
 */
import { InternalError } from "../../base/internal-error.ts";

export const HEADER_BYTES = 512;

export interface HeaderFacts {
  readonly title: string;
  /** All three-byte records that follow, the one that ends the file included. */
  readonly records: number;
  readonly colourChanges: number;
  /** How far the needle gets from where it starts, each 0 or more. */
  readonly right: number;
  readonly left: number;
  readonly up: number;
  readonly down: number;
  /** Where it ends, from where it starts. */
  readonly endX: number;
  readonly endY: number;
}

const LABEL_CHARACTERS = 16;
const CARRIAGE_RETURN = "\r";
const END_OF_TEXT = 0x1a;
const BLANK = 0x20;

/** @throws InternalError for a number that finds no room in its field. */
export function headerBytes(facts: HeaderFacts): Uint8Array {
  const fields = [
    ["LA", label(facts.title)],
    ["ST", digits(facts.records, 7)],
    ["CO", digits(facts.colourChanges, 3)],
    ["+X", digits(facts.right, 5)],
    ["-X", digits(facts.left, 5)],
    ["+Y", digits(facts.up, 5)],
    ["-Y", digits(facts.down, 5)],
    ["AX", signed(facts.endX)],
    ["AY", signed(facts.endY)],
    // No earlier file of a set, and nothing before it.
    ["MX", signed(0)],
    ["MY", signed(0)],
    ["PD", "******"],
  ];
  const text = fields.map(([name, value]) => `${name}:${value}${CARRIAGE_RETURN}`).join("");
  const bytes = new Uint8Array(HEADER_BYTES).fill(BLANK);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  bytes[text.length] = END_OF_TEXT;
  return bytes;
}

/** Plain letters only: accents are dropped, what has no plain letter becomes a hyphen. */
function label(title: string): string {
  const plain = title
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/[^ -~]/gu, "-");
  return plain.slice(0, LABEL_CHARACTERS).padEnd(LABEL_CHARACTERS);
}

function digits(value: number, room: number): string {
  const text = String(value).padStart(room, "0");
  if (!Number.isInteger(value) || value < 0 || text.length > room)
    throw new InternalError(`no room for ${value} in a header field of ${room} digits`);
  return text;
}

function signed(value: number): string {
  return (value < 0 ? "-" : "+") + digits(Math.abs(value), 5);
}
