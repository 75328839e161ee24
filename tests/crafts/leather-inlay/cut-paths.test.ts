/** Cut paths keep clear of each other, and marks of them: measured on the written file, chorded. */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { LayerName } from "../../../src/output/drawing.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { polygonOf } from "../../support/polygon-oracle.ts";
import { randomPanel } from "../../support/random-panel.ts";
import {
  checkOf,
  leatherProfile,
  type PreparedInlay,
  panelDesign,
  prepared,
  SAMPLE_NAMES,
  sampleDesign,
} from "./inlay-case.ts";
import { placesAlong, SideField } from "./rings.ts";
import { writtenLayers } from "./written-cuts.ts";

/** What chords and the output grid can take away from a distance. */
const READING_MM = 0.002;
/** So near to a cut no label may come. */
const LABEL_CLEAR_MM = 0.3;

function linesOf({ job }: PreparedInlay, ...names: readonly LayerName[]) {
  const layers = writtenLayers(job.cut);
  return names.flatMap((name) => (layers.get(name) ?? []).map(polygonOf));
}

/** mm from the marks to the nearest cut. */
function markDistance(job: PreparedInlay): number {
  const cuts = new SideField(linesOf(job, "POCKET", "INLAY", "PANEL"), true);
  let least = Number.POSITIVE_INFINITY;
  // An open stroke there and back again, for the walk along closed lines.
  for (const mark of linesOf(job, "MARK"))
    for (const place of placesAlong([[...mark, ...mark.toReversed()]], 0.1))
      least = Math.min(least, cuts.distance(place));
  return least;
}

function expectApart(job: PreparedInlay): void {
  const { settings } = job;
  const cuts = new SideField(linesOf(job, "POCKET", "INLAY", "PANEL"), true);
  expect(cuts.meetings()).toEqual([]);
  const inlays = new SideField(linesOf(job, "INLAY"), true);
  if (settings.way === "pieces")
    expect(inlays.leastApart()).toBeGreaterThanOrEqual(Math.min(2, settings.spacingMm) - READING_MM);
  // The path of an opening lies within the ribbon, or half a clearance beside it: inside the border.
  const edge = new SideField(linesOf(job, "PANEL"), true);
  for (const place of placesAlong(linesOf(job, "POCKET"), 1)) {
    expect(edge.isInside(place)).toBe(true);
    expect(edge.distance(place)).toBeGreaterThan(1.5);
  }
}

for (const name of SAMPLE_NAMES) {
  for (const way of ["pieces", "laced"] as const) {
    test(`no cuts meet in the sample ${name}, ${way}`, () => {
      expectApart(prepared(sampleDesign(name), leatherProfile({}, { way })));
    });
  }
  test.each(["front", "back"] as const)(
    `labels of the sample ${name} keep clear of cuts, from the %s`,
    (cutFace) => {
      const job = prepared(sampleDesign(name), leatherProfile({}, { cutFace }));
      expect(job.job.counts["unlabelled"]).toBe(0);
      expect(markDistance(job)).toBeGreaterThanOrEqual(LABEL_CLEAR_MM - READING_MM);
    },
  );
}

test.each([0.5, 3])("labels keep clear of cuts with parts %s mm apart", (spacingMm) => {
  const profile = leatherProfile({ spacingMm }, { cutFace: "front" });
  const job = prepared(panelDesign(plainPanel(3, 3)), profile);
  expect(markDistance(job)).toBeGreaterThanOrEqual(LABEL_CLEAR_MM - READING_MM);
});

test("a label that finds no room is left out and counted, never set across a cut", () => {
  // A ribbon of 1.6 mm has no room for letters of 1.2 mm with 0.3 mm on both sides and half a kerf.
  const job = prepared(panelDesign(plainPanel(2, 2), 16), leatherProfile(), { widthMm: 1.6 });
  expect(job.job.counts["unlabelled"]).toBe(job.job.counts["parts"]);
  expect(markDistance(job)).toBeGreaterThanOrEqual(LABEL_CLEAR_MM - READING_MM);
});

test("crossing lines of a laced body stay on it", () => {
  const job = prepared(sampleDesign("harbour-badge"), leatherProfile({}, { way: "laced" }));
  const body = new SideField(linesOf(job, "INLAY"), true);
  const lines = job.job.cut.sheets.flatMap(({ parts }) => parts.flatMap(({ part }) => part.lines));
  // Two edges of the over-strand at each crossing.
  expect(lines).toHaveLength(2 * (job.job.counts["crossings"] ?? 0));
  const heading = linesOf(job, "MARK").filter((mark) => mark.some((place) => !body.isInside(place)));
  // The heading SHEET A has at most 4 strokes a letter; everything else is inside.
  expect(heading.length).toBeLessThanOrEqual(4 * "SHEETA".length);
});

test("random panels: cuts of the ground and of the sheets never meet where the checks pass", () => {
  let seen = 0;
  fc.assert(
    fc.property(
      randomPanel(4),
      fc.constantFrom("pieces", "laced"),
      fc.constantFrom("front", "back"),
      fc.integer({ min: 13, max: 22 }),
      (panel, way, cutFace, pitch) => {
        const job = prepared(panelDesign(panel, pitch), leatherProfile({}, { way, cutFace }));
        const sound = ["ribbon-room", "web-at-crossings", "web-beside", "bend-radius", "corner-easing"].every(
          (rule) => checkOf(job, rule).verdict === "pass",
        );
        if (!sound) return;
        seen++;
        expectApart(job);
        if (way === "pieces") expect(markDistance(job)).toBeGreaterThanOrEqual(LABEL_CLEAR_MM - READING_MM);
      },
    ),
    { numRuns: 25, seed: 11 },
  );
  expect(seen).toBeGreaterThan(8);
});
