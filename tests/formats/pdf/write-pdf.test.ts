import { expect, test } from "vitest";
import { InternalError } from "../../../src/base/internal-error.ts";
import { writePdf } from "../../../src/formats/pdf/write-pdf.ts";
import { type ArcChain, polyline } from "../../../src/geometry/arc-chain.ts";
import type { PaperDocument, PaperElement, PaperItem } from "../../../src/output/paper.ts";
import { SHEET_SIZES } from "../../../src/output/paper-size.ts";
import { externalTest } from "../../support/external.ts";
import { LATIN_FONTS, WIDE_FONTS } from "../../support/paper-fonts.ts";
import {
  contentOf,
  drawPage,
  expectSoundPdf,
  infoOf,
  lineOnCut,
  structureOf,
  textOf,
  tracePage,
} from "../../support/pdf-readers.ts";

const A4 = { widthMm: 210, heightMm: 297 };
const POINTS_PER_MM = 72 / 25.4;

function document(...items: readonly PaperItem[]): PaperDocument {
  return { title: "A sheet", language: "en", pages: [{ ...A4, items }], structure: [] };
}

function line(chain: ArcChain, widthMm = 0.2): PaperItem {
  return { kind: "line", chains: [chain], colour: "#000", widthMm };
}

function text(words: string, x: number, y: number, sizeMm = 4): PaperItem {
  return { kind: "text", text: words, at: { x, y }, sizeMm, colour: "#000" };
}

const square = polyline(
  [
    { x: 50, y: 60 },
    { x: 150, y: 60 },
    { x: 150, y: 160 },
    { x: 50, y: 160 },
  ],
  true,
);

const heading: PaperElement = { role: "heading1", children: [] };
const words: PaperElement = { role: "paragraph", children: [] };
const figure: PaperElement = { role: "figure", alt: "A square of 100 mm", children: [] };

const RICH: PaperDocument = {
  title: "Lid & “rim” <of a chest>",
  language: "en",
  structure: [heading, words, figure],
  pages: [
    {
      ...A4,
      items: [
        { kind: "marked", element: figure, items: [line(square)] },
        { kind: "marked", element: words, items: [text("Second to be read", 20, 270)] },
        { kind: "marked", element: heading, items: [text("First to be read", 20, 20)] },
        text("in passing", 150, 20),
        {
          kind: "group",
          clip: { minX: 0, minY: 0, maxX: 100, maxY: 100 },
          items: [
            {
              kind: "image",
              bounds: { minX: 60, minY: 70, maxX: 80, maxY: 90 },
              image: { width: 2, height: 1, data: new Uint8Array([255, 0, 0, 0, 0, 255]) },
            },
          ],
        },
      ],
    },
    {
      widthMm: 297,
      heightMm: 420,
      items: [{ kind: "marked", element: words, items: [text("and on", 10, 10)] }],
    },
  ],
};

externalTest(
  "sound, tagged, with its title and language",
  ["qpdf", "pdffonts", "pdfinfo", "pdftoppm"],
  () => {
    const bytes = writePdf(RICH, LATIN_FONTS);
    expectSoundPdf(bytes);
    const info = infoOf(bytes);
    expect(info.get("Title")).toBe("Lid & “rim” <of a chest>");
    expect(info.get("Tagged")).toBe("yes");
    const whole = contentOf(bytes);
    expect(whole).toMatch(/\/Lang \(en\)/);
    expect(whole).toMatch(/\/DisplayDocTitle true/);
    expect(whole).toMatch(/\/Alt \(A square of 100 mm\)/);
  },
);

externalTest("the title is XML in the metadata too", ["qpdf"], () => {
  const content = contentOf(writePdf(RICH, LATIN_FONTS));
  expect(content).toContain("Lid &amp; “rim” &lt;of a chest&gt;");
});

externalTest("read in the order of the structure, not of the page, across pages", ["pdfinfo"], () => {
  const lines = structureOf(writePdf(RICH, LATIN_FONTS))
    .split("\n")
    .map((own) => own.trim());
  expect(lines.filter((own) => own !== "")).toEqual([
    "Document",
    "H1 (block)",
    '"First to be read"',
    "P (block)",
    '"Second to be read"',
    '"and on"',
    "Figure",
    '""',
  ]);
});

test("the same pages give the same bytes, whenever and whoever asks", () => {
  const once = writePdf(RICH, LATIN_FONTS);
  expect(Buffer.compare(once, writePdf(RICH, LATIN_FONTS))).toBe(0);
});

test("progress is told page by page", () => {
  const heard: string[] = [];
  writePdf(RICH, LATIN_FONTS, (done, of) => heard.push(`${done}/${of}`));
  expect(heard).toEqual(["1/2", "2/2"]);
});

