import { readFileSync } from "node:fs";
import { Resvg } from "@resvg/resvg-js";
import { PNG } from "pngjs";
import { describe, expect, test } from "vitest";
import { LINE_SHARE } from "../../../src/crafts/look/drawn-looks.ts";
import { LOOK_NAMES, type LookName } from "../../../src/crafts/look/look-names.ts";
import { luminance, strandTint, type Tints } from "../../../src/crafts/look/tints.ts";
import { strandColour } from "../../../src/crafts/strand-colours.ts";
import { writePictureSvg } from "../../../src/formats/picture-svg.ts";
import { signedArea } from "../../../src/geometry/arc-chain.ts";
import { insideChain } from "../../../src/geometry/inside.ts";
import { laceRibbons } from "../../../src/ribbon/laced.ts";
import { makeRibbons, type RibbonSize, type Shape } from "../../../src/ribbon/ribbon.ts";
import { externalTest, runTool, withFiles } from "../../support/external.ts";
import { drawn, type WovenSample, wovenSample } from "./woven-sample.ts";

const SAMPLES = ["harbour-badge", "lantern-wreath", "tiller-triad"] as const;
const MADE = new Map(SAMPLES.map((name) => [name, wovenSample(name)]));
const sampleOf = (name: (typeof SAMPLES)[number]): WovenSample => MADE.get(name) ?? wovenSample(name);

const area = ({ outline, holes }: Shape) =>
  signedArea(outline) + holes.reduce((sum, h) => sum + signedArea(h), 0);
const areas = (shapes: readonly Shape[]) => shapes.reduce((sum, shape) => sum + area(shape), 0);

/**
 * What a look covers, mm², by way of other code than draws it where there is any: the knot as one
 * body, its holes left out (laced.ts); less the insides of the ribbons for the lines; the ribbon
 * pieces with their gaps.
 */
function coveredMm2(look: LookName, { woven, widthMm, gapMm }: WovenSample): number {
  const { diagram, strands, faces } = woven;
  const pieces = (size: RibbonSize) => areas(makeRibbons(diagram, strands, size).pieces);
  if (look === "ribbon") return pieces({ widthMm, gapMm });
  const body = areas(laceRibbons(diagram, faces, widthMm).bodies);
  if (look !== "line") return body;
  // The inside of an under-strand runs up to the over-strand's edge: a gap of one line for a ribbon two lines narrower.
  const line = LINE_SHARE * widthMm;
  return body - pieces({ widthMm: widthMm - 2 * line, gapMm: line });
}

const WIDTH_PX = 1500;

interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/**
 * mm² that are covered: all that pixels are opaque, together; where a soft shadow lies on the ground,
 * the pixels that are more than half covered, which are 0.5 to 0.7 opaque at the edge.
 */
function opaqueMm2({ width, data }: Pixels, svg: string, look: LookName): number {
  const shadowless = look === "line" || look === "ribbon";
  let count = 0;
  for (let i = 3; i < data.length; i += 4) {
    const alpha = data[i] ?? 0;
    count += shadowless ? alpha / 255 : alpha >= 153 ? 1 : 0;
  }
  const pixelMm = Number(/ width="(\S+?)mm"/.exec(svg)?.[1]) / width;
  return count * pixelMm * pixelMm;
}

function corners({ width, height, data }: Pixels): number[][] {
  return [0, width - 1, width * (height - 1), width * height - 1].map((i) => [
    ...data.slice(4 * i, 4 * i + 4),
  ]);
}

function render(svg: string, widthPx = WIDTH_PX): Pixels {
  return PNG.sync.read(
    Buffer.from(
      new Resvg(svg, { fitTo: { mode: "width", value: widthPx }, font: { loadSystemFonts: false } })
        .render()
        .asPng(),
    ),
  );
}

