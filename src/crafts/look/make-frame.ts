/** Ribbon pieces with coordinates of their own: cut into runs at pointed corners, their ends on the over-strands' edges. */
import { SAME_DIRECTION_RAD } from "../../base/tolerance.ts";
import { edgeCurve, halfEdge, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import { type ArcChain, chainBetween, segmentsOf } from "../../geometry/arc-chain.ts";
import { firstMeet, lastMeet } from "../../geometry/first-meet.ts";
import { turnBetween, type Vec } from "../../geometry/point.ts";
import { endDirection, type Segment, segmentLength, startDirection } from "../../geometry/segment.ts";
import type { RibbonPiece } from "../../ribbon/ribbon.ts";
import {
  ACROSS,
  type FramePart,
  type FrameRun,
  type Lean,
  type RibbonFrame,
  runLine,
} from "./ribbon-frame.ts";

const UPRIGHT: Lean = ACROSS.map(() => 0);

/** Undefined for a piece so short that nothing of it shows. */
export function makeFrame(
  diagram: KnotDiagram,
  piece: RibbonPiece,
  widthMm: number,
): RibbonFrame | undefined {
  const spine = visibleCentreline(piece);
  const segments = spine ? segmentsOf(spine) : [];
  const closed = piece.ends.length === 0;
  const runs = mitredRuns(segments, closed, widthMm);
  const last = runs.at(-1);
  if (!last) return undefined;
  return {
    strand: piece.strand,
    widthMm,
    lengthMm: last.start + last.lengthMm,
    closed,
    runs: closed ? runs : runs.map((run, i) => cappedRun(run, piece, i === 0, i === runs.length - 1)),
    overs: piece.ends.map((crossing) => overDirection(diagram, crossing)),
  };
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

function mitredRuns(segments: readonly Segment[], closed: boolean, widthMm: number): FrameRun[] {
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
  return groups.map((parts, i) => {
    const before = i > 0 || closed ? groups.at(i - 1) : undefined;
    const after = i < groups.length - 1 || closed ? groups[(i + 1) % groups.length] : undefined;
    return {
      start: parts[0]?.start ?? 0,
      lengthMm: parts.reduce((sum, { lengthMm }) => sum + lengthMm, 0),
      parts,
      widthMm,
      startLean: mitre(before?.at(-1), parts[0], widthMm / 2),
      endLean: mitre(parts.at(-1), after?.[0], -widthMm / 2),
    };
  });
}

function turnOf(before: Segment, after: Segment): number {
  return turnBetween(endDirection(before), startDirection(after));
}

/** Sharper corners than this, radians, are not mitred: they would run away. */
const SHARPEST_TURN = 2.6;

function mitre(before: FramePart | undefined, after: FramePart | undefined, half: number): Lean {
  if (!before || !after) return UPRIGHT;
  const turn = turnOf(before.segment, after.segment);
  if (Math.abs(turn) > SHARPEST_TURN) return UPRIGHT;
  return ACROSS.map((u) => u * half * Math.tan(turn / 2));
}

/** The run with its ends on the over-strands' edges, if it is the first or the last of its piece. */
function cappedRun(run: FrameRun, { outline }: RibbonPiece, first: boolean, last: boolean): FrameRun {
  const edge = segmentsOf(outline);
  return {
    ...run,
    startLean: first ? ACROSS.map((u) => reachOf(run, edge, u, "start")) : run.startLean,
    endLean: last ? ACROSS.map((u) => reachOf(run, edge, u, "end")) : run.endLean,
  };
}

/** The outermost parallels at which an over-strand's edge is looked for: further out lies the piece's own edge. */
const WITHIN_EDGE = 0.985;

/** How much later than the centreline the parallel at `u` meets the outline at an end, mm along the piece. */
function reachOf(run: FrameRun, edge: readonly Segment[], u: number, at: "start" | "end"): number {
  const { start, lengthMm, widthMm } = run;
  const inside = Math.min(widthMm, lengthMm / 2);
  const [from, to] =
    at === "start"
      ? [start - widthMm / 2, start + inside]
      : [start + lengthMm - inside, start + lengthMm + widthMm / 2];
  const lines = runLine(run, from, to, u * WITHIN_EDGE);
  const segments = lines.flatMap(({ chain }) => segmentsOf(chain));
  // Seen from inside the piece, the end comes first.
  const met = at === "start" ? lastMeet(segments, edge) : firstMeet(segments, edge);
  const line = met ? lines[met.onA.index] : undefined;
  if (!met || !line) return 0;
  const s = line.from + met.onA.t * (line.to - line.from);
  return s - (at === "start" ? start : start + lengthMm);
}
