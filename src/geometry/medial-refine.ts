/**
 * From a Voronoi vertex of boundary sites to the point of the medial axis that it stands for:
 * as far from one side of the region as from the other, measured to the sides themselves.
 */
import type { BoundaryCorners, BoundarySites } from "./medial-sites.ts";
import type { Point } from "./point.ts";

/** A point that is equally far from two places or more of the boundary, and how far. */
export interface AxisPoint extends Point {
  readonly radius: number;
}

/** Newton steps; two or three do on lines and corners. */
const MOST_STEPS = 8;
/** Equal enough: far under one point. */
const EVEN_MM = 1e-9;
/** Sides of the ring looked at in a row without coming nearer. */
const LOOK_AHEAD = 3;
/** Directions to two sides whose difference is shorter than this do not tell where to go. */
const LEAST_SPREAD = 1e-3;

interface Foot {
  distance: number;
  /** Away from the boundary, length 1. */
  ux: number;
  uy: number;
}

/**
 * The axis point near (x, y) that is equally far from the boundary near each of the two or three
 * sites. Never moves further than `reachMm`; where that does not do, the place stays as it is. The
 * radius is the least of the distances in any case.
 */
export function refineAxisPoint(boundary: BoundarySites, { x, y, sites, reachMm }: AxisGuess): AxisPoint {
  let atX = x;
  let atY = y;
  let feet = sites.map((site) => nearestAround(boundary, site, atX, atY));
  for (let step = 0; step < MOST_STEPS && unevenness(feet) > EVEN_MM; step++) {
    const move = evenOut(feet);
    if (!move || Math.hypot(atX + move.x - x, atY + move.y - y) > reachMm) break;
    atX += move.x;
    atY += move.y;
    feet = sites.map((site) => nearestAround(boundary, site, atX, atY));
  }
  return { x: atX, y: atY, radius: Math.min(...feet.map((foot) => foot.distance)) };
}

export interface AxisGuess {
  readonly x: number;
  readonly y: number;
  /** One site on each side that the place is equally far from. */
  readonly sites: readonly number[];
  readonly reachMm: number;
}

function unevenness(feet: readonly Foot[]): number {
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (const { distance } of feet) {
    least = Math.min(least, distance);
    most = Math.max(most, distance);
  }
  return feet.length > 1 ? most - least : 0;
}

/** The move after which all distances are the same, to first order; the shortest one where there are two. */
function evenOut(feet: readonly Foot[]): { readonly x: number; readonly y: number } | undefined {
  const [a, b, c] = feet;
  if (!a || !b) return undefined;
  const abX = a.ux - b.ux;
  const abY = a.uy - b.uy;
  const squared = abX * abX + abY * abY;
  if (squared < LEAST_SPREAD * LEAST_SPREAD) return undefined;
  const gap = b.distance - a.distance;
  if (!c) return { x: (abX * gap) / squared, y: (abY * gap) / squared };
  const bcX = b.ux - c.ux;
  const bcY = b.uy - c.uy;
  const gapC = c.distance - b.distance;
  const det = abX * bcY - abY * bcX;
  if (Math.abs(det) < LEAST_SPREAD) return undefined;
  return { x: (gap * bcY - gapC * abY) / det, y: (abX * gapC - bcX * gap) / det };
}

/**
 * The nearest boundary point, looked for along the ring from the site both ways for as long as it
 * comes nearer. Past a sharp corner begins another side of the region.
 */
function nearestAround({ corners, sideOf }: BoundarySites, site: number, x: number, y: number): Foot {
  const { next, before, isSharp } = corners;
  const start = sideOf[site] ?? 0;
  const best: Foot = { distance: Number.POSITIVE_INFINITY, ux: 0, uy: 0 };
  take(best, corners, start, x, y);
  for (const order of [next, before]) {
    let side = start;
    let idle = 0;
    while (idle < LOOK_AHEAD) {
      const to = order[side] ?? 0;
      // Side number n begins at corner number n.
      if (to === start || isSharp[order === next ? to : side] === 1) break;
      side = to;
      idle = take(best, corners, side, x, y) ? 0 : idle + 1;
    }
  }
  return best;
}

/** Keeps the side's nearest point when it is nearer than what was found so far. */
function take(
  best: Foot,
  { x: xs, y: ys, next }: BoundaryCorners,
  side: number,
  x: number,
  y: number,
): boolean {
  const fromX = xs[side] ?? 0;
  const fromY = ys[side] ?? 0;
  const to = next[side] ?? 0;
  const dx = (xs[to] ?? 0) - fromX;
  const dy = (ys[to] ?? 0) - fromY;
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : ((x - fromX) * dx + (y - fromY) * dy) / squared;
  const t = Math.min(1, Math.max(0, along));
  const offX = x - fromX - dx * t;
  const offY = y - fromY - dy * t;
  const distance = Math.sqrt(offX * offX + offY * offY);
  if (distance >= best.distance) return false;
  best.distance = distance;
  best.ux = distance > 0 ? offX / distance : 0;
  best.uy = distance > 0 ? offY / distance : 0;
  return true;
}
