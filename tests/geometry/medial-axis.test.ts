import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type AxisBranch, type MedialAxis, medialAxis } from "../../src/geometry/medial-axis.ts";
import type { AxisPoint } from "../../src/geometry/medial-refine.ts";
import type { Point } from "../../src/geometry/point.ts";
import { type Region, regionHolds } from "../../src/geometry/region.ts";
import { straighten } from "../../src/geometry/straighten.ts";

const SPACING_MM = 0.1;

/** What pruning may take off and chords of arcs may miss: 0.002 and 0.001 mm. */
const ARC_MM = 3e-3;

function ring(...places: (readonly [number, number])[]): Point[] {
  return places.map(([x, y]) => ({ x, y }));
}

/** Corners of a circle's chords that stray 0.001 mm; clockwise for a hole. */
function circle(radius: number, x = 0, y = 0, turn: 1 | -1 = 1): Point[] {
  const count = Math.ceil(Math.PI / Math.acos(1 - 1e-3 / radius));
  return Array.from({ length: count }, (_, i) => {
    const angle = (turn * 2 * Math.PI * i) / count;
    return { x: x + radius * Math.cos(angle), y: y + radius * Math.sin(angle) };
  });
}

function pointsOf({ nodes, branches }: MedialAxis): AxisPoint[] {
  return [...nodes, ...branches.flatMap(({ points }) => points)];
}

/** Places along a branch, straight from point to point as a cutter goes. */
function finely({ points }: AxisBranch): AxisPoint[] {
  return points.flatMap((b, i) => {
    const a = points[i - 1];
    if (!a) return [];
    return Array.from({ length: 12 }, (_, k) => {
      const t = k / 12;
      return {
        x: a.x + (b.x - a.x) * t,
        y: a.y + (b.y - a.y) * t,
        radius: a.radius + (b.radius - a.radius) * t,
      };
    });
  });
}

function axisLength({ branches }: MedialAxis): number {
  let length = 0;
  for (const { points } of branches) {
    for (const [i, point] of points.entries()) {
      const before = points[i - 1];
      if (before) length += Math.hypot(point.x - before.x, point.y - before.y);
    }
  }
  return length;
}

/** Distance to the polygon's edges, one after another. */
function distanceTo({ rings }: Region, { x, y }: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (const corners of rings) {
    for (const [i, a] of corners.entries()) {
      const b = corners[(i + 1) % corners.length] ?? a;
      const squared = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
      const t = Math.min(1, Math.max(0, ((x - a.x) * (b.x - a.x) + (y - a.y) * (b.y - a.y)) / squared));
      least = Math.min(least, Math.hypot(x - a.x - t * (b.x - a.x), y - a.y - t * (b.y - a.y)));
    }
  }
  return least;
}

/** Every point of the axis has the boundary at its radius. */
function expectRightRadii(axis: MedialAxis, region: Region, within: number): void {
  for (const point of pointsOf(axis)) {
    expect(Math.abs(distanceTo(region, point) - point.radius)).toBeLessThan(within);
  }
}

function turned(region: Region, angle: number, mirror: 1 | -1): Region {
  const moved = region.rings.map((corners) => {
    const places = corners.map(({ x, y }) => ({
      x: mirror * (x * Math.cos(angle) - y * Math.sin(angle)) + 3,
      y: x * Math.sin(angle) + y * Math.cos(angle) - 7,
    }));
    return mirror < 0 ? places.reverse() : places;
  });
  return { rings: moved };
}

const RECTANGLE = { rings: [ring([0, 0], [10, 0], [10, 4], [0, 4])] };
const SQUARE = { rings: [ring([0, 0], [4, 0], [4, 4], [0, 4])] };
const L_SHAPE = { rings: [ring([0, 0], [10, 0], [10, 4], [4, 4], [4, 10], [0, 10])] };
const EQUILATERAL = { rings: [ring([0, 0], [6, 0], [3, 3 * Math.sqrt(3)])] };

