/**
 * The raw parallel curve: every segment moved to its left and joined to its neighbour, before
 * anything that lies too near to the source is thrown away (offset.ts).
 */
import { InternalError } from "../base/internal-error.ts";
import { LIMIT_SLACK_MM, SAME_DIRECTION_RAD, SAME_POINT_MM } from "../base/tolerance.ts";
import { type MeetPoint, meet, nearestOn } from "./meet.ts";
import { along, distance, leftOf, type Point, turnBetween, type Vec } from "./point.ts";
import {
  endDirection,
  parallelSegment,
  type Segment,
  segmentPart,
  segmentPoint,
  startDirection,
} from "./segment.ts";

/** How outer corners are joined: by an arc about the corner, or by running both sides on to a point. */
export type Join = "round" | "pointed";

/** A segment of the raw curve, and the exact curve that it stands for: ends are snapped by a hair. */
export interface RawPart {
  readonly segment: Segment;
  readonly exact: Segment;
}

/** The ground of a pointed joint: the triangle from the end of one side over the point to the next side. */
export interface Tip {
  readonly from: Point;
  readonly tip: Point;
  readonly to: Point;
}

export interface RawOffset {
  readonly parts: readonly RawPart[];
  readonly tips: readonly Tip[];
  /** False when an arc vanished or an inner corner was bridged: pieces are to be thrown away. */
  readonly clean: boolean;
}

export function rawOffset(source: readonly Segment[], closed: boolean, left: number, join: Join): RawOffset {
  const moved = source.map((segment) => moveSegment(segment, left));
  const trims = trimInnerCorners(source, moved, closed, left);
  const parts: RawPart[] = [];
  const tips: Tip[] = [];
  let clean = moved.every(({ vanished }) => !vanished);
  for (const [i, { segment }] of moved.entries()) {
    const next = i + 1 < moved.length ? i + 1 : closed ? 0 : undefined;
    const trimmed = segmentBetween(segment, trims[i]?.start, trims[i]?.end);
    parts.push({ segment: trimmed, exact: segment });
    if (next === undefined || trims[i]?.end) continue;
    const here = source[i];
    const there = source[next];
    const after = moved[next];
    if (!here || !there || !after) throw new InternalError("offset lost a segment");
    const joint = jointBetween(here, there, segment.to, after.segment.from, left, join);
    for (const bridge of joint.segments) parts.push({ segment: bridge, exact: bridge });
    const tip = joint.pointed === true ? joint.segments[0]?.to : undefined;
    if (tip) tips.push({ from: segment.to, tip, to: after.segment.from });
    if (!joint.clean) clean = false;
  }
  return { parts: snapTogether(parts, closed), tips, clean };
}

/** Where a moved segment is cut off by its neighbours at inner corners. */
interface Trim {
  start?: Cut | undefined;
  end?: Cut | undefined;
}

interface Cut {
  readonly point: Point;
  readonly share: number;
}

/**
 * At an inner corner the moved neighbours mostly run into each other: both are cut there.
 * Where they do not, or where a segment would be cut from both ends past itself, nothing is
 * cut, and a bridge keeps the raw curve in one piece.
 */
function trimInnerCorners(
  source: readonly Segment[],
  moved: readonly MovedSegment[],
  closed: boolean,
  left: number,
): readonly Trim[] {
  const trims = moved.map((): Trim => ({}));
  const joints = closed && moved.length > 2 ? moved.length : moved.length - 1;
  for (let i = 0; i < joints; i++) {
    const next = (i + 1) % moved.length;
    const before = trims[i];
    const after = trims[next];
    const met = innerCut(source[i], source[next], moved[i], moved[next], left);
    if (!met || !before || !after) continue;
    before.end = { point: met.point, share: met.onA };
    after.start = { point: met.point, share: met.onB };
  }
  undoCrossedTrims(trims);
  return trims;
}

function innerCut(
  here: Segment | undefined,
  there: Segment | undefined,
  a: MovedSegment | undefined,
  b: MovedSegment | undefined,
  left: number,
): MeetPoint | undefined {
  if (!here || !there || !a || !b || a.vanished || b.vanished) return undefined;
  const turn = turnBetween(endDirection(here), startDirection(there));
  if (isSmooth(turn, left) || turn > 0 !== left > 0) return undefined;
  const met = innerMeet(a.segment, b.segment, here.to);
  if (!met) return undefined;
  // What is cut off must lie too near to the other segment.
  const tail = segmentPoint(a.segment, (1 + met.onA) / 2);
  const head = segmentPoint(b.segment, met.onB / 2);
  const most = Math.abs(left) + SAME_POINT_MM;
  const isSpare =
    distance(tail, nearestOn(there, tail)) <= most && distance(head, nearestOn(here, head)) <= most;
  return isSpare ? met : undefined;
}

/** Where two moved neighbours run into each other by their corner: a crossing before a mere touch, the nearest first. */
function innerMeet(a: Segment, b: Segment, corner: Point): MeetPoint | undefined {
  const found = meet(a, b);
  if (found.kind === "none") return undefined;
  if (found.kind === "overlap") return middleOf(a, ...found.at);
  const inside = found.at.filter(({ onA, onB }) => onA < 1 && onB > 0);
  return (inside.length > 0 ? inside : found.at).reduce((best, other) =>
    distance(other.point, corner) < distance(best.point, corner) ? other : best,
  );
}

