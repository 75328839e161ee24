import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type ArcChain,
  polyline,
  reverseChain,
  segmentsOf,
  signedArea,
} from "../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../src/geometry/meet.ts";
import { offsetWhole } from "../../src/geometry/offset.ts";
import { distance, type Point, turnBetween } from "../../src/geometry/point.ts";
import { grow, insideOf, opening, type Ring, regionOf } from "../../src/geometry/region.ts";
import { regionChains, ringChain } from "../../src/geometry/ring-chain.ts";
import { endDirection, startDirection } from "../../src/geometry/segment.ts";
import { samplesOf } from "../support/chorded.ts";
import { starChain } from "../support/random-chain.ts";

/** As the router's panels are made. */
const CHORD_MM = 1e-3;
const FIT_MM = 2e-3;
/** Corners of a region are rounded to this. */
const ROUNDING_MM = 1e-4;

const circle = (radius: number): ArcChain => ({
  closed: true,
  vertices: [
    { x: radius, y: 0, bulge: 1 },
    { x: -radius, y: 0, bulge: 1 },
  ],
});

/** tan(pi/8): a quarter turn. */
const QUARTER = Math.SQRT2 - 1;

const roundedBox = (width: number, height: number, r: number): ArcChain => ({
  closed: true,
  vertices: [
    { x: r, y: 0, bulge: 0 },
    { x: width - r, y: 0, bulge: QUARTER },
    { x: width, y: r, bulge: 0 },
    { x: width, y: height - r, bulge: QUARTER },
    { x: width - r, y: height, bulge: 0 },
    { x: r, y: height, bulge: QUARTER },
    { x: 0, y: height - r, bulge: 0 },
    { x: 0, y: r, bulge: QUARTER },
  ],
});

const stadium = (length: number, r: number): ArcChain => ({
  closed: true,
  vertices: [
    { x: 0, y: -r, bulge: 0 },
    { x: length, y: -r, bulge: 1 },
    { x: length, y: r, bulge: 0 },
    { x: 0, y: r, bulge: 1 },
  ],
});

const square = polyline(
  [
    { x: 0, y: 0 },
    { x: 7, y: 0 },
    { x: 7, y: 7 },
    { x: 0, y: 7 },
  ],
  true,
);

function furthest(points: readonly Point[], chain: ArcChain): number {
  const segments = segmentsOf(chain);
  let worst = 0;
  for (const point of points) {
    const off = segments.reduce(
      (least, segment) => Math.min(least, distance(nearestOn(segment, point), point)),
      Number.POSITIVE_INFINITY,
    );
    worst = Math.max(worst, off);
  }
  return worst;
}

/** The greatest distance between two curves both ways, by dense samples. */
function apart(a: ArcChain, b: ArcChain, each = 16): number {
  const dense = (chain: ArcChain) => [...chain.vertices, ...samplesOf(chain, each)];
  return Math.max(furthest(dense(a), b), furthest(dense(b), a));
}

function ringOf(chain: ArcChain): Ring {
  return regionOf([chain], CHORD_MM).rings[0] ?? [];
}

describe("rings of lines and arcs come back", () => {
  const cases: readonly (readonly [string, ArcChain])[] = [
    ["circle of 0.5 mm", circle(0.5)],
    ["circle of 5 mm", circle(5)],
    ["circle of 150 mm", circle(150)],
    ["square", square],
    ["rounded box", roundedBox(30, 20, 3)],
    ["box with corners of 0.2 mm", roundedBox(30, 20, 0.2)],
    ["stadium", stadium(12, 2.5)],
  ];
  test.each(cases)("%s", (_, exact) => {
    const ring = ringOf(exact);
    const chain = ringChain(ring, FIT_MM);
    expect(chain.closed).toBe(true);
    expect(apart(chain, polyline(ring, true))).toBeLessThanOrEqual(FIT_MM);
    // Corners of the ring lie on the exact curve, and the arcs go through them.
    expect(apart(chain, exact)).toBeLessThanOrEqual(4 * ROUNDING_MM);
    // A half circle that has an odd number of chords costs one segment more.
    expect(chain.vertices.length).toBeLessThanOrEqual(exact.vertices.length + 2);
    expect(kinks(chain)).toBeLessThanOrEqual(0.01);
    const backwards = ringChain([...ring].reverse(), FIT_MM);
    expect(apart(backwards, exact)).toBeLessThanOrEqual(4 * ROUNDING_MM);
    expect(Math.sign(signedArea(backwards))).toBe(-Math.sign(signedArea(chain)));
  });
});

