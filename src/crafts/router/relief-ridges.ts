/**
 * How ribbons rise and dip along their length: level where they pass over, level where they pass
 * under, and between the two a curve whose bend has no jump, so that no crease catches the light:
 * z0 + (z1 - z0)(10 t^3 - 15 t^4 + 6 t^5), steepest in its middle at 1.875 times the mean slope.
 *
 * Level stretches are as long as the crossing is wide: where two strips of half width a cross at an
 * angle w, the patch that they share reaches a (1 + |cos w|) / sin w along each of them. The ridge
 * is level round pointed corners too, as far as the mitre reaches (its inner edge is shorter than
 * its outer one, so a slope would break off there): the way down is then shared out among the
 * stretches between, each as steep as the others. Where too little is left for them, all level
 * stretches are cut short alike, and the slope is as steep as it must be; slopes and clearances
 * are measured here for the checks. A strand without crossings stays at the height of over-crossings.
 */
import { SAME_DIRECTION_RAD, SAME_POINT_MM } from "../../base/tolerance.ts";
import type { Measured } from "../../checks/judge.ts";
import {
  crossingCount,
  crossingPoint,
  edgeCurve,
  type HalfEdge,
  halfEdge,
  isOver,
  type KnotDiagram,
  nextSlot,
  twin,
} from "../../diagram/knot-diagram.ts";
import { strandWalk } from "../../diagram/strands.ts";
import { type ArcChain, chainLength, pointAtLength, segmentsOf } from "../../geometry/arc-chain.ts";
import { cross, dot, turnBetween, type Vec } from "../../geometry/point.ts";
import { endDirection, type Segment, segmentLength, startDirection } from "../../geometry/segment.ts";
import { domeOf } from "./relief-dome.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { ReliefSettings } from "./settings.ts";

/** The ridge of one edge, from crossing to crossing: level but for its slopes, in order. */
export interface Ridge {
  readonly startZ: number;
  readonly slopes: readonly Slope[];
}

interface Slope {
  readonly fromMm: number;
  readonly toMm: number;
  readonly fromZ: number;
  readonly toZ: number;
}

/** A segment of a centreline with its ridge. */
export interface RidgePart {
  readonly segment: Segment;
  readonly lengthMm: number;
  /** Where on its edge it begins. */
  readonly startMm: number;
  readonly ridge: Ridge;
  /** The joints with its neighbours along the strand. */
  readonly atStart: RidgeJoint;
  readonly atEnd: RidgeJoint;
}

export interface RidgeJoint {
  /** Radians, positive counter-clockwise; 0 for a smooth joint. */
  readonly turn: number;
  /** How far the ribbon goes on past the joint on its outer side, mm for each mm from the centreline, so that both sides meet in a mitre. */
  readonly mitre: number;
}

const SMOOTH: RidgeJoint = { turn: 0, mitre: 0 };

/** At least this share of an edge rises or dips, however close its crossings lie. */
const LEAST_SLOPE_SHARE = 0.25;

/** Points of ribbons longer than this many half widths are cut off, as offsets cut them (turns over about 157 degrees). */
const MOST_MITRE = 5;

/** The steepest place of a slope, as a multiple of its mean. */
const STEEPEST = 1.875;

export function ridgeHeight({ startZ, slopes }: Ridge, at: number): number {
  let z = startZ;
  for (const { fromMm, toMm, fromZ, toZ } of slopes) {
    if (at <= fromMm) break;
    const t = Math.min(1, (at - fromMm) / (toMm - fromMm));
    z = fromZ + (toZ - fromZ) * t * t * t * (10 - t * (15 - 6 * t));
  }
  return z;
}

/** Every segment of every centreline, strand after strand. */
export function ridgeParts({ diagram, strands }: RouterPanel, settings: ReliefSettings): RidgePart[] {
  const parts: RidgePart[] = [];
  for (const first of strands.first) {
    const bare: BarePart[] = [];
    for (const half of strandWalk(diagram, first))
      bare.push(...edgeParts(edgeCurve(diagram, half), ridgeOf(diagram, half, settings)));
    parts.push(...withJoints(bare));
  }
  const level: Ridge = { startZ: -settings.overDepthMm, slopes: [] };
  for (const loop of diagram.loops) parts.push(...withJoints(edgeParts(loop, level)));
  return parts;
}

/** The steepest slope along each edge (degrees), where it is. */
export function ridgeSlopes({ diagram }: RouterPanel, settings: ReliefSettings): Measured[] {
  const found: Measured[] = [];
  for (let half = 0; half < diagram.twin.length; half++) {
    if (half > twin(diagram, half)) continue;
    // All slopes of an edge are equally steep.
    const slope = ridgeOf(diagram, half, settings).slopes[0];
    if (!slope) continue;
    const { fromMm, toMm, fromZ, toZ } = slope;
    const steepest = (STEEPEST * Math.abs(toZ - fromZ)) / (toMm - fromMm);
    const at = pointAtLength(edgeCurve(diagram, half), (fromMm + toMm) / 2);
    found.push({ at, value: (Math.atan(steepest) * 180) / Math.PI });
  }
  return found;
}

