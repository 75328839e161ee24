/**
 * A place on a ribbon piece as two numbers: how far along its centreline (mm from where it comes
 * out from under another strand) and how far across, from -1 (right edge) over 0 to 1 (left edge).
 * Lines along and across a ribbon are straight in these coordinates. At pointed corners they
 * follow the mitre, at the ends the edge of the strand that passes over, so that nothing drawn
 * between -1 and 1 leaves the piece.
 */
import { crossingOf, edgeCurve, halfEdge, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import {
  type ArcChain,
  chainBetween,
  joinChains,
  polyline,
  reverseChain,
  segmentsOf,
} from "../../geometry/arc-chain.ts";
import { firstMeet, lastMeet } from "../../geometry/first-meet.ts";
import { along, dot, leftOf, type Point, type Vec } from "../../geometry/point.ts";
import {
  arcOf,
  directionAt,
  endDirection,
  type Segment,
  segmentLength,
  segmentPoint,
  startDirection,
} from "../../geometry/segment.ts";
import type { RibbonPiece } from "../../ribbon/ribbon.ts";

export interface RibbonFrame {
  readonly strand: number;
  readonly widthMm: number;
  readonly lengthMm: number;
  /** Whether it comes back to its beginning: a strand that never passes under. */
  readonly closed: boolean;
  readonly steps: readonly FrameStep[];
}

/** One segment of the centreline. */
export interface FrameStep {
  readonly segment: Segment;
  /** Along the piece, mm. */
  readonly start: number;
  readonly lengthMm: number;
  /** What the left edge's ends lie off the plain normal at the segment's ends. */
  readonly startShift: Vec;
  readonly endShift: Vec;
}

const NO_SHIFT: Vec = { x: 0, y: 0 };

/** Undefined for a piece so short that nothing of it shows. */
export function ribbonFrame(
  diagram: KnotDiagram,
  piece: RibbonPiece,
  widthMm: number,
): RibbonFrame | undefined {
  const spine = visibleCentreline(piece);
  const segments = spine ? segmentsOf(spine) : [];
  if (segments.length === 0) return undefined;
  const half = widthMm / 2;
  const [startCap, endCap] = piece.ends.map((crossing) => overDirection(diagram, crossing));
  const closed = piece.ends.length === 0;
  const steps: FrameStep[] = [];
  let start = 0;
  for (const [i, segment] of segments.entries()) {
    const before = segments[i - 1] ?? (closed ? segments.at(-1) : undefined);
    const after = segments[i + 1] ?? (closed ? segments[0] : undefined);
    const into = startDirection(segment);
    const out = endDirection(segment);
    const lengthMm = segmentLength(segment);
    steps.push({
      segment,
      start,
      lengthMm,
      startShift: before ? mitreShift(into, endDirection(before), half) : capShift(into, startCap, half),
      endShift: after ? mitreShift(out, startDirection(after), half) : capShift(out, endCap, half),
    });
    start += lengthMm;
  }
  return { strand: piece.strand, widthMm, lengthMm: start, closed, steps };
}

/** From the over-strand's edge at the beginning to that at the end. */
function visibleCentreline({ centreline, outline, ends }: RibbonPiece): ArcChain | undefined {
  if (ends.length === 0) return centreline;
  const [line, edge] = [segmentsOf(centreline), segmentsOf(outline)];
  const from = firstMeet(line, edge);
  const to = lastMeet(line, edge);
  return from && to ? chainBetween(centreline, from.onA, to.onA) : undefined;
}

/** The direction of the strand that lies over at a crossing. */
function overDirection(diagram: KnotDiagram, crossing: number): Vec {
  const over = halfEdge(crossing, diagram.over[crossingOf(4 * crossing)] ?? 0);
  const [first] = segmentsOf(edgeCurve(diagram, over));
  return first ? startDirection(first) : NO_SHIFT;
}

/** Sharper than this, cosine of the turn, mitres would run away. */
const SHARPEST_MITRE = -0.8;
/** Flatter than this, sine of the angle, a cap would. */
const FLATTEST_CAP = 0.25;

function mitreShift(own: Vec, other: Vec, half: number): Vec {
  const cosine = dot(own, other);
  if (cosine < SHARPEST_MITRE) return NO_SHIFT;
  const [n, m] = [leftOf(own), leftOf(other)];
  const share = half / (1 + cosine);
  return { x: (n.x + m.x) * share - n.x * half, y: (n.y + m.y) * share - n.y * half };
}

/** Along the own direction, so far that both corners lie on the over-strand's edge. */
function capShift(own: Vec, over: Vec | undefined, half: number): Vec {
  const sine = over ? dot(over, leftOf(own)) : 0;
  if (!over || Math.abs(sine) < FLATTEST_CAP) return NO_SHIFT;
  const by = (half * dot(over, own)) / sine;
  return { x: own.x * by, y: own.y * by };
}

/** The point `share` (0 to 1) of a step along and `u` (-1 to 1) across. */
export function stepPoint(
  { segment, startShift, endShift }: FrameStep,
  share: number,
  u: number,
  widthMm: number,
): Point {
  const normal = leftOf(directionAt(segment, share));
  const out = along(segmentPoint(segment, share), normal, (u * widthMm) / 2);
  return along(along(out, startShift, u * (1 - share)), endShift, u * share);
}

/** How long the edge of a step is that is the longer one, mm. */
export function longerEdge(step: FrameStep, widthMm: number): number {
  const [left, right] = [1, -1].map((u) => {
    const from = stepPoint(step, 0, u, widthMm);
    const to = stepPoint(step, 1, u, widthMm);
    const chord = Math.hypot(to.x - from.x, to.y - from.y);
    if (step.segment.bulge === 0) return chord;
    const quarter = Math.atan(Math.abs(step.segment.bulge));
    return (chord * 2 * quarter) / Math.sin(2 * quarter);
  });
  return Math.max(left ?? 0, right ?? 0);
}

/** Direction of travel `share` of a step along. */
export function stepDirection({ segment }: FrameStep, share: number): Vec {
  return directionAt(segment, share);
}

/** A line along the ribbon at `u`, between two lengths along it. */
export function lineAlong(frame: RibbonFrame, u: number, from = 0, to = frame.lengthMm): ArcChain {
  const parts = frame.steps.flatMap((step) => {
    const [t0, t1] = [from, to].map((s) => Math.min(1, Math.max(0, (s - step.start) / step.lengthMm)));
    return t0 === undefined || t1 === undefined || t0 >= t1
      ? []
      : [stepLine(step, [t0, t1], u, frame.widthMm)];
  });
  const whole = frame.closed && from <= 0 && to >= frame.lengthMm;
  return joinChains(parts, whole);
}

function stepLine(
  step: FrameStep,
  [t0, t1]: readonly [number, number],
  u: number,
  widthMm: number,
): ArcChain {
  const from = stepPoint(step, t0, u, widthMm);
  const to = stepPoint(step, t1, u, widthMm);
  const bulge = parallelBulge(step.segment, t1 - t0, (u * widthMm) / 2);
  return {
    closed: false,
    vertices: [
      { x: from.x, y: from.y, bulge },
      { x: to.x, y: to.y, bulge: 0 },
    ],
  };
}

/** A parallel arc keeps its sweep; inside its centre it would turn over, and is drawn straight. */
function parallelBulge(segment: Segment, share: number, left: number): number {
  if (segment.bulge === 0) return 0;
  const { radius } = arcOf(segment);
  if ((segment.bulge > 0 ? radius - left : radius + left) <= 0) return 0;
  return Math.tan(Math.atan(segment.bulge) * share);
}

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** The field of a ribbon between two lengths along it and two lines across. */
export function fieldBetween(frame: RibbonFrame, { from, to }: Stretch, u0: number, u1: number): ArcChain {
  const right = lineAlong(frame, u0, from, to);
  const left = reverseChain(lineAlong(frame, u1, from, to));
  return joinChains([right, bridge(right, left), left, bridge(left, right)], true);
}

function bridge(a: ArcChain, b: ArcChain): ArcChain {
  const from = a.vertices.at(-1);
  const to = b.vertices[0];
  return polyline(from && to ? [from, to] : [], false);
}
