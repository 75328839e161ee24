/** What size the finished piece gets, by pitch, by size and by stretching. */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Design } from "../../../src/documents/design.ts";
import type { Overrides } from "../../../src/documents/job-settings.ts";
import { boundsOf } from "../../../src/geometry/bounds.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { polygonOf } from "../../support/polygon-oracle.ts";
import { randomPanel } from "../../support/random-panel.ts";
import {
  leatherProfile,
  type PreparedInlay,
  panelDesign,
  prepared,
  prepareInlay,
  SAMPLE_NAMES,
  sampleDesign,
} from "./inlay-case.ts";

const BORDER_MM = 12;
const SAME_MM = 1e-6;

function sized(design: Design, overrides: Overrides): PreparedInlay {
  return prepared(design, leatherProfile(), overrides);
}

function ratio({ settings }: PreparedInlay) {
  const { pitchMm, widthMm, gapMm } = settings.ribbon;
  const pitch = Math.min(pitchMm.across, pitchMm.down);
  return { width: widthMm / pitch, gap: gapMm / pitch };
}

test("a plain panel's size by hand", () => {
  // 3 x 2 cells at 16 mm: centrelines 3 x 16 - 8 = 40 and 24 mm, a ribbon of 4.8, borders of 12.
  expect(prepared(panelDesign(plainPanel(3, 2), 16)).job.size).toEqual({
    width: expect.closeTo(40 + 4.8 + 24, 9),
    height: expect.closeTo(24 + 4.8 + 24, 9),
  });
});

test("the finished size is that of the real outlines and the border", () => {
  fc.assert(
    fc.property(
      randomPanel(4),
      fc.integer({ min: 12, max: 30 }),
      fc.integer({ min: 12, max: 30 }),
      fc.constantFrom("pieces", "laced"),
      (panel, across, down, way) => {
        const profile = leatherProfile({}, { way });
        const { job } = prepared(panelDesign(panel), profile, { pitchMm: { across, down } });
        if (job.parts.parts.length === 0 || job.checks[0]?.verdict !== "pass") return;
        const box = boundsOf(job.parts.parts.flatMap(({ nominal }) => polygonOf(nominal.outline)));
        // Chords lie within their arcs; pointed corners are eased by 0.3 mm, sharp ones lose more.
        const near = (value: number, wanted: number) => expect(Math.abs(value - wanted)).toBeLessThan(1e-3);
        near(box.minX, BORDER_MM);
        near(box.minY, BORDER_MM);
        near(box.maxX, job.size.width - BORDER_MM);
        near(box.maxY, job.size.height - BORDER_MM);
      },
    ),
    { numRuns: 30, seed: 2 },
  );
});

test.each(SAMPLE_NAMES)("%s: a size is kept within, and one side touched", (name) => {
  const design = sampleDesign(name);
  const drawn = ratio(sized(design, {}));
  for (const sizeMm of [
    { width: 300, height: 300 },
    { width: 1000, height: 120 },
    { width: 90.5, height: 700 },
  ]) {
    const job = sized(design, { sizeMm });
    const { width, height } = job.job.size;
    expect(width).toBeLessThanOrEqual(sizeMm.width + SAME_MM);
    expect(height).toBeLessThanOrEqual(sizeMm.height + SAME_MM);
    expect(Math.min(sizeMm.width - width, sizeMm.height - height)).toBeLessThan(SAME_MM);
    expect(ratio(job)).toEqual({ width: expect.closeTo(drawn.width, 9), gap: expect.closeTo(drawn.gap, 9) });
  }
});

