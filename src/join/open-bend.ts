/**
 * A bend opened: what lies between its two legs is cut away, and each leg runs on straight to
 * its side of a tie that leaves in a given direction.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import {
  type ArcChain,
  type ChainPlace,
  chainBetween,
  chainLength,
  placeAtLength,
  reverseChain,
  segmentsOf,
} from "../geometry/arc-chain.ts";
import {
  along,
  cross,
  distance,
  dot,
  leftOf,
  minus,
  type Point,
  turnBetween,
  type Vec,
} from "../geometry/point.ts";
import { directionAt, type Segment, segmentPoint, startDirection } from "../geometry/segment.ts";
import type { Bend } from "./bend.ts";

/** One side of an opened bend: the strand up to a place, and the point at which the tie takes over. */
export interface Stub {
  /** From the crossing (or the loop's start) to the place where it was cut. */
  readonly curve: ArcChain;
  /** Where it was cut. */
  readonly from: Point;
  /** Where the leg, run on straight, reaches its side of the tie. */
  readonly corner: Point;
  /** How much the strand turns there, as tan(turn/2). */
  readonly take: number;
}

export type Side = "left" | "right";

/** Left and right as seen looking along the tie. */
export type OpenedBend = Readonly<Record<Side, Stub>>;

/** Ties bend with this radius at least, in spacings, so that a ribbon as wide as a lane fits. */
export const LEAST_RADIUS = 0.5;

/**
 * The bend opened for two strands `spacing` mm apart that leave it towards `axis` (length 1),
 * one on each side of the line from the bend; undefined where its legs do not lead there.
 */
export function openBend({ curve, place, at }: Bend, axis: Vec, spacing: number): OpenedBend | undefined {
  const end = { index: curve.vertices.length - 2, t: 1 };
  const side = leftOf(axis);
  const left = openLeg(chainBetween(curve, START, place), along(at, side, spacing / 2), axis, spacing);
  const right = openLeg(
    reverseChain(chainBetween(curve, place, end)),
    along(at, side, -spacing / 2),
    axis,
    spacing,
  );
  return left && right ? { left, right } : undefined;
}

const START: ChainPlace = { index: 0, t: 0 };

/** A straight leg leaves at least this steeply (sine of 15 degrees). */
const STEEP = 0.26;

/** No leg is longer than this, in spacings: ties stay near the bend. */
const LONGEST_LEG = 3;

/** Where there is no straight leg, places this far apart are tried along the strand, in spacings. */
const STEP = 0.125;
const MOST_STEPS = 48;

/** `foot` lies on the side of the tie that the leg is to reach. */
function openLeg(leg: ArcChain, foot: Point, axis: Vec, spacing: number): Stub | undefined {
  const segments = segmentsOf(leg);
  const stubAt = (place: ChainPlace, direction: Vec, steep: number): Stub | undefined => {
    const segment = segments[place.index];
    if (!segment || dot(direction, axis) < steep) return undefined;
    const from = segmentPoint(segment, place.t);
    const corner = cornerOn(from, direction, foot, axis);
    if (!corner) return undefined;
    const take = Math.tan(Math.abs(turnBetween(direction, axis)) / 2);
    const length = distance(from, corner);
    const least = LEAST_RADIUS * spacing * take - SAME_POINT_MM;
    if (length > LONGEST_LEG * spacing || length < least) return undefined;
    return { curve: chainBetween(leg, START, place), from, corner, take };
  };
  // A straight leg is cut where it begins, so that the fillet has all of it.
  for (let index = segments.length - 1; index >= 0; index--) {
    const segment = segments[index];
    if (segment?.bulge !== 0) continue;
    if (runsAlong(segment, foot, axis))
      return { curve: chainBetween(leg, START, { index, t: 1 }), ...endOn(segment) };
    const stub = stubAt({ index, t: 0 }, startDirection(segment), STEEP);
    if (stub) return stub;
  }
  const whole = chainLength(leg);
  for (const steep of [SQUARE, BACKWARD]) {
    for (let step = 1; step <= MOST_STEPS && step * STEP * spacing < whole; step++) {
      const { index, segment, t } = placeAtLength(leg, whole - step * STEP * spacing);
      const stub = stubAt({ index, t }, directionAt(segment, t), steep);
      if (stub) return stub;
    }
  }
  return undefined;
}

/** A strand that runs square to the tie can still turn into it (sine of -1 degree) … */
const SQUARE = -0.02;

/** … and where the tie leaves a long lane aslant, one side of it has to turn further (sine of -37 degrees). */
const BACKWARD = -0.6;

/** Whether a leg is already on its side of the tie, heading out, so that it only has to go on. */
function runsAlong({ from, to, bulge }: Segment, foot: Point, axis: Vec): boolean {
  const off = (point: Point) => Math.abs(cross(axis, minus(point, foot)));
  return bulge === 0 && dot(minus(to, from), axis) > 0 && Math.max(off(from), off(to)) <= SAME_POINT_MM;
}

function endOn({ to }: Segment): Omit<Stub, "curve"> {
  return { from: to, corner: to, take: 0 };
}

/** Where the line from `from` along `direction` meets the line through `foot` along `axis`, if ahead. */
function cornerOn(from: Point, direction: Vec, foot: Point, axis: Vec): Point | undefined {
  const turn = cross(direction, axis);
  if (Math.abs(turn) < 1e-9) return undefined;
  const ahead = cross(minus(foot, from), axis) / turn;
  return ahead > 1e-9 ? along(from, direction, ahead) : undefined;
}
