import { readFileSync } from "node:fs";
import { Resvg } from "@resvg/resvg-js";
import { PNG } from "pngjs";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { writePictureSvg } from "../../src/formats/picture-svg.ts";
import { type ArcChain, polyline } from "../../src/geometry/arc-chain.ts";
import type { Picture, PictureItem } from "../../src/output/picture.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";
import { roundedPanel, SAMPLE_PICTURE } from "./sample-sheet.ts";

function picture(items: readonly PictureItem[], width = 100, height = 50): Picture {
  return {
    title: "T",
    description: "D",
    bounds: { minX: 0, minY: 0, maxX: width, maxY: height },
    items,
  };
}

function circle(x: number, y: number, radius: number): ArcChain {
  return {
    closed: true,
    vertices: [
      { x: x + radius, y, bulge: 1 },
      { x: x - radius, y, bulge: 1 },
    ],
  };
}

function square(x: number, y: number, side: number, fill: string): PictureItem {
  const points = [
    { x, y },
    { x: x + side, y },
    { x: x + side, y: y + side },
    { x, y: y + side },
  ];
  return { kind: "area", chains: [polyline(points, true)], fill };
}

function dimension(from: readonly [number, number], to: readonly [number, number], asideMm: number) {
  const [x, y] = from;
  const item: PictureItem = {
    kind: "dimension",
    from: { x, y },
    to: { x: to[0], y: to[1] },
    asideMm,
    text: "7 mm",
  };
  return item;
}

/** A rounded panel with a round hole; both run the same way, so only the even-odd rule leaves it open. */
const HOLED = picture(
  [{ kind: "area", chains: [roundedPanel(100, 50, 12), circle(50, 25, 15)], fill: "#000" }],
  100,
  50,
);
/** Rectangle less four corners, less the circle. */
const HOLED_AREA_MM2 = 100 * 50 - (4 - Math.PI) * 12 ** 2 - Math.PI * 15 ** 2;
const HOLED_WIDTH_MM = 102.5;
const PIXELS_PER_MM = 8;

/** How many mm2 of black there are on the white of a drawn picture. */
function blackArea(pixels: Uint8Array): number {
  let black = 0;
  for (let i = 0; i < pixels.length; i += 4) black += 1 - (pixels[i] ?? 0) / 255;
  return black / PIXELS_PER_MM ** 2;
}

test("resvg fills a shape with a hole to its computed area", () => {
  const svg = writePictureSvg(HOLED);
  const { pixels } = new Resvg(svg, {
    fitTo: { mode: "width", value: HOLED_WIDTH_MM * PIXELS_PER_MM },
  }).render();
  expect(Math.abs(blackArea(pixels) / HOLED_AREA_MM2 - 1)).toBeLessThan(0.01);
});

externalTest("rsvg fills a shape with a hole to its computed area", ["rsvg-convert"], () => {
  withFiles({ "p.svg": writePictureSvg(HOLED) }, (pathOf) => {
    const width = HOLED_WIDTH_MM * PIXELS_PER_MM;
    const run = runTool("rsvg-convert", ["-w", String(width), "-o", pathOf("p.png"), pathOf("p.svg")]);
    expect([run.code, run.stderr]).toEqual([0, ""]);
    const png = readFileSync(pathOf("p.png"));
    // resvg reads the pixels of the other renderer's PNG.
    const [wide, high] = [png.readUInt32BE(16), png.readUInt32BE(20)];
    const shown = `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}" height="${high}"><image width="${wide}" height="${high}" href="data:image/png;base64,${png.toString("base64")}"/></svg>`;
    expect(Math.abs(blackArea(new Resvg(shown).render().pixels) / HOLED_AREA_MM2 - 1)).toBeLessThan(0.01);
  });
});

externalTest("xmllint and rsvg read the sample", ["xmllint", "rsvg-convert"], () => {
  withFiles({ "p.svg": writePictureSvg(SAMPLE_PICTURE) }, (pathOf) => {
    expect(runTool("xmllint", ["--noout", pathOf("p.svg")])).toEqual({ code: 0, stdout: "", stderr: "" });
    expect(runTool("rsvg-convert", ["-o", pathOf("p.png"), pathOf("p.svg")]).stderr).toBe("");
    const ask = (what: string) => runTool("xmllint", ["--xpath", what, pathOf("p.svg")]).stdout.trim();
    expect(ask("name(/*/*[1])")).toBe("title");
    expect(ask("name(/*/*[2])")).toBe("desc");
    expect(ask("string(/*/@role)")).toBe("img");
    expect(ask("string(/*/*[2])")).toBe(SAMPLE_PICTURE.description);
  });
});

