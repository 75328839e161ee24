/**
 * A place on a ribbon piece as two numbers: how far along its centreline (mm from where it comes
 * out from under another strand) and how far across, from -1 (right edge) over 0 to 1 (left edge).
 * Lines along a ribbon are its exact parallels. Lines across it stand square to it, but lean
 * towards the mitre at pointed corners and towards the over-strand's edge at the ends.
 */
import { SAME_DIRECTION_RAD } from "../../base/tolerance.ts";
import { edgeCurve, halfEdge, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import {
  type ArcChain,
  chainBetween,
  joinChains,
  polyline,
  reverseChain,
  segmentsOf,
} from "../../geometry/arc-chain.ts";
import { firstMeet, lastMeet } from "../../geometry/first-meet.ts";
import { along, dot, leftOf, type Point, turnBetween, type Vec } from "../../geometry/point.ts";
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
  /** From corner to corner. */
  readonly runs: readonly FrameRun[];
  /** The edges of the strands that pass over its beginning and its end; none of a closed one. */
  readonly caps: readonly Cap[];
}

export interface FrameRun {
  /** Along the piece, mm. */
  readonly start: number;
  readonly lengthMm: number;
  readonly parts: readonly FramePart[];
  readonly widthMm: number;
  /** How far along a line across the ribbon lies further on at the left edge than in the middle, mm. */
  readonly startLean: number;
  readonly endLean: number;
}

/** One segment of the centreline. */
export interface FramePart {
  readonly segment: Segment;
  /** Along the piece, mm. */
  readonly start: number;
  readonly lengthMm: number;
}

export interface Cap {
  /** Direction of the over-strand. */
  readonly over: Vec;
  /** Points of its edge, from the right side of the piece to the left. */
  readonly edge: readonly Point[];
}

/** Undefined for a piece so short that nothing of it shows. */
export function ribbonFrame(
  diagram: KnotDiagram,
  piece: RibbonPiece,
  widthMm: number,
): RibbonFrame | undefined {
  const spine = visibleCentreline(piece);
  const segments = spine ? segmentsOf(spine) : [];
  if (segments.length === 0) return undefined;
  const closed = piece.ends.length === 0;
  const overs = piece.ends.map((crossing) => overDirection(diagram, crossing));
  const runs = leaningRuns(segments, overs, widthMm);
  const last = runs.at(-1);
  const frame = {
    strand: piece.strand,
    widthMm,
    lengthMm: last ? last.start + last.lengthMm : 0,
    closed,
    runs,
    caps: [],
  };
  return { ...frame, caps: overs.map((over, i) => ({ over, edge: capEdge(frame, piece, i === 0) })) };
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
  const over = halfEdge(crossing, diagram.over[crossing] ?? 0);
  const [first] = segmentsOf(edgeCurve(diagram, over));
  return first ? startDirection(first) : { x: 0, y: 0 };
}

function leaningRuns(segments: readonly Segment[], overs: readonly Vec[], widthMm: number): FrameRun[] {
  const half = widthMm / 2;
  const groups: FramePart[][] = [];
  let start = 0;
  for (const [i, segment] of segments.entries()) {
    const before = segments[i - 1];
    const part = { segment, start, lengthMm: segmentLength(segment) };
    const smooth = before && Math.abs(turnOf(before, segment)) <= SAME_DIRECTION_RAD;
    if (smooth) groups.at(-1)?.push(part);
    else groups.push([part]);
    start += part.lengthMm;
  }
  const closed = overs.length === 0;
  return groups.map((parts, i) => {
    const [first, last] = [parts[0]?.segment, parts.at(-1)?.segment];
    const before = groups.at(i - 1)?.at(-1)?.segment;
    const after = groups[(i + 1) % groups.length]?.[0]?.segment;
    const joinsBefore = i > 0 || closed;
    const joinsAfter = i < groups.length - 1 || closed;
    const begin = parts[0]?.start ?? 0;
    return {
      start: begin,
      lengthMm: parts.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
      parts,
      widthMm,
      startLean: leanOf(half, first, joinsBefore ? before : undefined, overs[0], "start"),
      endLean: leanOf(half, last, joinsAfter ? after : undefined, overs[1], "end"),
    };
  });
}

function turnOf(before: Segment, after: Segment): number {
  return turnBetween(endDirection(before), startDirection(after));
}

/** Sharper corners than this, radians, are not mitred: they would run away. */
const SHARPEST_TURN = 2.6;
/** Flatter than this, sine of the angle, a cap would. */
const FLATTEST_CAP = 0.25;

function leanOf(
  half: number,
  own: Segment | undefined,
  neighbour: Segment | undefined,
  over: Vec | undefined,
  at: "start" | "end",
): number {
  if (!own) return 0;
  if (neighbour) {
    const turn = at === "start" ? turnOf(neighbour, own) : -turnOf(own, neighbour);
    return Math.abs(turn) > SHARPEST_TURN ? 0 : half * Math.tan(turn / 2);
  }
  const travel = at === "start" ? startDirection(own) : endDirection(own);
  const sine = over ? dot(over, leftOf(travel)) : 0;
  return !over || Math.abs(sine) < FLATTEST_CAP ? 0 : (half * dot(over, travel)) / sine;
}

/** Lines across straighten up again within so many times their lean, and within a width at least. */
const LEAN_FADES = 2.5;

/** Where the line across at `s` meets the parallel at `u`, as a length along the piece. */
function leaning({ start, lengthMm, startLean, endLean, widthMm }: FrameRun, s: number, u: number): number {
  const share = (lean: number, apart: number) => {
    const within = Math.min(Math.max(LEAN_FADES * Math.abs(lean), widthMm), lengthMm);
    return lean * Math.max(0, 1 - apart / within);
  };
  return s + u * (share(startLean, s - start) + share(endLean, start + lengthMm - s));
}

