import { expect, test } from "vitest";
import {
  growPitch,
  narrowGap,
  narrowRibbon,
  pitchText,
  widenGap,
  widenRibbon,
} from "../../src/checks/remedy.ts";

const SQUARE = {
  pitchMm: { across: 12, down: 12 },
  widthMm: 4,
  gapMm: 1,
  widthFixed: false,
  gapFixed: false,
} as const;

test("a pitch is rounded up, so that what is printed passes too", () => {
  expect(growPitch(SQUARE, 1.2001)).toEqual([
    { change: "pitch", value: 14.41, text: "pitch 14.41 mm (ribbon and gap grow with it)" },
  ]);
});

test("a stretched lattice grows both ways, and what was given in mm stays", () => {
  const stretched = { ...SQUARE, pitchMm: { across: 10, down: 15 }, gapFixed: true };
  expect(growPitch(stretched, 1.1)).toEqual([
    { change: "pitch", value: [11, 16.5], text: "pitch 11x16.5 mm (the gap as it is)" },
  ]);
});

test.each([4.01, 0, -1, Number.POSITIVE_INFINITY, Number.NaN])("growing %s times is no remedy", (factor) => {
  expect(growPitch(SQUARE, factor)).toEqual([]);
});

test("least widths are rounded up and greatest ones down; nothing is no width", () => {
  expect(widenRibbon(3.001)[0]?.value).toBe(3.01);
  expect(widenGap(2)[0]?.value).toBe(2);
  expect(narrowRibbon(3.009)[0]?.value).toBe(3);
  expect(narrowGap(1.999)[0]?.value).toBe(1.99);
  expect(narrowRibbon(0.004)).toEqual([]);
  expect(narrowRibbon(-2)).toEqual([]);
});

test("a pitch reads as the command line takes it", () => {
  expect(pitchText(12)).toBe("12");
  expect(pitchText([12, 14.5])).toBe("12x14.5");
});
