/**
 * Random motions against stamps: the cutter put down at many places along its way, pixel by pixel.
 * Stamps alone leave more standing than the sweep does; stamps of a cutter that is larger and lower
 * by half a step leave less. The simulated field must lie between.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type SimulatedRun, simulate } from "../../../src/crafts/router/simulate.ts";
import type { CutterShape, Motion, Place3 } from "../../../src/output/toolpath.ts";
import { arc, BALL, FLAT_V, line, MILL, runOf, stockOf, V60 } from "./router-run.ts";

const SIZE = 8;
const STEP_MM = 0.02;
/** Float32 heights of a few mm, and rounding. */
const NOISE_MM = 2e-6;
/** Helices of balls and V cutters go along chords: up to 0.002 mm off, to either side. */
const CHORDS_MM = 2.1e-3;

/** The cutter's height, written down once more from its definition. */
function profile(shape: CutterShape, d: number): number {
  const r = shape.diameterMm / 2;
  if (d > r) return Number.POSITIVE_INFINITY;
  if (shape.kind === "end-mill") return 0;
  if (shape.kind === "ball") return r - Math.sqrt(r * r - d * d);
  return Math.max(0, d - shape.tipMm / 2) / Math.tan(((shape.angleDeg / 2) * Math.PI) / 180);
}

/** Places along a motion, no further apart than STEP_MM in the plane, and how far z goes in half a step. */
function placesOf(from: Place3, motion: Motion): { places: Place3[]; halfDrop: number } {
  const { far, at } = motion.kind === "arc" ? arcWay(from, motion) : lineWay(from, motion);
  const parts = Math.max(1, Math.ceil(far / STEP_MM));
  const drop = motion.z - from.z;
  return {
    places: Array.from({ length: parts + 1 }, (_, i) => ({
      ...at(i / parts),
      z: from.z + (drop * i) / parts,
    })),
    halfDrop: Math.abs(drop) / parts / 2,
  };
}

function lineWay(from: Place3, to: Place3) {
  return {
    far: Math.hypot(to.x - from.x, to.y - from.y),
    at: (t: number) => ({ x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t }),
  };
}

function arcWay(from: Place3, { x, y, centreX, centreY, clockwise }: Extract<Motion, { kind: "arc" }>) {
  const a = Math.atan2(from.y - centreY, from.x - centreX);
  const b = Math.atan2(y - centreY, x - centreX);
  const left = (b - a + 4 * Math.PI) % (2 * Math.PI);
  const turn = clockwise ? left - 2 * Math.PI : left;
  const r = Math.hypot(from.x - centreX, from.y - centreY);
  return {
    far: r * Math.abs(turn),
    at: (t: number) => ({ x: centreX + r * Math.cos(a + turn * t), y: centreY + r * Math.sin(a + turn * t) }),
  };
}

interface Between {
  readonly least: Float64Array;
  readonly most: Float64Array;
}

function stampedField({ cutter, start, motions }: SimulatedRun, pixels: number): Between {
  const least = new Float64Array(pixels * pixels);
  const most = new Float64Array(pixels * pixels);
  const step = SIZE / pixels;
  let from = start;
  for (const motion of [{ kind: "rapid", ...start } as const, ...motions]) {
    const { places, halfDrop } = placesOf(from, motion);
    const chords = motion.kind === "arc" && motion.z !== from.z && cutter.shape.kind !== "end-mill";
    const smaller = chords ? CHORDS_MM : 1e-9;
    const larger = STEP_MM / 2 + smaller;
    const radius = cutter.shape.diameterMm / 2;
    for (const at of places) {
      const rows = [at.y - radius, at.y + radius].map((y) => Math.round(y / step));
      const columns = [at.x - radius, at.x + radius].map((x) => Math.round(x / step));
      for (let row = Math.max(0, (rows[0] ?? 0) - 1); row <= Math.min(pixels - 1, rows[1] ?? 0); row++)
        for (let c = Math.max(0, (columns[0] ?? 0) - 1); c <= Math.min(pixels - 1, columns[1] ?? 0); c++) {
          const d = Math.hypot((c + 0.5) * step - at.x, (row + 0.5) * step - at.y);
          const i = row * pixels + c;
          most[i] = Math.min(most[i] ?? 0, at.z + profile(cutter.shape, d + smaller));
          least[i] = Math.min(
            least[i] ?? 0,
            at.z - halfDrop + profile(cutter.shape, Math.max(0, d - larger)),
          );
        }
    }
    from = motion;
  }
  return { least, most };
}

const place = fc.double({ min: 0.5, max: SIZE - 0.5, noNaN: true });
const height = fc.oneof(fc.constant(-1), fc.double({ min: -3, max: 0.5, noNaN: true }));
const step = fc.oneof(
  fc.record({ kind: fc.constant("line" as const), x: place, y: place, z: height }),
  fc.record({ kind: fc.constant("level" as const), x: place, y: place }),
  fc.record({ kind: fc.constant("plunge" as const), z: height }),
  fc.record({
    kind: fc.constant("arc" as const),
    radius: fc.double({ min: 0.05, max: 4, noNaN: true }),
    angle: fc.double({ min: 0, max: 6.28, noNaN: true }),
    sweep: fc.double({ min: 0.1, max: Math.PI, noNaN: true }),
    clockwise: fc.boolean(),
    z: fc.option(height, { nil: undefined }),
  }),
);

function motionsOf(
  steps: readonly (typeof step extends fc.Arbitrary<infer S> ? S : never)[],
  start: Place3,
): Motion[] {
  const motions: Motion[] = [];
  let at = start;
  for (const each of steps) {
    let motion: Motion;
    if (each.kind === "line") motion = line(each.x, each.y, each.z);
    else if (each.kind === "level") motion = line(each.x, each.y, at.z);
    else if (each.kind === "plunge") motion = line(at.x, at.y, each.z);
    else {
      const { radius, angle } = each;
      const centre = { x: at.x + radius * Math.cos(angle), y: at.y + radius * Math.sin(angle) };
      const sweep = each.clockwise ? -each.sweep : each.sweep;
      motion = arc(at, centre, { sweep, z: each.z ?? at.z });
    }
    motions.push(motion);
    at = motion;
  }
  return motions;
}

const PIXELS = 50;

describe.each([
  ["end mill", MILL],
  ["ball", BALL],
  ["V cutter", V60],
  ["V cutter with a flat tip", FLAT_V],
])("%s", (_, shape) => {
  test("leaves what stamps leave", () => {
    fc.assert(
      fc.property(place, place, fc.array(step, { minLength: 1, maxLength: 4 }), (x, y, steps) => {
        const start = { x, y, z: -0.5 };
        const run = runOf(shape, start, motionsOf(steps, start));
        const { field } = simulate([run], stockOf(SIZE, SIZE, { pixelMm: SIZE / PIXELS }));
        const { least, most } = stampedField(run, PIXELS);
        let over = 0;
        let under = 0;
        field.z.forEach((z, i) => {
          over = Math.max(over, z - (most[i] ?? 0));
          under = Math.max(under, (least[i] ?? 0) - z);
        });
        expect(over).toBeLessThanOrEqual(NOISE_MM);
        expect(under).toBeLessThanOrEqual(NOISE_MM);
      }),
      { numRuns: 50 },
    );
  });
});
