/**
 * Stock under a cutter that moves along a straight line, exact at the middle of every pixel.
 *
 * Along the line u, across it v, both from its start; the length is L, the slope m (z over u).
 * With the axis at u - s a pixel lies s ahead of the cutter, which is there at the height
 *   f(s) = z0 + m (u - s) + h(sqrt(s^2 + v^2)),  u - L <= s <= u,  s^2 + v^2 <= R^2,
 * h the cutter's profile. f is convex for all three profiles, so its least value lies at the
 * free minimum moved to the nearer end of the interval. The free minimum, w^2 = R^2 - v^2:
 *   end mill (h = 0): s = w on a rising line, -w on a falling one: the rim; 0 will do on a level one.
 *   ball (h = R - sqrt(R^2 - s^2 - v^2)): f' = -m + s / sqrt(w^2 - s^2) = 0, s = w m / sqrt(1 + m^2).
 *   V (h = k max(0, sqrt(s^2 + v^2) - t)): the edge of the flat tip, s^2 = t^2 - v^2, or beyond it
 *     k s / sqrt(s^2 + v^2) = |m|, s = |v m| / sqrt(k^2 - m^2), on the side that m's sign says;
 *     on a line steeper than the cone's side the rim.
 *
 * What the cutter takes where it starts is left out: it has been there at the end of the motion before.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import type { Place3 } from "../../output/toolpath.ts";
import { type CutterProfile, reachAt, setBite, type Workpiece } from "./workpiece.ts";

/** A line being swept. */
interface Sweep {
  work: Workpiece;
  cutter: CutterProfile;
  x: number;
  y: number;
  z: number;
  /** Direction, length 1. */
  alongX: number;
  alongY: number;
  length: number;
  slope: number;
  /** The lowest that the cutter gets. */
  lowest: number;
  /** Half the width that it can cut at all. */
  reach: number;
  /** Pixels further back than this (a negative u, or 0) were cut where the line starts. */
  backTo: number;
  /** The columns of a row that may be cut. */
  first: number;
  last: number;
}

/** Pixels that a rounding error might leave out of a row are looked at as well; the formulas decide. */
const ROW_SLACK = 1e-6;

/** Sweeps from one place to another; the cutter must have cut at `from` already. */
export function sweepLine(work: Workpiece, cutter: CutterProfile, from: Place3, to: Place3): void {
  const alongX = to.x - from.x;
  const alongY = to.y - from.y;
  const length = Math.sqrt(alongX * alongX + alongY * alongY);
  if (length <= SAME_POINT_MM) {
    if (to.z < from.z) stampCutter(work, cutter, to);
    return;
  }
  const slope = (to.z - from.z) / length;
  const { radius } = cutter;
  sweepRows({
    work,
    cutter,
    x: from.x,
    y: from.y,
    z: from.z,
    alongX: alongX / length,
    alongY: alongY / length,
    length,
    slope,
    lowest: Math.min(from.z, to.z),
    reach: 0,
    // Behind the start a falling cutter still cuts, a ball only as far as the normal of the slope leans back.
    backTo: slope >= 0 ? 0 : cutter.kind === "ball" ? (radius * slope) / Math.hypot(1, slope) : -radius,
    first: 0,
    last: 0,
  });
}

/** What a cutter that stands at this place takes. */
export function stampCutter(work: Workpiece, cutter: CutterProfile, { x, y, z }: Place3): void {
  sweepRows({
    work,
    cutter,
    x,
    y,
    z,
    alongX: 1,
    alongY: 0,
    length: 0,
    slope: 0,
    lowest: z,
    reach: 0,
    backTo: -cutter.radius,
    first: 0,
    last: 0,
  });
}

function sweepRows(sweep: Sweep): void {
  const { cutter, work, y, alongY, length } = sweep;
  const { columns, rows, stepMm, minY } = work.field;
  sweep.reach = reachAt(cutter, sweep.lowest);
  if (sweep.reach <= 0) return;
  const endY = y + alongY * length;
  const lowY = Math.min(y, endY) - sweep.reach - minY;
  const highY = Math.max(y, endY) + sweep.reach - minY;
  const firstRow = Math.max(0, Math.ceil(lowY / stepMm - 0.5 - ROW_SLACK));
  const lastRow = Math.min(rows - 1, Math.floor(highY / stepMm - 0.5 + ROW_SLACK));
  for (let row = firstRow; row <= lastRow; row++) {
    const up = minY + (row + 0.5) * stepMm - y;
    spanRow(sweep, up);
    if (sweep.first > sweep.last) continue;
    const base = row * columns;
    if (cutter.kind === "ball") cutBallRow(sweep, base, up);
    else if (cutter.kind === "end-mill") cutMillRow(sweep, base, up);
    else cutConeRow(sweep, base, up);
  }
}

