/** Three or more bends that look at one point, snipped and reconnected cyclically. */
import { along, cross, distance, leftOf, minus, type Point, unit, type Vec } from "../geometry/point.ts";
import type { Bend } from "./bend.ts";
import { LEAST_RADIUS, type OpenedBend, openBend, type Side } from "./open-bend.ts";
import {
  angleDeg,
  EIGHTH,
  FACING_DEG,
  legPoints,
  type PlannedTie,
  type RoutePoint,
  reachOf,
  SLACK_MM,
  type TieStrand,
  withoutRepeats,
} from "./tie.ts";

/** Plans the right leg of each bend into the left leg of the next, counter-clockwise round the middle of all. */
export function planAround(bends: readonly Bend[], isTwisted: boolean, spacing: number): PlannedTie {
  const centre = middleOf(bends.map(({ at }) => at));
  const arms: Arm[] = [];
  for (const bend of inTurn(bends, centre)) {
    const axis = unit(minus(centre, bend.at));
    const angle = angleDeg(axis, bend.outward);
    if (angle > FACING_DEG) return { kind: "not-facing", bends: [bend], angleDeg: angle };
    const open = openBend(bend, axis, spacing);
    if (!open) return { kind: "no-legs", bend };
    const entry = Math.max(0.5, (takeOf(open) + EIGHTH) * LEAST_RADIUS) * spacing;
    arms.push({ bend, open, axis, start: reachOf(open, bend.at, axis), entry });
  }
  for (const [i, arm] of arms.entries()) {
    const have = distance(arm.bend.at, centre) - arm.start;
    const need = needOf(arms, i, isTwisted, spacing);
    if (have < need - SLACK_MM) return { kind: "too-near", bends: [arm.bend], haveMm: have, needMm: need };
  }
  const [from, to]: readonly [Side, Side] = isTwisted ? ["left", "right"] : ["right", "left"];
  const strands = arms.map((arm, i): TieStrand => {
    // Looking inward, the neighbour counter-clockwise round the centre is on the right; a twist
    // has exchanged the arm's sides.
    const j = (i + 1) % arms.length;
    const next = arms[j] ?? arm;
    const out = armPoints(arm, isTwisted ? i : undefined, from, spacing);
    const back = armPoints(next, isTwisted ? j : undefined, to, spacing);
    return {
      from: { bend: i, side: from },
      to: { bend: j, side: to },
      points: withoutRepeats([...out, ...turnPoint(out, arm.axis, back, next.axis), ...back.toReversed()]),
    };
  });
  const crossings = isTwisted ? arms.map((arm) => armPlace(arm, 0, spacing / 2)) : [];
  return { kind: "planned", tie: { bends: arms, strands, crossings } };
}

interface Arm {
  readonly bend: Bend;
  readonly open: OpenedBend;
  /** From the bend to the centre. */
  readonly axis: Vec;
  /** Ahead of the bend, where its foremost corner lies, mm. */
  readonly start: number;
  /** From there to the corner of its twist, mm. */
  readonly entry: number;
}

function middleOf(points: readonly Point[]): Point {
  return {
    x: points.reduce((sum, { x }) => sum + x, 0) / points.length,
    y: points.reduce((sum, { y }) => sum + y, 0) / points.length,
  };
}

function inTurn(bends: readonly Bend[], centre: Point): Bend[] {
  const angleOf = ({ at }: Bend) => Math.atan2(at.y - centre.y, at.x - centre.x);
  return bends.toSorted((p, q) => angleOf(p) - angleOf(q));
}

function takeOf({ left, right }: OpenedBend): number {
  return Math.max(left.take, right.take);
}

/**
 * What an arm needs beyond its corners: its twist, then the sides of two neighbours meet
 * (spacing/2) / tan(half the angle between them) before the centre, and take the fillets' room.
 */
function needOf(arms: readonly Arm[], i: number, isTwisted: boolean, spacing: number): number {
  const own = arms[i];
  let most = 0;
  for (const beside of [arms.at(i - 1), arms[(i + 1) % arms.length]]) {
    if (!own || !beside) continue;
    const half = (angleDeg(own.axis, beside.axis) * Math.PI) / 360;
    const turn = Math.tan(Math.PI / 2 - half);
    const before = isTwisted ? EIGHTH : takeOf(own.open);
    const room = turn / 2 + (turn + before) * LEAST_RADIUS;
    most = Math.max(most, (isTwisted ? own.entry + spacing : 0) + room * spacing);
  }
  return most;
}

/** mm to the left of an arm's axis and ahead of the corner of its twist. */
function armPlace({ bend, axis, start, entry }: Arm, left: number, ahead: number): Point {
  return along(along(bend.at, axis, start + entry + ahead), leftOf(axis), left);
}

/** From a leg onto its side of the arm, or through the arm's crossing onto the other side. */
function armPoints(arm: Arm, crossing: number | undefined, from: Side, spacing: number): RoutePoint[] {
  const leg = legPoints(arm.open[from]);
  if (crossing === undefined) return leg;
  const across = from === "left" ? spacing / 2 : -spacing / 2;
  return [
    ...leg,
    { at: armPlace(arm, across, 0) },
    { at: armPlace(arm, 0, spacing / 2), crossing },
    { at: armPlace(arm, -across, spacing) },
  ];
}

/** Where the sides of two neighbouring arms meet, if ahead of both. */
function turnPoint(out: readonly RoutePoint[], u: Vec, back: readonly RoutePoint[], v: Vec): RoutePoint[] {
  const a = out.at(-1)?.at;
  const b = back.at(-1)?.at;
  const turn = cross(u, v);
  if (!a || !b || Math.abs(turn) < 1e-9) return [];
  const onA = cross(minus(b, a), v) / turn;
  const onB = cross(minus(b, a), u) / turn;
  return onA > 0 && onB > 0 ? [{ at: along(a, u, onA) }] : [];
}
