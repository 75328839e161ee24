import { Resvg } from "@resvg/resvg-js";
import { expect, test } from "vitest";
import { busiestLine, sectionPicture } from "../../../src/crafts/router/section.ts";
import { writePictureSvg } from "../../../src/formats/picture-svg.ts";
import { chainBounds, chainLength, signedArea } from "../../../src/geometry/arc-chain.ts";
import type { Picture, PictureItem } from "../../../src/output/picture.ts";
import { fieldOf } from "../../output/sample-fields.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";

const STOCK = { stockThicknessMm: 20, keepBelowMm: 6 };

/** 100 x 50 mm with a groove 10 mm wide and 4 mm deep from bottom to top at x = 30 … 40, and a slot cut through at 70 … 75. */
const GROOVED = fieldOf(200, 100, 0.5, (x) => (x > 30 && x < 40 ? -4 : x > 70 && x < 75 ? -21 : 0));

function chains(picture: Picture, kind: "area" | "line", nth = 0) {
  const found = picture.items.filter(
    (item): item is Extract<PictureItem, { kind: "area" | "line" }> => item.kind === kind,
  );
  return found[nth]?.chains ?? [];
}

test("across grooves the section shows them; what is cut through parts it", () => {
  const picture = sectionPicture(GROOVED, { axis: "across", atMm: 25 }, STOCK);
  const solids = chains(picture, "area");
  expect(solids).toHaveLength(2);
  // Stock of 20 mm is a fifth of the length: heights keep their scale.
  expect(picture.bounds).toEqual({ minX: 0, maxX: 100, minY: -20, maxY: 0 });
  // 70 x 20 less the groove, its walls half a pixel out of upright on both sides: 10 x 4; 25 x 20.
  expect(solids.map(signedArea)).toEqual([expect.closeTo(1400 - 40, 6), expect.closeTo(500, 6)]);
  expect(picture.description).toContain("deepest cut 4 mm");
});

test("along a groove it is its floor", () => {
  const picture = sectionPicture(GROOVED, { axis: "up", atMm: 35 }, STOCK);
  expect(chains(picture, "area").map(signedArea)).toEqual([expect.closeTo(50 * 16, 6)]);
});

test.each([
  [20, 100, 1],
  [10, 100, 2],
  [18, 300, 5],
  [3, 300, 10],
])(
  "stock of %d mm in a section of %d mm is drawn %d times as high, and the picture says so",
  (stockThicknessMm, length, times) => {
    const field = fieldOf(length, 4, 1, () => -1);
    const picture = sectionPicture(field, { axis: "across", atMm: 2 }, { stockThicknessMm, keepBelowMm: 1 });
    expect(picture.bounds.minY).toBeCloseTo(-times * stockThicknessMm, 9);
    const said = picture.items.some(
      ({ kind, ...item }) => kind === "label" && "text" in item && item.text.includes(`${times} times`),
    );
    expect(said).toBe(times > 1);
  },
);

test("dimensions give thickness, deepest cut and what is kept, in true mm", () => {
  const field = fieldOf(300, 4, 1, (x) => (x > 100 ? -3.5 : 0));
  const { items } = sectionPicture(
    field,
    { axis: "across", atMm: 2 },
    { stockThicknessMm: 18, keepBelowMm: 6 },
  );
  const lengths = items.flatMap((item) =>
    item.kind === "dimension" ? [[item.text, Math.abs(item.from.y - item.to.y) / 5]] : [],
  );
  expect(lengths).toEqual([
    ["18 mm", 18],
    ["6 mm", 6],
    ["3.5 mm", 3.5],
  ]);
});

test("hatching covers what stands and nothing else", () => {
  const picture = sectionPicture(GROOVED, { axis: "across", atMm: 25 }, STOCK);
  const hatch = chains(picture, "line");
  // Lines at 45 degrees a step apart along x lie step / sqrt 2 from each other: length x that = area.
  const step = 100 / 110;
  const covered = hatch.reduce((sum, chain) => sum + chainLength(chain), 0) * (step / Math.SQRT2);
  expect(Math.abs(covered / (1360 + 500) - 1)).toBeLessThan(0.02);
  for (const chain of hatch) {
    const { minX, maxX } = chainBounds(chain);
    expect(maxX <= 70 + 1e-9 || minX >= 75 - 1e-9).toBe(true);
  }
});

test("a panel that nothing was cut from has no deepest cut", () => {
  const picture = sectionPicture(
    fieldOf(50, 10, 1, () => 0),
    { axis: "across", atMm: 5 },
    STOCK,
  );
  expect(picture.items.filter(({ kind }) => kind === "dimension")).toHaveLength(2);
  expect(picture.description).toContain("deepest cut 0 mm");
});

test.each([
  // A plain panel of p x q cells has rows of p and of p - 1 crossings in turn: q - 1 rows of p between
  // stacked cells, q rows of p - 1 within them; columns likewise.
  [5, 3, { axis: "across", rows: 2, count: 5 }],
  [3, 6, { axis: "up", rows: 2, count: 6 }],
] as const)(
  "in a plain panel of %d x %d cells the line follows a longest row of crossings",
  (p, q, wanted) => {
    const { diagram } = wovenPanel(plainPanel(p, q));
    const size = { width: 10 * p, height: 10 * q };
    const line = busiestLine(diagram, size, 1);
    expect(line.axis).toBe(wanted.axis);
    const places = line.axis === "across" ? diagram.y : diagram.x;
    expect(places.filter((place) => Math.abs(place - line.atMm) < 1e-6)).toHaveLength(wanted.count);
  },
);

test("without crossings the line runs through the middle", () => {
  const { diagram } = wovenPanel(plainPanel(1, 1));
  expect(busiestLine(diagram, { width: 40, height: 30 }, 1)).toEqual({ axis: "across", atMm: 15 });
});

test("resvg draws the section: wood where stock stands, white in groove and slot", () => {
  const picture = sectionPicture(GROOVED, { axis: "across", atMm: 25 }, STOCK);
  const bare = { ...picture, items: picture.items.slice(0, 1) };
  const { pixels, width } = new Resvg(writePictureSvg(bare), { fitTo: { mode: "zoom", value: 10 } }).render();
  expect(pixels.length).toBeGreaterThan(0);
  let wood = 0;
  for (let i = 0; i < pixels.length; i += 4) if ((pixels[i + 2] ?? 255) < 220) wood++;
  // One user unit is 1 mm = 96 / 25.4 pixels at zoom 1; the page is the bounds and a margin of half a letter (1.25 mm) each side.
  const perMm = width / 102.5;
  expect(Math.abs(wood / perMm ** 2 / (1360 + 500) - 1)).toBeLessThan(0.01);
});
