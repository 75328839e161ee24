import { expect, test } from "vitest";
import { writeJobSheetHtml } from "../../src/formats/job-sheet-html.ts";
import { JOB_SHEET_STYLE } from "../../src/formats/job-sheet-style.ts";
import type { JobSheet } from "../../src/output/job-sheet.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";
import { SAMPLE_SHEET } from "./sample-sheet.ts";

const EVIL = `</script><b>&"'`;

/** Every text of a record in its order, the keys of records aside. */
function textsOf(part: unknown): string[] {
  if (typeof part === "string") return [part];
  return typeof part === "object" && part !== null ? Object.values(part).flatMap(textsOf) : [];
}

/** The record's texts that people are to read; fills, kinds and verdicts are for the writer. */
function visibleTexts(sheet: JobSheet): string[] {
  const { picture, checks, ...rest } = sheet;
  const words = checks.map(({ verdict: _, ...check }) => check);
  const labels = picture.items.flatMap((item) => ("text" in item ? [item.text] : []));
  return [...textsOf(rest), ...textsOf(words), picture.title, picture.description, ...labels].filter(
    (text) => text !== "",
  );
}

/** The sheet with marks in every text that would be code if they were not escaped. */
function spoilt(sheet: JobSheet): JobSheet {
  const spoil = <T>(part: T): T =>
    (typeof part === "string"
      ? `${part}${EVIL}`
      : Array.isArray(part)
        ? part.map(spoil)
        : typeof part === "object" && part !== null
          ? Object.fromEntries(Object.entries(part).map(([key, value]) => [key, spoil(value)]))
          : part) as T;
  const { picture, checks, ...rest } = sheet;
  return {
    ...spoil(rest),
    checks: checks.map((check) => ({ ...spoil(check), verdict: check.verdict })),
    picture: { ...picture, title: picture.title + EVIL, description: picture.description + EVIL },
  };
}