/** The greatest turn at a joint that is no corner, radians. */
function kinks(chain: ArcChain): number {
  const segments = segmentsOf(chain);
  return segments.reduce((worst, segment, i) => {
    const turn = Math.abs(turnBetween(endDirection(segments.at(i - 1) ?? segment), startDirection(segment)));
    return turn > Math.PI / 6 ? worst : Math.max(worst, turn);
  }, 0);
}

test("a stadium with a hole: both edges, the hole's the other way round", () => {
  const outer = stadium(12, 3);
  const inner = reverseChain(stadium(12, 1.5));
  const chains = regionChains(regionOf([outer, inner], CHORD_MM), FIT_MM);
  expect(chains.map((chain) => Math.sign(signedArea(chain)))).toEqual([1, -1]);
  // 2 r l + pi r^2 of each.
  expect(signedArea(chains[0] ?? outer)).toBeCloseTo(2 * 3 * 12 + Math.PI * 9, 1);
  expect(signedArea(chains[1] ?? inner)).toBeCloseTo(-(2 * 1.5 * 12 + Math.PI * 2.25), 1);
});

test("laws: near the ring both ways, few segments, arcs at most half a turn", () => {
  fc.assert(
    fc.property(starChain(), (exact) => {
      const ring = ringOf(exact);
      const chain = ringChain(ring, FIT_MM);
      expect(apart(chain, polyline(ring, true))).toBeLessThanOrEqual(FIT_MM);
      expect(apart(chain, exact)).toBeLessThanOrEqual(FIT_MM);
      expect(chain.vertices.length).toBeLessThanOrEqual(exact.vertices.length + 2);
      expect(chain.vertices.every(({ bulge }) => Math.abs(bulge) <= 1)).toBe(true);
    }),
    { numRuns: 40 },
  );
});

/** Chords of the source, chords of the offset's own arcs, and the fit. */
const OFFSET_ERROR_MM = CHORD_MM + CHORD_MM + FIT_MM;

test("law: a region grown or shrunk is the exact offset, within the stated errors", () => {
  fc.assert(
    fc.property(starChain(), fc.constantFrom(-0.4, 0.3, 1.5), (exact, byMm) => {
      const moved = offsetWhole(exact, -byMm, "round");
      fc.pre(moved !== undefined);
      const chains = regionChains(grow(insideOf(exact, CHORD_MM), byMm, CHORD_MM), FIT_MM);
      expect(chains.length).toBe(1);
      expect(apart(chains[0] ?? square, moved)).toBeLessThanOrEqual(OFFSET_ERROR_MM);
      expect(chains[0]?.vertices.length).toBeLessThanOrEqual(moved.vertices.length * 1.5 + 4);
    }),
    { numRuns: 40 },
  );
});

test("a square opened by a disc: four lines and four quarter circles", () => {
  const [chain, ...others] = regionChains(opening(insideOf(square, CHORD_MM), 1.5, CHORD_MM), FIT_MM);
  expect(others).toEqual([]);
  expect(chain?.vertices.length).toBe(8);
  // Four corners lose r^2 (1 - pi/4) each.
  expect(signedArea(chain ?? square)).toBeCloseTo(49 - 4 * 2.25 * (1 - Math.PI / 4), 1);
});

describe("rings that are no curves stay as they are", () => {
  const cases: readonly (readonly [string, Ring])[] = [
    ["triangle", square.vertices.slice(0, 3)],
    [
      "a ring smaller than the tolerance",
      circle(1e-3).vertices.concat(
        square.vertices.map(({ x, y }) => ({ x: x * 1e-4, y: y * 1e-4, bulge: 0 })),
      ),
    ],
    [
      "a sliver",
      [
        { x: 0, y: 0 },
        { x: 5, y: 0 },
        { x: 5, y: 1e-3 },
        { x: 0, y: 1e-3 },
      ],
    ],
    [
      "an octagon with long sides",
      Array.from({ length: 8 }, (_, i) => ({
        x: 9 * Math.cos((i * Math.PI) / 4),
        y: 9 * Math.sin((i * Math.PI) / 4),
      })),
    ],
  ];
  test.each(cases)("%s", (_, ring) => {
    expect(ringChain(ring, FIT_MM).vertices.map(({ x, y, bulge }) => [x, y, bulge])).toEqual(
      ring.map(({ x, y }) => [x, y, 0]),
    );
  });
});

test("a tolerance under the bows of the chords leaves the chords", () => {
  const ring = ringOf(circle(5));
  const chain = ringChain(ring, CHORD_MM / 4);
  expect(chain.vertices.every(({ bulge }) => bulge === 0)).toBe(true);
  expect(apart(chain, polyline(ring, true))).toBeLessThanOrEqual(CHORD_MM / 4);
});
