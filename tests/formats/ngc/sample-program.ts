/** Router programs for tests: fixed ones, and random ones that a machine could follow. */
import fc from "fast-check";
import type { Cutter, Motion, Place3, ToolProgram, ToolRun } from "../../../src/output/toolpath.ts";
import { millionths } from "../../support/random-chain.ts";

export const END_MILL: Cutter = {
  number: 1,
  name: "6 mm end mill",
  shape: { kind: "end-mill", diameterMm: 6 },
  flutes: 2,
  cuttingLengthMm: 20,
};

export const V_CUTTER: Cutter = {
  number: 2,
  name: "V cutter",
  shape: { kind: "v", diameterMm: 12, angleDeg: 60, tipMm: 0.1 },
  flutes: 1,
  cuttingLengthMm: 10,
};

export const START: Place3 = { x: 10, y: 10, z: 15 };

export function runOf(motions: readonly Motion[], cutter = END_MILL, start = START): ToolRun {
  return { purpose: "clear the ground", cutter, spindleRpm: 18000, start, motions };
}

export function programOf(parts: Partial<ToolProgram> = {}): ToolProgram {
  return {
    title: "Panel",
    notes: [],
    originAt: { x: 0, y: 0 },
    envelope: { min: { x: -5, y: -5, z: -6 }, max: { x: 305, y: 205, z: 15 } },
    clearanceZMm: 15,
    runs: [],
    ...parts,
  };
}

/** Where a run's motions go, from its start on, without those that are shorter than a file shows. */
export function moving(from: Place3, motions: readonly Motion[]): Motion[] {
  let at = from;
  return motions.filter((motion) => {
    const moves = Math.hypot(motion.x - at.x, motion.y - at.y, motion.z - at.z) > 1e-3;
    if (moves) at = motion;
    return moves;
  });
}

type Step = (at: Place3) => Motion;

const feed = fc.integer({ min: 1, max: 60_000 }).map((tenths) => tenths / 10);

const place = fc.record({ x: millionths(-20, 320), y: millionths(-20, 220), z: millionths(-10, 15) });

const arcStep: fc.Arbitrary<Step> = fc
  .record({
    // Small radii as often as large ones.
    radius: millionths(-1, 2).map((power) => 2 * 10 ** power),
    toCentre: millionths(0, 2 * Math.PI),
    sweep: fc.oneof(millionths(0.2, Math.PI), fc.constant(Math.PI)),
    clockwise: fc.boolean(),
    rise: fc.oneof(fc.constant(0), millionths(-2, 2)),
    feed,
  })
  .map(({ radius, toCentre, sweep, clockwise, rise, feed }) => (at: Place3): Motion => {
    const centreX = at.x + radius * Math.cos(toCentre);
    const centreY = at.y + radius * Math.sin(toCentre);
    const end = toCentre + Math.PI + (clockwise ? -sweep : sweep);
    return {
      kind: "arc",
      x: centreX + radius * Math.cos(end),
      y: centreY + radius * Math.sin(end),
      z: at.z + rise,
      centreX,
      centreY,
      clockwise,
      feedMmPerMin: feed,
    };
  });

const step: fc.Arbitrary<Step> = fc.oneof(
  place.map((to) => (): Motion => ({ kind: "rapid", ...to })),
  fc.tuple(place, feed).map(
    ([to, feedMmPerMin]) =>
      (): Motion => ({ kind: "line", ...to, feedMmPerMin }),
  ),
  // Straight down or sideways: words are left out where a coordinate stays.
  fc.tuple(place, feed, fc.constantFrom("x", "y", "z")).map(
    ([to, feedMmPerMin, axis]) =>
      (at: Place3): Motion => ({ kind: "line", ...at, [axis]: to[axis as keyof Place3], feedMmPerMin }),
  ),
  arcStep,
  arcStep,
);

/** A run from `START` that ends at the clearance height; each motion is longer than a file's grid shows. */
export function randomRun(length: number): fc.Arbitrary<ToolRun> {
  return fc.array(step, { minLength: 1, maxLength: length, size: "max" }).map((steps) => {
    const motions: Motion[] = [];
    let at = START;
    for (const next of steps) {
      const [motion] = moving(at, [next({ x: at.x, y: at.y, z: at.z })]);
      if (!motion) continue;
      motions.push(motion);
      at = motion;
    }
    motions.push({ kind: "rapid", x: at.x, y: at.y, z: 16 });
    return runOf(motions);
  });
}
