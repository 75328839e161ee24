/** Ribbon pieces with coordinates of their own: cut into runs at pointed corners, their ends on the over-strands' edges. */
import { SAME_DIRECTION_RAD, SAME_POINT_MM } from "../../base/tolerance.ts";
import { edgeCurve, halfEdge, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import { type ChainPlace, segmentsOf } from "../../geometry/arc-chain.ts";
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
  type Stretch,
} from "./ribbon-frame.ts";

const UPRIGHT: Lean = ACROSS.map(() => 0);

/** Undefined for a piece so short that nothing of it shows. */
export function makeFrame(
  diagram: KnotDiagram,
  piece: RibbonPiece,
  widthMm: number,
): RibbonFrame | undefined {
  const parts = measuredParts(piece);
  const shown = visibleStretch(piece, parts);
  if (!shown) return undefined;
  const closed = piece.ends.length === 0;
  const runs = mitredRuns(parts, shown, closed, widthMm);
  if (runs.length === 0) return undefined;
  return {
    strand: piece.strand,
    widthMm,
    lengthMm: shown.to - shown.from,
    closed,
    runs: closed ? runs : runs.map((run, i) => cappedRun(run, piece, i === 0, i === runs.length - 1)),
    overs: piece.ends.map((crossing) => overDirection(diagram, crossing)),
  };
}

/** The centreline's segments, each with where it begins, mm from the centreline's own beginning. */
function measuredParts({ centreline }: RibbonPiece): FramePart[] {
  let start = 0;
  return segmentsOf(centreline).map((segment) => {
    const part = { segment, start, lengthMm: segmentLength(segment) };
    start += part.lengthMm;
    return part;
  });
}

/** From the over-strand's edge at the beginning to that at the end. */
function visibleStretch({ outline, ends }: RibbonPiece, parts: readonly FramePart[]): Stretch | undefined {
  const last = parts.at(-1);
  if (ends.length === 0) return last && { from: 0, to: last.start + last.lengthMm };
  const [line, edge] = [parts.map(({ segment }) => segment), segmentsOf(outline)];
  const from = placeOn(parts, firstMeet(line, edge)?.onA);
  const to = placeOn(parts, lastMeet(line, edge)?.onA);
  return from !== undefined && to !== undefined && from < to ? { from, to } : undefined;
}

function placeOn(parts: readonly FramePart[], place: ChainPlace | undefined): number | undefined {
  const part = parts[place?.index ?? -1];
  return part && place && part.start + place.t * part.lengthMm;
}

/** The direction of the strand that lies over at a crossing. */
function overDirection(diagram: KnotDiagram, crossing: number): Vec {
  const over = halfEdge(crossing, diagram.over[crossing] ?? 0);
  const [first] = segmentsOf(edgeCurve(diagram, over));
  return first ? startDirection(first) : { x: 0, y: 0 };
}

/** Runs from corner to corner, counted from where the piece comes out; what lies hidden only leads up to it. */
function mitredRuns(
  measured: readonly FramePart[],
  shown: Stretch,
  closed: boolean,
  widthMm: number,
): FrameRun[] {
  const groups: FramePart[][] = [];
  for (const [i, { segment, start, lengthMm }] of measured.entries()) {
    const before = measured[i - 1]?.segment;
    const part = { segment, start: start - shown.from, lengthMm };
    const smooth = before && Math.abs(turnOf(before, segment)) <= SAME_DIRECTION_RAD;
    if (smooth) groups.at(-1)?.push(part);
    else groups.push([part]);
  }
  const runs = groups.map((parts, i) => {
    const before = i > 0 || closed ? groups.at(i - 1) : undefined;
    const after = i < groups.length - 1 || closed ? groups[(i + 1) % groups.length] : undefined;
    const end = (parts.at(-1)?.start ?? 0) + (parts.at(-1)?.lengthMm ?? 0);
    const start = Math.max(0, parts[0]?.start ?? 0);
    return {
      start,
      lengthMm: Math.min(shown.to - shown.from, end) - start,
      parts,
      widthMm,
      startLean: mitre(before?.at(-1), parts[0], widthMm / 2),
      endLean: mitre(parts.at(-1), after?.[0], -widthMm / 2),
    };
  });
  return runs.filter(({ lengthMm }) => lengthMm > SAME_POINT_MM);
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

/** How far past the middle's end an edge is looked for, in widths: a flat crossing has long corners. */
const BEYOND = 2;

/** How much later than the centreline the parallel at `u` meets the outline at an end, mm along the piece. */
function reachOf(run: FrameRun, edge: readonly Segment[], u: number, at: "start" | "end"): number {
  const { start, lengthMm, widthMm } = run;
  const inside = Math.min(widthMm, lengthMm / 2);
  const [from, to] =
    at === "start"
      ? [start - BEYOND * widthMm, start + inside]
      : [start + lengthMm - inside, start + lengthMm + BEYOND * widthMm];
  const lines = runLine(run, from, to, u * WITHIN_EDGE);
  const segments = lines.flatMap(({ chain }) => segmentsOf(chain));
  // Seen from inside the piece, the end comes first.
  const met = at === "start" ? lastMeet(segments, edge) : firstMeet(segments, edge);
  const line = met ? lines[met.onA.index] : undefined;
  if (!met || !line) return 0;
  const s = line.from + met.onA.t * (line.to - line.from);
  return s - (at === "start" ? start : start + lengthMm);
}
