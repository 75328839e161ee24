import fc from "fast-check";
import { expect, test } from "vitest";
import {
  fillChain,
  fillRegion,
  type PixelGrid,
  pixelMiddle,
  visitSpans,
} from "../../../src/crafts/router/raster.ts";
import { type Region, type Ring, regionHolds } from "../../../src/geometry/region.ts";

const GRID: PixelGrid = { columns: 40, rows: 30, stepMm: 0.1, minX: -1, minY: 2 };

function filled(region: Region, grid: PixelGrid = GRID): Uint8Array {
  const mask = new Uint8Array(grid.columns * grid.rows);
  fillRegion(mask, grid, { region, value: 1 });
  return mask;
}

function count(mask: Uint8Array): number {
  return mask.reduce((sum, value) => sum + value, 0);
}

function box(minX: number, minY: number, maxX: number, maxY: number): Ring {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
}

// Pixel middles lie at -0.95, -0.85 … and at 2.05, 2.15 …
test.each([
  ["all of the grid", box(-1, 2, 3, 5), 1200],
  ["more than the grid", box(-10, -10, 10, 10), 1200],
  ["20 by 10 pixels", box(0, 3, 2, 4), 200],
  ["edges just before the middles of 3 by 2", box(0.04, 3.04, 0.34, 3.24), 6],
  ["edges just past the middles of 3 by 2", box(0.06, 3.06, 0.36, 3.26), 6],
  ["one pixel", box(0.04, 3.04, 0.06, 3.06), 1],
  ["between the middles of pixels", box(0.06, 3.06, 0.14, 3.14), 0],
  ["left of the grid", box(-3, 2, -1.5, 5), 0],
  ["above the grid", box(-1, 6, 3, 7), 0],
])("%s", (_, ring, pixels) => {
  expect(count(filled({ rings: [ring] }))).toBe(pixels);
});

test("a hole stays empty", () => {
  const region = { rings: [box(0, 3, 2, 4), [...box(0.5, 3.2, 1.5, 3.8)].reverse()] };
  expect(count(filled(region))).toBe(200 - 60);
});

test("runs of pixels come row by row", () => {
  const runs: [number, number][] = [];
  visitSpans({ rings: [box(0, 3, 2, 3.2)] }, GRID, (from, to) => runs.push([from, to]));
  expect(runs).toEqual([
    [410, 430],
    [450, 470],
  ]);
});

test("heights are set too, and a chain's arcs are chords", () => {
  const z = new Float32Array(GRID.columns * GRID.rows);
  // A circle of radius 1 about a corner of pixels, whose middles lie at odd multiples of half a step.
  let inside = 0;
  for (let i = -19; i <= 19; i += 2) for (let j = -19; j <= 19; j += 2) if (i * i + j * j < 400) inside++;
  const circle = {
    closed: true,
    vertices: [
      { x: 0, y: 3.5, bulge: 1 },
      { x: 2, y: 3.5, bulge: 1 },
    ],
  };
  fillChain(z, GRID, { chain: circle, value: -2, chordErrorMm: 1e-5 });
  expect(z.filter((at) => at === -2).length).toBe(inside);
});

const point = fc.record({
  x: fc.double({ min: -2, max: 4, noNaN: true }),
  y: fc.double({ min: 1, max: 6, noNaN: true }),
});

test("a pixel is filled when the ray test holds its middle", () => {
  fc.assert(
    fc.property(fc.array(point, { minLength: 3, maxLength: 12 }), (ring) => {
      const region = { rings: [ring] };
      const mask = filled(region);
      for (let i = 0; i < mask.length; i++)
        if (mask[i] !== Number(regionHolds(region, pixelMiddle(GRID, i)))) return false;
      return true;
    }),
    { numRuns: 100 },
  );
});

test("two halves share no pixel and leave none out", () => {
  fc.assert(
    fc.property(point, point, (a, b) => {
      // The cut runs through both points, far to either side.
      fc.pre(Math.hypot(b.x - a.x, b.y - a.y) > 1e-3);
      const far = (t: number) => ({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
      const reach = 50 / Math.hypot(b.x - a.x, b.y - a.y);
      const across = { x: (b.y - a.y) * reach, y: (a.x - b.x) * reach };
      const [from, to] = [far(-reach), far(reach)];
      const side = (sign: number): Ring => [
        from,
        to,
        { x: to.x + sign * across.x, y: to.y + sign * across.y },
        { x: from.x + sign * across.x, y: from.y + sign * across.y },
      ];
      return count(filled({ rings: [side(1)] })) + count(filled({ rings: [side(-1)] })) === 1200;
    }),
    { numRuns: 100 },
  );
});
