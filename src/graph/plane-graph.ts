/**
 * Plane graphs: points, and lines or arcs between them that meet at their ends only. A graph
 * that cannot be drawn so is refused, naming the lines and points at fault by their numbers.
 */
import type { Fault } from "../base/fault.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import type { Bounds } from "../geometry/bounds.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { type MeetPoint, meet, nearestOn } from "../geometry/meet.ts";
import { distance, type Point } from "../geometry/point.ts";
import { type Segment, segmentBounds } from "../geometry/segment.ts";

export interface PlaneGraph {
  /** mm */
  readonly points: readonly Point[];
  readonly lines: readonly GraphLine[];
}

export interface GraphLine {
  /** Numbers of points. */
  readonly from: number;
  readonly to: number;
  /** 0 for a straight line, that of an arc (segment.ts) otherwise: at most a half circle. */
  readonly bulge: number;
}

/** More faults than this would only repeat one mistake. */
const MOST_FAULTS = 20;

/** What keeps the graph from being drawn in the plane; nothing when all is well. */
export function planeGraphFaults(graph: PlaneGraph): Fault[] {
  if (graph.points.length === 0) return [{ code: "graph-empty" }];
  const broken = graph.lines.flatMap((line, i) => lineFaults(graph, line, i));
  if (broken.length > 0) return broken.slice(0, MOST_FAULTS);
  const coincident = atMost(coincidentPoints(graph.points));
  if (coincident.length > 0) return coincident;
  const segments = graph.lines.map((line) => lineSegment(graph, line));
  const boxes = segments.map(segmentBounds);
  const index = new BoxIndex(boxes);
  const onLines = atMost(pointsOnLines(graph, segments, index));
  return onLines.length > 0 ? onLines : atMost(meetingLines(graph, segments, boxes, index));
}

/** The curve of a line, from its first point to its second. */
export function lineSegment({ points }: PlaneGraph, { from, to, bulge }: GraphLine): Segment {
  return { from: points[from] ?? NOWHERE, to: points[to] ?? NOWHERE, bulge };
}

const NOWHERE: Point = { x: Number.NaN, y: Number.NaN };

/** What is wrong with a line by itself. */
function lineFaults({ points }: PlaneGraph, { from, to, bulge }: GraphLine, line: number): Fault[] {
  const path = ["lines", line];
  const missing = [from, to].find((point) => points[point] === undefined);
  if (missing !== undefined) return [{ code: "graph-no-point", path, found: missing, points: points.length }];
  if (from === to) return [{ code: "graph-loop-line", path, graphLine: line, point: from }];
  if (!(Math.abs(bulge) <= 1))
    return [{ code: "number-out-of-range", path, found: bulge, least: -1, greatest: 1, unit: "" }];
  return [];
}

function* coincidentPoints(points: readonly Point[]): Iterable<Fault> {
  const boxes = points.map(boxOf);
  const index = new BoxIndex(boxes);
  for (const [first, box] of boxes.entries()) {
    for (const second of index.near(box, SAME_POINT_MM).sort(ascending)) {
      const at = points[first];
      const there = points[second];
      if (second <= first || !at || !there || distance(at, there) > SAME_POINT_MM) continue;
      yield { code: "graph-coincident-points", path: ["points", second], first, second, atMm: placeOf(at) };
    }
  }
}

/** Points on a line that does not end there. */
function* pointsOnLines(
  { points, lines }: PlaneGraph,
  segments: readonly Segment[],
  index: BoxIndex,
): Iterable<Fault> {
  for (const [point, at] of points.entries()) {
    for (const line of index.near(boxOf(at), SAME_POINT_MM).sort(ascending)) {
      const segment = segments[line];
      const ends = lines[line];
      if (!segment || !ends || ends.from === point || ends.to === point) continue;
      if (distance(nearestOn(segment, at), at) > SAME_POINT_MM) continue;
      yield { code: "graph-point-on-line", path: ["lines", line], point, graphLine: line, atMm: placeOf(at) };
    }
  }
}

function* meetingLines(
  { lines }: PlaneGraph,
  segments: readonly Segment[],
  boxes: readonly Bounds[],
  index: BoxIndex,
): Iterable<Fault> {
  for (const [second, box] of boxes.entries()) {
    const b = segments[second];
    const lineB = lines[second];
    for (const first of index.near(box, SAME_POINT_MM).sort(ascending)) {
      const a = segments[first];
      const lineA = lines[first];
      if (first >= second || !a || !b || !lineA || !lineB) continue;
      const path = ["lines", second];
      if (isSameCurve(lineA, lineB)) {
        yield { code: "graph-double-line", path, first, second };
        continue;
      }
      const at = innerMeet(a, b);
      if (at) yield { code: "graph-crossing-lines", path, first, second, atMm: placeOf(at.point) };
    }
  }
}

/** Two lines between the same points that run along each other. */
function isSameCurve(a: GraphLine, b: GraphLine): boolean {
  if (a.from === b.from && a.to === b.to) return Math.abs(a.bulge - b.bulge) <= SAME_BULGE;
  return a.from === b.to && a.to === b.from && Math.abs(a.bulge + b.bulge) <= SAME_BULGE;
}

const SAME_BULGE = 1e-9;

/** Where two lines meet other than at an end that they share. No point lies on a line that does not end there. */
function innerMeet(a: Segment, b: Segment): MeetPoint | undefined {
  const shared = [a.from, a.to].filter((end) => isAt(end, b.from) || isAt(end, b.to));
  // Straight lines from one point part there for good.
  if (shared.length === 1 && a.bulge === 0 && b.bulge === 0) return undefined;
  const found = meet(a, b);
  if (found.kind === "none") return undefined;
  return found.at.find(({ point }) => !shared.some((end) => isAt(end, point)));
}

function isAt(a: Point, b: Point): boolean {
  return distance(a, b) <= SAME_POINT_MM;
}

function atMost(faults: Iterable<Fault>): Fault[] {
  const some: Fault[] = [];
  for (const fault of faults) if (some.push(fault) === MOST_FAULTS) break;
  return some;
}

function boxOf({ x, y }: Point): Bounds {
  return { minX: x, minY: y, maxX: x, maxY: y };
}

function placeOf({ x, y }: Point): { readonly x: number; readonly y: number } {
  return { x, y };
}

function ascending(a: number, b: number): number {
  return a - b;
}