/** At a very shallow corner the two run together for a while; they cross in the middle of it. */
function middleOf(a: Segment, first: MeetPoint, last: MeetPoint): MeetPoint {
  const onA = (first.onA + last.onA) / 2;
  return { point: segmentPoint(a, onA), onA, onB: (first.onB + last.onB) / 2 };
}

function undoCrossedTrims(trims: readonly Trim[]): void {
  for (const [i, trim] of trims.entries()) {
    if ((trim.start?.share ?? 0) < (trim.end?.share ?? 1)) continue;
    const before = trims.at(i - 1);
    const after = trims[(i + 1) % trims.length];
    if (before && trim.start) before.end = undefined;
    if (after && trim.end) after.start = undefined;
    trim.start = undefined;
    trim.end = undefined;
  }
}

function segmentBetween(segment: Segment, start: Cut | undefined, end: Cut | undefined): Segment {
  if (!start && !end) return segment;
  const part = segmentPart(segment, start?.share ?? 0, end?.share ?? 1);
  return { from: start?.point ?? part.from, to: end?.point ?? part.to, bulge: part.bulge };
}

interface MovedSegment {
  readonly segment: Segment;
  readonly vanished: boolean;
}

function moveSegment(segment: Segment, left: number): MovedSegment {
  const moved = parallelSegment(segment, left);
  if (moved) return { segment: moved, vanished: false };
  // A vanished arc is bridged by a straight line, which lies too near to the source and is
  // thrown away later.
  const from = along(segment.from, leftOf(startDirection(segment)), left);
  const to = along(segment.to, leftOf(endDirection(segment)), left);
  return { segment: { from, to, bulge: 0 }, vanished: true };
}

interface Joint {
  readonly segments: readonly Segment[];
  readonly clean: boolean;
  readonly pointed?: boolean;
}

function jointBetween(
  here: Segment,
  there: Segment,
  from: Point,
  to: Point,
  left: number,
  join: Join,
): Joint {
  const incoming = endDirection(here);
  const outgoing = startDirection(there);
  const turn = turnBetween(incoming, outgoing);
  if (isSmooth(turn, left) || distance(from, to) <= SAME_POINT_MM) return { segments: [], clean: true };
  const turnsAway = turn > 0 !== left > 0;
  // A bridge across an inner corner lies within |left| of the corner: it is thrown away.
  if (!turnsAway) return { segments: [{ from, to, bulge: 0 }], clean: false };
  if (join === "pointed" && Math.abs(turn) < POINTED_UP_TO_RAD)
    return { segments: pointedJoint(from, to, incoming, turn, left), clean: true, pointed: true };
  return { segments: roundJoint(from, to, here.to, incoming, turn, left), clean: true };
}

/** Sharper turns than this (a point under about 20 degrees) are rounded: the point would run away. */
const POINTED_UP_TO_RAD = (160 / 180) * Math.PI;

function pointedJoint(from: Point, to: Point, incoming: Vec, turn: number, left: number): Segment[] {
  const tip = along(from, incoming, Math.abs(left) * Math.tan(Math.abs(turn) / 2));
  return [
    { from, to: tip, bulge: 0 },
    { from: tip, to, bulge: 0 },
  ];
}

function roundJoint(
  from: Point,
  to: Point,
  centre: Point,
  incoming: Vec,
  turn: number,
  left: number,
): Segment[] {
  const bulge = Math.tan(turn / 4);
  if (Math.abs(bulge) <= 1) return [{ from, to, bulge }];
  const middle = turnPoint(centre, incoming, turn / 2, left);
  const half = Math.tan(turn / 8);
  return [
    { from, to: middle, bulge: half },
    { from: middle, to, bulge: half },
  ];
}

function turnPoint(centre: Point, incoming: Vec, by: number, left: number): Point {
  const cos = Math.cos(by);
  const sin = Math.sin(by);
  const direction = { x: incoming.x * cos - incoming.y * sin, y: incoming.x * sin + incoming.y * cos };
  return along(centre, leftOf(direction), left);
}

/** Ends that rounding left a hair apart become one point; segments of no length go. */
function snapTogether(parts: readonly RawPart[], closed: boolean): RawPart[] {
  const kept = parts.filter(({ segment }) => distance(segment.from, segment.to) > SAME_POINT_MM);
  return kept.map((part, i) => {
    const next = kept[i + 1] ?? (closed ? kept[0] : undefined);
    if (!next || next.segment.from === part.segment.to) return part;
    const { from, bulge } = part.segment;
    return { segment: { from, to: next.segment.from, bulge }, exact: part.exact };
  });
}

/** A kink that parts the moved ends by less than any machine can tell is none (drawings are full of them). */
function isSmooth(turn: number, left: number): boolean {
  return Math.abs(turn) <= SAME_DIRECTION_RAD || Math.abs(turn * left) <= LIMIT_SLACK_MM;
}
