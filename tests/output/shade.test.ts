import { expect, test } from "vitest";
import { deviationImage, deviationLegend } from "../../src/output/deviation-image.ts";
import type { HeightField } from "../../src/output/height-field.ts";
import type { RgbImage } from "../../src/output/rgb-image.ts";
import { type ShadeSettings, shadeField } from "../../src/output/shade.ts";
import { fieldOf, walls } from "./sample-fields.ts";

const PLAIN: ShadeSettings = { tone: "board", grain: "none", pixelMm: 0.5, throughZMm: -18 };

/** Relative luminance of sRGB colours, near enough: the weights of ITU-R BT.709. */
function grey({ width, data }: RgbImage, column: number, row: number): number {
  const at = 3 * (row * width + column);
  return 0.2126 * (data[at] ?? 0) + 0.7152 * (data[at + 1] ?? 0) + 0.0722 * (data[at + 2] ?? 0);
}

test("the light comes from the upper left: a mound is light there, dark at the lower right, and casts its shadow that way", () => {
  const mound = fieldOf(80, 80, 0.5, (x, y) => 4 * Math.exp(-((x - 20) ** 2 + (y - 20) ** 2) / 18) - 5);
  const { image } = shadeField(mound, PLAIN);
  // 3 mm to each side of the middle at (40, 40), rows from the top; level ground far off.
  const level = grey(image, 5, 5);
  expect(grey(image, 35, 35)).toBeGreaterThan(level);
  expect(grey(image, 45, 45)).toBeLessThan(level);
});

test("the shadow of a wall falls to the lower right, as long as the light is steep", () => {
  // A post 3 mm high: with a rise of 1.1 its shadow is 3 / 1.1 = 2.7 mm long.
  const post = fieldOf(80, 80, 0.25, (x, y) => (Math.abs(x - 10) < 2 && Math.abs(y - 10) < 2 ? 0 : -3));
  const { image } = shadeField(post, { ...PLAIN, pixelMm: 0.25 });
  const along = (mm: number) => grey(image, 40 + Math.round(mm / 0.25), 40 + Math.round(mm / 0.25));
  const beyond = along(2 + 2.7 / Math.SQRT2 + 1.5);
  expect(along(2 + 0.7)).toBeLessThan(0.8 * beyond);
  expect(along(-2 - 0.7)).toBeGreaterThan(along(2 + 0.7));
});

test("deep ground is darker than level wood that stands, and what is cut through is white", () => {
  const steps = fieldOf(90, 20, 0.5, (x) => (x < 15 ? 0 : x < 30 ? -4 : -18));
  const { image } = shadeField(steps, PLAIN);
  expect(grey(image, 25, 10)).toBeGreaterThan(1.1 * grey(image, 48, 10));
  expect(grey(image, 75, 10)).toBeCloseTo(255, 6);
});

test.each([
  ["across", [40, 1]],
  ["up", [1, 40]],
] as const)("grain %s changes slowly along itself and quickly across", (grain, [dx, dy]) => {
  const { image } = shadeField(
    fieldOf(400, 400, 0.25, () => 0),
    { ...PLAIN, tone: "pale", grain, pixelMm: 0.25 },
  );
  const change = (sx: number, sy: number) => {
    let sum = 0;
    for (let i = 0; i < 5000; i++) {
      const [column, row] = [(i * 37) % 350, (i * 91) % 350];
      sum += Math.abs(grey(image, column, row) - grey(image, column + sx, row + sy));
    }
    return sum;
  };
  // 0.5 mm along the grain changes less than half of what 0.5 mm across it does.
  const [along, across] = dx > dy ? [change(2, 0), change(0, 2)] : [change(0, 2), change(2, 0)];
  expect(along).toBeLessThan(across / 2);
});

test("board has no grain: level wood has one colour", () => {
  const { image } = shadeField(
    fieldOf(50, 50, 0.5, () => 0),
    { ...PLAIN, grain: "across" },
  );
  expect(new Set(image.data).size).toBeLessThanOrEqual(3);
});

test("sign sheet shows its dark face where it is not cut and its light core where it is", () => {
  const { image } = shadeField(
    fieldOf(60, 20, 0.5, (x) => (x < 15 ? 0 : -1)),
    { ...PLAIN, tone: "sheet" },
  );
  expect(grey(image, 10, 10)).toBeLessThan(0.7 * grey(image, 50, 10));
});

test.each([
  [0.1, 100, 41, { maxX: 10, maxY: 4.1 }],
  [0.3, 34, 14, { maxX: 10.2, maxY: 4.2 }], // the last pixels reach past the field
  [0.02, 100, 41, { maxX: 10, maxY: 4.1 }], // never finer than the field
])("pixels of %d mm: %d x %d of them fill their box", (pixelMm, width, height, reach) => {
  const { image, bounds } = shadeField(fieldOf(100, 41, 0.1, walls), { ...PLAIN, pixelMm });
  expect([image.width, image.height, image.data.length]).toEqual([width, height, 3 * width * height]);
  expect(bounds.minX).toBe(0);
  expect(bounds.maxX).toBeCloseTo(reach.maxX, 9);
  expect(bounds.maxY).toBeCloseTo(reach.maxY, 9);
});

const MAP = { pixelMm: 1, toleranceMm: 0.02, fullMm: 0.2, throughZMm: -18 };

/** 20 x 20 pixels that are good but for the given one. */
function offBy(by: number, column: number, row: number): HeightField {
  const off = fieldOf(20, 20, 0.25, () => 0);
  off.z[row * 20 + column] = by;
  return off;
}

test.each([
  ["slightly too high", 0.03, 1],
  ["far too high", 0.5, 1],
  ["slightly too deep", -0.03, -1],
  ["far too deep", -0.5, -1],
])("one narrow place %s shows, lighter or darker than all good places", (_, by, sign) => {
  // Good places are grey by their height, from ground to upper face.
  const surface = fieldOf(20, 20, 0.25, (x) => (x < 1 ? -18 : x < 2.5 ? -4 : 0));
  const { image } = deviationImage(offBy(by, 9, 2), surface, MAP);
  expect([image.width, image.height]).toEqual([5, 5]);
  // Pixel (9, 2) of 0.25 mm lies in the third of the lowest row's pixels of 1 mm.
  const good = Array.from({ length: 25 }, (_, i) => i).filter((i) => i !== 22);
  for (const i of good) {
    const [red, green, blue] = image.data.subarray(3 * i, 3 * i + 3);
    expect([green, blue]).toEqual([red, red]);
    expect(sign * (grey(image, 2, 4) - grey(image, i % 5, Math.floor(i / 5)))).toBeGreaterThan(8);
  }
});

test("a place within the tolerance is good", () => {
  const { image } = deviationImage(
    offBy(0.02, 3, 3),
    fieldOf(20, 20, 0.25, () => 0),
    MAP,
  );
  expect(new Set(image.data).size).toBe(1);
});

test("the legend's colours are those of the map", () => {
  const bounds = { minX: 0, minY: 0, maxX: 5, maxY: 5 };
  const swatches = deviationLegend(bounds, 1, MAP).map((item) => (item.kind === "label" ? item.swatch : ""));
  const surface = fieldOf(20, 20, 0.25, () => 0);
  const colourOf = (by: number) => {
    const { image } = deviationImage(offBy(by, 0, 19), surface, MAP);
    return `rgb(${image.data.subarray(0, 3).join(",")})`;
  };
  expect([swatches[0], swatches[1], swatches[3], swatches[4]]).toEqual(
    [0.2, 0.03, -0.03, -0.2].map(colourOf),
  );
});
