/**
 * Where two segments meet, as named cases. Points nearer than SAME_POINT_MM are one, so
 * segments that end on each other touch whatever the rounding.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { along, cross, distance, dot, leftOf, magnitude, minus, type Point, unit } from "./point.ts";
import { arcOf, arcSpans, type Segment, segmentPoint, shareAt } from "./segment.ts";
import { sideOf } from "./side.ts";

export interface MeetPoint {
  readonly point: Point;
  /** Share (0 to 1) of the first segment's length. */
  readonly onA: number;
  /** Share (0 to 1) of the second segment's length. */
  readonly onB: number;
}

export type Meet =
  | { readonly kind: "none" }
  /** They pass through each other, at one point or (an arc) at two. */
  | { readonly kind: "cross"; readonly at: readonly MeetPoint[] }
  /** They share points without passing through: an end, or a tangent. */
  | { readonly kind: "touch"; readonly at: readonly MeetPoint[] }
  /** They run together between two points. */
  | { readonly kind: "overlap"; readonly at: readonly [MeetPoint, MeetPoint] };

const NONE: Meet = { kind: "none" };

export function meet(a: Segment, b: Segment): Meet {
  if (a.bulge === 0 && b.bulge === 0) return meetLines(a, b);
  if (onOneCarrier(a, b)) return meetAlong(a, b);
  const candidates = a.bulge === 0 ? lineCircle(a, b) : b.bulge === 0 ? lineCircle(b, a) : circleCircle(a, b);
  // Where carriers only graze, an end that lies on the other segment may be missed: ask for it.
  const points = [...candidates.points, ...endsOn(a, b)];
  const at: MeetPoint[] = [];
  let crosses = false;
  for (const point of points) {
    if (!onSegment(a, point) || !onSegment(b, point)) continue;
    if (at.some((known) => distance(known.point, point) <= SAME_POINT_MM)) continue;
    at.push({ point, onA: shareAt(a, point), onB: shareAt(b, point) });
    if (!candidates.tangent && !atEnd(a, point) && !atEnd(b, point)) crosses = true;
  }
  if (at.length === 0) return NONE;
  return { kind: crosses ? "cross" : "touch", at };
}

function meetLines(a: Segment, b: Segment): Meet {
  const apart =
    sideOf(a.from, a.to, b.from) * sideOf(a.from, a.to, b.to) > 0 ||
    sideOf(b.from, b.to, a.from) * sideOf(b.from, b.to, a.to) > 0;
  if (!apart) {
    const u = minus(a.to, a.from);
    const v = minus(b.to, b.from);
    const onA = cross(minus(b.from, a.from), v) / cross(u, v);
    const point = along(a.from, u, onA);
    // Lines in one direction have no such point (NaN, or far away); they are looked at below.
    if (onA > 0 && onA < 1 && !atEnd(a, point) && !atEnd(b, point) && onSegment(b, point))
      return { kind: "cross", at: [{ point, onA, onB: shareAt(b, point) }] };
  }
  const touching = endsOn(a, b);
  if (touching.length > 1 && farApart(touching)) return meetAlong(a, b);
  const first = touching[0];
  if (!first) return NONE;
  return { kind: "touch", at: [{ point: first, onA: shareAt(a, first), onB: shareAt(b, first) }] };
}

/** Both lie on one line or one circle: they share a stretch, an end, or nothing. */
function meetAlong(a: Segment, b: Segment): Meet {
  const shared = endsOn(a, b)
    .map((point) => ({ point, onA: shareAt(a, point), onB: shareAt(b, point) }))
    .sort((p, q) => p.onA - q.onA);
  const first = shared[0];
  const last = shared.at(-1);
  if (!first || !last) return NONE;
  if (distance(first.point, last.point) <= SAME_POINT_MM) return { kind: "touch", at: [first] };
  // Two arcs of one circle can share both ends and nothing between.
  const middle = segmentPoint(a, (first.onA + last.onA) / 2);
  if (!onSegment(b, middle)) return { kind: "touch", at: [first, last] };
  return { kind: "overlap", at: [first, last] };
}

function onOneCarrier(a: Segment, b: Segment): boolean {
  if (a.bulge === 0 || b.bulge === 0) return false;
  const p = arcOf(a);
  const q = arcOf(b);
  return distance(p.centre, q.centre) + Math.abs(p.radius - q.radius) <= SAME_POINT_MM;
}

