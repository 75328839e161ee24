/** Grounds, opacities and fades of pictures, as two renderers show them. */
import { readFileSync } from "node:fs";
import { Resvg } from "@resvg/resvg-js";
import { PNG } from "pngjs";
import { describe, expect, test } from "vitest";
import { writePictureSvg } from "../../src/formats/picture-svg.ts";
import { polyline } from "../../src/geometry/arc-chain.ts";
import { rectangleChain } from "../../src/geometry/plain-shapes.ts";
import type { Picture, PictureGround, PictureItem } from "../../src/output/picture.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";

const BOX = { minX: 0, minY: 0, maxX: 40, maxY: 20 };

function picture(items: readonly PictureItem[], ground: PictureGround = { marginMm: 0 }): Picture {
  return { title: "T", description: "D", bounds: BOX, items, ground };
}

/** Black, 0.8 at the left side, clear at the middle and beyond. */
const FADE: PictureItem = {
  kind: "fade",
  colour: "#000000",
  opacity: 0.8,
  fields: [{ outline: rectangleChain(BOX), from: { x: 0, y: 10 }, to: { x: 20, y: 10 } }],
};

type Alpha = (xMm: number, yMm: number) => number;

function alphaOf(png: Buffer): Alpha {
  const { width, data } = PNG.sync.read(png);
  const perMm = width / 40;
  return (x, y) => (data[4 * (Math.floor((20 - y) * perMm) * width + Math.floor(x * perMm)) + 3] ?? 0) / 255;
}

const shown = (svg: string) =>
  alphaOf(Buffer.from(new Resvg(svg, { fitTo: { mode: "width", value: 800 } }).render().asPng()));

function expectFade(alpha: Alpha): void {
  expect(alpha(0.1, 10)).toBeGreaterThan(0.77);
  expect(alpha(0.1, 10)).toBeLessThan(0.81);
  // The stops: 0.3 of it half way.
  expect(Math.abs(alpha(10, 10) - 0.24)).toBeLessThan(0.01);
  expect(alpha(10, 1)).toBe(alpha(10, 19));
  expect(alpha(20.5, 10)).toBe(0);
  expect(alpha(39, 10)).toBe(0);
}

describe("fades", () => {
  test("fall off along their way and nowhere else", () => {
    expectFade(shown(writePictureSvg(picture([FADE]))));
  });

  externalTest("in another renderer too", ["rsvg-convert", "xmllint"], () => {
    withFiles({ "fade.svg": writePictureSvg(picture([FADE, FADE])) }, (pathOf) => {
      expect(runTool("xmllint", ["--noout", pathOf("fade.svg")])).toMatchObject({ code: 0, stderr: "" });
    });
    withFiles({ "fade.svg": writePictureSvg(picture([FADE])) }, (pathOf) => {
      const args = ["-w", "800", "-o", pathOf("fade.png"), pathOf("fade.svg")];
      expect(runTool("rsvg-convert", args)).toMatchObject({ code: 0, stderr: "" });
      expectFade(alphaOf(readFileSync(pathOf("fade.png"))));
    });
  });

  test("no two gradients of a picture have one name", () => {
    const svg = writePictureSvg(picture([FADE, FADE]));
    const names = [...svg.matchAll(/ id="([^"]+)"/g)].map(([, name]) => name);
    expect(names).toHaveLength(4);
    expect(new Set(names).size).toBe(4);
  });
});

test("opacities let through what lies below, also where lines of one item cross", () => {
  const across = (from: number, to: number) =>
    polyline(
      [
        { x: 0, y: from },
        { x: 40, y: to },
      ],
      false,
    );
  const svg = writePictureSvg(
    picture([
      { kind: "line", chains: [across(0, 20), across(20, 0)], colour: "#000", widthMm: 4, opacity: 0.5 },
      { kind: "area", chains: [rectangleChain({ ...BOX, maxX: 2 })], fill: "#000", opacity: 0.25 },
    ]),
  );
  const alpha = shown(svg);
  expect(alpha(20, 10)).toBeCloseTo(0.5, 2);
  expect(alpha(1, 10)).toBeCloseTo(0.25, 2);
});

test.each([
  { ground: { marginMm: 5 }, alpha: 0, width: 50 },
  { ground: { marginMm: 0.5, colour: "#ff0000" }, alpha: 1, width: 41 },
])("$ground", ({ ground, alpha, width }) => {
  const svg = writePictureSvg(picture([], ground));
  expect(/ width="(\S+)mm"/.exec(svg)?.[1]).toBe(`${width}`);
  expect(shown(svg)(20, 10)).toBe(alpha);
});