const NOTHING: JobSheet = {
  ...SAMPLE_SHEET,
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

externalTest(
  "xmllint finds every text of the record as text, with marks left as they are",
  ["xmllint"],
  () => {
    const sheet = spoilt(SAMPLE_SHEET);
    withFiles({ "sheet.html": writeJobSheetHtml(sheet) }, (pathOf) => {
      const read = runTool("xmllint", ["--xpath", "string(/html/body)", pathOf("sheet.html")]);
      expect([read.code, read.stderr]).toEqual([0, ""]);
      const texts = visibleTexts(sheet);
      // Title, craft, verdict, 11 sizes, 4 x 4 materials and so on: the walk saw the record.
      expect(texts.length).toBeGreaterThan(150);
      expect(texts.filter((text) => !read.stdout.includes(text))).toEqual([]);
      const heading = runTool("xmllint", ["--xpath", "string(/html/head/title)", pathOf("sheet.html")]);
      expect(heading.stdout.trim()).toBe(sheet.title);
    });
  },
);

test("no text becomes code, nothing is fetched, no script runs", () => {
  const html = writeJobSheetHtml(spoilt(SAMPLE_SHEET));
  expect(html).not.toMatch(/<\/?(script|b)[ >]/i);
  expect(html.replaceAll(`xmlns="http://www.w3.org/2000/svg"`, "")).not.toMatch(
    /https?:|url\(|@import|\bsrc=/,
  );
  expect(html).not.toMatch(/<(link|img|iframe|object)\b/);
});

test("failed checks come first, then warnings, then those that passed", () => {
  const html = writeJobSheetHtml(SAMPLE_SHEET);
  const verdicts = Array.from(html.matchAll(/<tbody class="check (\w+)">/g), ([, verdict]) => verdict);
  expect(verdicts).toEqual(["fail", "warning", ...Array<string>(8).fill("pass")]);
  // Among equals the record's order stays.
  expect(html.indexOf("Ribbon wide enough")).toBeLessThan(html.indexOf("Tips of parts"));
});

test("the verdict stands in words, with a mark of its own shape", () => {
  const box = (ready: boolean) =>
    /<p class="verdict[\s\S]*?<\/p>/.exec(
      writeJobSheetHtml({ ...SAMPLE_SHEET, verdict: { ready, text: "So." } }),
    )?.[0] ?? "";
  expect(box(true)).toContain("<strong>Ready</strong>");
  expect(box(false)).toContain("<strong>Not ready</strong>");
  const shape = (html: string) => /<svg[\s\S]*<\/svg>/.exec(html)?.[0];
  expect(shape(box(true))).not.toBe(shape(box(false)));
});

test("sections stand in the order in which they are needed", () => {
  const html = writeJobSheetHtml(SAMPLE_SHEET);
  expect(Array.from(html.matchAll(/<h[12]>([^<]*)</g), ([, title]) => title)).toEqual([
    "Sea-chest lid for the ketch “Widow’s Lantern”",
    "Materials",
    "Parts",
    "Order of work",
    "Files",
    "Checks",
    "Cautions",
    "Numbers used",
  ]);
  expect(html).toContain(`<html lang="en">`);
  expect(html.match(/<th\b/g)?.length).toBe(html.match(/<th scope="(row|col)"/g)?.length);
  expect(html.match(/type="checkbox"/g)).toHaveLength(SAMPLE_SHEET.steps.length);
});

test("a list without entries leaves no heading; the standing line stays", () => {
  const html = writeJobSheetHtml(NOTHING);
  expect(Array.from(html.matchAll(/<h2>([^<]*)</g), ([, title]) => title)).toEqual(["Cautions"]);
  expect(html).toContain(SAMPLE_SHEET.standingLine);
  expect(html).not.toMatch(/<(table|ul|ol|dl)\b/);
});

test("all letters reach a contrast of 4.5 : 1 on white", () => {
  // Relative luminance and contrast as WCAG 2.2 defines them; #767676 is the well-known edge, 4.54 : 1.
  const contrast = (hex: string) => {
    const [r = 0, g = 0, b = 0] = (hex.slice(1).match(/../g) ?? []).map((pair) => {
      const share = Number.parseInt(pair, 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 1.05 / (0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05);
  };
  expect(contrast("#767676")).toBeCloseTo(4.54, 2);
  const colours = Array.from(JOB_SHEET_STYLE.matchAll(/(?<![-\w])color: (#\w{6})/g), ([, hex]) => hex ?? "");
  expect(colours.length).toBeGreaterThan(5);
  for (const colour of colours) expect(contrast(colour)).toBeGreaterThanOrEqual(4.5);
});

for (const [paper, wide] of [
  ["A4", 595],
  ["letter", 612],
] as const) {
  externalTest(
    `the sample prints on two pages of ${paper}, its cautions on one`,
    ["chromium", "pdfinfo"],
    () => {
      const html = writeJobSheetHtml(SAMPLE_SHEET).replace("@page {", `@page { size: ${paper};`);
      withFiles({ "sheet.html": html }, (pathOf) => {
        const pdf = pathOf("sheet.pdf");
        const printed = runTool("chromium", [
          ...["--headless=new", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"],
          ...[
            `--user-data-dir=${pathOf("profile")}`,
            `--print-to-pdf=${pdf}`,
            `file://${pathOf("sheet.html")}`,
          ],
        ]);
        expect(printed.code).toBe(0);
        const info = runTool("pdfinfo", [pdf]).stdout;
        expect(info).toMatch(new RegExp(`Page size: +${wide - 1}|Page size: +${wide}`));
        expect(Number(/Pages: +(\d+)/.exec(info)?.[1])).toBeLessThanOrEqual(2);
        const pages = runTool("pdftotext", [pdf, "-"]).stdout.split("\f");
        const withCautions = pages.filter((page) =>
          /Never leave the laser|These notes are general/.test(page),
        );
        expect(withCautions).toHaveLength(1);
        expect(withCautions[0]).toMatch(/Never leave the laser[\s\S]*These notes are general/);
      });
    },
  );
}

test("the same sheet gives the same bytes", () => {
  expect(writeJobSheetHtml(SAMPLE_SHEET)).toBe(writeJobSheetHtml(structuredClone(SAMPLE_SHEET)));
});
