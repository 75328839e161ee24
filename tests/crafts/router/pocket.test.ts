import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { clearPocket, stepsDown } from "../../../src/crafts/router/pocket.ts";
import { ContourFamily } from "../../../src/crafts/router/pocket-contours.ts";
import type { GroundSettings, LoadedCutter } from "../../../src/crafts/router/settings.ts";
import { squaredToLine } from "../../../src/geometry/meet.ts";
import type { Point } from "../../../src/geometry/point.ts";
import { distance } from "../../../src/geometry/point.ts";
import {
  EMPTY_REGION,
  grow,
  opening,
  type Region,
  regionArea,
  regionHolds,
  subtract,
} from "../../../src/geometry/region.ts";
import type { Place3, ToolRun } from "../../../src/output/toolpath.ts";
import { auditPath, placesAlong, wayLength } from "./path-audit.ts";
import { groundSettings, MILL_3, MILL_6 } from "./sample-settings.ts";

const SETTINGS = groundSettings();
const R = 3;
/** Of the brute force's grid, mm. */
const CELL = 0.2;

function box(minX: number, minY: number, maxX: number, maxY: number): Point[] {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
}

/** The whole ground for one cutter. */
function carve(
  ground: Region,
  changes: Partial<GroundSettings> = {},
  cutter: LoadedCutter = MILL_6,
): ReturnType<typeof clearPocket> {
  const cover = opening(ground, cutter.shape.diameterMm / 2, 1e-3);
  return clearPocket({ cutter, ground, cover, cleared: EMPTY_REGION }, groundSettings(changes));
}

function runOf({ run }: { readonly run: ToolRun | undefined }): ToolRun {
  if (!run) throw new Error("no run");
  return run;
}

/** Cutting places at full depth, with the way that the cutter goes there. */
function placesAtFloor(run: ToolRun, depthMm: number, everyMm: number): { at: Place3; before: Place3 }[] {
  const found: { at: Place3; before: Place3 }[] = [];
  let from = run.start;
  for (const motion of run.motions) {
    if (motion.kind !== "rapid" && Math.abs(motion.z + depthMm) < 1e-9 && Math.abs(from.z + depthMm) < 1e-9) {
      let before = from;
      for (const at of placesAlong(from, motion, everyMm)) {
        found.push({ at, before });
        before = at;
      }
    }
    from = motion;
  }
  return found;
}

function edgeDistance({ rings }: Region, at: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    let from = ring.at(-1);
    for (const to of ring) {
      if (from) least = Math.min(least, squaredToLine(at, from, to));
      from = to;
    }
  }
  return Math.sqrt(least);
}

/** Length of the way at the floor for which both ends of each motion lie on the wall's contour. */
function lengthAlong(run: ToolRun, ground: Region, depthMm: number): number {
  let length = 0;
  let from = run.start;
  const touches = (place: Place3) => Math.abs(edgeDistance(ground, place) - R) < 0.004;
  for (const motion of run.motions) {
    const cuts = motion.kind !== "rapid" && motion.z === from.z && Math.abs(motion.z + depthMm) < 1e-9;
    if (cuts && touches(from) && placesAlong(from, motion, 1).every(touches))
      length += wayLength(from, motion);
    from = motion;
  }
  return length;
}

const RECTANGLE: Region = { rings: [box(0, 0, 40, 30)] };
const CIRCLE: Region = {
  rings: [
    Array.from({ length: 400 }, (_, i) => ({
      x: 20 + 20 * Math.cos((i * Math.PI) / 200),
      y: 20 + 20 * Math.sin((i * Math.PI) / 200),
    })),
  ],
};
/** A comb: bays on both sides of a corridor, and a square that stands. */
const COMB: Region = {
  rings: [
    [
      { x: 0, y: 0 },
      { x: 13, y: 0 },
      { x: 14, y: 14 },
      { x: 20, y: 14 },
      { x: 21, y: 2 },
      { x: 31, y: 0 },
      { x: 33, y: 15 },
      { x: 50, y: 15 },
      { x: 50, y: 36 },
      { x: 30, y: 28 },
      { x: 26, y: 40 },
      { x: 14, y: 40 },
      { x: 9, y: 26 },
      { x: 0, y: 26 },
    ],
    box(38, 19, 43, 24).reverse(),
  ],
};
/** A wedge, and two rooms with a neck that only lets the cutter through without allowance. */
const NECK: Region = {
  rings: [
    [
      { x: 0, y: 0 },
      { x: 18, y: 0 },
      { x: 18, y: 7 },
      { x: 24, y: 7 },
      { x: 24, y: 0 },
      { x: 50, y: 9 },
      { x: 24, y: 20 },
      { x: 24, y: 13.2 },
      { x: 18, y: 13.2 },
      { x: 18, y: 20 },
      { x: 0, y: 20 },
    ],
  ],
};

