/**
 * On which side of a line a point lies, decided exactly (Shewchuk, "Adaptive Precision
 * Floating-Point Arithmetic and Fast Robust Geometric Predicates", 1997). The only place
 * that decides a side.
 */
import { orient2d } from "robust-predicates";
import type { Point } from "./point.ts";

/** 1 when `point` lies left of the line from `a` to `b` (y up), -1 right, 0 exactly on it. */
export function sideOf(a: Point, b: Point, point: Point): -1 | 0 | 1 {
  // The library counts with y down, so its sign is the other one.
  const sign = orient2d(a.x, a.y, b.x, b.y, point.x, point.y);
  return sign < 0 ? 1 : sign > 0 ? -1 : 0;
}
