import type { Point } from "./point.ts";

/** An axis-parallel box, mm. The empty box has minX > maxX. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

const EMPTY_BOUNDS: Bounds = {
  minX: Number.POSITIVE_INFINITY,
  minY: Number.POSITIVE_INFINITY,
  maxX: Number.NEGATIVE_INFINITY,
  maxY: Number.NEGATIVE_INFINITY,
};

export function boundsOf(points: Iterable<Point>): Bounds {
  let { minX, minY, maxX, maxY } = EMPTY_BOUNDS;
  for (const { x, y } of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

export function mergeBounds(boxes: Iterable<Bounds>): Bounds {
  let { minX, minY, maxX, maxY } = EMPTY_BOUNDS;
  for (const box of boxes) {
    if (box.minX < minX) minX = box.minX;
    if (box.minY < minY) minY = box.minY;
    if (box.maxX > maxX) maxX = box.maxX;
    if (box.maxY > maxY) maxY = box.maxY;
  }
  return { minX, minY, maxX, maxY };
}

export function growBounds(box: Bounds, by: number): Bounds {
  return { minX: box.minX - by, minY: box.minY - by, maxX: box.maxX + by, maxY: box.maxY + by };
}

export function boundsWidth(box: Bounds): number {
  return box.maxX - box.minX;
}

export function boundsHeight(box: Bounds): number {
  return box.maxY - box.minY;
}

/** How far two boxes lie apart; 0 where they overlap. A lower bound for what they hold. */
export function boundsGap(a: Bounds, b: Bounds): number {
  const dx = Math.max(a.minX - b.maxX, b.minX - a.maxX, 0);
  const dy = Math.max(a.minY - b.maxY, b.minY - a.maxY, 0);
  return dx === 0 ? dy : dy === 0 ? dx : Math.hypot(dx, dy);
}