test("the page is what must be in view with a margin of half a letter, in mm, y down", () => {
  // Letters are a fortieth of 400 mm: 10 mm; margin 5 mm. Top edge y = 200 + 5, turned over.
  expect(writePictureSvg(picture([], 400, 200))).toContain(
    `width="410mm" height="210mm" viewBox="-5 -205 410 210"`,
  );
});

test("letters of the sample are at least 12 pixels high when it is shown 700 pixels wide", () => {
  const svg = writePictureSvg(SAMPLE_PICTURE);
  const letterMm = Number(/font-size="([\d.]+)"/.exec(svg)?.[1]);
  const widthMm = Number(/ width="([\d.]+)mm"/.exec(svg)?.[1]);
  expect((letterMm / widthMm) * 700).toBeGreaterThan(12);
});

test.each<readonly [string, PictureItem]>([
  ["a long dimension", dimension([0, 50], [100, 50], 30)],
  ["one too short for its figure", dimension([100, 0], [97, 0], 8)],
  ["one too short, upright", dimension([0, 0], [0, 2], 8)],
  ["a slanting one", dimension([20, 10], [60, 40], -60)],
  ["a place in the corner", { kind: "place", at: { x: 99, y: 49 }, text: "118", failed: true }],
  ["a ruler", { kind: "ruler", at: { x: 60, y: -8 }, lengthMm: 50 }],
])("nothing that stands beside the piece is cut off: %s", (_, item) => {
  const svg = writePictureSvg(picture([item]));
  const page = /viewBox="([^"]+)"/.exec(svg)?.[1] ?? "";
  const [x = 0, y = 0, width = 0, height = 0] = page.split(" ").map(Number);
  // Shown with as much again on every side, without its white ground: no ink may be out there.
  const wider = svg
    .replace(/<rect [^>]*fill="#fff"\/>\n/, "")
    .replace(`viewBox="${page}"`, `viewBox="${x - width} ${y - height} ${3 * width} ${3 * height}"`);
  const shown = new Resvg(wider, {
    fitTo: { mode: "width", value: 900 },
    font: { defaultFontFamily: "DejaVu Sans" },
  }).render();
  // Each look at `pixels` copies them all.
  const { pixels, width: wide, height: high } = shown;
  let inside = 0;
  let outside = 0;
  for (let row = 0; row < high; row++) {
    for (let column = 0; column < wide; column++) {
      const ink = pixels[4 * (row * wide + column) + 3] ?? 0;
      const third = Math.floor((3 * row) / high) * 3 + Math.floor((3 * column) / wide);
      if (third === 4) inside += ink;
      else outside += ink;
    }
  }
  expect(inside).toBeGreaterThan(0);
  expect(outside).toBe(0);
});

test("a dimension line stands to the left of its direction, with lines out to it and heads at its ends", () => {
  // Letters 2.5 mm: extension lines keep 0.75 mm off and run 1 mm past; heads are 2.125 mm long,
  // and the line ends in the middle of each. Left of the x axis is up, so y' = -10.
  const svg = writePictureSvg(picture([dimension([0, 0], [100, 0], 10)]));
  expect(svg).toContain("M0 -0.75L0 -11M100 -0.75L100 -11M1.06 -10L98.94 -10");
  expect(svg).toMatch(/M0 -10L2\.1[23] -10\.35L2\.1[23] -9\.65Z/);
  expect(svg).toMatch(
    /M100 -10L97\.8[78] -9\.65L97\.8[78] -10\.35Z|M100 -10L97\.8[78] -10\.35L97\.8[78] -9\.65Z/,
  );
});

