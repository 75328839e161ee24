import svgpath from "svgpath";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { writeTransferSvg } from "../../src/formats/transfer-svg.ts";
import type { TransferSheet } from "../../src/output/transfer-sheet.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";

/** An L of three stitches of 2 mm, and a square of 3 mm. */
const SHEET: TransferSheet = {
  title: "Hem & cuff",
  notes: ["Back stitch."],
  bounds: { minX: 0, minY: 0, maxX: 60, maxY: 40 },
  lines: [
    {
      closed: false,
      holes: [
        { x: 10, y: 10 },
        { x: 12, y: 10 },
        { x: 14, y: 10 },
        { x: 14, y: 12 },
      ],
    },
    {
      closed: true,
      holes: [
        { x: 30, y: 20 },
        { x: 33, y: 20 },
        { x: 33, y: 23 },
        { x: 30, y: 23 },
      ],
    },
  ],
};

/** The dashes of the lines, as a library reads them: from x, y to x, y. */
function dashesOf(svg: string): number[][] {
  const group = /<g id="lines"[\s\S]*?<\/g>/.exec(svg)?.[0] ?? "";
  const dashes: number[][] = [];
  for (const [, data] of group.matchAll(/ d="([^"]*)"/g)) {
    let from: number[] = [];
    svgpath(data ?? "").iterate((segment) => {
      const to = segment.slice(1).map(Number);
      if (segment[0] === "L") dashes.push([...from, ...to]);
      from = to;
    });
  }
  return dashes;
}

const middleOf = ([x = 0, y = 0, toX = 0, toY = 0]: number[]) => [(x + toX) / 2, (y + toY) / 2];

test("one dash for each stitch, its middle in the stitch's middle, shorter by half a millimetre", () => {
  const svg = writeTransferSvg(SHEET, { mirrored: false });
  const dashes = dashesOf(svg);
  // The page begins 8 mm left of the piece and above it: (x, y) -> (x + 8, 48 - y).
  expect(dashes.map(middleOf)).toEqual([
    [19, 38],
    [21, 38],
    [22, 37],
    [39.5, 28],
    [41, 26.5],
    [39.5, 25],
    [38, 26.5],
  ]);
  const lengths = dashes.map(([x = 0, y = 0, toX = 0, toY = 0]) => Math.hypot(toX - x, toY - y));
  expect(lengths).toEqual([1.5, 1.5, 1.5, 2.5, 2.5, 2.5, 2.5].map((length) => expect.closeTo(length, 2)));
});

test("the mirrored sheet has its lines mirrored within the piece, and its words not", () => {
  const plain = writeTransferSvg(SHEET, { mirrored: false });
  const mirrored = writeTransferSvg(SHEET, { mirrored: true });
  // The piece is 60 mm wide, from 8 to 68 on the page: x -> 76 - x.
  expect(dashesOf(mirrored).map(middleOf)).toEqual(
    dashesOf(plain)
      .map(middleOf)
      .map(([x = 0, y = 0]) => [76 - x, y]),
  );
  expect(mirrored).toContain(">Hem &amp; cuff: transfer sheet, mirrored</text>");
  expect(mirrored).not.toContain("scale(");
});

test.each([false, true])("a square of 100 mm and the word to print at 100 % (mirrored: %s)", (mirrored) => {
  const svg = writeTransferSvg(SHEET, { mirrored });
  expect(svg).toContain(`width="100" height="100" fill="none"`);
  const [, width, height, box] =
    /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([^"]*)"/.exec(svg) ?? [];
  // One user unit is a millimetre.
  expect(box).toBe(`${width} ${height}`);
  expect(Number(width)).toBe(116);
  expect(svg).toContain(">Print at 100 %");
  expect(svg).toContain(">Back stitch.</text>");
});

externalTest("xmllint reads it", ["xmllint"], () => {
  withFiles({ "sheet.svg": writeTransferSvg(SHEET, { mirrored: true }) }, (pathOf) => {
    const ask = (what: string) => runTool("xmllint", ["--xpath", what, pathOf("sheet.svg")]).stdout.trim();
    expect(ask("string(/*/*[local-name()='title'])")).toBe("Hem & cuff: transfer sheet, mirrored");
    expect(ask("count(//*[@id='lines']/*)")).toBe("2");
  });
});

externalTest("rsvg makes a PDF page of it that is true to scale", ["rsvg-convert", "pdfinfo"], () => {
  withFiles({ "sheet.svg": writeTransferSvg(SHEET, { mirrored: false }) }, (pathOf) => {
    const made = runTool("rsvg-convert", ["-f", "pdf", "-o", pathOf("sheet.pdf"), pathOf("sheet.svg")]);
    expect([made.code, made.stderr]).toEqual([0, ""]);
    const size = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(runTool("pdfinfo", [pathOf("sheet.pdf")]).stdout);
    // 116 mm in points of 1/72 inch.
    expect(Number(size?.[1])).toBeCloseTo((116 / 25.4) * 72, 0);
  });
});

test("a hole that lies nowhere is a fault of ours", () => {
  const holes = [
    { x: 0, y: 0 },
    { x: Number.NaN, y: 0 },
  ];
  expect(() =>
    writeTransferSvg({ ...SHEET, lines: [{ closed: false, holes }] }, { mirrored: false }),
  ).toThrow(InternalError);
});
