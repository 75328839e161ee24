/**
 * The heart of an inlay: parts fit. Parts and openings are cut by clipper-lib from the paths of
 * the written file, and the air between them measured everywhere, both ways.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { plainPanel } from "../../support/plain-panel.ts";
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
import { type CutPair, cutPairs } from "./written-cuts.ts";

/** What a person can't tell: a twentieth of a usual kerf. */
const TOLERANCE_MM = 0.01;
/** Places along the outlines are no further apart. */
const STEP_MM = 0.4;

/** Least and greatest clearance of a pair, seen from the part and from the opening; below zero they overlap. */
function clearanceRange({ part, opening }: CutPair): readonly [number, number] {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  const measure = (from: CutPair["part"], to: CutPair["part"], insideMeansAir: boolean) => {
    const field = new SideField(to, true);
    for (const place of placesAlong(from, STEP_MM)) {
      const air = (field.isInside(place) === insideMeansAir ? 1 : -1) * field.distance(place);
      least = Math.min(least, air);
      greatest = Math.max(greatest, air);
    }
  };
  measure(part, opening, true);
  measure(opening, part, false);
  return [least, greatest];
}

function expectFit(job: PreparedInlay): void {
  const { clearancePerSideMm } = job.settings;
  const pairs = cutPairs(job);
  expect(pairs).toHaveLength(job.job.parts.parts.length);
  for (const [i, pair] of pairs.entries()) {
    const [least, greatest] = clearanceRange(pair);
    const close =
      Math.abs(least - clearancePerSideMm) <= TOLERANCE_MM &&
      Math.abs(greatest - clearancePerSideMm) <= TOLERANCE_MM;
    if (!close)
      expect.fail(`part ${i} has ${least} to ${greatest} mm of clearance instead of ${clearancePerSideMm}`);
  }
}

test.each(SAMPLE_NAMES)("every part of the sample %s fits its opening", (name) => {
  expectFit(prepared(sampleDesign(name)));
});

test.each(SAMPLE_NAMES)("the sample %s in one piece fits its opening", (name) => {
  expectFit(prepared(sampleDesign(name), leatherProfile({}, { way: "laced" })));
});

test.each([
  // Clearance, kerf, eased to, face up, corner, way.
  [-0.1, 0.2, 0.3, "back", "pointed", "pieces"],
  [-0.1, 0.15, 0.3, "front", "round", "laced"],
  [0, 0.3, 0.15, "front", "pointed", "pieces"],
  [0, 0, 0, "back", "pointed", "pieces"],
  [0, 0.2, 0.1, "back", "round", "laced"],
  [0.1, 0, 0.05, "front", "pointed", "laced"],
  [0.2, 0.2, 0.3, "back", "round", "pieces"],
  [0.5, 0.1, 0.3, "front", "pointed", "pieces"],
  [-0.5, 0.6, 0.6, "back", "pointed", "laced"],
] as const)(
  "clearance %s with kerf %s, eased to %s, from the %s, %s, %s",
  (clearance, kerf, ease, cutFace, corner, way) => {
    const numbers = { clearancePerSideMm: clearance, kerfMm: kerf, easeRadiusMm: ease };
    const job = prepared(
      panelDesign(plainPanel(3, 2), 17),
      leatherProfile(numbers, { cutFace, corner, way }),
    );
    expect(checkOf(job, "corner-easing").verdict).toBe("pass");
    expectFit(job);
  },
);

test("a check tells where parts can't fit: corners sharper than the beam", () => {
  const numbers = { clearancePerSideMm: 0, kerfMm: 0.4, easeRadiusMm: 0.1 };
  const job = prepared(panelDesign(plainPanel(3, 2), 17), leatherProfile(numbers));
  expect(checkOf(job, "corner-easing").verdict).toBe("fail");
  // The part keeps the radius 0.1, the opening gets the beam's, 0.2: at a square corner they overlap by (0.2 - 0.1)(sqrt 2 - 1).
  const least = Math.min(...cutPairs(job).map((pair) => clearanceRange(pair)[0]));
  expect(least).toBeLessThan(-0.04);
});

test("parts of random panels fit wherever the checks of shape pass", () => {
  let measured = 0;
  fc.assert(
    fc.property(
      randomPanel(4),
      fc.record({
        kerfMm: fc.constantFrom(0, 0.1, 0.2, 0.35),
        clearancePerSideMm: fc.constantFrom(-0.2, -0.05, 0, 0.1),
        widthPerPitch: fc.constantFrom(0.2, 0.3, 0.4),
        gapPerPitch: fc.constantFrom(0.05, 0.14, 0.2),
      }),
      fc.constantFrom("pieces", "laced"),
      fc.constantFrom("pointed", "round"),
      fc.constantFrom("front", "back"),
      (panel, numbers, way, corner, cutFace) => {
        const job = prepared(panelDesign(panel, 15), leatherProfile(numbers, { way, corner, cutFace }));
        const shaped = ["ribbon-room", "bend-radius", "corner-easing"].every(
          (rule) => checkOf(job, rule).verdict === "pass",
        );
        if (!shaped) return;
        measured += job.job.parts.parts.length;
        expectFit(job);
      },
    ),
    { numRuns: 40, seed: 7 },
  );
  expect(measured).toBeGreaterThan(50);
});
