import { expect, test } from "vitest";
import { writeJobSheetPdf } from "../../../src/formats/pdf/job-sheet-pdf.ts";
import type { JobSheet } from "../../../src/output/job-sheet.ts";
import { externalTest } from "../../support/external.ts";
import { LATIN_FONTS } from "../../support/paper-fonts.ts";
import { drawPage, expectSoundPdf, infoOf, structureOf, textOf } from "../../support/pdf-readers.ts";
import { SAMPLE_SHEET } from "../sample-sheet.ts";

const SHEET = writeJobSheetPdf(SAMPLE_SHEET, LATIN_FONTS);

function textOfAll(bytes: Uint8Array): string {
  return textOf(bytes).join(" ");
}

function longTable(rows: number): JobSheet {
  const [table] = SAMPLE_SHEET.tables;
  if (!table) throw new Error("the sample has a table");
  const own = Array.from({ length: rows }, (_, i) => [`N${i + 1}`, "Inlay, strand 1", "2", "46.2 × 16.2 mm"]);
  return { ...SAMPLE_SHEET, tables: [{ ...table, rows: own }] };
}

externalTest("sound, on A4, tagged, in two pages", ["qpdf", "pdffonts", "pdfinfo", "pdftoppm"], () => {
  expectSoundPdf(SHEET);
  const info = infoOf(SHEET);
  expect(info.get("Title")).toBe(SAMPLE_SHEET.title);
  expect(info.get("Tagged")).toBe("yes");
  expect(info.get("Pages")).toBe("2");
  expect(info.get("Page size")).toBe("595.276 x 841.89 pts (A4)");
});

externalTest("everything is said, in the order of the sheet", ["pdfinfo"], () => {
  // Lines of one paragraph are put in quotes one by one or as a whole; quotes, ends of lines and tags aside.
  const read = structureOf(SHEET).replace(/"\s*"|\s+/g, " ");
  const wanted = [
    SAMPLE_SHEET.title,
    SAMPLE_SHEET.craft,
    "Not ready",
    "webs of ground between pockets",
    "Finished size",
    "330 × 210 mm",
    "Materials",
    "Lay it flat and hold it down",
    "Parts",
    "21–36",
    "Order of work",
    "1.",
    "Cut the test piece",
    "Files",
    "ground.dxf",
    "Checks",
    "Webs of ground between pockets",
    "Pitch 31.9 mm",
    "Room beside the stitch line",
    "The strands lie over and under by turns",
    "Cautions",
    "Never leave the laser while it runs.",
    "These notes are general.",
    "Numbers used",
    "Kerf",
    "Not yet measured on your machine",
    SAMPLE_SHEET.footer,
  ];
  let from = 0;
  for (const words of wanted) {
    const at = read.indexOf(words, from);
    expect(at, `${words} after ${read.slice(Math.max(0, from - 40), from)}`).toBeGreaterThanOrEqual(from);
    from = at + words.length;
  }
});

externalTest("headings, tables, lists and figures are tagged as such", ["pdfinfo"], () => {
  const tags = structureOf(SHEET)
    .split("\n")
    .map((own) => own.trim().replace(/ \(block\)|:$/g, ""));
  const count = (tag: string) => tags.filter((own) => own === tag).length;
  expect(count("H1")).toBe(1);
  // Materials, Parts, Order of work, Files, Checks, Cautions, Numbers used.
  expect(count("H2")).toBe(7);
  expect(count("Table")).toBe(4);
  expect(count("Figure")).toBe(1);
  // Heads 4 + 4 + 5 + 4, rows named by their first cell: 4 + 4 + 10 + 14.
  expect(count("TH")).toBe(17 + 32);
  // Sizes 11, steps 8, files 6, remedies 2, cautions 8.
  expect(count("LI")).toBe(11 + 8 + 6 + 2 + 8);
});

externalTest("every page is numbered", ["pdftotext"], () => {
  const pages = textOf(writeJobSheetPdf(longTable(150), LATIN_FONTS));
  expect(pages.length).toBeGreaterThan(3);
  for (const [index, text] of pages.entries()) {
    expect(text).toContain(`Page ${index + 1} of ${pages.length}`);
    expect(text).toContain(SAMPLE_SHEET.footer);
  }
});

