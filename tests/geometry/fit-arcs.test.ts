import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FIT_ERROR_MM, SAME_POINT_MM } from "../../src/base/tolerance.ts";
import { biarcJoint, fitArcs } from "../../src/geometry/fit-arcs.ts";
import { nearestOn } from "../../src/geometry/meet.ts";
import { distance, type Point, turnBetween, type Vec } from "../../src/geometry/point.ts";
import {
  arcOf,
  endDirection,
  type Segment,
  segmentPoint,
  startDirection,
} from "../../src/geometry/segment.ts";
import { type SmoothCurve, transformCurve } from "../../src/geometry/smooth-curve.ts";
import { millionths } from "../support/random-chain.ts";

// Bolton, Biarc curves, CAD 7 (1975), in the form of CHECKS section 2: nine decimals.
test.each([
  ["an S with both tangents along x", [0, 0], [1, 0], [10, 10], [1, 0], 5, [5, 5]],
  ["a quarter circle", [10, 0], [0, 1], [0, 10], [-1, 0], 4.142135624, [7.071067812, 7.071067812]],
] as const)("biarc: %s", (_, from, leaving, to, arriving, arm, joint) => {
  const found = biarcJoint(point(from), vec(leaving), point(to), vec(arriving));
  expect(found?.arm).toBeCloseTo(arm, 8);
  expect(found?.joint.x).toBeCloseTo(joint[0], 8);
  expect(found?.joint.y).toBeCloseTo(joint[1], 8);
});

function point([x, y]: readonly [number, number]): Point {
  return { x, y };
}

function vec([x, y]: readonly [number, number]): Vec {
  return { x, y };
}

function cubic(...numbers: readonly number[]): SmoothCurve {
  const [x0 = 0, y0 = 0, x1 = 0, y1 = 0, x2 = 0, y2 = 0, x3 = 0, y3 = 0] = numbers;
  return {
    kind: "cubic",
    from: { x: x0, y: y0 },
    control1: { x: x1, y: y1 },
    control2: { x: x2, y: y2 },
    to: { x: x3, y: y3 },
  };
}

function ellipse(u: Vec, v: Vec, startAngle: number, sweep: number): SmoothCurve {
  const at = (a: number) => ({
    x: u.x * Math.cos(a) + v.x * Math.sin(a),
    y: u.y * Math.cos(a) + v.y * Math.sin(a),
  });
  return {
    kind: "ellipse",
    from: at(startAngle),
    to: at(startAngle + sweep),
    centre: { x: 0, y: 0 },
    u,
    v,
    startAngle,
    sweep,
  };
}

function pointsOf(curve: SmoothCurve, count: number): Point[] {
  return Array.from({ length: count + 1 }, (_, i) => definition(curve, i / count));
}

/** The curve by its own definition, not by the code under test. */
function definition(curve: SmoothCurve, t: number): Point {
  const s = 1 - t;
  const mix = (...terms: readonly (readonly [number, Point])[]) => ({
    x: terms.reduce((sum, [weight, { x }]) => sum + weight * x, 0),
    y: terms.reduce((sum, [weight, { y }]) => sum + weight * y, 0),
  });
  switch (curve.kind) {
    case "line":
      return mix([s, curve.from], [t, curve.to]);
    case "quadratic":
      return mix([s * s, curve.from], [2 * s * t, curve.control], [t * t, curve.to]);
    case "cubic":
      return mix(
        [s ** 3, curve.from],
        [3 * s * s * t, curve.control1],
        [3 * s * t * t, curve.control2],
        [t ** 3, curve.to],
      );
    case "ellipse": {
      const a = curve.startAngle + t * curve.sweep;
      return {
        x: curve.centre.x + curve.u.x * Math.cos(a) + curve.v.x * Math.sin(a),
        y: curve.centre.y + curve.u.y * Math.cos(a) + curve.v.y * Math.sin(a),
      };
    }
  }
}