/** At each crossing, how far the lowest place of the over-ribbon's edge lies above the highest of the ridge beneath it, mm. */
export function edgeClearances({ diagram }: RouterPanel, settings: ReliefSettings): Measured[] {
  const { edgeMm } = domeOf(settings);
  return Array.from({ length: crossingCount(diagram) }, (_, crossing) => {
    let edge = Number.POSITIVE_INFINITY;
    let ridge = Number.NEGATIVE_INFINITY;
    for (let slot = 0; slot < 4; slot++) {
      const half = halfEdge(crossing, slot);
      const z = ridgeHeight(ridgeOf(diagram, half, settings), sharedReach(diagram, half, settings));
      if (isOver(diagram, half)) edge = Math.min(edge, z - edgeMm);
      else ridge = Math.max(ridge, z);
    }
    return { at: crossingPoint(diagram, crossing), value: edge - ridge };
  });
}

function ridgeOf(diagram: KnotDiagram, half: HalfEdge, settings: ReliefSettings): Ridge {
  const other = twin(diagram, half);
  const [startZ, endZ] = [half, other].map(
    (end) => -(isOver(diagram, end) ? settings.overDepthMm : settings.underDepthMm),
  );
  if (startZ === undefined || endZ === undefined || startZ === endZ)
    return { startZ: startZ ?? 0, slopes: [] };
  const curve = edgeCurve(diagram, half);
  const length = chainLength(curve);
  const levels = [
    { at: 0, reach: sharedReach(diagram, half, settings) },
    ...cornerReaches(curve, settings.ribbon.widthMm / 2),
    { at: length, reach: sharedReach(diagram, other, settings) },
  ];
  const gaps = gapsBetween(levels, length);
  const run = gaps.reduce((sum, [from, to]) => sum + to - from, 0);
  let z = startZ;
  const slopes = gaps.map(([fromMm, toMm]) => {
    const fromZ = z;
    z += ((endZ - startZ) * (toMm - fromMm)) / run;
    return { fromMm, toMm, fromZ, toZ: z };
  });
  return { startZ, slopes };
}

/** A place along an edge and how far to each side of it the ridge is level. */
interface Level {
  readonly at: number;
  readonly reach: number;
}

/** What the level stretches leave between them. */
function gapsBetween(levels: readonly Level[], length: number): [from: number, to: number][] {
  const ends =
    length > 0
      ? levels.reduce((sum, { at, reach }) => sum + (at === 0 || at === length ? reach : 2 * reach), 0)
      : 0;
  const share = Math.min(1, ((1 - LEAST_SLOPE_SHARE) * length) / ends);
  const gaps: [number, number][] = [];
  let from = 0;
  for (const { at, reach } of levels) {
    if (at - reach * share > from + SAME_POINT_MM) gaps.push([from, at - reach * share]);
    from = Math.max(from, at + reach * share);
  }
  return gaps;
}

/** The pointed corners along an edge, with the length of the mitre to each side. */
function cornerReaches(curve: ArcChain, halfWidth: number): Level[] {
  const segments = segmentsOf(curve);
  const corners: Level[] = [];
  let at = 0;
  for (const [i, segment] of segments.entries()) {
    at += segmentLength(segment);
    const next = segments[i + 1];
    const { mitre } = next ? jointBetween(segment, next) : SMOOTH;
    if (mitre > 0) corners.push({ at, reach: halfWidth * mitre });
  }
  return corners;
}

/** How far along the edge that leaves by `half` the patch reaches that both ribbons of the crossing cover. */
function sharedReach(diagram: KnotDiagram, half: HalfEdge, { ribbon }: ReliefSettings): number {
  const own = leaving(diagram, half);
  const other = leaving(diagram, nextSlot(half));
  const sine = Math.max(Math.abs(cross(own, other)), SAME_DIRECTION_RAD);
  return ((ribbon.widthMm / 2) * (1 + Math.abs(dot(own, other)))) / sine;
}

function leaving(diagram: KnotDiagram, half: HalfEdge): Vec {
  const first = segmentsOf(edgeCurve(diagram, half))[0];
  return first ? startDirection(first) : { x: 1, y: 0 };
}

type BarePart = Omit<RidgePart, "atStart" | "atEnd">;

function edgeParts(curve: ArcChain, ridge: Ridge): BarePart[] {
  const parts: BarePart[] = [];
  let startMm = 0;
  for (const segment of segmentsOf(curve)) {
    const lengthMm = segmentLength(segment);
    if (lengthMm > SAME_POINT_MM) parts.push({ segment, lengthMm, startMm, ridge });
    startMm += lengthMm;
  }
  return parts;
}

/** Parts of a closed strand, each told how it meets its neighbours. */
function withJoints(parts: readonly BarePart[]): RidgePart[] {
  const joints = parts.map((part, i) =>
    jointBetween(part.segment, (parts[i + 1] ?? parts[0] ?? part).segment),
  );
  return parts.map((part, i) => ({
    ...part,
    atStart: joints.at(i - 1) ?? SMOOTH,
    atEnd: joints[i] ?? SMOOTH,
  }));
}

function jointBetween(a: Segment, b: Segment): RidgeJoint {
  const turn = turnBetween(endDirection(a), startDirection(b));
  if (Math.abs(turn) <= SAME_DIRECTION_RAD) return SMOOTH;
  return { turn, mitre: Math.min(MOST_MITRE, Math.tan(Math.abs(turn) / 2)) };
}