interface Candidates {
  readonly points: readonly Point[];
  readonly tangent: boolean;
}

function lineCircle(line: Segment, arc: Segment): Candidates {
  const { centre, radius } = arcOf(arc);
  const direction = unit(minus(line.to, line.from));
  const foot = along(line.from, direction, dot(minus(centre, line.from), direction));
  const off = distance(foot, centre);
  if (off > radius + SAME_POINT_MM) return { points: [], tangent: false };
  const half = Math.sqrt(Math.max(0, (radius - off) * (radius + off)));
  // Within a tangent's tolerance the two points spread far more than the distance does.
  if (Math.abs(off - radius) <= SAME_POINT_MM / 10) return { points: [foot], tangent: true };
  return { points: [along(foot, direction, -half), along(foot, direction, half)], tangent: false };
}

function circleCircle(a: Segment, b: Segment): Candidates {
  const p = arcOf(a);
  const q = arcOf(b);
  const axis = minus(q.centre, p.centre);
  const apart = magnitude(axis);
  const outside = apart - (p.radius + q.radius);
  const inside = Math.abs(p.radius - q.radius) - apart;
  if (outside > SAME_POINT_MM || inside > SAME_POINT_MM || apart === 0) return { points: [], tangent: false };
  const direction = unit(axis);
  const reach = (apart * apart + (p.radius - q.radius) * (p.radius + q.radius)) / (2 * apart);
  const foot = along(p.centre, direction, reach);
  if (outside > -SAME_POINT_MM / 10 || inside > -SAME_POINT_MM / 10) return { points: [foot], tangent: true };
  const half = Math.sqrt(Math.max(0, (p.radius - reach) * (p.radius + reach)));
  const normal = leftOf(direction);
  return { points: [along(foot, normal, half), along(foot, normal, -half)], tangent: false };
}

/** The ends of each segment that lie on the other one. */
function endsOn(a: Segment, b: Segment): Point[] {
  const ends: Point[] = [];
  if (onSegment(b, a.from)) ends.push(a.from);
  if (onSegment(b, a.to)) ends.push(a.to);
  if (onSegment(a, b.from)) ends.push(b.from);
  if (onSegment(a, b.to)) ends.push(b.to);
  return ends;
}

function farApart(points: readonly Point[]): boolean {
  const first = points[0];
  return first !== undefined && points.some((point) => distance(first, point) > SAME_POINT_MM);
}

function atEnd({ from, to }: Segment, point: Point): boolean {
  return distance(from, point) <= SAME_POINT_MM || distance(to, point) <= SAME_POINT_MM;
}

function onSegment(segment: Segment, point: Point): boolean {
  if (segment.bulge === 0)
    return squaredToLine(point, segment.from, segment.to) <= SAME_POINT_MM * SAME_POINT_MM;
  return distance(nearestOn(segment, point), point) <= SAME_POINT_MM;
}

/** The squared distance from a point to the straight segment between two others. */
export function squaredToLine(point: Point, from: Point, to: Point): number {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const squared = dx * dx + dy * dy;
  const along = (point.x - from.x) * dx + (point.y - from.y) * dy;
  const t = squared === 0 || along <= 0 ? 0 : along >= squared ? 1 : along / squared;
  const offX = point.x - from.x - dx * t;
  const offY = point.y - from.y - dy * t;
  return offX * offX + offY * offY;
}

/** The point of the segment nearest to `point`. */
export function nearestOn(segment: Segment, point: Point): Point {
  const { from, to, bulge } = segment;
  if (bulge === 0) {
    const chord = minus(to, from);
    const squared = dot(chord, chord);
    if (squared === 0) return from;
    const t = dot(minus(point, from), chord) / squared;
    return t <= 0 ? from : t >= 1 ? to : along(from, chord, t);
  }
  const { centre, radius } = arcOf(segment);
  const reach = minus(point, centre);
  const far = magnitude(reach);
  if (far > 0) {
    const onCircle = along(centre, reach, radius / far);
    if (arcSpans(segment, onCircle)) return onCircle;
  }
  return distance(from, point) <= distance(to, point) ? from : to;
}
