import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type ArcChain,
  chainBounds,
  chainLength,
  chainPart,
  mergeStraights,
  pointAtLength,
  reverseChain,
  signedArea,
  splitChain,
} from "../../src/geometry/arc-chain.ts";
import { distance } from "../../src/geometry/point.ts";
import {
  followedBy,
  mirrorAt,
  moveBy,
  transformChain,
  transformPoint,
  turnBy,
} from "../../src/geometry/transform.ts";
import { chorded } from "../support/chorded.ts";
import { starChain } from "../support/random-chain.ts";
import { variantsOf } from "../support/variants.ts";

const QUARTER = Math.SQRT2 - 1;

/** Two half circles of radius 10 about the origin. */
const CIRCLE: ArcChain = {
  closed: true,
  vertices: [
    { x: 10, y: 0, bulge: 1 },
    { x: -10, y: 0, bulge: 1 },
  ],
};

/** 100 x 60, corner radius 10. */
const ROUNDED: ArcChain = {
  closed: true,
  vertices: [
    { x: 10, y: 0, bulge: 0 },
    { x: 90, y: 0, bulge: QUARTER },
    { x: 100, y: 10, bulge: 0 },
    { x: 100, y: 50, bulge: QUARTER },
    { x: 90, y: 60, bulge: 0 },
    { x: 10, y: 60, bulge: QUARTER },
    { x: 0, y: 50, bulge: 0 },
    { x: 0, y: 10, bulge: QUARTER },
  ],
};

/** A square of 10 with a half circle of radius 5 bitten out of its right side. */
const BITTEN: ArcChain = {
  closed: true,
  vertices: [
    { x: 0, y: 0, bulge: 0 },
    { x: 10, y: 0, bulge: -1 },
    { x: 10, y: 10, bulge: 0 },
    { x: 0, y: 10, bulge: 0 },
  ],
};

// Closed forms: circle pi r^2; rounded rectangle W H - (4 - pi) r^2 and 2(W + H) - (8 - 2 pi) r;
// bitten square 100 - 25 pi / 2 and 30 + 5 pi. The numbers of the first two are in CHECKS section 2.
const CASES = [
  { name: "circle", chain: CIRCLE, area: 314.159265359, length: 62.831853072, width: 20, height: 20 },
  {
    name: "rounded rectangle",
    chain: ROUNDED,
    area: 5914.159265359,
    length: 302.831853072,
    width: 100,
    height: 60,
  },
  {
    name: "bitten square",
    chain: BITTEN,
    area: 100 - 12.5 * Math.PI,
    length: 30 + 5 * Math.PI,
    width: 10,
    height: 10,
  },
];

describe.each(CASES)("$name", ({ chain, area, length, width, height }) => {
  test.each(variantsOf(chain))("area and length, $name", ({ chain: variant, sense }) => {
    expect(signedArea(variant)).toBeCloseTo(sense * area, 8);
    expect(chainLength(variant)).toBeCloseTo(length, 8);
  });

  test("box", () => {
    const box = chainBounds(chain);
    expect([box.maxX - box.minX, box.maxY - box.minY]).toEqual([width, height]);
  });
});

// e = r (1 - cos(step/2)), n = ceil(pi / acos(1 - e/r)): values of CHECKS section 2. A full
// circle is two half circles here, each of which is chorded by itself.
test.each([
  { r: 10, e: 0.01, n: 71 },
  { r: 10, e: 0.05, n: 32 },
  { r: 50, e: 0.01, n: 158 },
  { r: 3, e: 0.01, n: 39 },
])("a circle of $r mm takes $n chords at $e mm", ({ r, e, n }) => {
  const circle = {
    closed: true,
    vertices: CIRCLE.vertices.map((v) => ({ x: (v.x * r) / 10, y: 0, bulge: 1 })),
  };
  const points = chorded(circle, e);
  expect(points.length).toBe(2 * Math.ceil(n / 2));
  const chord = Math.max(...points.map((p, i) => distance(p, points[(i + 1) % points.length] ?? p)));
  expect(r - Math.sqrt(r * r - (chord * chord) / 4)).toBeLessThanOrEqual(e);
});

test("every point of a mirrored or turned chain is the point mirrored or turned", () => {
  const by = followedBy(followedBy(mirrorAt(4), turnBy(0.7)), moveBy(3, -8));
  fc.assert(
    fc.property(starChain(), fc.double({ min: 0.001, max: 0.999, noNaN: true }), (chain, t) => {
      const length = chainLength(chain) * t;
      const there = pointAtLength(transformChain(chain, by), length);
      expect(distance(there, transformPoint(pointAtLength(chain, length), by))).toBeLessThan(1e-9);
      // Where a closed chain begins does not matter, so the reversed one is begun where this one is.
      const back = reverseChain({
        closed: false,
        vertices: [...chain.vertices, chain.vertices[0] ?? { x: 0, y: 0, bulge: 0 }],
      });
      const same = pointAtLength(back, chainLength(chain) - length);
      expect(distance(same, pointAtLength(chain, length))).toBeLessThan(1e-8);
    }),
    { numRuns: 50 },
  );
});

test("the area of random chains is that of their chords", () => {
  fc.assert(
    fc.property(starChain(), (chain) => {
      // Chords stray from their arcs by at most 1e-4 mm.
      let area = 0;
      const points = chorded(chain, 1e-4);
      for (const [i, p] of points.entries()) {
        const q = points[(i + 1) % points.length] ?? p;
        area += (p.x * q.y - p.y * q.x) / 2;
      }
      expect(Math.abs(signedArea(chain) - area)).toBeLessThan(1e-4 * chainLength(chain));
    }),
    { numRuns: 50 },
  );
});

test("parts of an open chain", () => {
  // 10 along, then a half circle of radius 5 (15.707963...), then 10 back.
  const open: ArcChain = {
    closed: false,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 10, y: 0, bulge: 1 },
      { x: 10, y: 10, bulge: 0 },
      { x: 0, y: 10, bulge: 0 },
    ],
  };
  const length = 20 + 5 * Math.PI;
  expect(chainLength(open)).toBeCloseTo(length, 12);
  expect(pointAtLength(open, length / 2).x).toBeCloseTo(15, 12);
  expect(chainLength(chainPart(open, 3, length - 4))).toBeCloseTo(length - 7, 10);
  const [first, second] = splitChain(open, length / 2);
  expect(chainLength(first)).toBeCloseTo(length / 2, 10);
  expect(chainLength(second)).toBeCloseTo(length / 2, 10);
});

test("straight neighbours become one; corners and arcs stay", () => {
  const points = [0, 1, 2, 3].map((x) => ({ x, y: 0, bulge: 0 }));
  const triangle: ArcChain = {
    closed: true,
    vertices: [...points, { x: 3, y: 4, bulge: 0 }, { x: 1.5, y: 2, bulge: 0 }],
  };
  for (const { chain } of variantsOf(triangle)) {
    expect(mergeStraights(chain).vertices.length).toBe(3);
    expect(Math.abs(signedArea(mergeStraights(chain)))).toBeCloseTo(6, 10);
  }
  expect(mergeStraights(ROUNDED)).toEqual(ROUNDED);
});
