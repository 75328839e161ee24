/** Sweeps against closed forms: volumes and heights. */
import { describe, expect, test } from "vitest";
import { type SimulatedRun, simulate } from "../../../src/crafts/router/simulate.ts";
import type { HeightField } from "../../../src/output/height-field.ts";
import type { CutterShape, Motion } from "../../../src/output/toolpath.ts";
import { arc, BALL, FLAT_V, line, MILL, runOf, stockOf, V60 } from "./router-run.ts";

/** Cut in at the first place, then the motions; the stock is 20 by 16 mm in pixels of 0.02 mm. */
function volume(shape: CutterShape, first: { x: number; y: number; z: number }, motions: readonly Motion[]) {
  const run = runOf(shape, { ...first, z: 5 }, [line(first.x, first.y, first.z), ...motions]);
  return simulate([run], stockOf(20, 16, { pixelMm: 0.02 })).removedMm3;
}

/** Pixels of 0.02 mm count a wall of 40 mm right to about a part in a thousand; slopes much better. */
const WALLS = 1e-3;
const SLOPES = 2e-4;

// From (4, 5) to (13.1, 11.3): aslant to the pixels.
const A = { x: 4, y: 5 };
const B = { x: 13.1, y: 11.3 };
const LENGTH = Math.hypot(B.x - A.x, B.y - A.y);
const R = 1.5;

describe("volumes", () => {
  test("slot: capsule times depth", () => {
    const expected = (2 * R * LENGTH + Math.PI * R * R) * 2;
    const removed = volume(MILL, { ...A, z: -2 }, [line(B.x, B.y, -2)]);
    expect(Math.abs(removed / expected - 1)).toBeLessThan(WALLS);
  });

  test.each([Math.PI, -Math.PI, 1.1, -2.2])("slot along an arc of %d", (sweep) => {
    // The ring between r - R and r + R over the sweep has the area 2 r R sweep; the ends add a disc.
    const centre = { x: 10, y: 8 };
    const from = { x: 10 + 5 * Math.cos(1), y: 8 + 5 * Math.sin(1) };
    const expected = (2 * 5 * R * Math.abs(sweep) + Math.PI * R * R) * 2;
    const removed = volume(MILL, { ...from, z: -2 }, [arc(from, centre, { sweep, z: -2 })]);
    expect(Math.abs(removed / expected - 1)).toBeLessThan(WALLS);
  });

  test("an arc that ends where it starts is a full turn", () => {
    const centre = { x: 10, y: 8 };
    const from = { x: 15, y: 8 };
    const removed = volume(MILL, { ...from, z: -2 }, [arc(from, centre, { sweep: 2 * Math.PI, z: -2 })]);
    // Area of the whole ring: pi ((r + R)^2 - (r - R)^2) = 4 pi r R.
    expect(Math.abs(removed / (4 * Math.PI * 5 * R * 2) - 1)).toBeLessThan(WALLS);
  });

  test.each([1, 1.5])("groove of a ball, %d mm deep", (depth) => {
    // Circle segment R^2 acos((R - d)/R) - (R - d) sqrt(2 R d - d^2); the ends add a spherical cap pi d^2 (3 R - d)/3.
    const segment =
      R * R * Math.acos((R - depth) / R) - (R - depth) * Math.sqrt(2 * R * depth - depth * depth);
    const cap = (Math.PI * depth * depth * (3 * R - depth)) / 3;
    const removed = volume(BALL, { ...A, z: -depth }, [line(B.x, B.y, -depth)]);
    expect(Math.abs(removed / (segment * LENGTH + cap) - 1)).toBeLessThan(SLOPES);
  });

  test.each([
    ["sharp", V60, 60, 0],
    ["with a flat tip", FLAT_V, 90, 0.3],
  ])("V groove, %s", (_, shape, angle, flat) => {
    // Half as wide as depth tan(A/2) more than the tip; the ends add a frustum of a cone.
    const depth = 1;
    const half = flat + depth * Math.tan((angle * Math.PI) / 360);
    const section = (half + flat) * depth;
    const frustum = (Math.PI * depth * (half * half + half * flat + flat * flat)) / 3;
    const removed = volume(shape, { ...A, z: -depth }, [line(B.x, B.y, -depth)]);
    expect(Math.abs(removed / (section * LENGTH + frustum) - 1)).toBeLessThan(WALLS);
  });

  test("ramp of an end mill", () => {
    // Along each line of the direction the depth grows from 0 to d over L, and stays d for the disc's
    // chord 2w more: d L/2 + 2 w d. Over the width that is d (L R + pi R^2).
    const removed = volume(MILL, { ...A, z: 0 }, [line(B.x, B.y, -2)]);
    expect(Math.abs(removed / (2 * (LENGTH * R + Math.PI * R * R)) - 1)).toBeLessThan(WALLS);
  });

  test.each([2.8, -2.8])("helix of an end mill over %d", (sweep) => {
    // The same along each circle: d (S r R + pi R^2).
    const centre = { x: 10, y: 8 };
    const from = { x: 14, y: 8 };
    const removed = volume(MILL, { ...from, z: 0 }, [arc(from, centre, { sweep, z: -2 })]);
    expect(Math.abs(removed / (2 * (2.8 * 4 * R + Math.PI * R * R)) - 1)).toBeLessThan(WALLS);
  });
});

