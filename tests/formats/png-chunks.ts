/** Chunks of a PNG taken apart, for tests. */
import { Buffer } from "node:buffer";
import { PNG } from "pngjs";

export interface Chunk {
  readonly type: string;
  readonly body: Buffer;
}

/** All chunks in their order; fails where a length or the file's end is wrong. */
export function readChunks(png: Uint8Array): Chunk[] {
  const file = Buffer.from(png);
  const chunks: Chunk[] = [];
  for (let at = 8; at < file.length; ) {
    const length = file.readUInt32BE(at);
    const type = file.toString("latin1", at + 4, at + 8);
    chunks.push({ type, body: file.subarray(at + 8, at + 8 + length) });
    at += 12 + length;
    if (at > file.length) throw new Error(`${type} runs past the file's end`);
  }
  return chunks;
}

/** What pngjs makes of a file: 16-bit values stay what they are. */
export function readPng(png: Uint8Array): { width: number; height: number; data: ArrayLike<number> } {
  return PNG.sync.read(Buffer.from(png), { skipRescale: true });
}

export function textOf(chunks: readonly Chunk[], keyword: string): string | undefined {
  for (const { type, body } of chunks) {
    if (type === "tEXt" && body.toString("latin1").startsWith(`${keyword}\0`))
      return body.toString("latin1", keyword.length + 1);
    if (type === "iTXt" && body.toString("latin1").startsWith(`${keyword}\0\0\0\0\0`))
      return body.toString("utf8", keyword.length + 5);
  }
  return undefined;
}
