/**
 * One segment of an arc chain: a straight line or a circular arc, given by its ends and
 * its bulge (tangent of a quarter of the sweep; DXF Reference, group code 42). Positive
 * bulge turns counter-clockwise, y up. |bulge| <= 1: at most a half circle, so centre and
 * radius stay well conditioned; longer arcs are several segments.
 *
 * With chord c: radius = c (1 + b^2) / (4 |b|), sweep = 4 atan b, and the centre lies on the
 * chord's mid-normal, (c/2)(1 - b^2)/(2b) to the left of it.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import type { Bounds } from "./bounds.ts";
import {
  along,
  between,
  distance,
  dot,
  leftOf,
  minus,
  type Point,
  turnBetween,
  turned,
  unit,
  type Vec,
} from "./point.ts";
import { sideOf } from "./side.ts";

export interface Segment {
  readonly from: Point;
  readonly to: Point;
  readonly bulge: number;
}

export interface Arc {
  readonly centre: Point;
  readonly radius: number;
  /** Signed, radians: positive counter-clockwise. */
  readonly sweep: number;
}

/** The circle that an arc segment (bulge other than 0) lies on. */
export function arcOf({ from, to, bulge }: Segment): Arc {
  const chord = minus(to, from);
  const lift = (1 - bulge * bulge) / (4 * bulge);
  return {
    centre: along(between(from, to, 0.5), leftOf(chord), lift),
    radius: (distance(from, to) * (1 + bulge * bulge)) / (4 * Math.abs(bulge)),
    sweep: 4 * Math.atan(bulge),
  };
}

export function segmentLength(segment: Segment): number {
  const chord = distance(segment.from, segment.to);
  if (segment.bulge === 0) return chord;
  const b = Math.abs(segment.bulge);
  return ((chord * (1 + b * b)) / b) * Math.atan(b);
}

/** Direction of travel at the start, length 1. */
export function startDirection({ from, to, bulge }: Segment): Vec {
  const chord = unit(minus(to, from));
  return bulge === 0 ? chord : turned(chord, -2 * Math.atan(bulge));
}

/** Direction of travel at the end, length 1. */
export function endDirection({ from, to, bulge }: Segment): Vec {
  const chord = unit(minus(to, from));
  return bulge === 0 ? chord : turned(chord, 2 * Math.atan(bulge));
}

/** Direction of travel at the share `t` (0 to 1) of the length. */
export function directionAt(segment: Segment, t: number): Vec {
  if (segment.bulge === 0) return startDirection(segment);
  return turned(startDirection(segment), 4 * Math.atan(segment.bulge) * t);
}

/** The point at the share `t` (0 to 1) of the length. */
export function segmentPoint(segment: Segment, t: number): Point {
  if (t <= 0) return segment.from;
  if (t >= 1) return segment.to;
  if (segment.bulge === 0) return between(segment.from, segment.to, t);
  // The chord from the start to the point turns by half the sweep passed so far:
  // free of the centre, which is far away on a nearly straight arc.
  const half = 2 * Math.atan(segment.bulge);
  const chord = minus(segment.to, segment.from);
  const scale = Math.sin(half * t) / Math.sin(half);
  const turnedChord = turned(chord, half * (t - 1));
  return along(segment.from, turnedChord, scale);
}

/** The part of the segment between the shares `t0` <= `t1` of its length. */
export function segmentPart(segment: Segment, t0: number, t1: number): Segment {
  return {
    from: segmentPoint(segment, t0),
    to: segmentPoint(segment, t1),
    bulge: segment.bulge === 0 ? 0 : Math.tan(Math.atan(segment.bulge) * (t1 - t0)),
  };
}

export function reverseSegment({ from, to, bulge }: Segment): Segment {
  return { from: to, to: from, bulge: bulge === 0 ? 0 : -bulge };
}

/**
 * The segment moved `left` mm to its left: an arc keeps centre and sweep. Undefined for an arc
 * that would shrink past its own centre.
 */
export function parallelSegment(segment: Segment, left: number): Segment | undefined {
  if (segment.bulge !== 0) {
    const { radius } = arcOf(segment);
    if ((segment.bulge > 0 ? radius - left : radius + left) <= SAME_POINT_MM) return undefined;
  }
  return {
    from: along(segment.from, leftOf(startDirection(segment)), left),
    to: along(segment.to, leftOf(endDirection(segment)), left),
    bulge: segment.bulge,
  };
}

/** Signed area between the segment and its chord: positive for a counter-clockwise arc. */
export function bowArea(segment: Segment): number {
  if (segment.bulge === 0) return 0;
  const { radius, sweep } = arcOf(segment);
  return (radius * radius * (sweep - Math.sin(sweep))) / 2;
}

export function segmentBounds(segment: Segment): Bounds {
  const { from, to } = segment;
  let minX = Math.min(from.x, to.x);
  let maxX = Math.max(from.x, to.x);
  let minY = Math.min(from.y, to.y);
  let maxY = Math.max(from.y, to.y);
  if (segment.bulge !== 0) {
    const { centre, radius } = arcOf(segment);
    const spans = (x: number, y: number) => arcSpans(segment, { x, y });
    if (spans(centre.x + radius, centre.y)) maxX = centre.x + radius;
    if (spans(centre.x - radius, centre.y)) minX = centre.x - radius;
    if (spans(centre.x, centre.y + radius)) maxY = centre.y + radius;
    if (spans(centre.x, centre.y - radius)) minY = centre.y - radius;
  }
  return { minX, minY, maxX, maxY };
}

/**
 * Whether a point known to lie on the arc's full circle lies on the arc's own side of the
 * chord. For |bulge| <= 1 that is the same as lying on the arc.
 */
export function arcSpans({ from, to, bulge }: Segment, point: Point): boolean {
  return sideOf(from, to, point) === (bulge > 0 ? -1 : 1);
}

/** The share (0 to 1) of the length at which a point on the segment lies. */
export function shareAt(segment: Segment, point: Point): number {
  const { from, to, bulge } = segment;
  if (bulge === 0) {
    const chord = minus(to, from);
    const squared = dot(chord, chord);
    return squared === 0 ? 0 : clampShare(dot(chord, minus(point, from)) / squared);
  }
  // Measured from the nearer end, so that a half circle's far end is no place to go wrong.
  const { centre, sweep } = arcOf(segment);
  const there = minus(point, centre);
  return distance(from, point) <= distance(point, to)
    ? clampShare(turnBetween(minus(from, centre), there) / sweep)
    : clampShare(1 - turnBetween(there, minus(to, centre)) / sweep);
}

function clampShare(t: number): number {
  return Math.min(1, Math.max(0, t));
}
