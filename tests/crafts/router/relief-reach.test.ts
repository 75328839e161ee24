import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { coarsened, highestWithin, lowestWithin } from "../../../src/crafts/router/relief-discs.ts";
import {
  BallDropper,
  reachableField,
  tipAtPlace,
  tipField,
} from "../../../src/crafts/router/relief-reach.ts";
import type { HeightField } from "../../../src/output/height-field.ts";
import { fieldOf, pixelNear } from "./relief-panels.ts";

const STEP = 0.25;

/** Small fields of random heights, some with walls. */
const fields = fc
  .tuple(
    fc.integer({ min: 1, max: 14 }),
    fc.integer({ min: 1, max: 14 }),
    fc.array(fc.oneof(fc.double({ min: -4, max: 0, noNaN: true }), fc.constantFrom(-4, 0)), {
      minLength: 196,
      maxLength: 196,
    }),
  )
  .map(([columns, rows, heights]): HeightField => {
    const z = Float32Array.from(heights.slice(0, columns * rows));
    return { columns, rows, stepMm: STEP, minX: -1, minY: 2, z };
  });

/** Every pixel of the field under the ball, one after another; those on the rim to within `slack` left out. */
function lowestTip(
  { columns, rows, stepMm, minX, minY, z }: HeightField,
  r: number,
  x: number,
  y: number,
  slack: number,
) {
  let tip = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const d = Math.hypot(minX + (column + 0.5) * stepMm - x, minY + (row + 0.5) * stepMm - y);
      if (d > r + slack) continue;
      tip = Math.max(tip, (z[row * columns + column] ?? 0) - (r - Math.sqrt(Math.max(0, r * r - d * d))));
    }
  return tip;
}

describe("a ball dropped on a field", () => {
  test("rests where every pixel under it says (drop-cutter against all pixels)", () => {
    fc.assert(
      fc.property(
        fields,
        fc.double({ min: 0.2, max: 2, noNaN: true }),
        fc.array(
          fc.tuple(
            fc.double({ min: -0.5, max: 1.5, noNaN: true }),
            fc.double({ min: -0.5, max: 1.5, noNaN: true }),
          ),
          { minLength: 5, maxLength: 20 },
        ),
        (field, radius, places) => {
          const dropper = new BallDropper(field, radius);
          for (const [u, v] of places) {
            const x = field.minX + u * field.columns * STEP;
            const y = field.minY + v * field.rows * STEP;
            dropper.moveTo(y);
            // A pixel on the very rim may count or not.
            const least = lowestTip(field, radius, x, y, -1e-5);
            const most = lowestTip(field, radius, x, y, 1e-5);
            for (const tip of [dropper.tipAt(x), tipAtPlace(field, radius, x, y)]) {
              expect(tip).toBeGreaterThanOrEqual(least - 1e-4);
              expect(tip).toBeLessThanOrEqual(most + 1e-4);
            }
          }
        },
      ),
      { numRuns: 150 },
    );
  });

  test("goes over a peak in an arc of its own radius", () => {
    const field = fieldOf({ widthMm: 8, heightMm: 8, stepMm: 0.1 }, () => -5);
    field.z[40 * field.columns + 40] = -1;
    const dropper = new BallDropper(field, 1.5);
    dropper.moveTo(4.05);
    for (const x of [4.05, 4.3, 4.812, 5.4])
      expect(dropper.tipAt(x)).toBeCloseTo(-1 - 1.5 + Math.sqrt(1.5 ** 2 - (x - 4.05) ** 2), 5);
    // Off the peak it lies on the ground again, between pixels by 0.01^2 / (2 r) lower.
    expect(dropper.tipAt(5.56)).toBeCloseTo(-5 - 0.01 ** 2 / 3, 6);
  });
});

describe("what a ball can reach", () => {
  test("an inner edge keeps the ball's radius: r - sqrt(r^2 - x^2) stays at x from where the ball stands", () => {
    const field = fieldOf({ widthMm: 12, heightMm: 6, stepMm: 0.1 }, (x) => (x < 6 ? 0 : -4));
    const reached = reachableField(field, 1.47);
    // The wall is the last pixel of the upper level, at 5.95; the first middle 1.47 mm from it is 7.45.
    for (const x of [6.05, 6.25, 6.65, 7.05, 7.35])
      expect(pixelNear(reached, x, 3).z).toBeCloseTo(-4 + 1.47 - Math.sqrt(1.47 ** 2 - (7.45 - x) ** 2), 4);
    expect(pixelNear(reached, 9.05, 3).z).toBeCloseTo(-4, 5);
    expect(pixelNear(reached, 3.05, 3).z).toBeCloseTo(0, 5);
  });

  test("a slot narrower than the ball: its tip stops r - sqrt(r^2 - b^2) under the edges", () => {
    // Pixels -4 from 5.0 to 7.0: edges at 4.95 and 7.05, b = 1.05.
    const field = fieldOf({ widthMm: 12, heightMm: 6, stepMm: 0.1 }, (x) => (x > 5 && x < 7 ? -4 : 0));
    const tips = tipField(field, 1.5);
    const lowest = Math.min(...tips.z);
    // The best of the pixels lies 0.05 off the middle.
    expect(lowest).toBeCloseTo(-1.5 + Math.sqrt(1.5 ** 2 - 1 ** 2), 5);
  });

  test("never below the field, and reached again it stays", () => {
    fc.assert(
      fc.property(fields, fc.double({ min: 0.2, max: 1.3, noNaN: true }), (field, radius) => {
        const once = reachableField(field, radius);
        const twice = reachableField(once, radius);
        for (const [i, z] of once.z.entries()) {
          expect(z).toBeGreaterThanOrEqual((field.z[i] ?? 0) - 1e-4);
          expect(Math.abs((twice.z[i] ?? 0) - z)).toBeLessThan(1e-3);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe("discs", () => {
  test("the highest and the lowest within a radius, against all pixels", () => {
    fc.assert(
      fc.property(fields, fc.double({ min: 0, max: 2.2, noNaN: true }), (field, radius) => {
        const { columns, rows, stepMm } = field;
        fc.pre(Math.abs((radius / stepMm) ** 2 - Math.round((radius / stepMm) ** 2)) > 1e-6);
        const high = highestWithin(field, radius);
        const low = lowestWithin(field, radius);
        for (let i = 0; i < columns * rows; i++) {
          const near = [...field.z].filter((_, j) => {
            const dx = (j % columns) - (i % columns);
            const dy = Math.floor(j / columns) - Math.floor(i / columns);
            return Math.hypot(dx, dy) * stepMm <= radius;
          });
          expect((high.z[i] ?? 1) - Math.max(...near)).toBeCloseTo(0, 12);
          expect((low.z[i] ?? 1) - Math.min(...near)).toBeCloseTo(0, 12);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("coarse pixels are as high as the highest in them", () => {
    const field = fieldOf({ widthMm: 5, heightMm: 3, stepMm: 1 }, (x, y) => -x * y);
    const coarse = coarsened(field, 2);
    expect([coarse.columns, coarse.rows, coarse.stepMm]).toEqual([3, 2, 2]);
    // Middles 0.5, 1.5 ...: the lower left of each four is the highest.
    expect([...coarse.z]).toEqual([-0.25, -1.25, -2.25, -1.25, -6.25, -11.25]);
  });
});
