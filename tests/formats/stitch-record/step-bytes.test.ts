import { expect, test } from "vitest";
import { type StepKind, stepBytes } from "../../../src/formats/stitch-record/step-bytes.ts";
import { readTriple } from "./decoder.ts";

const hex = (bytes: readonly number[]) =>
  bytes.map((byte) => byte.toString(16).padStart(2, "0").toUpperCase()).join(" ");

// CHECKS 4.1. The first three are those of a public technical note on the record; the end record is from memory of others.
test.each<[number, number, StepKind, string]>([
  [-12, 64, "stitch", "A8 12 23"],
  [-12, 64, "jump", "A8 12 A3"],
  [0, 0, "stop", "00 00 C3"],
  [0, 0, "end", "00 00 F3"],
])("published: (%i, %i) as a %s is %s", (dx, dy, kind, bytes) => {
  expect(hex(stepBytes(dx, dy, kind))).toBe(bytes);
});

// CHECKS 4.1, worked out there from the published bit table by two methods.
test.each<[number, number, string]>([
  [0, 0, "00 00 03"],
  [1, 0, "01 00 03"],
  [-1, 0, "02 00 03"],
  [0, 1, "80 00 03"],
  [0, -1, "40 00 03"],
  [121, 121, "A5 A5 27"],
  [-121, -121, "5A 5A 1B"],
  [40, -40, "55 55 03"],
  [41, 14, "5A 6A 07"],
  [5, -7, "56 82 03"],
  [2, 2, "42 81 03"],
])("worked out: (%i, %i) is %s", (dx, dy, bytes) => {
  expect(hex(stepBytes(dx, dy, "stitch"))).toBe(bytes);
  const jump = [...stepBytes(dx, dy, "jump")];
  expect(hex([jump[0] ?? 0, jump[1] ?? 0, (jump[2] ?? 0) - 0x80])).toBe(bytes);
});

test("every step from -121 to 121 in both axes reads back as itself, and no two are alike", () => {
  const seen = new Set<number>();
  const wrong: string[] = [];
  for (let dx = -121; dx <= 121; dx++) {
    for (let dy = -121; dy <= 121; dy++) {
      for (const kind of ["stitch", "jump"] as const) {
        const bytes = stepBytes(dx, dy, kind);
        const read = readTriple(bytes);
        if (read.dx !== dx || read.dy !== dy || read.command !== kind) wrong.push(`${dx} ${dy} ${kind}`);
        seen.add((bytes[0] << 16) | (bytes[1] << 8) | bytes[2]);
      }
    }
  }
  expect(wrong).toEqual([]);
  expect(seen.size).toBe(2 * 243 * 243);
});

test.each([
  [122, 0],
  [0, -122],
  [0.5, 0],
  [Number.NaN, 0],
])("no step of (%d, %d)", (dx, dy) => {
  expect(() => stepBytes(dx, dy, "stitch")).toThrow(/no step/);
});