test.each([
  ["to the right", [0, 0], [100, 0], ""],
  ["to the left", [100, 0], [0, 0], ""],
  ["up", [0, 0], [0, 50], "-90"],
  ["down", [0, 50], [0, 0], "-90"],
  // atan(30/40) = 36.87 degrees.
  ["up to the right", [0, 0], [40, 30], "-36.87"],
  ["down to the left", [40, 30], [0, 0], "-36.87"],
  ["down to the right", [0, 30], [40, 0], "36.87"],
] as const)(
  "the figure of a dimension that runs %s is read from below or from the right",
  (_, from, to, turn) => {
    const svg = writePictureSvg(picture([dimension(from, to, 5)]));
    expect(/rotate\((\S+) /.exec(svg)?.[1] ?? "").toBe(turn);
  },
);

test("a ruler of 100 mm has five fields, one of 80 mm four", () => {
  const dark = (lengthMm: number) => {
    const svg = writePictureSvg(picture([{ kind: "ruler", at: { x: 10, y: -5 }, lengthMm }]));
    expect(svg).toContain(`>${lengthMm} mm</text>`);
    return Array.from(svg.matchAll(/M([\d.]+) 5h([\d.]+)v/g), ([, x, wide]) => [Number(x), Number(wide)]);
  };
  expect(dark(100)).toEqual([
    [10, 20],
    [50, 20],
    [90, 20],
  ]);
  expect(dark(80)).toEqual([
    [10, 20],
    [50, 20],
  ]);
});

test("a failed place differs from another by more than its colour", () => {
  const ring = (failed: boolean) =>
    writePictureSvg(picture([{ kind: "place", at: { x: 5, y: 5 }, text: "1", failed }]));
  expect(ring(true)).not.toContain("dasharray");
  expect(ring(false)).toContain("dasharray");
});

test("items are drawn in their order, neighbours of one look in one group", () => {
  const svg = writePictureSvg(
    picture([
      square(0, 0, 2, "#111"),
      square(5, 0, 2, "#111"),
      square(1, 1, 2, "#222"),
      square(9, 0, 2, "#111"),
    ]),
  );
  expect(Array.from(svg.matchAll(/<g fill="(#\d+)"|d="M(\d+)/g), ([, fill, x]) => fill ?? x)).toEqual([
    ...["#111", "0", "5"],
    ...["#222", "1"],
    ...["#111", "9"],
  ]);
});

/**
 * Three fields side by side in two rows, ten pixels wide and high, as renderers smooth between
 * pixels: red, green, blue; black, white, grey.
 */
const FIELDS = [
  [
    [255, 0, 0],
    [0, 255, 0],
    [0, 0, 255],
  ],
  [
    [0, 0, 0],
    [255, 255, 255],
    [128, 128, 128],
  ],
];
const SIX_COLOURS = {
  width: 30,
  height: 20,
  data: Uint8Array.from({ length: 3 * 30 * 20 }, (_, i) => {
    const pixel = Math.floor(i / 3);
    return FIELDS[Math.floor(pixel / 300)]?.[Math.floor((pixel % 30) / 10)]?.[i % 3] ?? 0;
  }),
};
const IMAGE: PictureItem = {
  kind: "image",
  bounds: { minX: 10, minY: 5, maxX: 40, maxY: 25 },
  image: SIX_COLOURS,
  name: "six <colours>",
};

/** The colours in the middle of each of the six fields, which are 10 mm wide, and of the paper beside them. */
function sixColours(pixels: Uint8Array, width: number): (string | undefined)[] {
  const perMm = width / 102.5;
  const at = (x: number, y: number) => {
    const i = 4 * (Math.round((51.25 - y) * perMm) * width + Math.round((x + 1.25) * perMm));
    return pixels.subarray(i, i + 3).join(" ");
  };
  return [at(15, 20), at(25, 20), at(35, 20), at(15, 10), at(25, 10), at(35, 10), at(45, 10)];
}
const SIX_SHOWN = ["255 0 0", "0 255 0", "0 0 255", "0 0 0", "255 255 255", "128 128 128", "255 255 255"];

test("resvg shows an image in its box, the first row on top", () => {
  const svg = writePictureSvg(picture([IMAGE]));
  const { pixels, width } = new Resvg(svg, { fitTo: { mode: "width", value: 1025 } }).render();
  expect(sixColours(pixels, width)).toEqual(SIX_SHOWN);
  expect(svg).toContain("<title>six &lt;colours&gt;</title>");
});

externalTest("rsvg shows an image in its box, the first row on top", ["rsvg-convert", "xmllint"], () => {
  withFiles({ "p.svg": writePictureSvg(picture([IMAGE])) }, (pathOf) => {
    expect(runTool("xmllint", ["--noout", pathOf("p.svg")]).code).toBe(0);
    const run = runTool("rsvg-convert", ["-w", "1025", "-o", pathOf("p.png"), pathOf("p.svg")]);
    expect([run.code, run.stderr]).toEqual([0, ""]);
    const { data, width } = PNG.sync.read(readFileSync(pathOf("p.png")));
    expect(sixColours(data, width)).toEqual(SIX_SHOWN);
  });
});

test("a label begins at its point, behind its swatch, and room is made for it", () => {
  const at = { x: 0, y: -10 };
  const width = (items: readonly PictureItem[]) =>
    Number(/ width="([\d.]+)mm"/.exec(writePictureSvg(picture(items)))?.[1]);
  const svg = writePictureSvg(picture([{ kind: "label", at, text: "as it should be", swatch: "#abc" }]));
  // Capitals are 0.73 of the letters' 2.5 mm: the swatch is 1.83 mm, and the words begin 1.8 of that on.
  expect(svg).toMatch(/<rect x="0" y="8\.1[78]" width="1\.8[23]" height="1\.8[23]" fill="#abc"/);
  expect(svg).toMatch(/<text x="3\.2[89]" y="10" text-anchor="start"/);
  expect(width([{ kind: "label", at: { x: 95, y: 0 }, text: "a long caption beside it" }])).toBeGreaterThan(
    width([]),
  );
});

test("texts are escaped wherever they stand", () => {
  const evil = `</text><b>&"`;
  const svg = writePictureSvg({
    ...picture([
      { kind: "area", chains: [circle(0, 0, 1)], fill: evil, edge: { colour: evil, widthMm: 1 }, name: evil },
      { kind: "line", chains: [circle(0, 0, 1)], colour: evil, widthMm: 1, dashed: true },
      { kind: "dimension", from: { x: 0, y: 0 }, to: { x: 9, y: 0 }, asideMm: 3, text: evil },
      { kind: "place", at: { x: 0, y: 0 }, text: evil, failed: true },
    ]),
    title: evil,
    description: evil,
  });
  expect(svg).not.toContain("<b>");
  expect(svg.split("&lt;/text&gt;&lt;b&gt;&amp;&quot;")).toHaveLength(9);
});

test.each([
  ["a vertex", picture([square(Number.NaN, 0, 1, "#000")])],
  ["a dimension", picture([dimension([0, 0], [Number.NaN, 0], 5)])],
  ["a place", picture([{ kind: "place", at: { x: Number.NaN, y: 0 }, text: "1", failed: true }])],
  ["a ruler", picture([{ kind: "ruler", at: { x: 0, y: 0 }, lengthMm: Number.POSITIVE_INFINITY }])],
  ["bounds", picture([], Number.NaN, 1)],
])("a number that is not finite is a fault of ours: %s", (_, bad) => {
  expect(() => writePictureSvg(bad)).toThrow(InternalError);
});

test("tiny and huge numbers are written without exponents", () => {
  const svg = writePictureSvg(
    picture([square(1e-9, 0, 1e-7, "#000"), square(1e22, 0, 1, "#000"), dimension([0, 0], [1e-12, 0], 1e-9)]),
  );
  expect(svg).not.toMatch(/\de[-+]?\d|NaN|Infinity|[" M]-0[ "A-Z]/);
});

test("a hundred thousand areas are written, each once, in a few seconds", () => {
  const areas = Array.from({ length: 100_000 }, (_, i) => square(i % 400, Math.floor(i / 400), 0.5, "#765"));
  const start = performance.now();
  const svg = writePictureSvg(picture(areas, 400, 250));
  expect(svg.split("<path ")).toHaveLength(100_001);
  expect(performance.now() - start).toBeLessThan(5000);
});

test("the same picture gives the same bytes", () => {
  expect(writePictureSvg(SAMPLE_PICTURE)).toBe(writePictureSvg(structuredClone(SAMPLE_PICTURE)));
});
