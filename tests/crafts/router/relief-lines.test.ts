/** What the paths of a relief are made of: ridges between lines, areas of pixels, fewer points. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { scallopHeight, scallopStepOver } from "../../../src/crafts/router/rates.ts";
import { maskAreas } from "../../../src/crafts/router/relief-mask.ts";
import { finishApart } from "../../../src/crafts/router/relief-scallop.ts";
import { simplifiedHeights, simplifiedRing } from "../../../src/crafts/router/relief-simplify.ts";
import { ringArea } from "../../../src/geometry/region.ts";
import { BALL_3 } from "./sample-settings.ts";

describe("ridges between lines (CHECKS 5: handbook formula, h = r - sqrt(r^2 - (s/2)^2))", () => {
  test.each([
    [3, 0.5, 0.01043],
    [3, 1.2, 0.06061],
    [1.5, 0.3, 0.00752],
  ])("radius %d, %d apart: %d high", (radius, apart, high) => {
    expect(scallopHeight(radius, apart)).toBeCloseTo(high, 5);
    expect(scallopStepOver(radius, scallopHeight(radius, apart))).toBeCloseTo(apart, 9);
  });

  test("lines are never further apart than the cutter's own stepover", () => {
    // 2 sqrt(2 x 1.5 x 0.015 - 0.015^2) = 0.4232.
    expect(finishApart({ ...BALL_3, stepOverMm: 9 }, 0.015)).toBeCloseTo(0.4232, 4);
    expect(finishApart({ ...BALL_3, stepOverMm: 0.3 }, 0.015)).toBe(0.3);
  });
});

/** One character for each pixel, the highest row first. */
function maskOf(rows: readonly string[]) {
  const columns = rows[0]?.length ?? 0;
  const mask = Uint8Array.from(rows.toReversed().join(""), (sign) => (sign === "#" ? 1 : 0));
  return { mask, grid: { columns, rows: rows.length, stepMm: 2, minX: 10, minY: 20 } };
}

describe("areas of pixels", () => {
  test("a block: its edge runs through the middles of the pixels' sides, so its corners are cut", () => {
    const { mask, grid } = maskOf(["......", ".####.", ".####.", ".####.", "......"]);
    const [area, ...others] = maskAreas(mask, grid, 1e-6);
    expect(others).toEqual([]);
    expect(area?.holes).toEqual([]);
    // 12 pixels of 2 x 2, four corners of half a square of 1 x 1.
    expect(ringArea(area?.outer ?? [])).toBeCloseTo(12 * 4 - 4 * 0.5, 9);
    expect(area?.outer).toHaveLength(8);
    expect(area?.runs).toEqual([1, 2, 3].map((row) => ({ row, from: 1, to: 4 })));
  });

  test("a frame has a hole, clockwise; what touches by a corner only is another area", () => {
    const { mask, grid } = maskOf(["####.", "#..#.", "#..#.", "####.", "....#"]);
    const areas = maskAreas(mask, grid, 1e-6);
    expect(areas.map(({ holes }) => holes.length)).toEqual([0, 1]);
    expect(areas.map(({ runs }) => runs.length)).toEqual([1, 6]);
    // The hole's edge lies in the frame's own sides: 4 pixels less its cut corners.
    expect(ringArea(areas[1]?.holes[0] ?? [])).toBeCloseTo(-(4 * 4 - 4 * 0.5), 9);
  });

  test("of any mask, the areas hold every pixel once, and their edges enclose them", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 48, maxLength: 48 }), (bits) => {
        const mask = Uint8Array.from(bits, Number);
        const grid = { columns: 8, rows: 6, stepMm: 1, minX: 0, minY: 0 };
        const seen = new Uint8Array(48);
        for (const { runs, outer, holes } of maskAreas(mask, grid, 1e-9)) {
          let pixels = 0;
          for (const { row, from, to } of runs)
            for (let column = from; column <= to; column++) {
              seen[row * 8 + column] = (seen[row * 8 + column] ?? 0) + 1;
              pixels++;
            }
          const enclosed = [outer, ...holes].reduce((sum, ring) => sum + ringArea(ring), 0);
          // Every corner cuts an eighth off, every inner corner adds one: at most four of each a pixel.
          expect(Math.abs(enclosed - pixels)).toBeLessThanOrEqual(pixels / 2 + 1e-9);
          expect(ringArea(outer)).toBeGreaterThan(0);
        }
        expect([...seen]).toEqual([...mask]);
      }),
      { numRuns: 100 },
    );
  });
});

describe("fewer points", () => {
  test("a ring of many corners loses those within the error, and no dropped one strays further", () => {
    const ring = Array.from({ length: 400 }, (_, i) => ({
      x: 10 * Math.cos((i * Math.PI) / 200),
      y: 10 * Math.sin((i * Math.PI) / 200),
    }));
    const fewer = simplifiedRing(ring, 0.1);
    expect(fewer.length).toBeLessThan(40);
    // A chord within 0.1 of its arc of radius 10 spans at most 2 acos(1 - 0.1/10): at least 23 of them.
    expect(fewer.length).toBeGreaterThanOrEqual(23);
    // Inscribed, each chord at most 0.1 inside: the area lies between those of both circles.
    expect(ringArea(fewer)).toBeGreaterThan(Math.PI * 9.9 ** 2);
  });

  test("heights: straight runs become one move, upright steps stay", () => {
    const heights = [
      ...Array.from({ length: 11 }, (_, i) => ({ at: i, z: -1, give: 0.01 })),
      { at: 10, z: -4, give: 0.01 },
      ...Array.from({ length: 10 }, (_, i) => ({ at: 11 + i, z: -4 + 0.1 * (i + 1), give: 0.01 })),
    ];
    expect(simplifiedHeights(heights).map(({ at, z }) => [at, Number(z.toFixed(6))])).toEqual([
      [0, -1],
      [10, -1],
      [10, -4],
      [20, -3],
    ]);
  });

  test("no dropped height is missed by more than it gives, whichever way the line runs", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: 0.01, max: 1, noNaN: true }),
            fc.double({ min: -3, max: 0, noNaN: true }),
          ),
          {
            minLength: 2,
            maxLength: 60,
          },
        ),
        fc.double({ min: 0.001, max: 1, noNaN: true }),
        fc.boolean(),
        (steps, give, backwards) => {
          let at = 0;
          const heights = steps.map(([run, z]) => {
            at += backwards ? -run : run;
            return { at, z, give };
          });
          const kept = simplifiedHeights(heights);
          expect(kept[0]).toEqual(heights[0]);
          expect(kept.at(-1)).toEqual(heights.at(-1));
          for (const height of heights) {
            const after = kept.findIndex((k) => Math.abs(k.at) >= Math.abs(height.at));
            const [a, b] = [kept[Math.max(0, after - 1)], kept[after]];
            if (!a || !b) throw new Error("outside");
            const t = a === b ? 0 : (height.at - a.at) / (b.at - a.at);
            expect(Math.abs(a.z + (b.z - a.z) * t - height.z)).toBeLessThanOrEqual(give + 1e-9);
          }
        },
      ),
      { numRuns: 200 },
    );
  });
});
