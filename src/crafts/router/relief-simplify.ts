/** Fewer points for the same path, within a stated error. */
import type { Point } from "../../geometry/point.ts";

/** A closed polygon with fewer corners, no dropped one further than `errorMm` from it (Douglas & Peucker, The Canadian Cartographer 10, 1973). */
export function simplifiedRing(ring: readonly Point[], errorMm: number): Point[] {
  if (ring.length < 4) return [...ring];
  // Two far corners to begin with: the first one and the one furthest from it.
  const [first] = ring;
  let far = 0;
  let most = -1;
  for (const [i, { x, y }] of ring.entries()) {
    const apart = first ? (x - first.x) ** 2 + (y - first.y) ** 2 : 0;
    if (apart <= most) continue;
    most = apart;
    far = i;
  }
  const closed = [...ring, ...ring.slice(0, 1)];
  const kept = new Uint8Array(closed.length);
  kept[0] = 1;
  kept[far] = 1;
  const open: [number, number][] = [
    [0, far],
    [far, closed.length - 1],
  ];
  for (let span = open.pop(); span; span = open.pop()) {
    const at = furthestBetween(closed, span[0], span[1], errorMm);
    if (at < 0) continue;
    kept[at] = 1;
    open.push([span[0], at], [at, span[1]]);
  }
  return ring.filter((_, i) => kept[i] === 1);
}

/** The point between two others that strays furthest from the line between them; -1 where none strays further than `error`. */
function furthestBetween(points: readonly Point[], from: number, to: number, error: number): number {
  const a = points[from];
  const b = points[to];
  if (!a || !b) return -1;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const length = dx * dx + dy * dy;
  let most = error * error;
  let found = -1;
  for (let i = from + 1; i < to; i++) {
    const point = points[i];
    if (!point) continue;
    const t =
      length === 0 ? 0 : Math.min(1, Math.max(0, ((point.x - a.x) * dx + (point.y - a.y) * dy) / length));
    const off = (point.x - a.x - t * dx) ** 2 + (point.y - a.y - t * dy) ** 2;
    if (off <= most) continue;
    most = off;
    found = i;
  }
  return found;
}

/** A height along a line. */
export interface Height {
  readonly at: number;
  readonly z: number;
}

/** A height that a simpler way may miss by `give`, up or down. */
export interface LooseHeight extends Height {
  readonly give: number;
}

/**
 * Heights along one way (`at` never turns round) with fewer points: straight lines between kept
 * ones pass every dropped one within what it gives. Kept points stay as they are; upright steps stay.
 *
 * From each kept point the range of slopes that pass all points since is narrowed, until a point
 * lies outside of it: the one before is kept (the cone of Williams, "An efficient algorithm for the
 * piecewise linear approximation of planar curves", Computer Graphics and Image Processing 8, 1978).
 */
export function simplifiedHeights(points: readonly LooseHeight[]): Height[] {
  const kept: Height[] = [];
  let anchor: Height | undefined;
  let before: Height | undefined;
  let least = Number.NEGATIVE_INFINITY;
  let most = Number.POSITIVE_INFINITY;
  const keep = (point: Height) => {
    if (point !== anchor) kept.push(point);
    anchor = point;
    least = Number.NEGATIVE_INFINITY;
    most = Number.POSITIVE_INFINITY;
  };
  for (const point of points) {
    if (!anchor || !before) {
      keep(point);
    } else if (point.at === before.at) {
      keep(before);
      keep(point);
    } else {
      const slope = (point.z - anchor.z) / Math.abs(point.at - anchor.at);
      if (slope < least || slope > most) keep(before);
      const run = Math.abs(point.at - anchor.at);
      least = Math.max(least, (point.z - point.give - anchor.z) / run);
      most = Math.min(most, (point.z + point.give - anchor.z) / run);
    }
    before = point;
  }
  if (before) keep(before);
  return kept;
}