externalTest("pages measure what ISO 216 and ANSI say", ["pdfinfo"], () => {
  const pages = SHEET_SIZES.map(({ widthMm, heightMm }) => ({ widthMm, heightMm, items: [] }));
  const bytes = writePdf({ title: "Sizes", language: "en", pages, structure: [] }, LATIN_FONTS);
  const info = infoOf(bytes, "-f", "1", "-l", String(pages.length));
  const found = new Map(
    SHEET_SIZES.map(({ name }, i) => {
      const [width, , height] = (info.get(`Page ${i + 1} size`) ?? "").split(" ").map(Number);
      return [name, [width, height]];
    }),
  );
  // CHECKS.md, 3.3 and 3.4: A4 = 595.2755906 x 841.8897638, A3 = 841.8897638 x 1190.551181;
  // Letter 8.5 x 11 in, Legal 8.5 x 14 in, Ledger 11 x 17 in, an inch being 72 points.
  // pdfinfo prints six figures.
  expect(found.get("A4")).toEqual([595.276, 841.89]);
  expect(found.get("A3")).toEqual([841.89, 1190.55]);
  expect(found.get("A0")).toEqual([2383.94, 3370.39]);
  expect(found.get("Letter")).toEqual([612, 792]);
  expect(found.get("Legal")).toEqual([612, 1008]);
  expect(found.get("Ledger")).toEqual([792, 1224]);
});

externalTest("numbers in the file are the design's x 72 / 25.4, to a millionth of a point", ["qpdf"], () => {
  const chain = polyline(
    [
      { x: 12.345, y: 67.891 },
      { x: 198.7654321, y: 280.1234567 },
    ],
    false,
  );
  const moved: PaperItem = {
    kind: "group",
    transform: { a: -1, b: 0, c: 0, d: 1, e: 210, f: 3 },
    items: [line(chain, 0.35)],
  };
  const content = contentOf(writePdf(document(line(chain), moved), LATIN_FONTS));
  const found = Array.from(content.matchAll(/^(\S+) (\S+) [ml]$/gm), ([, x, y]) => [Number(x), Number(y)]);
  const wanted = [
    [12.345, 67.891],
    [198.7654321, 280.1234567],
    // Mirrored: x' = 210 - x, y' = y + 3.
    [197.655, 70.891],
    [11.2345679, 283.1234567],
  ];
  expect(found).toHaveLength(wanted.length);
  for (const [i, [x = 0, y = 0]] of wanted.entries()) {
    expect(Math.abs((found[i]?.[0] ?? 0) - x * POINTS_PER_MM)).toBeLessThan(1e-6);
    expect(Math.abs((found[i]?.[1] ?? 0) - y * POINTS_PER_MM)).toBeLessThan(1e-6);
  }
  expect(content).toMatch(/^0\.992126 w$/m);
});

externalTest("a second renderer reads the same points, widths and dashes", ["mutool"], () => {
  const circle: ArcChain = {
    closed: true,
    vertices: [
      { x: 80, y: 100, bulge: 1 },
      { x: 120, y: 100, bulge: 1 },
    ],
  };
  const [outline, ring] = tracePage(writePdf(document(line(square, 0.5), line(circle)), LATIN_FONTS), 1);
  // It prints six or seven figures.
  expect(outline?.lineWidth).toBeCloseTo(0.5 * POINTS_PER_MM, 5);
  const corners = outline?.commands.filter(({ numbers }) => numbers.length === 2) ?? [];
  expect(corners).toHaveLength(4);
  for (const [i, { x, y }] of square.vertices.entries()) {
    expect(corners[i]?.numbers[0]).toBeCloseTo(x * POINTS_PER_MM, 3);
    expect(corners[i]?.numbers[1]).toBeCloseTo(y * POINTS_PER_MM, 3);
  }
  const curves = ring?.commands.filter(({ name }) => name === "curveto") ?? [];
  for (const { numbers } of curves) {
    const [x = 0, y = 0] = numbers.slice(-2);
    expect(Math.hypot(x / POINTS_PER_MM - 100, y / POINTS_PER_MM - 100)).toBeCloseTo(20, 4);
  }
  // Two half turns of radius 20 within 0.001 mm: 2/27 sin^6(a/4)/cos^2(a/4) r allows 60 degrees
  // (2.4e-5 r = 0.0005 mm), not 90 (2.7e-4 r = 0.005 mm), so three curves each.
  expect(curves).toHaveLength(6);
});

