/**
 * A reader of the trade's stitch record made from the published bit table alone (a public technical
 * note; shared CHECKS 4.1 and 4.2), with nothing of the writer: each bit is looked up in the
 * table as it is printed, and the header is split at its carriage returns.
 */

/** Bits 7 to 0 of the three bytes, as printed. */
const PRINTED = [
  "y+1 y-1 y+9 y-9 x-9 x+9 x-1 x+1",
  "y+3 y-3 y+27 y-27 x-27 x+27 x-3 x+3",
  "jump stop y+81 y-81 x-81 x+81 1 1",
].map((row) => row.split(" "));

export type Command = "stitch" | "jump" | "stop" | "end";

export interface ReadRecord {
  readonly command: Command;
  readonly dx: number;
  readonly dy: number;
  /** Where the needle is afterwards, in units of 0.1 mm from where it started. */
  readonly x: number;
  readonly y: number;
}

export interface ReadFile {
  readonly header: ReadonlyMap<string, string>;
  readonly records: readonly ReadRecord[];
}

export function readTriple(bytes: ArrayLike<number>): Omit<ReadRecord, "x" | "y"> {
  const set = PRINTED.flatMap((row, byte) =>
    row.filter((_, column) => ((bytes[byte] ?? 0) >> (7 - column)) & 1),
  );
  if (set.filter((name) => name === "1").length !== 2) throw new Error("the two lowest bits are not set");
  // The record that ends a file, 00 00 F3, is no move though it has both bits of y 81.
  if (bytes[0] === 0 && bytes[1] === 0 && bytes[2] === 0xf3) return { command: "end", dx: 0, dy: 0 };
  const sum = (axis: string) =>
    set.filter((name) => name.startsWith(axis)).reduce((total, name) => total + Number(name.slice(1)), 0);
  const command = set.includes("stop") ? "stop" : set.includes("jump") ? "jump" : "stitch";
  return { command, dx: sum("x"), dy: sum("y") };
}

export function readStitchRecord(file: Uint8Array): ReadFile {
  if (file.length < 512 || (file.length - 512) % 3 !== 0) throw new Error(`a file of ${file.length} bytes`);
  const text = String.fromCharCode(...file.subarray(0, 512));
  const [used, filling] = text.split("\x1a");
  if (used === undefined || filling === undefined || filling.trim() !== "")
    throw new Error("the header does not end with 1A and blanks");
  const header = new Map(
    used.split("\r").flatMap((line) => (line === "" ? [] : [[line.slice(0, 2), line.slice(3)] as const])),
  );
  const records: ReadRecord[] = [];
  let [x, y] = [0, 0];
  for (let at = 512; at < file.length; at += 3) {
    const step = readTriple(file.subarray(at, at + 3));
    x += step.dx;
    y += step.dy;
    records.push({ ...step, x, y });
  }
  return { header, records };
}