/** The height at a place, which must be the middle of a pixel. */
function heightAt({ columns, stepMm, z }: HeightField, x: number, y: number): number {
  const column = x / stepMm - 0.5;
  const row = y / stepMm - 0.5;
  expect(Math.abs(column - Math.round(column)) + Math.abs(row - Math.round(row))).toBeLessThan(1e-6);
  return z[Math.round(row) * columns + Math.round(column)] ?? Number.NaN;
}

describe("heights", () => {
  // CHECKS.md section 5, ridge of a ball cutter: h = r - sqrt(r^2 - (s/2)^2).
  test.each([
    [3, 0.5, 0.01043],
    [3, 1.2, 0.06061],
    [1.5, 0.3, 0.00752],
  ])("ridge of a ball of radius %d between passes %d apart", (radius, stepOver, ridge) => {
    const low = 5.05 - stepOver / 2;
    const high = 5.05 + stepOver / 2;
    const run = runOf({ kind: "ball", diameterMm: 2 * radius }, { x: 2, y: low, z: 5 }, [
      line(2, low, -2),
      line(8, low, -2),
      line(8, high, -2),
      line(2, high, -2),
    ]);
    const { field } = simulate([run], stockOf(10, 10));
    expect(heightAt(field, 5.05, 5.05)).toBeCloseTo(-2 + ridge, 5);
  });

  // CHECKS.md section 5, depth of a V groove of a given width.
  test.each([
    [60, 2, 1.7321],
    [60, 6, 5.1962],
    [90, 2, 1],
    [90, 6, 3],
    [30, 2, 3.7321],
  ])("V cutter of %d degrees cuts %d mm wide at its depth", (angleDeg, width, depth) => {
    const run = runOf({ kind: "v", diameterMm: 12, angleDeg, tipMm: 0 }, { x: 2, y: 5.005, z: 5 }, [
      line(2, 5.005, -depth),
      line(8, 5.005, -depth),
    ]);
    const { field } = simulate([run], stockOf(10, 10, { pixelMm: 0.01 }));
    expect(heightAt(field, 5.005, 5.005)).toBeCloseTo(-depth, 5);
    expect(heightAt(field, 5.005, 5.005 + width / 2 - 0.01)).toBeLessThan(-0.005);
    expect(heightAt(field, 5.005, 5.005 + width / 2 + 0.01)).toBe(0);
  });

  test("a steep line of a ball cuts lower than its lowest point does", () => {
    // Down at 45 degrees the ball is tangent to the slope: under the axis at u its surface lies at
    // z(u) + R - R sqrt(1 + m^2) = z(u) - R (sqrt 2 - 1).
    const run = runOf(BALL, { x: 2.05, y: 5.05, z: 0 }, [line(8.05, 5.05, -6)]);
    const { field } = simulate([run], stockOf(10, 10));
    expect(heightAt(field, 5.05, 5.05)).toBeCloseTo(-3 - 1.5 * (Math.SQRT2 - 1), 5);
  });

  test("a V cutter down a line steeper than its side cuts with its rim", () => {
    // A 90 degree cone of radius 1.5 (rise 1) down a slope of 2: the pixel under the axis at u was last
    // cut by the rim when the axis was 1.5 further on: 2 * 1.5 lower, the rim 1.5 - 0.3 above the tip.
    const run = runOf(FLAT_V, { x: 2.05, y: 5.05, z: 0 }, [line(7.05, 5.05, -10)]);
    const { field } = simulate([run], stockOf(10, 10));
    expect(heightAt(field, 3.05, 5.05)).toBeCloseTo(-2 - 3 + 1.2, 5);
  });
});

describe("laws", () => {
  const cuts: Motion[][] = [
    [line(6, 4, -1), line(11, 9, -1)],
    [line(3, 9, -2), arc({ x: 3, y: 9 }, { x: 5, y: 7 }, { sweep: -2, z: -2 })],
    [line(9, 3, -1.5), line(2, 7, -1.5)],
  ];
  const runsOf = (order: readonly number[]): SimulatedRun[] =>
    order.map((i) => {
      const motions = cuts[i] ?? [];
      const { x, y } = motions[0] ?? { x: 0, y: 0 };
      return runOf([MILL, BALL, V60][i] ?? MILL, { x, y, z: 5 }, motions);
    });

  test("the order of cuts makes no difference to what is left", () => {
    const one = simulate(runsOf([0, 1, 2]), stockOf(14, 12));
    const other = simulate(runsOf([2, 0, 1]), stockOf(14, 12));
    expect(other.field.z).toEqual(one.field.z);
    expect(other.removedMm3).toBeCloseTo(one.removedMm3, 6);
  });

  test("mirrored motions leave the mirrored field", () => {
    const mirror = <T extends { readonly x: number }>(at: T): T => ({ ...at, x: 14 - at.x });
    const mirrored = runsOf([0, 1, 2]).map(
      (run): SimulatedRun => ({
        ...run,
        start: mirror(run.start),
        motions: run.motions.map((motion) =>
          motion.kind === "arc"
            ? { ...mirror(motion), centreX: 14 - motion.centreX, clockwise: !motion.clockwise }
            : mirror(motion),
        ),
      }),
    );
    const { field: one } = simulate(runsOf([0, 1, 2]), stockOf(14, 12));
    const { field: other } = simulate(mirrored, stockOf(14, 12));
    let worst = 0;
    for (let row = 0; row < one.rows; row++)
      for (let column = 0; column < one.columns; column++) {
        const here = one.z[row * one.columns + column] ?? 0;
        const there = other.z[row * one.columns + one.columns - 1 - column] ?? 0;
        worst = Math.max(worst, Math.abs(here - there));
      }
    expect(worst).toBeLessThan(1e-6);
  });
});
