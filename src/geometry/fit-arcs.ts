/**
 * Smooth curves -> lines and arcs: a chain of biarcs, smooth where the curve is, with the
 * curve's own tangents at its ends, no further from it than a stated tolerance.
 *
 * A biarc is two arcs that join smoothly between two points with given tangents (Bolton, Biarc
 * curves, Computer-Aided Design 7, 1975); on a piece without inflection its error falls with the
 * cube of the length (Meek and Walton, Approximating smooth planar curves by arc splines, J.
 * Comput. Appl. Math. 59, 1995), so halving ends soon. Curves are first cut where they bend the
 * other way or come to a stop.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { nearestOn, squaredToLine } from "./meet.ts";
import {
  along,
  between,
  cross,
  distance,
  dot,
  magnitude,
  minus,
  type Point,
  turnBetween,
  type Vec,
} from "./point.ts";
import type { Segment } from "./segment.ts";
import {
  type CubicCurve,
  cubicTerms,
  curveDirection,
  curvePoint,
  type EllipticalArc,
  raisedToCubic,
  type SmoothCurve,
} from "./smooth-curve.ts";

/**
 * Segments from the curve's start to its end, none for a curve of no length.
 *
 * @param toleranceMm the furthest that they may lie from the curve, and it from them
 */
export function fitArcs(curve: SmoothCurve, toleranceMm: number): Segment[] {
  switch (curve.kind) {
    case "line":
      return lines([curve.from, curve.to]);
    case "quadratic":
      return fitCubic(raisedToCubic(curve.from, curve.control, curve.to), toleranceMm);
    case "cubic":
      return fitCubic(curve, toleranceMm);
    case "ellipse":
      return fitEllipse(curve, toleranceMm);
  }
}

/** The arm's length and the joint of the biarc whose two tangent arms are equally long; undefined where there is none. */
export function biarcJoint(
  from: Point,
  leaving: Vec,
  to: Point,
  arriving: Vec,
): { readonly arm: number; readonly joint: Point } | undefined {
  const chord = minus(to, from);
  const sum = { x: leaving.x + arriving.x, y: leaving.y + arriving.y };
  // The arm d solves a d^2 + 2 b d = c; written so that a = 0 (equal tangents) is no special case.
  const a = 2 * (1 - dot(leaving, arriving));
  const b = dot(chord, sum);
  const c = dot(chord, chord);
  const root = Math.sqrt(Math.max(0, b * b + a * c));
  const arm = b >= 0 ? c / (b + root) : (root - b) / a;
  if (!Number.isFinite(arm)) return undefined;
  return { arm, joint: between(along(from, leaving, arm), along(to, arriving, -arm), 0.5) };
}

function fitCubic(curve: CubicCurve, toleranceMm: number): Segment[] {
  const { from, control1, control2, to } = curve;
  const reach = Math.max(distance(from, control1), distance(from, control2), distance(from, to));
  if (reach <= SAME_POINT_MM) return [];
  if (isStraight(curve)) return lines([from, ...turningPoints(curve), to]);
  const cuts = [0, ...bendCuts(curve), 1];
  return cuts.flatMap((t1, i) => (i === 0 ? [] : fitPart(curve, cuts[i - 1] ?? 0, t1, toleranceMm)));
}

function fitEllipse(curve: EllipticalArc, toleranceMm: number): Segment[] {
  const { u, v, sweep } = curve;
  const quarters = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 2) - SAME_ANGLE_RAD));
  const isCircle =
    Math.abs(magnitude(u) - magnitude(v)) <= ROUND_MM &&
    Math.abs(dot(u, v)) <= ROUND_MM * Math.max(magnitude(u), magnitude(v));
  // The map to the plane may mirror: then angles that grow run clockwise.
  const bulge = Math.tan(sweep / quarters / 4) * Math.sign(cross(u, v));
  return Array.from({ length: quarters }, (_, i) => {
    const t0 = i / quarters;
    const t1 = (i + 1) / quarters;
    if (!isCircle) return fitPart(curve, t0, t1, toleranceMm);
    return [{ from: curvePoint(curve, t0), to: curvePoint(curve, t1), bulge }];
  }).flat();
}

/** Ellipses that stray less than this from a circle are one: far under what counts as one point. */
const ROUND_MM = SAME_POINT_MM / 10;
const SAME_ANGLE_RAD = 1e-9;

/** Halvings that a part can take: enough to bring a part of any length below SAME_POINT_MM. */
const DEEPEST = 40;
/** A biarc is asked to turn no more than this; tighter bends are halved first. */
const GREATEST_TURN_RAD = Math.PI / 2;
/** Places at which a part is compared with its biarc. */
const SAMPLES = 12;
/** Between two samples the error can be a little greater than at both. */
const SAMPLED_SHARE = 0.9;

