/** Rings without the corners that only rounding made. */
import { cross, minus, type Point } from "./point.ts";
import type { Region, Ring } from "./region.ts";

/** The rings without corners that stray less than this from the line past them; rings of no width vanish. */
export function straighten({ rings }: Region, strayMm: number): Region {
  return { rings: rings.map((ring) => straightRing(ring, strayMm)).filter((ring) => ring.length >= 3) };
}

/**
 * Each corner is measured against the line from the last corner kept to the one after it, and all
 * that were dropped since then with it.
 */
function straightRing(ring: Ring, strayMm: number): Ring {
  const start = sharpest(ring);
  const turned = [...ring.slice(start), ...ring.slice(0, start)];
  const kept: Point[] = [];
  let dropped: Point[] = [];
  for (const [i, point] of turned.entries()) {
    const from = kept.at(-1);
    const to = turned[(i + 1) % turned.length] ?? point;
    if (from && [...dropped, point].every((other) => strays(other, from, to) <= strayMm)) {
      dropped.push(point);
    } else {
      kept.push(point);
      dropped = [];
    }
  }
  return kept;
}

/** A corner that is one beyond doubt. */
function sharpest(ring: Ring): number {
  let best = 0;
  let most = 0;
  for (const i of ring.keys()) {
    const at = ring[i] ?? ORIGIN;
    const before = ring.at(i - 1) ?? at;
    const after = ring[(i + 1) % ring.length] ?? at;
    // Twice the area of the three points: a long way round a wide corner counts for more than rounding does.
    const area = Math.abs(cross(minus(at, before), minus(after, at)));
    if (area > most) {
      most = area;
      best = i;
    }
  }
  return best;
}

const ORIGIN: Point = { x: 0, y: 0 };

/** How far a point lies from the stretch between two others. */
function strays(point: Point, from: Point, to: Point): number {
  const along = minus(to, from);
  const squared = along.x * along.x + along.y * along.y;
  const t = squared === 0 ? 0 : ((point.x - from.x) * along.x + (point.y - from.y) * along.y) / squared;
  const held = Math.min(1, Math.max(0, t));
  return Math.hypot(point.x - from.x - along.x * held, point.y - from.y - along.y * held);
}