externalTest("a square of 100 mm measures 100 mm in a drawn page", ["pdftoppm"], () => {
  const page = drawPage(writePdf(document(line(square, 0.3)), LATIN_FONTS), 1, 300);
  const across = (x: number) => lineOnCut(page, { x: x - 3, y: 110 }, { x: x + 3, y: 110 }).share * 6 + x - 3;
  const down = (y: number) => lineOnCut(page, { x: 100, y: y - 3 }, { x: 100, y: y + 3 }).share * 6 + y - 3;
  expect(Math.abs(across(150) - across(50) - 100)).toBeLessThan(0.1);
  expect(Math.abs(down(160) - down(60) - 100)).toBeLessThan(0.1);
  expect(Math.abs(across(50) - 50)).toBeLessThan(0.1);
  expect(Math.abs(down(60) - 60)).toBeLessThan(0.1);
});

externalTest(
  "letters that one face lacks come from another, or are spelt otherwise",
  ["pdftotext", "pdffonts"],
  () => {
    const sheet = document(text("Tőke Łódź αβγ ≥ 3 mm – 2 × 1", 20, 200));
    const wide = writePdf(sheet, WIDE_FONTS);
    expectSoundPdf(wide);
    expect(textOf(wide)).toEqual(["Tőke Łódź αβγ >= 3 mm – 2 × 1"]);
    expect(textOf(writePdf(sheet, LATIN_FONTS))).toEqual(["Toke ?ódz ??? >= 3 mm – 2 × 1"]);
  },
);

externalTest("anchored, turned and shrunk words stand where they should", ["pdftoppm"], () => {
  const mostMm = 30;
  const bar: PaperItem = {
    kind: "text",
    text: "HHHHHHHHHHHHHHHHHHHH",
    at: { x: 100, y: 50 },
    sizeMm: 6,
    colour: "#000",
    anchor: "end",
    mostMm,
  };
  const upright: PaperItem = {
    kind: "text",
    text: "HHHHHH",
    at: { x: 100, y: 150 },
    sizeMm: 6,
    colour: "#000",
    anchor: "middle",
    turnRad: Math.PI / 2,
  };
  const page = drawPage(writePdf(document(bar, upright), LATIN_FONTS), 1, 100);
  const box = { minX: 999, maxX: 0, minY: 999, maxY: 0 };
  const boxOf = (low: number, high: number) => {
    const found = { ...box };
    for (let row = 0; row < page.heightPx; row++)
      for (let column = 0; column < page.widthPx; column++) {
        const y = (page.heightPx - row) * page.mmPerPx;
        if (page.dark(column, row) < 0.5 || y < low || y > high) continue;
        found.minX = Math.min(found.minX, column * page.mmPerPx);
        found.maxX = Math.max(found.maxX, (column + 1) * page.mmPerPx);
        found.minY = Math.min(found.minY, y - page.mmPerPx);
        found.maxY = Math.max(found.maxY, y);
      }
    return found;
  };
  // Side bearings of the letter H take about a tenth of its width at either end.
  const level = boxOf(0, 100);
  expect(level.maxX).toBeLessThan(100.2);
  expect(level.minX).toBeGreaterThan(100 - mostMm - 0.2);
  expect(level.minX).toBeLessThan(100 - mostMm + 1);
  expect(level.minY).toBeCloseTo(50, 0);
  const turned = boxOf(100, 200);
  expect((turned.minY + turned.maxY) / 2).toBeCloseTo(150, 0);
  expect(turned.maxX).toBeCloseTo(100, 0);
});

test.each<[string, PaperDocument]>([
  [
    "a number",
    document(
      line(
        polyline(
          [
            { x: Number.NaN, y: 0 },
            { x: 1, y: 1 },
          ],
          false,
        ),
      ),
    ),
  ],
  ["the place of words", document(text("a", Number.POSITIVE_INFINITY, 0))],
  ["no pages", { title: "", language: "en", pages: [], structure: [] }],
  [
    "a page without size",
    { title: "", language: "en", pages: [{ widthMm: 0, heightMm: 10, items: [] }], structure: [] },
  ],
  // ISO 32000-1, annex C: 14400 points = 5080 mm.
  [
    "a page that no reader opens",
    { title: "", language: "en", pages: [{ widthMm: 100, heightMm: 5081, items: [] }], structure: [] },
  ],
  [
    "an element that is not in the structure",
    document({ kind: "marked", element: words, items: [text("a", 1, 1)] }),
  ],
  [
    "an element within another",
    {
      ...document({
        kind: "marked",
        element: words,
        items: [{ kind: "marked", element: heading, items: [] }],
      }),
      structure: [words, heading],
    },
  ],
])("a fault of ours is told: %s", (_, bad) => {
  expect(() => writePdf(bad, LATIN_FONTS)).toThrow(InternalError);
});
