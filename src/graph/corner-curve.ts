/**
 * The edge of the medial diagram through one corner of a plane graph: from the middle of the
 * corner's first line to the middle of its second, leaving and arriving at half a right angle
 * to them.
 *
 * In a corner of up to a half turn that is one fair curve. Round a wider one it passes a place
 * beyond the point, on the corner's bisector, and is two fair curves, which meet there smoothly
 * or in a pointed tip.
 */

import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import { type ArcChain, joinChains, segmentsOf } from "../geometry/arc-chain.ts";
import { filletLegs } from "../geometry/fillet-legs.ts";
import { nearestOn } from "../geometry/meet.ts";
import { along, distance, turned, type Vec } from "../geometry/point.ts";
import {
  arcOf,
  endDirection,
  reverseSegment,
  type Segment,
  segmentLength,
  startDirection,
} from "../geometry/segment.ts";
import type { Corner } from "./corners.ts";
import { fairCurves, leastStrain, type Pose } from "./fair-curve.ts";
import type { Room } from "./room.ts";

export type TipStyle = "pointed" | "round";

/**
 * How far beyond its point a round curve passes at the least, as a share of the lines' half
 * length: so that a corner of a half turn has one even arc (of radius sqrt 2), and a square's
 * outer corner is a half circle.
 */
const ROUND_REACH = Math.tan(Math.PI / 8);

/** A single curve may come a little nearer than one that is led by way of a place. */
const SINGLE_SHARE = 0.9;

/** The reach of a pointed tip. */
const POINTED_REACH = 0.9;

/** Tips blunter than this are round. */
const POINTED_FROM_RAD = (230 / 180) * Math.PI;

/** Half the angle of a tip is that between the lines' parallels, but no sharper nor blunter than these. */
const SHARPEST_HALF_RAD = (38 / 180) * Math.PI;
const BLUNTEST_HALF_RAD = (54 / 180) * Math.PI;

/** Shares of the reach to try. */
const REACH_SHARES = [1, 0.8, 0.62, 0.48, 0.36, 0.26, 0.18];

/** The fairest curve that keeps to its room, or undefined where there is none. */
export function freeCurve(corner: Corner, style: TipStyle, room: Room): ArcChain | undefined {
  const pointed = isPointed(corner, style);
  const whole = pointed
    ? undefined
    : fairest(leaving(corner), arriving(corner), turnOf(corner), room, keepsOff(corner));
  if (whole && whole.crowding <= CROWDED && !isWide(corner)) return whole.curve;
  const split = splitCurve(corner, pointed, room, whole?.cost);
  return (split ?? whole)?.curve;
}

/** A curve within its lines' bend that is less crowded than this is left as it is. */
const CROWDED = 2;

function isPointed({ outer, angle }: Corner, style: TipStyle): boolean {
  return style === "pointed" && outer && angle >= POINTED_FROM_RAD;
}

/** Whether lines bound the corner on the outside of a bend, rather than within. */
function isWide({ angle }: Corner): boolean {
  return angle > Math.PI + SAME_DIRECTION_RAD;
}

/** A curve round a wide corner keeps off its point. */
function keepsOff(corner: Corner): Wanted {
  if (!isWide(corner)) return {};
  const point = corner.first.half.from;
  const least = SINGLE_SHARE * ROUND_REACH * halfLength(corner);
  return {
    accepts: (curve) => curve.every((segment) => distance(nearestOn(segment, point), point) >= least),
  };
}

/** How the curve turns in all, radians. */
function turnOf({ first, second, angle }: Corner): number {
  return angle - Math.PI / 2 - sweepOf(first.half) + sweepOf(second.half);
}

interface Found {
  readonly curve: ArcChain;
  readonly crowding: number;
  /** What it loses in looks: by bending unevenly and by running near other lines. */
  readonly cost: number;
}