function fitPart(
  curve: CubicCurve | EllipticalArc,
  t0: number,
  t1: number,
  toleranceMm: number,
  depth = 0,
): Segment[] {
  const from = curvePoint(curve, t0);
  const to = curvePoint(curve, t1);
  const middle = (t0 + t1) / 2;
  const ends = depth >= DEEPEST || isShort(curve, t0, t1);
  if (ends) return lines([from, to]);
  if (turnOf(curve, t0, t1) <= GREATEST_TURN_RAD) {
    const leaving = curveDirection(curve, t0, "leaving");
    const arriving = curveDirection(curve, t1, "arriving");
    const arcs = biarc(from, leaving, to, arriving);
    if (arcs && strays(curve, t0, t1, arcs) <= SAMPLED_SHARE * toleranceMm) return arcs;
  }
  return [
    ...fitPart(curve, t0, middle, toleranceMm, depth + 1),
    ...fitPart(curve, middle, t1, toleranceMm, depth + 1),
  ];
}

function isShort(curve: CubicCurve | EllipticalArc, t0: number, t1: number): boolean {
  const from = curvePoint(curve, t0);
  return [0.25, 0.5, 0.75, 1].every(
    (share) => distance(from, curvePoint(curve, t0 + share * (t1 - t0))) <= SAME_POINT_MM,
  );
}

/** How far the direction turns, seen in four steps: a half turn or more must not pass for none. */
function turnOf(curve: CubicCurve | EllipticalArc, t0: number, t1: number): number {
  let turn = 0;
  let before = curveDirection(curve, t0, "leaving");
  for (let step = 1; step <= 4; step++) {
    const next = curveDirection(curve, t0 + (step / 4) * (t1 - t0), "arriving");
    turn += Math.abs(turnBetween(before, next));
    before = next;
  }
  return turn;
}

function biarc(from: Point, leaving: Vec, to: Point, arriving: Vec): Segment[] | undefined {
  const joint = biarcJoint(from, leaving, to, arriving)?.joint;
  if (!joint) return undefined;
  return [
    arcBy(from, joint, turnBetween(leaving, minus(joint, from))),
    arcBy(joint, to, turnBetween(minus(to, joint), arriving)),
  ];
}

/** The arc whose chord and end tangent differ by `angle`, which is half its sweep. */
function arcBy(from: Point, to: Point, angle: number): Segment {
  const bulge = Math.tan(angle / 2);
  const sagitta = (Math.abs(bulge) * distance(from, to)) / 2;
  return { from, to, bulge: sagitta <= SAME_POINT_MM / 1000 ? 0 : bulge };
}

function strays(curve: CubicCurve | EllipticalArc, t0: number, t1: number, arcs: readonly Segment[]): number {
  let worst = 0;
  for (let i = 1; i < SAMPLES; i++) {
    const point = curvePoint(curve, t0 + (i / SAMPLES) * (t1 - t0));
    const off = Math.min(...arcs.map((arc) => distance(nearestOn(arc, point), point)));
    worst = Math.max(worst, off);
  }
  return worst;
}

function lines(points: readonly Point[]): Segment[] {
  return points.flatMap((to, i) => {
    const from = points[i - 1];
    return from && (from.x !== to.x || from.y !== to.y) ? [{ from, to, bulge: 0 }] : [];
  });
}

/** Whether all four points of the cubic lie on one line. */
function isStraight({ from, control1, control2, to }: CubicCurve): boolean {
  const points = [control1, control2, to];
  const far = points.reduce((a, b) => (distance(from, b) > distance(from, a) ? b : a));
  const back = along(from, minus(far, from), -1);
  return points.every((point) => squaredToLine(point, back, far) <= ROUND_MM * ROUND_MM);
}

/** Where a cubic on a line turns round. */
function turningPoints(curve: CubicCurve): Point[] {
  const [c1, c2, c3] = cubicTerms(curve);
  const axis = [c1, c2, c3].reduce((a, b) => (magnitude(b) > magnitude(a) ? b : a));
  return quadraticRoots(3 * dot(c3, axis), 2 * dot(c2, axis), dot(c1, axis)).map((t) => curvePoint(curve, t));
}

/**
 * Where the curve begins to bend the other way: the velocity and its change lie in one line. The
 * equation is quadratic; where it has one root twice the curve has a cusp there, and where it has
 * none, the cut is made at its least, in the middle of the loop.
 */
function bendCuts(curve: CubicCurve): number[] {
  const [c1, c2, c3] = cubicTerms(curve);
  const a = 3 * cross(c2, c3);
  const b = 3 * cross(c1, c3);
  const roots = quadraticRoots(a, b, cross(c1, c2));
  const least = -b / (2 * a);
  return roots.length === 0 && least > 0 && least < 1 ? [least] : roots;
}

/** The roots of a t^2 + b t + c strictly between 0 and 1, in order. */
function quadraticRoots(a: number, b: number, c: number): number[] {
  const inner = b * b - 4 * a * c;
  // Rounding can push a double root off the line of real numbers.
  if (inner < -1e-14 * (b * b + Math.abs(4 * a * c))) return [];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(Math.max(0, inner))) / 2;
  const roots = [q / a, c / q].filter((t) => t > EDGE && t < 1 - EDGE).sort((s, t) => s - t);
  return roots.filter((t, i) => i === 0 || t - (roots[i - 1] ?? 0) > EDGE);
}

/** Roots nearer than this to an end, or to each other, are not worth a cut. */
const EDGE = 1e-9;
