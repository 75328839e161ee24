import { Resvg } from "@resvg/resvg-js";
import fc from "fast-check";
import svgpath from "svgpath";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { writeStitchesSvg } from "../../src/formats/stitches-svg.ts";
import { JUMP, STITCH, StitchMaker, type StitchPlan, TRIM } from "../../src/output/stitches.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";
import { type Move, planOf, randomPlan, THREAD } from "./sample-plan.ts";

/** Thread alone, black on nothing. */
const BARE = "<style>#cloth, #jumps, #trims { display: none } path { stroke: #000 !important }</style></svg>";

function pixelsOf(svg: string, widthPx: number) {
  return new Resvg(svg, { fitTo: { mode: "width", value: widthPx } }).render();
}

/** The `d` of every path of a class whose name begins so, in order. */
function pathsOf(svg: string, name: string): string[] {
  return [...svg.matchAll(new RegExp(`<path class="${name}[^"]*" d="([^"]*)"/>`, "g"))].map(
    (found) => found[1] ?? "",
  );
}

/** The lines of path data as a library reads it: from and to, in whole hundredths of a millimetre. */
function linesOf(data: string): string[] {
  const lines: string[] = [];
  let from = "";
  svgpath(data)
    .abs()
    .iterate((segment) => {
      const to = segment
        .slice(1)
        .map((value) => Math.round(Number(value) * 100))
        .join(",");
      if (segment[0] === "L") lines.push(`${from} ${to}`);
      from = to;
    });
  return lines;
}

/** The stitches of a plan of 200 x 100 mm on its page, as `linesOf` tells them. */
function stitchesOf({ blocks }: StitchPlan, page: { left: number; top: number }): string[] {
  return blocks.flatMap(({ x, y, kind }) => {
    const at = (i: number) =>
      [(x[i] ?? 0) - page.left, page.top - (y[i] ?? 0)].map((mm) => Math.round(mm * 100) + 0).join(",");
    return [...x.keys()].flatMap((i) =>
      i === 0 || kind[i] !== STITCH || at(i - 1) === at(i) ? [] : [`${at(i - 1)} ${at(i)}`],
    );
  });
}

test("a stitch is as wide and as long as its thread, with round ends", () => {
  const stitch = planOf([
    [5, 2, JUMP],
    [15, 2, STITCH],
  ]);
  const svg = writeStitchesSvg({ ...stitch, bounds: { minX: 0, minY: 0, maxX: 20, maxY: 4 } });
  const pixelsPerMm = 100;
  const { pixels } = pixelsOf(svg.replace("</svg>", BARE), 20 * pixelsPerMm);
  let covered = 0;
  for (let i = 3; i < pixels.length; i += 4) covered += (pixels[i] ?? 0) / 255;
  // A rectangle and two half circles.
  const area = 10 * THREAD.widthMm + (Math.PI * THREAD.widthMm ** 2) / 4;
  expect(covered / pixelsPerMm ** 2 / area).toBeCloseTo(1, 2);
});

test("y grows upward in the plan and downward on the page", () => {
  const svg = writeStitchesSvg(
    planOf([
      [10, 90, JUMP],
      [20, 90, STITCH],
    ]),
  );
  expect(svg).toContain(`width="200mm" height="100mm" viewBox="0 0 200 100"`);
  expect(linesOf(pathsOf(svg, "e1")[0] ?? "")).toEqual(["1000,1000 2000,1000"]);
});

test("any plan: every stitch is drawn once as edge and once as body, in sewing order", () => {
  fc.assert(
    fc.property(randomPlan(), (plan) => {
      const svg = writeStitchesSvg(plan);
      const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
      const reach = plan.blocks
        .flatMap(({ x }) => [...x])
        .reduce((a, b) => Math.min(a, b - THREAD.widthMm), 0);
      const top = plan.blocks
        .flatMap(({ y }) => [...y])
        .reduce((a, b) => Math.max(a, b + THREAD.widthMm), 100);
      const wanted = stitchesOf(plan, { left: reach, top });
      expect(pathsOf(svg, "e").flatMap(linesOf)).toEqual(wanted);
      expect(pathsOf(svg, "b").flatMap(linesOf)).toEqual(wanted);
      for (const line of wanted) {
        const [x, y] = (line.split(" ")[1] ?? "").split(",").map(Number);
        expect(x).toBeLessThanOrEqual(Number(width) * 100);
        expect(y).toBeLessThanOrEqual(Number(height) * 100);
      }
    }),
    { numRuns: 60 },
  );
});

/** Satin 3 mm wide, up a column of 40 lines, as the needle sews it. */
const SATIN: readonly Move[] = Array.from({ length: 80 }, (_, i) => [
  i % 2 === 0 ? 10 : 13,
  10 + 0.4 * Math.floor(i / 2),
  i === 0 ? JUMP : STITCH,
]);

test("a straight satin is three paths, however many stitches", () => {
  const svg = writeStitchesSvg(planOf(SATIN));
  expect([pathsOf(svg, "e1"), pathsOf(svg, "b1"), pathsOf(svg, "c1")].map((paths) => paths.length)).toEqual([
    1, 1, 1,
  ]);
});

