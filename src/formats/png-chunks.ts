/**
 * Chunks of a PNG file beside those that carry the pixels (ISO/IEC 15948, "Portable Network
 * Graphics", sections 5.3 chunk layout, 11.3.5.3 pHYs, 11.3.4 text; annex D the check sum).
 * A chunk is its length, four letters, its bytes and a check sum over letters and bytes.
 */
import { InternalError } from "../base/internal-error.ts";

/** The signature, then IHDR, which is always first and 25 bytes long. */
const AFTER_HEADER = 8 + 25;
/** Reversed polynomial of the cyclic redundancy code of ISO 3309. */
const CRC_POLYNOMIAL = 0xedb88320;
const METRE = 1;
/** Line ends and what Latin-1 can show; other control characters have no place in a text. */
const LATIN_1 = /^[\n\u{20}-\u{7E}\u{A0}-\u{FF}]*$/u;
const NOT_A_CHARACTER = /[^\n\u{20}-\u{7E}\u{A0}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;
const GREATEST_UINT31 = 2 ** 31 - 1;

/** The file with chunks of ours put in right after its header. */
export function insertChunks(png: Uint8Array, chunks: readonly Uint8Array[]): Uint8Array {
  const added = chunks.reduce((sum, { length }) => sum + length, 0);
  const file = new Uint8Array(png.length + added);
  file.set(png.subarray(0, AFTER_HEADER));
  let at = AFTER_HEADER;
  for (const bytes of chunks) {
    file.set(bytes, at);
    at += bytes.length;
  }
  file.set(png.subarray(AFTER_HEADER), at);
  return file;
}

/** How large a pixel is, as whole pixels to the metre: the format knows no finer. */
export function pixelSizeChunk(stepMm: number): Uint8Array {
  const perMetre = Math.round(1000 / stepMm);
  if (!(perMetre > 0 && perMetre <= GREATEST_UINT31)) throw new InternalError(`a pixel of ${stepMm} mm`);
  const body = new Uint8Array(9);
  const view = new DataView(body.buffer);
  view.setUint32(0, perMetre);
  view.setUint32(4, perMetre);
  body[8] = METRE;
  return chunk("pHYs", body);
}

/**
 * A text under a keyword of the standard (Title, Description, Software …): a tEXt chunk where
 * Latin-1 holds it, else an iTXt chunk in UTF-8, not compressed and of no stated language.
 */
export function textChunk(keyword: string, text: string): Uint8Array {
  const clean = text.replace(NOT_A_CHARACTER, "\uFFFD");
  return LATIN_1.test(clean)
    ? chunk("tEXt", latin1(`${keyword}\0${clean}`))
    : chunk("iTXt", [...latin1(`${keyword}\0\0\0\0\0`), ...utf8(clean)]);
}

function chunk(type: string, body: ArrayLike<number>): Uint8Array {
  const bytes = new Uint8Array(12 + body.length);
  bytes.set(latin1(type), 4);
  bytes.set(body, 8);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, body.length);
  view.setUint32(8 + body.length, checkSum(bytes.subarray(4, 8 + body.length)));
  return bytes;
}

function checkSum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? CRC_POLYNOMIAL ^ (sum >>> 1) : sum >>> 1;
  }
  return ~sum >>> 0;
}

function latin1(text: string): number[] {
  return Array.from(text, (letter) => letter.charCodeAt(0));
}

/** RFC 3629, for text without lone surrogates. */
function utf8(text: string): number[] {
  return Array.from(text, (letter) => letter.codePointAt(0) ?? 0).flatMap((code) => {
    const tail = (shift: number) => 0x80 | ((code >> shift) & 0x3f);
    if (code < 0x80) return [code];
    if (code < 0x800) return [0xc0 | (code >> 6), tail(0)];
    if (code < 0x10000) return [0xe0 | (code >> 12), tail(6), tail(0)];
    return [0xf0 | (code >> 18), tail(12), tail(6), tail(0)];
  });
}