/** Furthest of the curve from the arcs, and of the arcs from a fine polyline of the curve. */
function deviation(curve: SmoothCurve, arcs: readonly Segment[], samples = 2000) {
  const points = pointsOf(curve, samples);
  const lines = points.slice(1).map((to, i): Segment => ({ from: points[i] ?? to, to, bulge: 0 }));
  const off = (from: Point, parts: readonly Segment[]) =>
    Math.min(...parts.map((part) => distance(nearestOn(part, from), from)));
  const onArcs = arcs.flatMap((arc) => [0, 0.2, 0.4, 0.6, 0.8, 1].map((t) => segmentPoint(arc, t)));
  return {
    ofCurve: Math.max(...points.map((from) => off(from, arcs))),
    ofArcs: Math.max(...onArcs.map((from) => off(from, lines))),
  };
}

function kinks(arcs: readonly Segment[]): number[] {
  return arcs
    .slice(1)
    .map((arc, i) => Math.abs(turnBetween(endDirection(arcs[i] ?? arc), startDirection(arc))));
}

const CURVES: readonly (readonly [string, SmoothCurve])[] = [
  ["an arch", cubic(0, 0, 0, 20, 30, 20, 30, 0)],
  ["an S", cubic(0, 0, 30, 0, 0, 20, 30, 20)],
  ["a loop", cubic(0, 0, 60, 40, -30, 40, 30, 0)],
  ["a tight loop", cubic(0, 0, 30.5, 30, -0.5, 30, 30, 0)],
  ["a nearly straight one", cubic(0, 0, 10, 0.01, 20, -0.02, 30, 0)],
  ["no handle at the start", cubic(0, 0, 0, 0, 20, 20, 30, 0)],
  ["no handle at the end", cubic(0, 0, 10, 20, 30, 0, 30, 0)],
  ["a closed one", cubic(0, 0, 30, 30, -30, 30, 0, 0)],
  ["a hairpin", cubic(0, 0, 100, 0.5, 100, -0.5, 0, 0.1)],
  [
    "a quadratic one",
    { kind: "quadratic", from: { x: 0, y: 0 }, control: { x: 5, y: 30 }, to: { x: 40, y: 10 } },
  ],
  ["an ellipse", ellipse({ x: 30, y: 0 }, { x: 0, y: 10 }, 0, 2 * Math.PI)],
  ["a thin slanting ellipse, against its angles", ellipse({ x: 30, y: 20 }, { x: -1, y: 0.5 }, 1, -5)],
];

describe.each([FIT_ERROR_MM, 0.1])("within %f mm", (tolerance) => {
  test.each(CURVES)("%s: near both ways, smooth, with the curve's own ends", (_, curve) => {
    const arcs = fitArcs(curve, tolerance);
    const { ofCurve, ofArcs } = deviation(curve, arcs);
    expect(ofCurve).toBeLessThanOrEqual(tolerance);
    // The fine polyline of the curve itself strays by well under a tenth of the least tolerance.
    expect(ofArcs).toBeLessThanOrEqual(tolerance + 5e-4);
    expect(Math.max(...kinks(arcs))).toBeLessThan(1e-6);
    expect(arcs[0]?.from).toEqual(curve.from);
    expect(arcs.at(-1)?.to).toEqual(curve.to);
    for (const [i, arc] of arcs.entries()) if (i > 0) expect(arc.from).toEqual(arcs[i - 1]?.to);
  });
});

test("tangents at the ends are the handles' own", () => {
  const arcs = fitArcs(cubic(0, 0, 3, 4, 20, 20, 30, 0), FIT_ERROR_MM);
  const first = arcs[0];
  const last = arcs.at(-1);
  if (!first || !last) throw new Error("no arcs");
  expect(turnBetween(startDirection(first), { x: 3, y: 4 })).toBeCloseTo(0, 9);
  expect(turnBetween(endDirection(last), { x: 10, y: -20 })).toBeCloseTo(0, 9);
});

