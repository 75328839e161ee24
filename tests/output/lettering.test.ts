import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { chainBounds, chainLength, segmentsOf } from "../../src/geometry/arc-chain.ts";
import { boundsHeight, boundsWidth, mergeBounds } from "../../src/geometry/bounds.ts";
import { arcOf, endDirection, startDirection } from "../../src/geometry/segment.ts";
import { letterChains, textWidth } from "../../src/output/lettering.ts";

const ALPHABET = Array.from("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789");
const AT_ORIGIN = { at: { x: 0, y: 0 }, heightMm: 8, turnRad: 0, anchor: "left" } as const;

test.each(ALPHABET)("%s fills its box of a capital's height, from the baseline and the left", (letter) => {
  const box = mergeBounds(letterChains(letter, AT_ORIGIN).map(chainBounds));
  expect(box.minX).toBeCloseTo(0, 9);
  expect(box.minY).toBeCloseTo(0, 9);
  expect(box.maxY).toBeCloseTo(8, 9);
  expect(box.maxX).toBeCloseTo(textWidth(letter, 8), 9);
});

test.each(ALPHABET)(
  "%s is of open strokes whose turns are round and no tighter than a quarter height",
  (letter) => {
    for (const chain of letterChains(letter, AT_ORIGIN)) {
      expect(chain.closed).toBe(false);
      for (const segment of segmentsOf(chain)) {
        expect(Math.hypot(segment.to.x - segment.from.x, segment.to.y - segment.from.y)).toBeGreaterThan(0.9);
        if (segment.bulge !== 0) {
          expect(arcOf(segment).radius).toBeGreaterThan(2 - 1e-9);
          // Quarter and half turns on the grid begin and end along an axis.
          for (const { x, y } of [startDirection(segment), endDirection(segment)])
            expect(Math.min(Math.abs(x), Math.abs(y))).toBeCloseTo(0, 9);
        }
      }
    }
  },
);

test("no two characters look alike: every pair differs in its strokes", () => {
  const drawn = ALPHABET.map((letter) => JSON.stringify(letterChains(letter, AT_ORIGIN)));
  expect(new Set(drawn).size).toBe(ALPHABET.length);
});

test("width and stroke length follow from the grid by hand", () => {
  // H is 5 steps wide, I 2, with 2 between: 9 steps; a step is 1/8 of the height.
  expect(textWidth("HI", 16)).toBe(18);
  expect(textWidth("", 16)).toBe(0);
  // H at height 16: two uprights of 16 and a bar of 10.
  const total = letterChains("H", { ...AT_ORIGIN, heightMm: 16 }).reduce((sum, c) => sum + chainLength(c), 0);
  expect(total).toBeCloseTo(42, 9);
});

test("a centred text has its middle at the place, turned about it", () => {
  // H alone: 5 wide and 8 high; a quarter turn exchanges the two.
  const place = { at: { x: 30, y: 40 }, heightMm: 8, turnRad: Math.PI / 2, anchor: "centre" } as const;
  const box = mergeBounds(letterChains("H", place).map(chainBounds));
  expect((box.minX + box.maxX) / 2).toBeCloseTo(30, 9);
  expect((box.minY + box.maxY) / 2).toBeCloseTo(40, 9);
  expect(boundsWidth(box)).toBeCloseTo(8, 9);
  expect(boundsHeight(box)).toBeCloseTo(5, 9);
});

test("a left-anchored text turned by half a turn runs to the left, upside down", () => {
  const box = mergeBounds(letterChains("L", { ...AT_ORIGIN, turnRad: Math.PI }).map(chainBounds));
  expect(box.maxX).toBeCloseTo(0, 9);
  expect(box.maxY).toBeCloseTo(0, 9);
  expect(box.minY).toBeCloseTo(-8, 9);
});

test("small letters are drawn as capitals", () => {
  expect(letterChains("ab-1.", AT_ORIGIN)).toEqual(letterChains("AB-1.", AT_ORIGIN));
});

test.each(["é", "?", "\n", "_"])("a character without a glyph is a fault of ours: %j", (text) => {
  expect(() => letterChains(text, AT_ORIGIN)).toThrow(InternalError);
});
