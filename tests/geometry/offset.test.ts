import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type ArcChain,
  chainLength,
  polyline,
  reverseChain,
  segmentsOf,
  signedArea,
} from "../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../src/geometry/meet.ts";
import { offsetChain } from "../../src/geometry/offset.ts";
import { distance, type Point } from "../../src/geometry/point.ts";
import { selfMeets } from "../../src/geometry/self-meets.ts";
import { samplesOf } from "../support/chorded.ts";
import { areaOf, differenceArea, grow, ORACLE_CHORD_MM, polygonOf } from "../support/polygon-oracle.ts";
import { millionths, starChain } from "../support/random-chain.ts";
import { variantsOf } from "../support/variants.ts";

const closed = (...vertices: readonly (readonly [number, number, number?])[]): ArcChain => ({
  closed: true,
  vertices: vertices.map(([x, y, bulge = 0]) => ({ x, y, bulge })),
});
const QUARTER = Math.SQRT2 - 1;

const CIRCLE = closed([10, 0, 1], [-10, 0, 1]);
const RECTANGLE = closed([0, 0], [40, 0], [40, 20], [0, 20]);
const STADIUM = closed([0, 0], [20, 0, 1], [20, 10], [0, 10, 1]);
const TRIANGLE = closed([0, 0], [30, 0], [0, 40]);
const ROUNDED = closed(
  [10, 0],
  [90, 0, QUARTER],
  [100, 10],
  [100, 50, QUARTER],
  [90, 60],
  [10, 60, QUARTER],
  [0, 50],
  [0, 10, QUARTER],
);
/** Two rooms of 10 x 10 joined by a passage 2 high and 10 long. */
const DUMBBELL = closed(
  [0, 0],
  [10, 0],
  [10, 4],
  [20, 4],
  [20, 0],
  [30, 0],
  [30, 10],
  [20, 10],
  [20, 6],
  [10, 6],
  [10, 10],
  [0, 10],
);
/** A plate of 30 x 30 with a slot 2 wide, cut 20 deep into it. */
const SLOT = closed([0, 0], [30, 0], [30, 30], [16, 30], [16, 10], [14, 10], [14, 30], [0, 30]);

function only(chains: readonly ArcChain[]): ArcChain {
  const [chain, other] = chains;
  if (!chain || other) throw new Error(`one chain was expected, not ${chains.length}`);
  return chain;
}

const total = (chains: readonly ArcChain[]) => chains.reduce((sum, chain) => sum + signedArea(chain), 0);

// Steiner: A + L d + pi d^2, L + 2 pi d (CHECKS section 2). The curves run counter-clockwise, so
// outwards is to the right.
describe.each([
  ["circle", CIRCLE],
  ["rectangle", RECTANGLE],
  ["stadium", STADIUM],
  ["triangle", TRIANGLE],
  ["rounded rectangle", ROUNDED],
] as const)("%s", (_, chain) => {
  test.each([0.01, 0.5, 3, 100])("grown by %d mm", (d) => {
    for (const variant of variantsOf(chain)) {
      const grown = only(offsetChain(variant.chain, -variant.sense * d, "round"));
      expect(signedArea(grown) * variant.sense).toBeCloseTo(
        signedArea(chain) + chainLength(chain) * d + Math.PI * d * d,
        6,
      );
      expect(chainLength(grown)).toBeCloseTo(chainLength(chain) + 2 * Math.PI * d, 8);
    }
  });
});

// By hand. Inwards by d a polygon loses a band of d all round; outwards with pointed joints a
// rectangle stays one.
const HAND: readonly (readonly [string, ArcChain, number, "round" | "pointed", number, number])[] = [
  ["rectangle inwards", RECTANGLE, 4, "round", 1, 32 * 12],
  ["rectangle outwards, pointed", RECTANGLE, -3, "pointed", 1, 46 * 26],
  ["rectangle inwards past its middle", RECTANGLE, 10.001, "round", 0, 0],
  ["circle inwards", CIRCLE, 4, "round", 1, Math.PI * 36],
  ["circle inwards past its centre", CIRCLE, 10.001, "round", 0, 0],
  ["stadium inwards", STADIUM, 2, "round", 1, 20 * 6 + Math.PI * 9],
  ["stadium inwards past its middle", STADIUM, 5.001, "round", 0, 0],
  // The inscribed circle of the 3-4-5 triangle of 30 x 40 has radius 10: similar, scaled by (10 - d)/10.
  ["triangle inwards", TRIANGLE, 5, "round", 1, 600 / 4],
  ["triangle inwards past its centre", TRIANGLE, 10.001, "round", 0, 0],
  // The corner arcs (radius 10) vanish: 100 - 24 by 60 - 24.
  ["rounded rectangle inwards past its corners", ROUNDED, 12, "round", 1, 76 * 36],
  // Where the passage ends, the room behind the rounding of its two corners is kept.
  ["dumbbell that keeps its passage", DUMBBELL, 0.5, "round", 1, 9 * 9 * 2 + 11 * 1 + (4 - Math.PI) / 4],
  ["dumbbell that splits", DUMBBELL, 2, "round", 2, 6 * 6 * 2 + 2 * notch(2)],
  ["dumbbell whose passage is pinched to nothing", DUMBBELL, 1, "round", 2, 8 * 8 * 2 + 2 * notch(1)],
  ["dumbbell pinched to less than a point", DUMBBELL, 0.9999996, "round", 2, 8 * 8 * 2 + 2 * notch(1)],
  ["slot that closes to nothing, pointed", SLOT, -1, "pointed", 1, 32 * 32],
  ["rectangle inwards to its middle", RECTANGLE, 10, "round", 0, 0],
  ["circle inwards to its centre", CIRCLE, 10, "round", 0, 0],
  ["dumbbell that vanishes", DUMBBELL, 5.5, "round", 0, 0],
  // Outwards by 3 the slot closes: the plate grown by 3 but for a notch.
  ["slot that closes", SLOT, -3, "round", 1, 900 + 120 * 3 + Math.PI * 9 - notch(3)],
];

