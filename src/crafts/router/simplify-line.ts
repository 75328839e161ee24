/**
 * Lines in space with fewer points (Ramer 1972; Douglas & Peucker, "Algorithms for the reduction
 * of the number of points required to represent a digitized line", Cartographica 10, 1973).
 */
import type { Place3 } from "../../output/toolpath.ts";

/** Both ends stay; what is dropped lies within `errorMm` of the line that is left. */
export function simplifyLine(points: readonly Place3[], errorMm: number): Place3[] {
  const keep = new Uint8Array(points.length);
  keep[0] = 1;
  keep[points.length - 1] = 1;
  const open: [number, number][] = [[0, points.length - 1]];
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to] = span;
    const far = furthest(points, from, to);
    if (far.distance <= errorMm) continue;
    keep[far.index] = 1;
    open.push([from, far.index], [far.index, to]);
  }
  return points.filter((_, i) => keep[i] === 1);
}

function furthest(
  points: readonly Place3[],
  from: number,
  to: number,
): { readonly index: number; readonly distance: number } {
  const a = points[from];
  const b = points[to];
  let index = from;
  let most = -1;
  if (!a || !b) return { index, distance: most };
  const [dx, dy, dz] = [b.x - a.x, b.y - a.y, b.z - a.z];
  const squared = dx * dx + dy * dy + dz * dz;
  for (let i = from + 1; i < to; i++) {
    const { x, y, z } = points[i] ?? a;
    const along = squared === 0 ? 0 : ((x - a.x) * dx + (y - a.y) * dy + (z - a.z) * dz) / squared;
    const t = Math.min(1, Math.max(0, along));
    const off = (x - a.x - dx * t) ** 2 + (y - a.y - dy * t) ** 2 + (z - a.z - dz * t) ** 2;
    if (off > most) {
      most = off;
      index = i;
    }
  }
  return { index, distance: most < 0 ? most : Math.sqrt(most) };
}
