/**
 * A place on a ribbon piece as two numbers: how far along its centreline (mm from where it comes
 * out from under another strand) and how far across, from -1 (right edge) over 0 to 1 (left edge).
 * Lines along a ribbon are its exact parallels. Lines across it stand square to it, but lean
 * towards the mitre at pointed corners and towards the over-strand's edge at the ends.
 */
import { type ArcChain, joinChains, polyline, reverseChain } from "../../geometry/arc-chain.ts";
import { along, leftOf, type Point, type Vec } from "../../geometry/point.ts";
import { arcOf, directionAt, type Segment, segmentLength, segmentPoint } from "../../geometry/segment.ts";

export interface RibbonFrame {
  readonly strand: number;
  readonly widthMm: number;
  readonly lengthMm: number;
  /** Whether it comes back to its beginning: a strand that never passes under. */
  readonly closed: boolean;
  /** From corner to corner. */
  readonly runs: readonly FrameRun[];
  /** The directions of the strands that pass over its beginning and its end; none of a closed one. */
  readonly overs: readonly Vec[];
}

export interface FrameRun {
  /** Along the piece, mm. */
  readonly start: number;
  readonly lengthMm: number;
  /** All that leads from corner to corner, also what lies hidden below a strand that passes over an end. */
  readonly parts: readonly FramePart[];
  readonly widthMm: number;
  readonly startLean: Lean;
  readonly endLean: Lean;
}

/** One segment of the centreline. */
export interface FramePart {
  readonly segment: Segment;
  /** Along the piece, mm. */
  readonly start: number;
  readonly lengthMm: number;
}

/** How far along a line across the ribbon lies further on than in the middle, mm, at each of the places `ACROSS`. */
export type Lean = readonly number[];

export const ACROSS = [-1, -0.5, 0, 0.5, 1] as const;
/** Lines across straighten up again within so many times their lean, and within a width at least. */
const LEAN_FADES = 2.5;

/** Where the line across at `s` meets the parallel at `u`, as a length along the piece. */
function leaning({ start, lengthMm, startLean, endLean, widthMm }: FrameRun, s: number, u: number): number {
  const share = (lean: Lean, apart: number) => {
    const most = Math.max(...lean.map(Math.abs));
    const within = Math.min(Math.max(LEAN_FADES * most, widthMm), lengthMm);
    return leanAt(lean, u) * Math.max(0, 1 - apart / within);
  };
  return s + share(startLean, s - start) + share(endLean, start + lengthMm - s);
}

/** Between the places where it is known, in proportion. */
function leanAt(lean: Lean, u: number): number {
  const steps = ACROSS.length - 1;
  const at = Math.min(1, Math.max(0, (u + 1) / 2)) * steps;
  const before = Math.min(Math.floor(at), steps - 1);
  const [a = 0, b = 0] = [lean[before], lean[before + 1]];
  return a + (b - a) * (at - before);
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
  const chains = lines.map(({ chain }) => chain);
  return joinChains(chains, frame.closed && from <= 0 && to >= frame.lengthMm);
}

/** One segment of a parallel, with the lengths along the piece that it begins and ends at. */
export interface RunLine extends Stretch {
  readonly chain: ArcChain;
}

/** The parallel between two lengths along it, and straight on beyond the run's ends. */
export function runLine(run: FrameRun, s0: number, s1: number, u: number): RunLine[] {
  const [first, last] = [run.parts[0], run.parts.at(-1)];
  if (!first || !last) return [];
  const lines: RunLine[] = [];
  const straight = (from: number, to: number) => {
    if (from < to)
      lines.push({ from, to, chain: polyline([squarePoint(run, from, u), squarePoint(run, to, u)], false) });
  };
  straight(s0, Math.min(first.start, s1));
  for (const { segment, start, lengthMm } of run.parts) {
    const [from, to] = [Math.max(s0, start), Math.min(s1, start + lengthMm)];
    if (from >= to) continue;
    const bulge = parallelBulge(segment, (to - from) / lengthMm, (u * run.widthMm) / 2);
    const [a, b] = [partPoint(run, from, start, segment, u), partPoint(run, to, start, segment, u)];
    lines.push({
      from,
      to,
      chain: {
        closed: false,
        vertices: [
          { ...a, bulge },
          { ...b, bulge: 0 },
        ],
      },
    });
  }
  straight(Math.max(last.start + last.lengthMm, s0), s1);
  return lines;
}

/** What shows of a run, segment by segment. */
export function visibleParts({
  parts,
  start,
  lengthMm,
}: FrameRun): (Stretch & { readonly segment: Segment })[] {
  return parts
    .map((part) => ({
      segment: part.segment,
      from: Math.max(part.start, start),
      to: Math.min(part.start + part.lengthMm, start + lengthMm),
    }))
    .filter(({ from, to }) => from < to);
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

/** The edge of the strand that passes over an end, as points from the right side to the left. */
export function capEdge(frame: RibbonFrame, at: "start" | "end"): Point[] {
  const run = at === "start" ? frame.runs[0] : frame.runs.at(-1);
  return run ? ACROSS.map((u) => runPoint(run, at === "start" ? 0 : frame.lengthMm, u)) : [];
}