test("a satin that lies across another is drawn over it", () => {
  const across: readonly Move[] = SATIN.map(([x, y]) => [y, x + 5, STITCH]);
  const svg = writeStitchesSvg(planOf([...SATIN, ...across]));
  const classes = [...svg.matchAll(/<path class="([ebc])1/g)].map((found) => found[1]).join("");
  // Edge, body and light of the one; then edges of the other, all its bodies, all its lights.
  expect(classes).toMatch(/^ebceb+c+$/);
});

test("underlay has no light on it", () => {
  const maker = new StitchMaker();
  for (const [x, y, kind] of SATIN) maker.add(x, y, kind, "underlay");
  const svg = writeStitchesSvg({ ...planOf(), blocks: [maker.made(THREAD)] });
  expect(pathsOf(svg, "c1")).toEqual([]);
  expect(pathsOf(svg, "b1").flatMap(linesOf)).toHaveLength(79);
});

test("jumps and trims are in groups of their own, on top", () => {
  const svg = writeStitchesSvg(
    planOf([
      [10, 90, JUMP],
      [20, 90, STITCH],
      [30, 80, JUMP],
      [40, 80, STITCH],
      [50, 50, TRIM],
      [60, 50, STITCH],
    ]),
  );
  const group = (name: string) => {
    const from = svg.indexOf(`<g id="${name}"`);
    return svg.slice(from, svg.indexOf("</g>", from));
  };
  const data = (name: string) => /<path d="([^"]*)"/.exec(group(name))?.[1] ?? "";
  expect(linesOf(data("jumps"))).toEqual(["2000,1000 3000,2000"]);
  expect(group("jumps")).toContain("stroke-dasharray");
  // A cross of two lines at (40, 80) and a square of four at (50, 50).
  const marks = linesOf(data("trims"));
  expect(marks).toHaveLength(6);
  const middleOf = (line: string) => {
    const [x = 0, y = 0, toX = 0, toY = 0] = line.split(/[ ,]/).map(Number);
    return [(x + toX) / 2, (y + toY) / 2];
  };
  expect(marks.slice(0, 2).map(middleOf)).toEqual([
    [4000, 2000],
    [4000, 2000],
  ]);
  const last = svg.indexOf(`id="trims"`);
  expect(svg.indexOf(`id="jumps"`)).toBeLessThan(last);
  expect(svg.lastIndexOf(`class="c1`)).toBeLessThan(svg.indexOf(`id="jumps"`));
});

externalTest("xmllint reads it, whatever the names", ["xmllint"], () => {
  const plan = { ...planOf(SATIN), title: "A & B", notes: ["gap < 1 mm"] };
  withFiles({ "stitches.svg": writeStitchesSvg(plan) }, (pathOf) => {
    const ask = (what: string) => runTool("xmllint", ["--xpath", what, pathOf("stitches.svg")]).stdout.trim();
    expect(ask("string(/*/*[local-name()='title'])")).toBe("A & B");
    expect(ask("string(/*/*[local-name()='desc'])")).toContain("gap < 1 mm");
    expect(ask("count(//*[@id='thread-1']/*[local-name()='path'])")).toBe("3");
  });
});

test("a satin leaves nothing bare", () => {
  const svg = writeStitchesSvg({ ...planOf(SATIN), bounds: { minX: 0, minY: 0, maxX: 20, maxY: 40 } });
  const pixelsPerMm = 20;
  const { pixels, width } = pixelsOf(svg.replace("</svg>", BARE), 20 * pixelsPerMm);
  // Lines come together at the holes, 0.4 mm apart; at most a millimetre from the middle of the column
  // the gap between two, of (1.5 + 1) / 3 x 0.4 = 0.33 mm, is less than a thread.
  let barest = 255;
  for (let y = 15 * pixelsPerMm; y < 29 * pixelsPerMm; y++) {
    for (let x = 10.5 * pixelsPerMm; x < 12.5 * pixelsPerMm; x++)
      barest = Math.min(barest, pixels[4 * (y * width + x) + 3] ?? 0);
  }
  expect(barest).toBeGreaterThan(250);
});

test("an empty plan is a piece of cloth", () => {
  expect(writeStitchesSvg(planOf())).toContain(`viewBox="0 0 200 100"`);
});

test.each([
  ["a stitch nowhere", planOf([[Number.NaN, 0, STITCH]])],
  [
    "a thread without a width",
    { ...planOf(), blocks: [new StitchMaker().made({ ...THREAD, widthMm: Number.NaN })] },
  ],
])("%s is a fault of ours", (_, plan) => {
  expect(() => writeStitchesSvg(plan)).toThrow(InternalError);
});

test("a colour that is none is drawn grey; the same plan gives the same bytes", () => {
  const plan = { ...planOf(), blocks: [new StitchMaker().made({ ...THREAD, colour: `red"/>` })] };
  expect(writeStitchesSvg(plan)).toContain(".e1{stroke:#525252");
  expect(writeStitchesSvg(planOf(SATIN))).toBe(writeStitchesSvg(planOf(SATIN)));
});
