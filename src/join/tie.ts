/**
 * Ties as plans: which bends are opened, the strands that run between them, and where those
 * cross. A plan knows nothing of the strands beside it (clearance.ts) and changes nothing
 * (lay-tie.ts).
 *
 * Everything is drawn as on a lattice: two strands run `spacing` mm apart (half a pitch, the
 * lanes of a breakline), twist crossings lie twice that apart, corners get the largest fillet
 * that their legs allow.
 */
import { along, cross, distance, dot, leftOf, minus, type Point, unit, type Vec } from "../geometry/point.ts";
import type { Bend } from "./bend.ts";
import { LEAST_RADIUS, type OpenedBend, openBend, type Side, type Stub } from "./open-bend.ts";

/** A place that a strand passes: a corner, or a crossing of the tie (by number) in the middle of a leg. */
export interface RoutePoint {
  readonly at: Point;
  readonly crossing?: number;
}

/** A side of one of the bends. */
export interface TieEnd {
  readonly bend: number;
  readonly side: Side;
}

export interface TieStrand {
  readonly from: TieEnd;
  readonly to: TieEnd;
  readonly points: readonly RoutePoint[];
}

export interface Tie {
  readonly bends: readonly { readonly bend: Bend; readonly open: OpenedBend }[];
  readonly strands: readonly TieStrand[];
  /** Each is passed by two strands, or twice by one. */
  readonly crossings: readonly Point[];
}

export type TieRefusal =
  /** A bend whose legs do not lead towards the tie. */
  | { readonly kind: "no-legs"; readonly bend: Bend }
  /** Two bends look past each other, or one past the middle, by more than the greatest angle. */
  | { readonly kind: "not-facing"; readonly bends: readonly Bend[]; readonly angleDeg: number }
  /** Not enough room between two bends, or between one and the middle. */
  | {
      readonly kind: "too-near";
      readonly bends: readonly Bend[];
      readonly haveMm: number;
      readonly needMm: number;
    };

export type PlannedTie = { readonly kind: "planned"; readonly tie: Tie } | TieRefusal;

/** Bends may look past each other by this much on each side. */
export const FACING_DEG = 35;

/** Snips two facing bends and reconnects them with `twists` crossings. */
export function planTie(a: Bend, b: Bend, twists: number, spacing: number): PlannedTie {
  const facing = face(a, b, spacing);
  if ("kind" in facing) return facing;
  const { openA, openB, frame, have } = facing;
  const room = LEAST_RADIUS * spacing;
  const need =
    twists === 0
      ? Math.max(openA.left.take + openB.right.take, openA.right.take + openB.left.take) * room
      : (2 * twists - 1) * spacing +
        entryRoom(openA, have, spacing, twists) +
        entryRoom(openB, have, spacing, twists);
  if (have < need - SLACK_MM) return { kind: "too-near", bends: [a, b], haveMm: have, needMm: need };
  const crossings = Array.from({ length: twists }, (_, i) => frame(0, (2 * i - twists + 1) * spacing));
  const strands = (["left", "right"] as const).map((from): TieStrand => {
    const sign = from === "left" ? 1 : -1;
    const middle = crossings.flatMap((at, crossing): RoutePoint[] => {
      const now = sign * (crossing % 2 === 0 ? 1 : -1);
      const ahead = (2 * crossing - twists + 1) * spacing;
      return [
        { at: frame((now * spacing) / 2, ahead - spacing / 2) },
        { at, crossing },
        { at: frame((-now * spacing) / 2, ahead + spacing / 2) },
      ];
    });
    // What is left of the axis looking from `a` is right of it looking from `b`.
    const to = (from === "left") === (twists % 2 === 0) ? "right" : "left";
    return {
      from: { bend: 0, side: from },
      to: { bend: 1, side: to },
      points: withoutRepeats([...legPoints(openA[from]), ...middle, ...legPoints(openB[to]).toReversed()]),
    };
  });
  const bends = [
    { bend: a, open: openA },
    { bend: b, open: openB },
  ];
  return { kind: "planned", tie: { bends, strands, crossings } };
}

/**
 * Pulls two facing bends through each other without snipping: each reaches past the other, so
 * that they cross twice, a clasp. As on a lattice: out to the lanes beside, in through the
 * crossings, and round a bend of one step.
 */