test.each([
  [3, 3, [-3]],
  [3, 0.5, [-0.5, -1, -1.5, -2, -2.5, -3]],
  [5, 2, [-5 / 3, -10 / 3, -5]],
  [0.9, 0.3, [-0.3, -0.6, -0.9]],
])("%f mm in steps of at most %f", (depth, most, expected) => {
  const found = stepsDown(depth, most);
  expect(found).toHaveLength(expected.length);
  for (const [i, z] of found.entries()) expect(z).toBeCloseTo(expected[i] ?? Number.NaN, 12);
});

describe("closed forms", () => {
  test.each([true, false])(
    "the walls of a box of 40 x 30 (climb %s): 2 (34 + 24), and the overlap of half a radius",
    (climb) => {
      const run = runOf(carve(RECTANGLE, { climb }));
      expect(lengthAlong(run, RECTANGLE, 3)).toBeCloseTo(116 + 1.5, 1);
      expect(auditPath([run], { width: 40, height: 30, cellMm: CELL }).retracts).toBe(0);
    },
  );

  test("the wall of a round pocket of radius 20 is arcs of radius 17: 2 pi 17, and the overlap", () => {
    const run = runOf(carve(CIRCLE));
    expect(lengthAlong(run, CIRCLE, 3)).toBeCloseTo(2 * Math.PI * 17 + 1.5, 1);
    let from = run.start;
    let arcs = 0;
    for (const motion of run.motions) {
      if (
        motion.kind === "arc" &&
        Math.abs(distance(from, { x: 20, y: 20 }) - 17) < 0.004 &&
        motion.z === -3 &&
        from.z === -3
      ) {
        if (Math.abs(distance(motion, { x: 20, y: 20 }) - 17) < 0.004) {
          expect(distance(from, { x: motion.centreX, y: motion.centreY })).toBeCloseTo(17, 1);
          arcs++;
        }
      }
      from = motion;
    }
    expect(arcs).toBeGreaterThan(1);
    // 115 mm of wall in a few arcs, not in chords.
    expect(arcs).toBeLessThan(12);
  });
});

const SHAPES = [
  ["box", RECTANGLE],
  ["circle", CIRCLE],
  ["comb", COMB],
  ["neck", NECK],
] as const;

const WAYS: readonly (readonly [string, Partial<GroundSettings>, Partial<LoadedCutter>])[] = [
  ["as usual", {}, {}],
  ["conventional, step of the radius", { climb: false }, { stepOverMm: R }],
  ["step of nearly the diameter, three steps down", { groundDepthMm: 5 }, { stepOverMm: 5.7, stepDownMm: 2 }],
  ["no allowance", { wallAllowanceMm: 0 }, {}],
  ["allowance of a third of the radius", { wallAllowanceMm: 1 }, { stepOverMm: 3.5 }],
];

describe.each(SHAPES)("brute force: %s", (_, ground) => {
  test.each(WAYS)("%s", (_name, changes, cutterChanges) => {
    const cutter = { ...MILL_6, ...cutterChanges };
    const settings = groundSettings(changes);
    const { run: made, skipped } = carve(ground, changes, cutter);
    const run = runOf({ run: made });
    expect(regionArea(skipped)).toBe(0);
    const audit = auditPath([run], { width: 50, height: 40, cellMm: CELL });
    const depth = settings.groundDepthMm;
    // Cleared all over, but for what the grid and the slack of contours (0.008 mm) leave at the rim.
    const promised = grow(opening(ground, R, 1e-3), -0.05, 1e-3);
    expect(audit.highest(promised)).toBeCloseTo(-depth, 9);
    const standing = subtract({ rings: [box(-5, -5, 55, 45)] }, ground);
    expect(audit.lowest(standing)).toBe(0);
    expect(audit.rapidBite).toBe(0);
    expect(audit.plungeBite).toBeLessThan(1e-9);
    expect(audit.bite).toBeLessThanOrEqual(cutter.stepDownMm + 1e-9);
    expect(audit.steepestDeg).toBeGreaterThan(0);
    expect(audit.steepestDeg).toBeLessThanOrEqual(settings.rampDeg + 1e-6);
    // No cutting disc reaches into what stands.
    for (const { at } of placesAtFloor(run, depth, 0.25)) {
      expect(regionHolds(ground, at)).toBe(true);
      expect(edgeDistance(ground, at)).toBeGreaterThan(R - 0.006);
    }
  });
});

/** Retracts for the whole comb; every one costs a second and a new ramp. */
test("bays of one pocket are cleared without leaving the wood", () => {
  const run = runOf(carve(COMB));
  // One from clearing to the outer wall at most, one to the wall of what stands.
  expect(auditPath([run], { width: 50, height: 40, cellMm: 0.5 }).retracts).toBeLessThanOrEqual(2);
});

/**
 * Climb: a spindle that turns clockwise as seen from above moves its right rim backward, against
 * the way: there the tooth goes as the wood comes. So the wall stands on the right of the way.
 */