describe.each(LOOK_NAMES)("%s", (look) => {
  test.each(["lantern-wreath", "tiller-triad"] as const)(
    "covers what the ribbons of %s cover, within 1 %%",
    (name) => {
      const sample = sampleOf(name);
      const svg = writePictureSvg(drawn(sample, look).picture);
      const expected = coveredMm2(look, sample);
      expect(Math.abs(opaqueMm2(render(svg), svg, look) / expected - 1)).toBeLessThan(0.01);
    },
  );

  externalTest(
    "so it does in another renderer, which reads well-formed XML",
    ["xmllint", "rsvg-convert"],
    () => {
      const sample = sampleOf("tiller-triad");
      const svg = writePictureSvg(drawn(sample, look).picture);
      withFiles({ "knot.svg": svg }, (pathOf) => {
        const checked = runTool("xmllint", ["--noout", pathOf("knot.svg")]);
        expect([checked.code, checked.stderr]).toEqual([0, ""]);
        const out = pathOf("knot.png");
        const drawnThere = runTool("rsvg-convert", ["-w", `${WIDTH_PX}`, "-o", out, pathOf("knot.svg")]);
        expect([drawnThere.code, drawnThere.stderr]).toEqual([0, ""]);
        const there = PNG.sync.read(readFileSync(out));
        expect(Math.abs(opaqueMm2(there, svg, look) / coveredMm2(look, sample) - 1)).toBeLessThan(0.01);
        expect(meanDifference(there, render(svg))).toBeLessThan(2);
      });
    },
  );

  test("the ground is transparent unless it has a colour", () => {
    const sample = sampleOf("harbour-badge");
    const clear = render(writePictureSvg(drawn(sample, look).picture), 300);
    expect(corners(clear)).toEqual([0, 1, 2, 3].map(() => [0, 0, 0, 0]));
    const coloured = render(writePictureSvg(drawn(sample, look, { ground: "#f4efe6" }).picture), 300);
    expect(corners(coloured)).toEqual([0, 1, 2, 3].map(() => [0xf4, 0xef, 0xe6, 255]));
  });

  test("is drawn alike each time, every number finite", () => {
    const sample = sampleOf("tiller-triad");
    const svg = writePictureSvg(drawn(sample, look).picture);
    expect(writePictureSvg(drawn(wovenSample("tiller-triad"), look).picture)).toBe(svg);
    expect(svg).not.toMatch(/NaN|Infinity/);
  });
});

describe("strands are told apart by lightness", () => {
  // CIE L* from the luminance Y: 116 Y^(1/3) - 16 (ISO/CIE 11664-4). Greys 5 apart are told apart with ease; 8 is asked for.
  const lightness = (colour: string) => 116 * Math.cbrt(luminance(colour)) - 16;
  const colours: readonly (readonly [string, (strand: number) => string])[] = [
    ["ribbon", strandColour],
    ...(["wood", "leather", "thread"] as const).map(
      (tints: Tints) => [tints, (strand: number) => strandTint(tints, strand)] as const,
    ),
  ];

  test.each(colours)("%s", (_, colourOf) => {
    expect(lightness("#777777")).toBeCloseTo(50.0, 0);
    for (let strand = 0; strand < 8; strand++) {
      const own = lightness(colourOf(strand));
      expect(Math.abs(own - lightness(colourOf(strand + 1)))).toBeGreaterThan(8);
    }
    const three = [0, 1, 2].map((strand) => lightness(colourOf(strand)));
    const [darkest = 0, middle = 0, lightest = 0] = three.sort((a, b) => a - b);
    expect(Math.min(middle - darkest, lightest - middle)).toBeGreaterThan(4);
  });
});

test("wood grain stays inside the ribbons", () => {
  const sample = sampleOf("lantern-wreath");
  const { picture } = drawn(sample, "wood");
  const { woven, widthMm } = sample;
  const bodies = laceRibbons(woven.diagram, woven.faces, widthMm).bodies;
  const grain = picture.items.filter((item) => item.kind === "line" && item.widthMm < 0.1 * widthMm);
  const points = grain
    .flatMap((item) => (item.kind === "line" ? item.chains : []))
    .flatMap(({ vertices }) => vertices);
  expect(points.length).toBeGreaterThan(1000);
  const outside = points.filter(
    (point) =>
      !bodies.some(
        ({ outline, holes }) =>
          insideChain(outline, point) && !holes.some((hole) => insideChain(hole, point)),
      ),
  );
  expect(outside).toEqual([]);
});

function meanDifference(a: Pixels, b: Pixels): number {
  expect([a.width, a.height]).toEqual([b.width, b.height]);
  let sum = 0;
  for (let i = 0; i < a.data.length; i++) sum += Math.abs((a.data[i] ?? 0) - (b.data[i] ?? 0));
  return sum / a.data.length;
}
