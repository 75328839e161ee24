import { expect, test } from "vitest";
import { nearestWord } from "../../src/base/nearest.ts";

const KEYS = ["title", "pitch", "ribbon", "panel", "hand", "widthPerPitch", "kerfMm"];

// Distances by hand: one letter added, dropped or changed is 1, two exchanged are 2.
test.each([
  ["ptich", KEYS, "pitch"],
  ["PITCH", KEYS, "pitch"],
  ["ribon", KEYS, "ribbon"],
  ["kerf", KEYS, "kerfMm"],
  ["width", KEYS, "widthPerPitch"],
  ["panels", KEYS, "panel"],
  ["z", ["Z", "S"], "Z"],
  ["left", ["Z", "S"], undefined],
  ["x", ["Z", "S"], undefined],
  ["colour", KEYS, undefined],
  ["", KEYS, undefined],
  ["pitch", [], undefined],
  ["p".repeat(1_000_000), KEYS, undefined],
])("nearest to %s", (found, known, nearest) => {
  expect(nearestWord(found, known)).toBe(nearest);
});