export function planHook(a: Bend, b: Bend, spacing: number): PlannedTie {
  const facing = face(a, b, spacing);
  if ("kind" in facing) return facing;
  const { openA, openB, frame, have } = facing;
  const need =
    5 * spacing +
    entryRoom(openA, have - 4 * spacing, spacing, 1) +
    entryRoom(openB, have - 4 * spacing, spacing, 1);
  if (have < need - SLACK_MM) return { kind: "too-near", bends: [a, b], haveMm: have, needMm: need };
  const place = (across: number, ahead: number) => ({ at: frame(across * spacing, ahead * spacing) });
  const onLeft = { ...place(1, 0), crossing: 0 };
  const onRight = { ...place(-1, 0), crossing: 1 };
  const clasp = (bend: number, own: OpenedBend, towards: 1 | -1): TieStrand => {
    const at = (across: number, ahead: number) => place(across * towards, ahead * towards);
    const [first, second] = towards === 1 ? [onLeft, onRight] : [onRight, onLeft];
    const out = [at(0.5, -2.5), at(1.5, -1.5), at(1.5, -0.5), first, at(0.5, 0.5)];
    const back = [at(-0.5, 0.5), second, at(-1.5, -0.5), at(-1.5, -1.5), at(-0.5, -2.5)];
    return {
      from: { bend, side: "left" },
      to: { bend, side: "right" },
      points: withoutRepeats([...legPoints(own.left), ...out, ...back, ...legPoints(own.right).toReversed()]),
    };
  };
  const tie: Tie = {
    bends: [
      { bend: a, open: openA },
      { bend: b, open: openB },
    ],
    strands: [clasp(0, openA, 1), clasp(1, openB, -1)],
    crossings: [onLeft.at, onRight.at],
  };
  return { kind: "planned", tie };
}

interface Facing {
  readonly openA: OpenedBend;
  readonly openB: OpenedBend;
  /** From mm to the left of the axis and mm ahead of the middle between the bends' corners. */
  readonly frame: (left: number, ahead: number) => Point;
  /** Between the foremost corners of both, mm. */
  readonly have: number;
}

/** Both bends opened along the line between them. */
function face(a: Bend, b: Bend, spacing: number): Facing | TieRefusal {
  const axis = unit(minus(b.at, a.at));
  const back = { x: -axis.x, y: -axis.y };
  const angle = Math.max(angleDeg(axis, a.outward), angleDeg(back, b.outward));
  if (angle > FACING_DEG) return { kind: "not-facing", bends: [a, b], angleDeg: angle };
  const openA = openBend(a, axis, spacing);
  const openB = openBend(b, back, spacing);
  if (!openA) return { kind: "no-legs", bend: a };
  if (!openB) return { kind: "no-legs", bend: b };
  const start = reachOf(openA, a.at, axis);
  const end = distance(a.at, b.at) - reachOf(openB, b.at, back);
  const side = leftOf(axis);
  const middle = along(a.at, axis, (start + end) / 2);
  return {
    openA,
    openB,
    frame: (left, ahead) => along(along(middle, side, left), axis, ahead),
    have: end - start,
  };
}

/** How far ahead of the bend the foremost corner lies. */
export function reachOf({ left, right }: OpenedBend, at: Point, axis: Vec): number {
  return Math.max(dot(minus(left.corner, at), axis), dot(minus(right.corner, at), axis));
}

/**
 * What a side needs between its corner and that of the first twist, where the strand turns by
 * an eighth: none where the leg runs straight on into the twist, as on a lattice.
 */
function entryRoom(open: OpenedBend, have: number, spacing: number, twists: number): number {
  const least = (Math.max(open.left.take, open.right.take) + EIGHTH) * LEAST_RADIUS * spacing;
  const room = (have - (2 * twists - 1) * spacing) / 2;
  const isLattice = [open.left, open.right].every(({ take }) => Math.abs(take - EIGHTH) < 1e-6);
  return isLattice && Math.abs(room) <= SLACK_MM ? 0 : least;
}

/** tan(turn/2) of an eighth turn. */
export const EIGHTH = Math.tan(Math.PI / 8);

/** Rooms that differ by no more than rounding are equal. */
export const SLACK_MM = 1e-6;

/** From the cut along the leg to its corner. */
export function legPoints({ from, corner }: Stub): RoutePoint[] {
  return [{ at: from }, { at: corner }];
}

/** Points without those that lie on the one before. */
export function withoutRepeats(points: readonly RoutePoint[]): RoutePoint[] {
  return points.filter((point, i) => {
    const before = points[i - 1];
    return !before || point.crossing !== undefined || distance(before.at, point.at) > SLACK_MM;
  });
}

export function angleDeg(a: Vec, b: Vec): number {
  return (Math.atan2(Math.abs(cross(a, b)), dot(a, b)) * 180) / Math.PI;
}