test.each([
  [true, 1],
  [false, -1],
])("climb %s: walls lie on the cutter's side %i (1: right)", (climb, side) => {
  const run = runOf(carve(COMB, { climb }));
  let along = 0;
  for (const { at, before } of placesAtFloor(run, 3, 0.25)) {
    const step = distance(before, at);
    if (edgeDistance(COMB, at) > R + 0.004 || edgeDistance(COMB, before) > R + 0.004 || step < 0.05) continue;
    const right = { x: (at.y - before.y) / step, y: (before.x - at.x) / step };
    const middle = { x: (at.x + before.x) / 2, y: (at.y + before.y) / 2 };
    const beyond = (sign: number) => ({
      x: middle.x + sign * right.x * (R + 0.1),
      y: middle.y + sign * right.y * (R + 0.1),
    });
    // Leads touch the contour at a point; along it one side is wall.
    if (regionHolds(COMB, beyond(side)) && regionHolds(COMB, beyond(-side))) continue;
    expect(regionHolds(COMB, beyond(side))).toBe(false);
    along += step;
  }
  expect(along).toBeGreaterThan(100);
});

test("a smaller cutter goes down where a larger one has been, and only there", () => {
  const large = carve(COMB);
  const cleared = opening(COMB, R, 1e-3);
  const rest = subtract(opening(COMB, 1.5, 1e-3), cleared);
  const cover = { rings: grow(rest, 0.3, 1e-3).rings };
  const inside = subtract(cover, subtract({ rings: [box(-5, -5, 55, 45)] }, opening(COMB, 1.5, 1e-3)));
  const small = clearPocket({ cutter: MILL_3, ground: COMB, cover: inside, cleared }, SETTINGS);
  const audit = auditPath([runOf(large), runOf(small)], { width: 50, height: 40, cellMm: CELL });
  expect(audit.highest(grow(opening(COMB, 1.5, 1e-3), -0.05, 1e-3))).toBeCloseTo(-3, 9);
  expect(audit.rapidBite).toBe(0);
  expect(audit.plungeBite).toBe(0);
  expect(audit.bite).toBeLessThanOrEqual(3);
  // Each inner corner is a little: nearly all of its way is where the large cutter left something.
  const far = placesAtFloor(runOf(small), 3, 0.25).filter(
    ({ at }) => edgeDistance(rest, at) > 3 && !regionHolds(rest, at),
  );
  expect(far.length).toBeLessThan(placesAtFloor(runOf(small), 3, 0.25).length / 4);
});

test("a hole hardly wider than the cutter is left to the next one, or plunged into where that is allowed", () => {
  const ground: Region = { rings: [box(0, 0, 6.02, 6.02)] };
  const { run, skipped } = carve(ground);
  expect(run).toBeUndefined();
  expect(regionArea(skipped)).toBeCloseTo(regionArea(opening(ground, R, 1e-3)), 3);
  const plunged = carve(ground, { plungeAllowed: true });
  expect(plunged.skipped.rings).toHaveLength(0);
  expect(auditPath([runOf(plunged)], { width: 7, height: 7, cellMm: CELL }).plungeBite).toBeCloseTo(3, 9);
});

/**
 * Mirrored ground, mirrored contours; their direction is that of the way again, not of the mirror
 * image, since the spindle goes on turning clockwise.
 */
test("contours of the mirrored ground are the mirrored contours, run the same way round", () => {
  const star = fc.array(fc.double({ min: 8, max: 20, noNaN: true }), { minLength: 5, maxLength: 9 });
  fc.assert(
    fc.property(star, fc.integer({ min: 0, max: 2 }), (radii, depth) => {
      const ring = radii.map((radius, i) => ({
        x: radius * Math.cos((2 * Math.PI * i) / radii.length),
        y: radius * Math.sin((2 * Math.PI * i) / radii.length),
      }));
      const mirrored = ring.map(({ x, y }) => ({ x: -x, y })).reverse();
      const spacing = { insetMm: 3, stepMm: 1.2 };
      const there = new ContourFamily({ rings: [ring] }, spacing, "left").level(depth).rings;
      const here = new ContourFamily({ rings: [mirrored] }, spacing, "left").level(depth).rings;
      expect(here).toHaveLength(there.length);
      const total = (rings: typeof here) => rings.reduce((sum, { length }) => sum + length, 0);
      expect(total(here)).toBeCloseTo(total(there), 1);
      for (const contour of there) {
        for (let i = 0; i < 8; i++) {
          const { point } = contour.at((i * contour.length) / 8);
          const image = { x: -point.x, y: point.y };
          const apart = here.map((other) => distance(other.at(other.nearest(image)).point, image));
          expect(Math.min(...apart)).toBeLessThan(0.006);
        }
      }
    }),
    { numRuns: 25, seed: 4 },
  );
});
