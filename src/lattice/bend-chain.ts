/**
 * A flat chain bent round a centre, as lines and arcs again: what was level becomes an exact
 * circular arc about the centre, what was upright an exact ray, and all else is fitted by
 * biarcs, whose tangents are those of the map, so that what was smooth stays smooth.
 */
import { FIT_ERROR_MM, SAME_DIRECTION_RAD, SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, chainOf, segmentsOf } from "../geometry/arc-chain.ts";
import { biarcJoint } from "../geometry/fit-arcs.ts";
import { nearestOn } from "../geometry/meet.ts";
import { distance, minus, type Point, turnBetween, type Vec } from "../geometry/point.ts";
import { directionAt, type Segment, segmentPoint, startDirection } from "../geometry/segment.ts";
import type { Bend } from "./bend.ts";

/** The bent chain; it strays from the true curve by FIT_ERROR_MM at most. */
export function bendChain(flat: ArcChain, bend: Bend): ArcChain {
  return chainOf(
    segmentsOf(flat).flatMap((segment) => bendSegment(segment, bend)),
    flat.closed,
  );
}

/** One biarc between the ends of the bent chain, with its directions there. */
export function bentBiarc(flat: ArcChain, bend: Bend): ArcChain {
  const segments = segmentsOf(flat);
  const first = segments[0];
  const last = segments.at(-1);
  if (!first || !last) return flat;
  return chainOf(biarc(bentPlace(first, bend, 0), bentPlace(last, bend, 1)), false);
}

function bendSegment(flat: Segment, bend: Bend): Segment[] {
  if (flat.bulge === 0) {
    const { x, y } = startDirection(flat);
    if (Math.abs(y) <= SAME_DIRECTION_RAD) return circleArcs(flat, bend);
    if (Math.abs(x) <= SAME_DIRECTION_RAD)
      return [{ from: bend.point(flat.from), to: bend.point(flat.to), bulge: 0 }];
  }
  return fitBiarcs((t) => bentPlace(flat, bend, t), 0, 1, 0);
}

/** A level line's circle, in arcs of a quarter turn or less. */
function circleArcs({ from, to }: Segment, bend: Bend): Segment[] {
  const sweep = bend.angle(to.x) - bend.angle(from.x);
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 2) - SAME_DIRECTION_RAD));
  const pointAt = (i: number) => bend.point({ x: from.x + ((to.x - from.x) * i) / count, y: from.y });
  return Array.from({ length: count }, (_, i) => ({
    from: pointAt(i),
    to: pointAt(i + 1),
    bulge: Math.tan(sweep / count / 4),
  }));
}

/** A place on the true curve and the direction of travel there. */
interface Place {
  readonly point: Point;
  readonly way: Vec;
}

function bentPlace(flat: Segment, bend: Bend, t: number): Place {
  const point = segmentPoint(flat, t);
  return { point: bend.point(point), way: bend.direction(point, directionAt(flat, t)) };
}

/** A part that turns more than this is halved before it is fitted. */
const GREATEST_TURN_RAD = Math.PI / 2;
/** Each halving divides the error by about eight: these are enough for a bend of any size. */
const DEEPEST = 16;
/** Shares at which a part is compared with its biarc: the error has a crest to each side of the joint. */
const SAMPLES = [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875];

function fitBiarcs(placeAt: (t: number) => Place, t0: number, t1: number, depth: number): Segment[] {
  const from = placeAt(t0);
  const to = placeAt(t1);
  const arcs = biarc(from, to);
  if (depth === DEEPEST) return arcs;
  const isNear = (share: number) => {
    const { point } = placeAt(t0 + share * (t1 - t0));
    return arcs.some((arc) => distance(nearestOn(arc, point), point) <= FIT_ERROR_MM);
  };
  if (Math.abs(turnBetween(from.way, to.way)) <= GREATEST_TURN_RAD && SAMPLES.every(isNear)) return arcs;
  const middle = (t0 + t1) / 2;
  return [...fitBiarcs(placeAt, t0, middle, depth + 1), ...fitBiarcs(placeAt, middle, t1, depth + 1)];
}

function biarc(from: Place, to: Place): Segment[] {
  const joint = biarcJoint(from.point, from.way, to.point, to.way)?.joint;
  if (!joint) return [{ from: from.point, to: to.point, bulge: 0 }];
  return [
    arcBy(from.point, joint, turnBetween(from.way, minus(joint, from.point))),
    arcBy(joint, to.point, turnBetween(minus(to.point, joint), to.way)),
  ];
}

/** The arc whose tangent at an end differs from its chord by `angle`, half its sweep. */
function arcBy(from: Point, to: Point, angle: number): Segment {
  const bulge = Math.tan(angle / 2);
  const sagitta = (Math.abs(bulge) * distance(from, to)) / 2;
  // A flatter arc has its centre too far away to be reckoned with.
  return { from, to, bulge: sagitta <= SAME_POINT_MM / 1000 ? 0 : bulge };
}