/** The area between two circles of radius d about points 2 apart and their common tangent. */
function notch(d: number): number {
  const half = 1;
  // Integral of d - sqrt(d^2 - x^2) for x from -1 to 1.
  return 2 * half * d - (half * Math.sqrt(d * d - half * half) + d * d * Math.asin(half / d));
}

test.each(HAND)("%s", (_, chain, left, join, count, area) => {
  for (const variant of variantsOf(chain)) {
    const parts = offsetChain(variant.chain, left * variant.sense, join);
    expect(parts.length, variant.name).toBe(count);
    expect(total(parts) * variant.sense).toBeCloseTo(area, 4);
    for (const part of parts) expect(selfMeets(segmentsOf(part), true), variant.name).toEqual([]);
  }
});

test("an open chain is moved on both sides", () => {
  // 10 along, a quarter turn left: the inner side loses d at the corner on both legs.
  const corner = polyline(
    [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
    ],
    false,
  );
  expect(chainLength(only(offsetChain(corner, 2, "round")))).toBeCloseTo(16, 9);
  expect(chainLength(only(offsetChain(corner, -2, "round")))).toBeCloseTo(20 + Math.PI, 9);
  expect(chainLength(only(offsetChain(corner, -2, "pointed")))).toBeCloseTo(24, 9);
  expect(chainLength(only(offsetChain(reverseChain(corner), 2, "pointed")))).toBeCloseTo(24, 9);
});

test("nothing becomes nothing, and no distance changes nothing", () => {
  expect(offsetChain({ closed: true, vertices: [] }, 1, "round")).toEqual([]);
  expect(offsetChain(RECTANGLE, 0, "round")).toEqual([RECTANGLE]);
});

const anyDistance = fc.oneof(millionths(-3, -0.05), millionths(0.05, 5));

function fromSource(source: ArcChain, point: Point): number {
  return Math.min(...segmentsOf(source).map((segment) => distance(nearestOn(segment, point), point)));
}

test("round: every point keeps exactly its distance, no chain crosses itself, and polygons agree", () => {
  fc.assert(
    fc.property(starChain(), anyDistance, (chain, left) => {
      const parts = offsetChain(chain, left, "round");
      for (const part of parts) {
        expect(part.closed).toBe(true);
        expect(selfMeets(segmentsOf(part), true)).toEqual([]);
        expect(part.vertices.every(({ x, y, bulge }) => Number.isFinite(x + y) && Math.abs(bulge) <= 1)).toBe(
          true,
        );
        for (const point of samplesOf(part, 5))
          expect(Math.abs(fromSource(chain, point) - Math.abs(left))).toBeLessThan(2e-6);
      }
      const wanted = grow([polygonOf(chain)], -left, "round");
      // The chords of source and result stray by ORACLE_CHORD_MM each; where the source grazes
      // a pinch or a vanishing arc the polygon may keep or lose a sliver.
      const allowed = 4 * ORACLE_CHORD_MM * (chainLength(chain) + 2 * Math.PI * Math.abs(left));
      expect(differenceArea(parts.map(polygonOf), wanted)).toBeLessThan(allowed);
    }),
    { numRuns: 800 },
  );
});

test("pointed: no point comes nearer, no chain crosses itself, and it holds the round one", () => {
  fc.assert(
    fc.property(starChain(), anyDistance, (chain, left) => {
      const parts = offsetChain(chain, left, "pointed");
      for (const part of parts) {
        expect(selfMeets(segmentsOf(part), true)).toEqual([]);
        for (const point of samplesOf(part, 5))
          expect(fromSource(chain, point)).toBeGreaterThan(Math.abs(left) - 2e-6);
      }
      const round = areaOf(offsetChain(chain, left, "round").map(polygonOf));
      const slack = 1e-3 + 4 * ORACLE_CHORD_MM * chainLength(chain);
      if (left < 0) expect(areaOf(parts.map(polygonOf))).toBeGreaterThan(round - slack);
      else expect(areaOf(parts.map(polygonOf))).toBeLessThan(round + slack);
    }),
    { numRuns: 400 },
  );
});

test("out and in again gives a smooth curve back", () => {
  for (const chain of [CIRCLE, STADIUM, ROUNDED]) {
    for (const d of [0.3, 2, 4]) {
      const back = only(offsetChain(only(offsetChain(chain, -d, "round")), d, "round"));
      expect(back.vertices.length).toBe(chain.vertices.length);
      for (const [i, vertex] of back.vertices.entries()) {
        const want = chain.vertices[i] ?? vertex;
        expect(distance(vertex, want)).toBeLessThan(1e-9);
        expect(vertex.bulge).toBeCloseTo(want.bulge, 9);
      }
    }
  }
});

test("a wheel of 20,000 teeth takes no longer than people wait", () => {
  const teeth = Array.from({ length: 20_000 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 20_000;
    const reach = 2000 + (i % 2);
    return { x: reach * Math.cos(angle), y: reach * Math.sin(angle) };
  });
  const start = performance.now();
  for (const left of [0.1, -0.1, 1, -1])
    expect(offsetChain(polyline(teeth, true), left, "round").length).toBe(1);
  // About 3 s here; comparing every piece with every tooth took minutes.
  expect(performance.now() - start).toBeLessThan(30_000);
});