describe("polygons, by closed forms", () => {
  // Bisectors of the corners and what is parallel to two sides: the straight parts' lengths add up.
  const inner = 4 / (1 + Math.SQRT1_2);
  const cases = [
    // Four bisectors of 2 sqrt 2, and 10 - 4 between them.
    { name: "rectangle", region: RECTANGLE, ends: 4, junctions: 2, length: 8 * Math.SQRT2 + 6 },
    // Four bisectors that meet in the middle.
    { name: "square", region: SQUARE, ends: 4, junctions: 1, length: 8 * Math.SQRT2 },
    // Three bisectors of 2 sqrt 3.
    { name: "triangle", region: EQUILATERAL, ends: 3, junctions: 1, length: 6 * Math.sqrt(3) },
  ];
  for (const [angle, mirror] of [
    [0, 1],
    [0.3, 1],
    [1.1, -1],
  ] as const) {
    test.each(cases)(`$name turned by ${angle}, ${mirror}`, ({ region, ends, junctions, length }) => {
      const axis = medialAxis(turned(region, angle, mirror), SPACING_MM);
      expect(axis.nodes.filter(({ radius }) => radius === 0)).toHaveLength(ends);
      expect(axis.nodes).toHaveLength(ends + junctions);
      expect(axisLength(axis)).toBeCloseTo(length, 5);
      expectRightRadii(axis, turned(region, angle, mirror), 1e-6);
    });
  }

  test("L: the disc at the bend touches both outer sides and the inner corner", () => {
    // Middle (r, r), and (4 - r) sqrt 2 = r.
    const axis = medialAxis(L_SHAPE, SPACING_MM);
    const bend = axis.nodes.reduce((a, b) => (b.radius > a.radius ? b : a));
    const radius = (4 * Math.SQRT2) / (1 + Math.SQRT2);
    expect(radius).toBeCloseTo(inner, 12);
    expect(bend.x).toBeCloseTo(radius, 6);
    expect(bend.y).toBeCloseTo(radius, 6);
    expect(bend.radius).toBeCloseTo(radius, 6);
    expect(axis.nodes.filter((node) => node.radius === 0)).toHaveLength(5);
    // Off the inner corner and one outer side it is a parabola: true to s^2 / (8 r) at the most.
    expectRightRadii(axis, L_SHAPE, SPACING_MM ** 2 / (8 * 2));
  });

  test.each([0.05, 0.2, 0.7])("a wedge of half-angle %f: radius = way from the tip x sine", (half) => {
    const far = 20;
    const side = [far * Math.cos(half), far * Math.sin(half)] as const;
    const region = { rings: [ring([0, 0], [side[0], -side[1]], [side[0], side[1]])] };
    const axis = medialAxis(region, SPACING_MM);
    const tip = axis.branches.find(({ points }) => points[0]?.x === 0 || points.at(-1)?.x === 0);
    expect(tip?.points.length).toBeGreaterThan(10);
    for (const { x, y, radius } of tip?.points ?? []) {
      expect(y).toBeCloseTo(0, 6);
      expect(radius).toBeCloseTo(x * Math.sin(half), 6);
    }
  });

  test("rounding on a straight side grows no twig", () => {
    const noisy = ring([0, 0], [3, 1e-4], [3.0002, 0], [5, -1e-4], [10, 0], [10, 4], [5, 4.0001], [0, 4]);
    const axis = medialAxis({ rings: [noisy] }, SPACING_MM);
    expect(axis.nodes).toHaveLength(6);
    expect(straighten({ rings: [noisy] }, 5e-4).rings[0]).toHaveLength(4);
  });
});

