/** The order of work of whole jobs: layers, inner before outer, nothing lost, and a short way. */
import { expect, test } from "vitest";
import { type ArcChain, chainLength } from "../../../src/geometry/arc-chain.ts";
import type { LayerName } from "../../../src/output/drawing.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { polygonOf } from "../../support/polygon-oracle.ts";
import {
  checkOf,
  leatherProfile,
  type PreparedInlay,
  panelDesign,
  prepared,
  SAMPLE_NAMES,
  sampleDesign,
} from "./inlay-case.ts";
import { SideField } from "./rings.ts";

/** A frame, and in its hole, with nothing between, a square of four cells. */
const NESTED = [
  "+-+-+-+-+-+-+",
  "|oxoxoxoxoxo|",
  "+x+-+-+-+-+x+",
  "|o|       |o|",
  "+x+ +-+-+ +x+",
  "|o| |oxo| |o|",
  "+x+ +x+x+ +x+",
  "|o| |oxo| |o|",
  "+x+ +-+-+ +x+",
  "|o|       |o|",
  "+x+-+-+-+-+x+",
  "|oxoxoxoxoxo|",
  "+-+-+-+-+-+-+",
];

/** A loop of lanes alone round a loop alone: strands that never pass under. */
const LOOP = ["+-+", "|o|", "+-+"];

function layer({ job }: PreparedInlay, name: LayerName): readonly ArcChain[] {
  return job.cut.drawing.layers.find((one) => one.name === name)?.paths ?? [];
}

function orderOf(job: PreparedInlay): string[] {
  return job.job.cut.drawing.layers.map(({ name }) => name);
}

/** Every path inside another comes before it. */
function expectInnerFirst(paths: readonly ArcChain[]): number {
  let nested = 0;
  const fields = paths.map((path) => new SideField([polygonOf(path)], true));
  for (const [i, inner] of paths.entries()) {
    const at = inner.vertices[0] ?? { x: 0, y: 0 };
    for (const [j, field] of fields.entries()) {
      if (i === j || !field.isInside(at)) continue;
      nested++;
      if (i > j) expect.fail(`path ${i} lies inside path ${j}, which is cut before it`);
    }
  }
  return nested;
}

function countOf(job: PreparedInlay, shape: "opening" | "inlay"): number {
  return job.job.parts.parts.reduce((sum, part) => sum + 1 + part[shape].holes.length, 0);
}

const JOBS: readonly (readonly [string, () => PreparedInlay])[] = [
  ...SAMPLE_NAMES.flatMap((name) =>
    (["pieces", "laced"] as const).map(
      (way) => [`${name}, ${way}`, () => prepared(sampleDesign(name), leatherProfile({}, { way }))] as const,
    ),
  ),
  ...([2, 4, 8] as const).map(
    (n) => [`plain ${n} x ${n}`, () => prepared(panelDesign(plainPanel(n, n)))] as const,
  ),
  ["a loop", () => prepared(panelDesign(LOOP))],
  ["nested areas, pieces", () => prepared(panelDesign(NESTED))],
  ["nested areas, laced", () => prepared(panelDesign(NESTED), leatherProfile({}, { way: "laced" }))],
];

test.each(JOBS)("%s: marks, openings, parts, the panel's edge; each path once; a shorter way", (_, make) => {
  const job = make();
  expect(orderOf(job)).toEqual(["RIBBON", "MARK", "POCKET", "INLAY", "PANEL"]);
  expect(layer(job, "POCKET")).toHaveLength(countOf(job, "opening"));
  expect(layer(job, "INLAY")).toHaveLength(countOf(job, "inlay"));
  expect(layer(job, "PANEL")).toHaveLength(1);
  expectInnerFirst(layer(job, "POCKET"));
  expectInnerFirst(layer(job, "INLAY"));
  const { cutting } = job.job.cut;
  const cut = (["POCKET", "INLAY", "PANEL"] as const).flatMap((name) => layer(job, name));
  expect(cutting.lengthMm).toBeCloseTo(
    cut.reduce((sum, chain) => sum + chainLength(chain), 0),
    6,
  );
  expect(cutting.travelMm).toBeLessThanOrEqual(cutting.travelInFileOrderMm);
});

test("the way of the report is the way of the file", () => {
  const { job } = prepared(sampleDesign("sea-chest-lid"));
  let at = { x: 0, y: 0 };
  let way = 0;
  for (const { closed, vertices } of job.cut.drawing.layers
    .filter(({ worked }) => worked)
    .flatMap(({ paths }) => paths)) {
    const [first, last] = [vertices[0], vertices.at(-1)];
    if (!first || !last) throw new Error("an empty path");
    way += Math.hypot(first.x - at.x, first.y - at.y);
    at = closed ? first : last;
  }
  expect(job.cut.cutting.travelMm).toBeCloseTo(way, 6);
});

test("a ring's inner path comes before its outer one", () => {
  const job = prepared(panelDesign(LOOP));
  expect(expectInnerFirst(layer(job, "POCKET"))).toBe(1);
  expect(expectInnerFirst(layer(job, "INLAY"))).toBe(1);
});

test("openings within a ring-shaped opening are cut while the ring still holds them", () => {
  const job = prepared(panelDesign(NESTED), leatherProfile({}, { way: "laced" }));
  expect(checkOf(job, "ribbon-room").verdict).toBe("pass");
  expect(job.job.counts["parts"]).toBe(2);
  // The square's outline and its one bounded face lie in the frame's great hole and in its outline.
  expect(expectInnerFirst(layer(job, "POCKET"))).toBeGreaterThanOrEqual(4);
});

test("parts are laid within the bed, sheet by sheet", () => {
  const job = prepared(panelDesign(plainPanel(8, 8)), leatherProfile({ bedWidthMm: 160, bedHeightMm: 160 }));
  expect(checkOf(job, "machine-bed").verdict).toBe("pass");
  expect(job.job.cut.sheets.length).toBeGreaterThan(1);
  for (const { width, height } of job.job.cut.sheets) {
    expect(width).toBeLessThanOrEqual(160);
    expect(height).toBeLessThanOrEqual(160);
  }
  expect(job.job.cut.sheets.reduce((sum, { parts }) => sum + parts.length, 0)).toBe(job.job.counts["parts"]);
});
