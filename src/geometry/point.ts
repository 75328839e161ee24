/**
 * Points and vectors of the plane: mm, y up. They are different types, so that adding
 * two points does not compile.
 */

export interface Point {
  readonly x: number;
  readonly y: number;
  /** Never present: keeps points and vectors apart for the compiler. */
  readonly space?: "point";
}

export interface Vec {
  readonly x: number;
  readonly y: number;
  /** Never present: keeps points and vectors apart for the compiler. */
  readonly space?: "vec";
}

export function minus(to: Point, from: Point): Vec {
  return { x: to.x - from.x, y: to.y - from.y };
}

/** The point `times` vectors away from `from`. */
export function along(from: Point, vec: Vec, times = 1): Point {
  return { x: from.x + vec.x * times, y: from.y + vec.y * times };
}

/** The point at `t` (0 to 1) on the straight line from `a` to `b`. */
export function between(a: Point, b: Point, t: number): Point {
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
}

/** Lengths here are far from overflow, and Math.hypot is many times slower than a square root. */
export function distance(a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  return Math.sqrt(dx * dx + dy * dy);
}

export function magnitude(vec: Vec): number {
  return Math.sqrt(vec.x * vec.x + vec.y * vec.y);
}

/** The vector of length 1 in the same direction; the zero vector has none and stays zero. */
export function unit(vec: Vec): Vec {
  const length = magnitude(vec);
  return length === 0 ? { x: 0, y: 0 } : { x: vec.x / length, y: vec.y / length };
}

export function dot(a: Vec, b: Vec): number {
  return a.x * b.x + a.y * b.y;
}

/** z of the cross product: positive when `b` lies counter-clockwise of `a`. */
export function cross(a: Vec, b: Vec): number {
  return a.x * b.y - a.y * b.x;
}

/** A quarter turn counter-clockwise: the left normal of a direction. */
export function leftOf(vec: Vec): Vec {
  return { x: -vec.y, y: vec.x };
}

export function turned(vec: Vec, radians: number): Vec {
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return { x: vec.x * cos - vec.y * sin, y: vec.x * sin + vec.y * cos };
}

/** The signed turn from direction `a` to direction `b`, radians in (-pi, pi]. */
export function turnBetween(a: Vec, b: Vec): number {
  return Math.atan2(cross(a, b), dot(a, b));
}