/** The part in which a length along the piece falls; the first or last one of the run for lengths beyond it. */
function partAt({ parts }: FrameRun, s: number): FramePart | undefined {
  return parts.find((part) => s < part.start + part.lengthMm) ?? parts.at(-1);
}

/** On the parallel at `u`, square to the centreline; beyond a run's ends straight on. */
function squarePoint(run: FrameRun, s: number, u: number): Point {
  const part = partAt(run, s);
  if (!part) return { x: 0, y: 0 };
  const share = (s - part.start) / part.lengthMm;
  const held = Math.min(1, Math.max(0, share));
  const travel = directionAt(part.segment, held);
  const out = along(segmentPoint(part.segment, held), leftOf(travel), (u * run.widthMm) / 2);
  return along(out, travel, (share - held) * part.lengthMm);
}

/** The point `s` mm along the piece, within this run, and `u` across. */
export function runPoint(run: FrameRun, s: number, u: number): Point {
  return squarePoint(run, leaning(run, s, u), u);
}

/** Direction of travel `s` mm along the piece. */
export function runDirection(run: FrameRun, s: number): Vec {
  const part = partAt(run, s);
  return part
    ? directionAt(part.segment, Math.min(1, Math.max(0, (s - part.start) / part.lengthMm)))
    : { x: 1, y: 0 };
}

/** A line along the ribbon at `u`, between two lengths along it. */
export function lineAlong(frame: RibbonFrame, u: number, from = 0, to = frame.lengthMm): ArcChain {
  const lines = frame.runs.flatMap((run) => {
    const s0 = Math.max(from, run.start);
    const s1 = Math.min(to, run.start + run.lengthMm);
    return s0 < s1 ? runLine(run, leaning(run, s0, u), leaning(run, s1, u), u) : [];
  });
  return joinChains(lines, frame.closed && from <= 0 && to >= frame.lengthMm);
}

/** The parallel between two lengths along it, one chain for each part, and straight beyond them. */
function runLine(run: FrameRun, s0: number, s1: number, u: number): ArcChain[] {
  const [first, last] = [run.parts[0], run.parts.at(-1)];
  if (!first || !last || s1 <= s0) return [];
  const [begin, end] = [first.start, last.start + last.lengthMm];
  const lines: ArcChain[] = [];
  if (s0 < begin)
    lines.push(polyline([squarePoint(run, s0, u), squarePoint(run, Math.min(begin, s1), u)], false));
  for (const { segment, start, lengthMm } of run.parts) {
    const [a, b] = [Math.max(s0, start), Math.min(s1, start + lengthMm)];
    if (a >= b) continue;
    const bulge = parallelBulge(segment, (b - a) / lengthMm, (u * run.widthMm) / 2);
    const [from, to] = [partPoint(run, a, start, segment, u), partPoint(run, b, start, segment, u)];
    lines.push({
      closed: false,
      vertices: [
        { ...from, bulge },
        { ...to, bulge: 0 },
      ],
    });
  }
  if (s1 > end)
    lines.push(polyline([squarePoint(run, Math.max(end, s0), u), squarePoint(run, s1, u)], false));
  return lines;
}

function partPoint(run: FrameRun, s: number, start: number, segment: Segment, u: number): Point {
  const share = Math.min(1, Math.max(0, (s - start) / segmentLength(segment)));
  const { x, y } = along(
    segmentPoint(segment, share),
    leftOf(directionAt(segment, share)),
    (u * run.widthMm) / 2,
  );
  return { x, y };
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

/** The field of a ribbon between two lengths along it and two lines along it. */
export function fieldBetween(frame: RibbonFrame, { from, to }: Stretch, u0: number, u1: number): ArcChain {
  const right = openLine(lineAlong(frame, u0, from, to));
  const left = reverseChain(openLine(lineAlong(frame, u1, from, to)));
  return joinChains([right, bridge(right, left), left, bridge(left, right)], true);
}

/** A closed line as one that ends where it began. */
function openLine(line: ArcChain): ArcChain {
  const [first] = line.vertices;
  return line.closed && first
    ? { closed: false, vertices: [...line.vertices, { ...first, bulge: 0 }] }
    : line;
}

function bridge(a: ArcChain, b: ArcChain): ArcChain {
  const from = a.vertices.at(-1);
  const to = b.vertices[0];
  return polyline(from && to ? [from, to] : [], false);
}

/** Lines along which the edge of an over-strand is looked for, from the right to the left. */
const EDGE_LINES = [-0.99, -0.5, 0, 0.5, 0.99] as const;

/** Where lines along the ribbon run into the outline at an end: the over-strand's own edge, curved or not. */
function capEdge(frame: RibbonFrame, { outline }: RibbonPiece, atStart: boolean): Point[] {
  const edge = segmentsOf(outline);
  const reach = Math.min(frame.widthMm, frame.lengthMm / 2);
  const [from, to] = atStart ? [0, reach] : [frame.lengthMm - reach, frame.lengthMm];
  return EDGE_LINES.flatMap((u) => {
    const line = lineAlong(frame, u, from, to);
    const outward = segmentsOf(atStart ? reverseChain(line) : line);
    const last = outward.at(-1);
    if (!last) return [];
    const beyond = along(last.to, endDirection(last), frame.widthMm / 2);
    const met = firstMeet([...outward, { from: last.to, to: beyond, bulge: 0 }], edge);
    return [met ? met.point : last.to];
  });
}