test("the error falls with the cube of the length: a thousandth of the tolerance takes about ten times the arcs", () => {
  const curve = cubic(0, 0, 0, 20, 30, 20, 30, 0);
  const [rough, fine] = [0.1, 0.0001].map((tolerance) => fitArcs(curve, tolerance).length);
  expect((fine ?? 0) / (rough ?? 1)).toBeGreaterThan(5);
  expect((fine ?? 0) / (rough ?? 1)).toBeLessThan(20);
});

test("circles stay exact, also when mirrored: four quarter arcs of the radius", () => {
  const circle = ellipse({ x: 12, y: 5 }, { x: -5, y: 12 }, 0.3, 2 * Math.PI);
  const mirrored = transformCurve(circle, { a: -1, b: 0, c: 0, d: 1, e: 100, f: 0 });
  for (const [curve, sense] of [
    [circle, 1],
    [mirrored, -1],
  ] as const) {
    const arcs = fitArcs(curve, FIT_ERROR_MM);
    expect(arcs).toHaveLength(4);
    for (const arc of arcs) {
      expect(arcOf(arc).radius).toBeCloseTo(13, 9);
      expect(arcOf(arc).sweep).toBeCloseTo((sense * Math.PI) / 2, 9);
    }
  }
});

test("a curve of no length has no segments, a straight one has a line", () => {
  expect(fitArcs(cubic(5, 5, 5, 5, 5, 5, 5, 5), FIT_ERROR_MM)).toEqual([]);
  const [line, ...more] = fitArcs(cubic(0, 0, 10, 5, 20, 10, 30, 15), FIT_ERROR_MM);
  expect(line).toEqual({ from: { x: 0, y: 0 }, to: { x: 30, y: 15 }, bulge: 0 });
  expect(more).toEqual([]);
});

test("a cubic on one line runs past its end and back where its handles do", () => {
  // By hand: x = 180 t (1-t)^2 - 90 t^2 (1-t) + 30 t^3, x' = 180 - 900 t + 900 t^2, which is 0
  // at t = (1 -+ sqrt(0.2)) / 2.
  const lines = fitArcs(cubic(0, 0, 60, 0, -30, 0, 30, 0), FIT_ERROR_MM);
  const x = (t: number) => 180 * t * (1 - t) ** 2 - 90 * t * t * (1 - t) + 30 * t ** 3;
  expect(lines).toHaveLength(3);
  expect(lines[0]?.to.x).toBeCloseTo(x((1 - Math.sqrt(0.2)) / 2), 6);
  expect(lines[1]?.to.x).toBeCloseTo(x((1 + Math.sqrt(0.2)) / 2), 6);
});

test("a cusp is a corner of half a turn, and nothing else is one", () => {
  // By hand: (0,0) (30,30) (0,30) (30,0) has speed 0 at t = 1/2, where it stands at (15, 22.5).
  const arcs = fitArcs(cubic(0, 0, 30, 30, 0, 30, 30, 0), FIT_ERROR_MM);
  const sharp = kinks(arcs).flatMap((kink, i) => (kink > 1e-6 ? [{ kink, at: arcs[i]?.to }] : []));
  expect(sharp).toHaveLength(1);
  expect(sharp[0]?.kink).toBeCloseTo(Math.PI, 6);
  expect(sharp[0]?.at?.x).toBeCloseTo(15, 6);
  expect(sharp[0]?.at?.y).toBeCloseTo(22.5, 6);
});

test("random cubics: near, in one chain, and not too many arcs", () => {
  const at = millionths(-20, 20);
  fc.assert(
    fc.property(fc.array(at, { minLength: 8, maxLength: 8 }), (numbers) => {
      const curve = cubic(...numbers);
      const arcs = fitArcs(curve, FIT_ERROR_MM);
      const { ofCurve } = deviation(curve, arcs, 400);
      expect(ofCurve).toBeLessThanOrEqual(FIT_ERROR_MM + SAME_POINT_MM);
      expect(arcs.length).toBeLessThan(300);
      for (const [i, arc] of arcs.entries()) if (i > 0) expect(arc.from).toEqual(arcs[i - 1]?.to);
    }),
    { numRuns: 200, seed: 3 },
  );
});