describe("arcs, by closed forms", () => {
  test("a ring between two circles: the circle in the middle", () => {
    const axis = medialAxis({ rings: [circle(8), circle(5, 0, 0, -1)] }, SPACING_MM);
    expect(axis.branches).toHaveLength(1);
    expect(axis.branches[0]?.from).toBe(axis.branches[0]?.to);
    for (const { x, y, radius } of pointsOf(axis)) {
      expect(Math.abs(Math.hypot(x, y) - 6.5)).toBeLessThan(ARC_MM);
      expect(Math.abs(radius - 1.5)).toBeLessThan(ARC_MM);
    }
    expect(Math.abs(axisLength(axis) - 13 * Math.PI)).toBeLessThan(0.02);
  });

  test("a stadium: the line between the middles of its ends", () => {
    // Half circles of chords about (10, 0) and (0, 0), one after the other.
    const half = (x: number, from: number) =>
      Array.from({ length: 81 }, (_, i) => {
        const angle = from + (Math.PI * i) / 80;
        return { x: x + 3 * Math.cos(angle), y: 3 * Math.sin(angle) };
      });
    const axis = medialAxis({ rings: [[...half(10, -Math.PI / 2), ...half(0, Math.PI / 2)]] }, SPACING_MM);
    expect(axis.branches).toHaveLength(1);
    const xs = axis.nodes.map(({ x }) => x).sort((a, b) => a - b);
    // Half way round an end the disc comes nearer by the pruned 0.002 mm while its middle moves by as much.
    expect(Math.abs(xs[0] ?? 9)).toBeLessThan(2 * ARC_MM);
    expect(Math.abs((xs[1] ?? 0) - 10)).toBeLessThan(2 * ARC_MM);
    for (const { y, radius } of pointsOf(axis)) {
      expect(Math.abs(y)).toBeLessThan(ARC_MM);
      expect(Math.abs(radius - 3)).toBeLessThan(ARC_MM);
    }
  });

  test("a disc has its middle and no branch", () => {
    const axis = medialAxis({ rings: [circle(5, 2, 1)] }, SPACING_MM);
    expect(axis.branches).toHaveLength(0);
    expect(axis.nodes).toHaveLength(1);
    const [middle] = axis.nodes;
    expect(Math.hypot((middle?.x ?? 0) - 2, (middle?.y ?? 0) - 1)).toBeLessThan(ARC_MM);
    expect(Math.abs((middle?.radius ?? 0) - 5)).toBeLessThan(ARC_MM);
  });

  test("parts come side by side, nothing has none", () => {
    const apart = SQUARE.rings.map((corners) => corners.map(({ x, y }) => ({ x: x + 10, y })));
    const axis = medialAxis({ rings: [...SQUARE.rings, ...apart] }, SPACING_MM);
    expect(axis.nodes).toHaveLength(10);
    expect(medialAxis({ rings: [] }, SPACING_MM)).toEqual({ nodes: [], branches: [] });
  });
});

describe("laws", () => {
  const star = fc
    .array(fc.double({ min: 2, max: 6, noNaN: true }), { minLength: 4, maxLength: 9 })
    .map((radii): Region => {
      const corners = radii.map((radius, i) => {
        const angle = (2 * Math.PI * i) / radii.length;
        return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
      });
      return { rings: [corners] };
    });

  test("the discs cover the region, and none reaches out of it", () => {
    fc.assert(
      fc.property(star, (region) => {
        const axis = medialAxis(region, SPACING_MM);
        const points = [...axis.nodes, ...axis.branches.flatMap(finely)];
        for (let x = -5.5; x <= 5.5; x += 0.7) {
          for (let y = -5.5; y <= 5.5; y += 0.7) {
            if (!regionHolds(region, { x, y })) continue;
            // A disc that has the point d inside of its rim; the best one has it as deep as the boundary is far.
            const deepest = points.reduce(
              (most, point) => Math.max(most, point.radius - Math.hypot(x - point.x, y - point.y)),
              Number.NEGATIVE_INFINITY,
            );
            const far = distanceTo(region, { x, y });
            // Too shallow by what lies between two places of the axis, too deep by its radii's error.
            expect(far - deepest).toBeLessThan(0.006);
            expect(deepest - far).toBeLessThan(2e-3);
          }
        }
      }),
      { numRuns: 12 },
    );
  });

  test("it is one piece in each piece of the region, and a loop for each hole", () => {
    const hole = ring([2, 2], [2, 8], [8, 8], [8, 2]);
    const region = { rings: [ring([0, 0], [10, 0], [10, 10], [0, 10]), hole] };
    const { nodes, branches } = medialAxis(region, SPACING_MM);
    // Euler: branches - nodes + pieces = loops.
    expect(branches.length - nodes.length + 1).toBe(1);
  });
});