test.each(SAMPLE_NAMES)("%s: stretched, both sides are filled", (name) => {
  const design = sampleDesign(name);
  const drawn = ratio(sized(design, {}));
  for (const sizeMm of [
    { width: 300, height: 310 },
    { width: 260, height: 400 },
    { width: 400, height: 260 },
  ]) {
    for (const fixed of [{}, { widthMm: 4 }, { gapMm: 2.5 }]) {
      const job = sized(design, { sizeMm, stretch: true, ...fixed });
      expect(Math.abs(job.job.size.width - sizeMm.width)).toBeLessThan(SAME_MM);
      expect(Math.abs(job.job.size.height - sizeMm.height)).toBeLessThan(SAME_MM);
      if ("widthMm" in fixed) expect(job.settings.ribbon.widthMm).toBe(4);
      else expect(ratio(job).width).toBeCloseTo(drawn.width, 9);
      if ("gapMm" in fixed) expect(job.settings.ribbon.gapMm).toBe(2.5);
      else expect(ratio(job).gap).toBeCloseTo(drawn.gap, 9);
    }
  }
});

test("width and gap given in mm stay, and the size is kept with them", () => {
  const job = sized(sampleDesign("sea-chest-lid"), {
    sizeMm: { width: 250, height: 900 },
    widthMm: 5,
    gapMm: 2,
  });
  expect(job.settings.ribbon).toMatchObject({ widthMm: 5, gapMm: 2 });
  expect(job.job.size.width).toBeCloseTo(250, 6);
});

test("a pitch sets the size, and the design's ribbon keeps its ratio to it", () => {
  const design = { ...panelDesign(plainPanel(3, 2), 10), ribbon: { widthMm: 2.5, gapMm: 1 } };
  const job = sized(design, { pitchMm: { across: 20, down: 20 } });
  expect(job.settings.ribbon).toMatchObject({ widthMm: 5, gapMm: 2 });
  expect(job.job.size).toEqual({ width: 50 + 5 + 24, height: 30 + 5 + 24 });
});

test("a stretched pitch keeps its proportion when the size is given", () => {
  const { settings } = sized(panelDesign(plainPanel(3, 3)), {
    pitchMm: { across: 12, down: 15 },
    sizeMm: { width: 200, height: 200 },
  });
  expect(settings.ribbon.pitchMm.down / settings.ribbon.pitchMm.across).toBeCloseTo(1.25, 9);
});

test.each([
  [{ width: 24, height: 300 }, {}],
  [{ width: 300, height: 10 }, {}],
  [{ width: 28, height: 300 }, { widthMm: 4 }],
  [
    { width: 28, height: 300 },
    { widthMm: 4, stretch: true },
  ],
  // Hundredths of a millimetre for two cells: less than any lattice may have.
  [
    { width: 1000, height: 24.001 },
    { stretch: true, widthMm: 0.01 },
  ],
] as const)("%o with %o can't be had", (sizeMm, more) => {
  const made = prepareInlay(panelDesign(plainPanel(3, 2)), leatherProfile(), { sizeMm, ...more });
  expect(made.ok ? [] : made.faults.map(({ code }) => code)).toEqual(["size-impossible"]);
});

test("a hole that the paths would close to a point is told, not stumbled over", () => {
  // Pitch 1.25: the loop's hole measures 0.25 mm, and its two paths lie 0.125 mm inside it.
  const job = sized(panelDesign(["+-+", "|o|", "+-+"]), { pitchMm: { across: 1.25, down: 1.25 } });
  expect(job.job.checks[0]).toMatchObject({ rule: "ribbon-room", verdict: "fail" });
});

test("any size that can be had is met", () => {
  const side = fc.double({ min: 25, max: 2000, noNaN: true });
  fc.assert(
    fc.property(randomPanel(4), side, side, fc.boolean(), (panel, width, height, stretch) => {
      const made = prepareInlay(panelDesign(panel), leatherProfile(), {
        sizeMm: { width, height },
        stretch,
      });
      if (!made.ok) return;
      const { size } = made.value.job;
      const short = [width - size.width, height - size.height];
      expect(Math.min(...short)).toBeGreaterThan(-SAME_MM);
      expect(stretch ? Math.max(...short) : Math.min(...short)).toBeLessThan(SAME_MM);
    }),
    { numRuns: 40, seed: 4 },
  );
});
