/**
 * Curves as drawing programs store them: lines, quadratic and cubic Bezier curves, and
 * elliptical arcs, each run through by a parameter from 0 to 1. An elliptical arc is kept as
 * its centre and two conjugate half-diameters u and v, p = centre + u cos a + v sin a: every
 * affine map takes such an arc to one of the same angles, so nothing is lost on the way.
 */
import { along, between, magnitude, minus, type Point, unit, type Vec } from "./point.ts";
import { type Transform, transformPoint } from "./transform.ts";

export type SmoothCurve =
  | { readonly kind: "line"; readonly from: Point; readonly to: Point }
  | { readonly kind: "quadratic"; readonly from: Point; readonly control: Point; readonly to: Point }
  | CubicCurve
  | EllipticalArc;

export interface CubicCurve {
  readonly kind: "cubic";
  readonly from: Point;
  readonly control1: Point;
  readonly control2: Point;
  readonly to: Point;
}

export interface EllipticalArc {
  readonly kind: "ellipse";
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly u: Vec;
  readonly v: Vec;
  /** The angle `a` at `from`, and how far it runs to `to`, radians. */
  readonly startAngle: number;
  readonly sweep: number;
}

/** The curve seen through any affine map (not only the similarities that arc chains allow). */
export function transformCurve(curve: SmoothCurve, by: Transform): SmoothCurve {
  const from = transformPoint(curve.from, by);
  const to = transformPoint(curve.to, by);
  switch (curve.kind) {
    case "line":
      return { kind: "line", from, to };
    case "quadratic":
      return { kind: "quadratic", from, control: transformPoint(curve.control, by), to };
    case "cubic":
      return {
        kind: "cubic",
        from,
        control1: transformPoint(curve.control1, by),
        control2: transformPoint(curve.control2, by),
        to,
      };
    case "ellipse":
      return {
        ...curve,
        from,
        to,
        centre: transformPoint(curve.centre, by),
        u: transformVec(curve.u, by),
        v: transformVec(curve.v, by),
      };
  }
}

function transformVec({ x, y }: Vec, by: Transform): Vec {
  return { x: by.a * x + by.c * y, y: by.b * x + by.d * y };
}

/** The cubic that is the same curve as a quadratic one. */
export function raisedToCubic(from: Point, control: Point, to: Point): CubicCurve {
  return {
    kind: "cubic",
    from,
    control1: between(from, control, 2 / 3),
    control2: between(to, control, 2 / 3),
    to,
  };
}

/** The polynomial from + t c1 + t^2 c2 + t^3 c3 of a cubic. */
export function cubicTerms({ from, control1, control2, to }: CubicCurve): readonly [Vec, Vec, Vec] {
  const d1 = minus(control1, from);
  const d2 = minus(control2, control1);
  const d3 = minus(to, control2);
  return [
    { x: 3 * d1.x, y: 3 * d1.y },
    { x: 3 * (d2.x - d1.x), y: 3 * (d2.y - d1.y) },
    { x: d3.x - 2 * d2.x + d1.x, y: d3.y - 2 * d2.y + d1.y },
  ];
}

/** The point at the parameter `t` (0 to 1). */
export function curvePoint(curve: CubicCurve | EllipticalArc, t: number): Point {
  if (t <= 0) return curve.from;
  if (t >= 1) return curve.to;
  if (curve.kind === "cubic") {
    const p = between(curve.from, curve.control1, t);
    const q = between(curve.control1, curve.control2, t);
    const r = between(curve.control2, curve.to, t);
    return between(between(p, q, t), between(q, r, t), t);
  }
  const angle = curve.startAngle + t * curve.sweep;
  return along(along(curve.centre, curve.u, Math.cos(angle)), curve.v, Math.sin(angle));
}

/**
 * Direction of travel at `t`, length 1: as it leaves `t`, or as it arrives there. The two differ
 * at a cusp only, where the speed is 0 and the next term of the series has the say.
 */
export function curveDirection(
  curve: CubicCurve | EllipticalArc,
  t: number,
  side: "leaving" | "arriving",
): Vec {
  if (curve.kind === "ellipse") {
    const { u, v, startAngle, sweep } = curve;
    const angle = startAngle + t * sweep;
    const sense = Math.sign(sweep);
    const cos = Math.cos(angle) * sense;
    const sin = Math.sin(angle) * sense;
    return unit({ x: v.x * cos - u.x * sin, y: v.y * cos - u.y * sin });
  }
  const [c1, c2, c3] = cubicTerms(curve);
  const least = NO_SPEED * (magnitude(c1) + magnitude(c2) + magnitude(c3));
  const speed = { x: c1.x + t * (2 * c2.x + 3 * t * c3.x), y: c1.y + t * (2 * c2.y + 3 * t * c3.y) };
  if (magnitude(speed) > least) return unit(speed);
  const sign = side === "leaving" ? 1 : -1;
  const change = { x: sign * (c2.x + 3 * t * c3.x), y: sign * (c2.y + 3 * t * c3.y) };
  return unit(magnitude(change) > least ? change : c3);
}

/** The share of a curve's own size under which a speed counts as 0: a cusp is found only to the root of rounding. */
const NO_SPEED = 1e-7;
