import { Resvg } from "@resvg/resvg-js";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { writeSvg } from "../../src/formats/svg.ts";
import type { ArcChain } from "../../src/geometry/arc-chain.ts";
import { chainBounds } from "../../src/geometry/arc-chain.ts";
import { growBounds } from "../../src/geometry/bounds.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";
import {
  BAD_PATHS,
  CIRCLE,
  CIRCLE_AREA,
  drawingOf,
  OPEN_LINE,
  ROUNDED,
  ROUNDED_AREA,
  SAMPLE,
  STADIUM,
  STADIUM_AREA,
} from "./sample-drawing.ts";

const SHAPES: readonly (readonly [string, ArcChain, number])[] = [
  ["stadium", STADIUM, STADIUM_AREA],
  ["circle", CIRCLE, CIRCLE_AREA],
  ["rounded rectangle", ROUNDED, ROUNDED_AREA],
];

/** A pixel on the edge is grey by its covered share in 1/256, so some of 1e4 edge pixels' rounding remains. */
const PIXEL_TOLERANCE = 2e-4;

/** The shape alone, filled, with a margin of 1 mm. */
function filled(path: ArcChain): { svg: string; widthMm: number } {
  const bounds = growBounds(chainBounds(path), 1);
  const svg = writeSvg(drawingOf(path, bounds));
  const style = "<style>path { fill: #000; stroke: none }</style></svg>";
  return { svg: svg.replace("</svg>", style), widthMm: bounds.maxX - bounds.minX };
}

function render(svg: string, widthPx: number) {
  return new Resvg(svg, { fitTo: { mode: "width", value: widthPx } }).render();
}

test.each(SHAPES)("resvg fills the %s to the area of its closed form", (_, path, area) => {
  const { svg, widthMm } = filled(path);
  const pixelsPerMm = 10;
  const { pixels } = render(svg, widthMm * pixelsPerMm);
  let covered = 0;
  for (let i = 3; i < pixels.length; i += 4) covered += (pixels[i] ?? 0) / 255;
  expect(Math.abs(covered / pixelsPerMm ** 2 / area - 1)).toBeLessThan(PIXEL_TOLERANCE);
});

for (const [name, path, area] of SHAPES) {
  externalTest(`rsvg fills the ${name} to the area of its closed form`, ["rsvg-convert", "gdalinfo"], () => {
    const { svg, widthMm } = filled(path);
    withFiles({ "shape.svg": svg }, (pathOf) => {
      const drawn = runTool("rsvg-convert", [
        ...["-w", String(widthMm * 10)],
        ...["-o", pathOf("shape.png"), pathOf("shape.svg")],
      ]);
      expect([drawn.code, drawn.stderr]).toEqual([0, ""]);
      // The mean of the fourth band is the covered share of the picture.
      const info = JSON.parse(runTool("gdalinfo", ["-json", "-stats", pathOf("shape.png")]).stdout);
      const [widthPx, heightPx] = info.size;
      const covered = (Number(info.bands[3].metadata[""].STATISTICS_MEAN) / 255) * widthPx * heightPx;
      expect(Math.abs(covered / 100 / area - 1)).toBeLessThan(PIXEL_TOLERANCE);
    });
  });
}

externalTest("xmllint reads the sample, whose notes hold marks and line breaks", ["xmllint"], () => {
  withFiles({ "sample.svg": writeSvg(SAMPLE) }, (pathOf) => {
    const ask = (what: string) => runTool("xmllint", ["--xpath", what, pathOf("sample.svg")]);
    expect(runTool("xmllint", ["--noout", pathOf("sample.svg")])).toEqual({
      code: 0,
      stdout: "",
      stderr: "",
    });
    expect(ask("string(/*/*[local-name()='title'])").stdout.trim()).toBe(SAMPLE.title);
    expect(ask("string(/*/*[local-name()='desc'])").stdout).toContain("a < b & c > d");
    expect(ask("string(//*[@id='POCKET']/*[local-name()='desc'])").stdout.trim()).toBe("cut first");
    expect(ask("count(//*[@id='POCKET']/*[local-name()='path'])").stdout.trim()).toBe("2");
  });
});

test("the stadium's path text is the one worked out by hand", () => {
  // Bounds 0..120 x 0..20, so y' = 20 - y. The half circle from (110, 0) to (110, 20) passes (120, 10):
  // two quarter turns of radius 10, counter-clockwise, which is sweep flag 0 with y downward.
  const svg = writeSvg(drawingOf(STADIUM, { minX: 0, minY: 0, maxX: 120, maxY: 20 }));
  expect(svg).toContain(`width="120mm" height="20mm" viewBox="0 0 120 20"`);
  expect(svg).toContain(
    `<path d="M10 20L110 20A10 10 0 0 0 120 10A10 10 0 0 0 110 0L10 0A10 10 0 0 0 0 10A10 10 0 0 0 10 20Z"/>`,
  );
});

test("a clockwise arc has sweep flag 1; an open path is not closed; bounds move the origin", () => {
  // Origin at (5, 53), top at 65: (5, 65) -> (0, 0), (35, 65) -> (30, 0), (47, 53) -> (42, 12).
  const svg = writeSvg(drawingOf(OPEN_LINE, { minX: 5, minY: 53, maxX: 47, maxY: 65 }));
  expect(svg).toContain(`<path d="M0 0L30 0A12 12 0 0 1 42 12"/>`);
});

test("the picture stands upright and is not mirrored", () => {
  // A triangle in the lower left corner of a 10 x 10 page.
  const corner: ArcChain = {
    closed: true,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 6, y: 0, bulge: 0 },
      { x: 0, y: 3, bulge: 0 },
    ],
  };
  const svg = writeSvg(drawingOf(corner, { minX: 0, minY: 0, maxX: 10, maxY: 10 }));
  const { pixels, width } = render(svg.replace("</svg>", "<style>path { fill: #000 }</style></svg>"), 100);
  const alphaAt = (xMm: number, yMm: number) => pixels[((100 - yMm * 10) * width + xMm * 10) * 4 + 3];
  expect(alphaAt(1, 1)).toBe(255);
  expect(alphaAt(4, 0.5)).toBe(255);
  expect([alphaAt(1, 9), alphaAt(9, 1), alphaAt(9, 9), alphaAt(1, 4)]).toEqual([0, 0, 0, 0]);
});

test("no number is written with an exponent, and a shallow arc is a line", () => {
  // Height of the arc 5e-8 * 10 / 2 = 2.5e-7 mm, below the distance at which two points are one.
  const shallow: ArcChain = {
    closed: false,
    vertices: [
      { x: 1e-9, y: 0, bulge: 5e-8 },
      { x: 10, y: 0, bulge: 0 },
    ],
  };
  expect(writeSvg(drawingOf(shallow, { minX: 0, minY: 0, maxX: 10, maxY: 5 }))).toContain(`d="M0 5L10 5"`);
});

test("characters that XML forbids do not reach the file", () => {
  const svg = writeSvg({ ...SAMPLE, title: "bell \u0007 half \uD83D", notes: [] });
  expect(svg).toContain("<title>bell \uFFFD half \uFFFD</title>");
});

test("the same drawing gives the same bytes", () => {
  expect(writeSvg(SAMPLE)).toBe(writeSvg(SAMPLE));
});

test.each(BAD_PATHS)("a path that no machine could follow is a fault of ours: %s", (_, path) => {
  expect(() => writeSvg(drawingOf(path))).toThrow(InternalError);
});