/** The columns of the row `up` mm above the start that lie in the strip round the line or the disc at its end. */
function spanRow(sweep: Sweep, up: number): void {
  const { alongX, alongY, length, reach, backTo, work, x } = sweep;
  const { columns, stepMm, minX } = work.field;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  const overEnd = up - alongY * length;
  const chord = reach * reach - overEnd * overEnd;
  if (chord >= 0) {
    const half = Math.sqrt(chord);
    from = alongX * length - half;
    to = alongX * length + half;
  }
  // The strip is where backTo <= u <= L and |v| <= reach.
  const u = up * alongY;
  const v = up * alongX;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  if (alongX !== 0) {
    const a = (backTo - u) / alongX;
    const b = (length - u) / alongX;
    low = Math.min(a, b);
    high = Math.max(a, b);
  } else if (u < backTo || u > length) high = low;
  if (alongY !== 0) {
    const a = (v - reach) / alongY;
    const b = (v + reach) / alongY;
    low = Math.max(low, Math.min(a, b));
    high = Math.min(high, Math.max(a, b));
  } else if (Math.abs(v) > reach) high = Number.NEGATIVE_INFINITY;
  if (low <= high) {
    if (low < from) from = low;
    if (high > to) to = high;
  }
  sweep.first = Math.max(0, Math.ceil((x + from - minX) / stepMm - 0.5 - ROW_SLACK));
  sweep.last = Math.min(columns - 1, Math.floor((x + to - minX) / stepMm - 0.5 + ROW_SLACK));
}

function cutBallRow(sweep: Sweep, base: number, up: number): void {
  const { work, cutter, x, alongX, alongY, length, slope, lowest, first, last } = sweep;
  const { z, stepMm, minX } = work.field;
  const { radius } = cutter;
  const squared = radius * radius;
  const lean = slope === 0 ? 0 : slope / Math.sqrt(1 + slope * slope);
  const middle = sweep.z + radius;
  const left = minX + 0.5 * stepMm - x;
  for (let column = first; column <= last; column++) {
    const before = z[base + column] ?? 0;
    if (before <= lowest) continue;
    const right = left + column * stepMm;
    const u = right * alongX + up * alongY;
    const v = up * alongX - right * alongY;
    const chord = squared - v * v;
    if (chord < 0) continue;
    let s = lean === 0 ? 0 : lean * Math.sqrt(chord);
    if (s > u) s = u;
    else if (s < u - length) s = u - length;
    const sink = chord - s * s;
    if (sink < 0) continue;
    const after = middle + slope * (u - s) - Math.sqrt(sink);
    if (after >= before) continue;
    z[base + column] = after;
    if (before - after > work.bite && touches(sweep, u, v)) setBite(work, base + column, before - after);
  }
}

function cutMillRow(sweep: Sweep, base: number, up: number): void {
  const { work, cutter, x, alongX, alongY, length, slope, lowest, first, last } = sweep;
  const { z, stepMm, minX } = work.field;
  const squared = cutter.radius * cutter.radius;
  const left = minX + 0.5 * stepMm - x;
  for (let column = first; column <= last; column++) {
    const before = z[base + column] ?? 0;
    if (before <= lowest) continue;
    const right = left + column * stepMm;
    const u = right * alongX + up * alongY;
    const v = up * alongX - right * alongY;
    const chord = squared - v * v;
    if (chord < 0) continue;
    const half = Math.sqrt(chord);
    const least = Math.max(u - length, -half);
    const most = Math.min(u, half);
    if (least > most) continue;
    const after = sweep.z + slope * (u - (slope > 0 ? most : least));
    if (after >= before) continue;
    z[base + column] = after;
    if (before - after > work.bite && touches(sweep, u, v)) setBite(work, base + column, before - after);
  }
}

function cutConeRow(sweep: Sweep, base: number, up: number): void {
  const { work, cutter, x, alongX, alongY, length, slope, lowest, first, last } = sweep;
  const { z, stepMm, minX } = work.field;
  const { flat, rise } = cutter;
  const squared = cutter.radius * cutter.radius;
  const left = minX + 0.5 * stepMm - x;
  for (let column = first; column <= last; column++) {
    const before = z[base + column] ?? 0;
    if (before <= lowest) continue;
    const right = left + column * stepMm;
    const u = right * alongX + up * alongY;
    const v = up * alongX - right * alongY;
    const chord = squared - v * v;
    if (chord < 0) continue;
    const half = Math.sqrt(chord);
    const least = Math.max(u - length, -half);
    const most = Math.min(u, half);
    if (least > most) continue;
    const s = Math.min(most, Math.max(least, slope === 0 ? 0 : coneAhead(sweep, v, half)));
    const over = Math.sqrt(s * s + v * v) - flat;
    const after = sweep.z + slope * (u - s) + (over > 0 ? over * rise : 0);
    if (after >= before) continue;
    z[base + column] = after;
    if (before - after > work.bite && touches(sweep, u, v)) setBite(work, base + column, before - after);
  }
}

/** The free minimum of a V cutter's f on a line that is not level. */
function coneAhead({ cutter, slope }: Sweep, v: number, half: number): number {
  const { flat, rise } = cutter;
  const steep = Math.abs(slope);
  if (steep >= rise) return slope > 0 ? half : -half;
  const onTip = v * v < flat * flat ? Math.sqrt(flat * flat - v * v) : 0;
  const onCone = (Math.abs(v) * steep) / Math.sqrt((rise - steep) * (rise + steep));
  const ahead = Math.max(onTip, onCone);
  return slope > 0 ? ahead : -ahead;
}

/** Whether more than the rim of the cutter comes to a place, given along and across the line. */
function touches({ cutter, length }: Sweep, u: number, v: number): boolean {
  const past = u < 0 ? u : u > length ? u - length : 0;
  return past * past + v * v <= cutter.touchSquared;
}