externalTest("a long table runs on with its head, and loses no row", ["pdftotext"], () => {
  const pages = textOf(writeJobSheetPdf(longTable(150), LATIN_FONTS));
  const withRows = pages.filter((text) => /\bN\d+\b/.test(text));
  expect(withRows.length).toBeGreaterThan(2);
  for (const text of withRows) expect(text).toMatch(/\bMark\b.*\bPart\b.*\bCount\b/);
  const found = pages.join(" ").match(/\bN\d+\b/g) ?? [];
  expect(found.toSorted()).toEqual(Array.from({ length: 150 }, (_, i) => `N${i + 1}`).toSorted());
});

externalTest("no heading stands alone at the foot of a page", ["pdftotext"], () => {
  // The table pushes what follows down the page, row by row.
  for (let rows = 4; rows < 14; rows++) {
    const pages = textOf(writeJobSheetPdf(longTable(rows), LATIN_FONTS));
    for (const text of pages)
      expect(text).not.toMatch(/(Files|Checks|Order of work|Numbers used) (plaitwright|Page \d)/);
  }
});

externalTest("words that are longer than their column are broken, not lost", ["pdftotext"], () => {
  const long = `${"abcdefghij".repeat(30)}`;
  const bytes = writeJobSheetPdf({ ...SAMPLE_SHEET, title: long, steps: [long] }, LATIN_FONTS);
  expect(textOfAll(bytes).replace(/\s/g, "")).toContain(long.slice(0, 25));
  // Nothing is printed in the margins: 12 mm on either side.
  const page = drawPage(bytes, 1, 50);
  for (let row = 0; row < page.heightPx; row++)
    for (const column of [5, 15, page.widthPx - 16, page.widthPx - 6]) expect(page.dark(column, row)).toBe(0);
});

externalTest("pixels of a figure are drawn", ["pdftoppm"], () => {
  const image = { width: 2, height: 2, data: new Uint8Array(12) };
  const bounds = { minX: 0, minY: 0, maxX: 40, maxY: 20 };
  const picture = {
    title: "A black field",
    description: "Black all over.",
    bounds,
    items: [{ kind: "image", bounds, image, name: "black" } as const],
  };
  const bytes = writeJobSheetPdf({ ...SAMPLE_SHEET, picture, sizes: [] }, LATIN_FONTS);
  expectSoundPdf(bytes);
  const page = drawPage(bytes, 1, 30);
  let dark = 0;
  for (let row = 0; row < page.heightPx; row++)
    for (let column = 0; column < page.widthPx; column++) dark += page.dark(column, row) > 0.9 ? 1 : 0;
  // 92 mm high at most, with half a letter of 1 mm on all sides: 90.8 x 181.6 of 40 x 20.
  const areaMm2 = dark * page.mmPerPx ** 2;
  expect(areaMm2).toBeGreaterThan(0.95 * 178 * 89);
});

externalTest("a bare sheet is a sheet", ["qpdf", "pdffonts", "pdftoppm", "pdftotext"], () => {
  const bare: JobSheet = {
    ...SAMPLE_SHEET,
    verdict: { ready: true, text: "Every check passes." },
    sizes: [],
    materials: [],
    numbers: [],
    figures: [],
    tables: [],
    steps: [],
    checks: [],
    files: [],
    cautions: [],
  };
  const bytes = writeJobSheetPdf(bare, LATIN_FONTS);
  expectSoundPdf(bytes);
  const [text = ""] = textOf(bytes);
  expect(text).toContain("Ready Every check passes.");
  expect(text).toContain("These notes are general.");
  expect(text).not.toMatch(/Materials|Order of work|Checks|Files|Numbers used/);
});

test("the same sheet gives the same bytes", () => {
  expect(Buffer.compare(SHEET, writeJobSheetPdf(structuredClone(SAMPLE_SHEET), LATIN_FONTS))).toBe(0);
});