/** Two fair curves by way of a place on the corner's bisector, of a lower cost than `most`. */
function splitCurve(
  corner: Corner,
  pointed: boolean,
  room: Room,
  most = Number.POSITIVE_INFINITY,
): Found | undefined {
  const { first, second, angle } = corner;
  const halfTip = pointed ? clamped(Math.PI - angle / 2, SHARPEST_HALF_RAD, BLUNTEST_HALF_RAD) : Math.PI / 2;
  const bisector = unitAt(first.direction + angle / 2);
  const turn = (angle - Math.PI / 2) / 2 - (Math.PI / 2 - halfTip);
  const reach = halfLength(corner) * (pointed ? POINTED_REACH : Math.max(ROUND_REACH, Math.cos(angle / 2)));
  let best: Found | undefined;
  for (const share of REACH_SHARES) {
    // Both halves together strain about twice as much as each for itself.
    const scale = 2 / Math.sqrt(share);
    const limit = (best?.cost ?? most) / scale;
    const at = along(first.half.from, bisector, share * reach);
    const before = fairest(
      leaving(corner),
      { at, heading: turned(bisector, halfTip) },
      turn - sweepOf(first.half),
      room,
      { limit: limit - STILL_COST - leastStrain(turn + sweepOf(second.half)) },
    );
    if (!before) continue;
    const after = fairest(
      { at, heading: turned(bisector, Math.PI - halfTip) },
      arriving(corner),
      turn + sweepOf(second.half),
      room,
      { limit: limit - before.cost },
    );
    if (!after) continue;
    const cost = scale * (before.cost + after.cost);
    const curve = joinChains([before.curve, after.curve], false);
    best = { curve, cost, crowding: Math.max(before.crowding, after.crowding) };
  }
  return best;
}

interface Wanted {
  /** Costs from here on are too high. */
  readonly limit?: number;
  readonly accepts?: (curve: readonly Segment[]) => boolean;
}

/** The curve of least cost from one pose to another. */
function fairest(from: Pose, to: Pose, turn: number, room: Room, wanted: Wanted): Found | undefined {
  let best: Found | undefined;
  let limit = (wanted.limit ?? Number.POSITIVE_INFINITY) - SAME_COST;
  if (STILL_COST + leastStrain(turn) >= limit) return undefined;
  for (const { legs, strain } of fairCurves(from, to, turn)) {
    if (STILL_COST + strain >= limit) break;
    const curve = filletLegs(legs);
    const segments = segmentsOf(curve);
    if (wanted.accepts?.(segments) === false) continue;
    const crowding = room.crowding(segments);
    const cost = (STILL_COST + strain) * crowding;
    if (cost >= limit) continue;
    best = { curve, crowding, cost };
    limit = cost - SAME_COST;
  }
  return best;
}

/** Costs that differ by less are equal: rounding must not choose between curves. */
const SAME_COST = 1e-6;

/** So that crowding counts for straight lines too. */
const STILL_COST = 1;

/** From the first line's middle towards the point, half a right angle into the corner. */
export function leaving({ first }: Corner): Pose {
  const inwards = startDirection(reverseSegment(first.half));
  return { at: first.half.to, heading: turned(inwards, -Math.PI / 4) };
}

/** At the second line's middle, away from the point, half a right angle out of the corner. */
export function arriving({ second }: Corner): Pose {
  return { at: second.half.to, heading: turned(endDirection(second.half), Math.PI / 4) };
}

function sweepOf(segment: Segment): number {
  return segment.bulge === 0 ? 0 : arcOf(segment).sweep;
}

/** The harmonic mean of both halves' lengths: near that of the shorter one where they differ much. */
function halfLength({ first, second }: Corner): number {
  const a = segmentLength(first.half);
  const b = segmentLength(second.half);
  return (2 * a * b) / (a + b);
}

function clamped(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

function unitAt(angle: number): Vec {
  return { x: Math.cos(angle), y: Math.sin(angle) };
}
