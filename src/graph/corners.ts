/**
 * The corners of a plane graph: between each line at a point and the next one counter-clockwise.
 *
 * An arm is a line as seen from one of its points, numbered 2 x line + 0 at `from`, + 1 at `to`.
 * The corner counter-clockwise of an arm has the arm's number. Walking from a corner out along
 * its first arm, the face stays on the left, and the next corner of that face lies at the far
 * point, clockwise of the arm by which it is reached.
 */
import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import type { Point } from "../geometry/point.ts";
import { bowArea, reverseSegment, type Segment, segmentPart, startDirection } from "../geometry/segment.ts";
import { type GraphLine, lineSegment, type PlaneGraph } from "./plane-graph.ts";

export interface Arm {
  readonly id: number;
  /** The point that it is seen from. */
  readonly point: number;
  /** The nearer half of its line, from the point to the line's middle. */
  readonly half: Segment;
  /** Direction at the point, radians. */
  readonly direction: number;
}

export interface Corner {
  readonly point: number;
  /** The arms clockwise and counter-clockwise of it: one and the same at the end of a lone line. */
  readonly first: Arm;
  readonly second: Arm;
  /** The angle from the first arm to the second, radians: more than 0 between two arms, a whole turn round a lone one. */
  readonly angle: number;
  /** The walk round a face that it belongs to. */
  readonly walk: number;
  /** Whether that is the walk round the outside of its connected part. */
  readonly outer: boolean;
}

export interface Corners {
  readonly arms: readonly Arm[];
  /** By the number of their first arm. */
  readonly corners: readonly Corner[];
  /** The connected part of each point. */
  readonly partOfPoint: Int32Array;
  /** Points without a line. */
  readonly lone: readonly number[];
}

export function findCorners(graph: PlaneGraph): Corners {
  const arms = graph.lines.flatMap((line, i) => armsOf(graph, line, i));
  const around = graph.points.map((): Arm[] => []);
  for (const arm of arms) around[arm.point]?.push(arm);
  const next = new Int32Array(arms.length);
  const before = new Int32Array(arms.length);
  for (const atPoint of around) {
    atPoint.sort(byDirection);
    for (const [i, arm] of atPoint.entries()) {
      const other = atPoint[i + 1] ?? atPoint[0] ?? arm;
      next[arm.id] = other.id;
      before[other.id] = arm.id;
    }
  }
  const partOfPoint = findParts(graph);
  const { walkOf, outer } = findWalks(graph, before, partOfPoint);
  const corners = arms.map((first): Corner => {
    const second = arms[next[first.id] ?? -1] ?? first;
    const walk = walkOf[first.id] ?? -1;
    const gap = second.direction - first.direction;
    const last = first === around[first.point]?.at(-1);
    return {
      point: first.point,
      first,
      second,
      angle: last ? gap + 2 * Math.PI : Math.max(0, gap),
      walk,
      outer: outer.has(walk),
    };
  });
  const lone = around.flatMap((atPoint, point) => (atPoint.length === 0 ? [point] : []));
  return { arms, corners, partOfPoint, lone };
}

function armsOf(graph: PlaneGraph, line: GraphLine, i: number): [Arm, Arm] {
  const forward = lineSegment(graph, line);
  const back = reverseSegment(forward);
  const arm = (id: number, point: number, whole: Segment): Arm => {
    const { x, y } = startDirection(whole);
    const angle = Math.atan2(y, x);
    // Due left is one direction, whichever side of it rounding falls on.
    const direction = angle > Math.PI - SAME_DIRECTION_RAD ? angle - 2 * Math.PI : angle;
    return { id, point, half: segmentPart(whole, 0, 0.5), direction };
  };
  return [arm(2 * i, line.from, forward), arm(2 * i + 1, line.to, back)];
}

/** Counter-clockwise; of arms that leave in one direction, first the one that bends clockwise of the other. */
function byDirection(a: Arm, b: Arm): number {
  const apart = a.direction - b.direction;
  if (Math.abs(apart) > SAME_DIRECTION_RAD) return apart;
  return bendOf(a) - bendOf(b);
}

/** Signed curvature, 1/mm. */
function bendOf({ half: { from, to, bulge } }: Arm): number {
  return (4 * bulge) / ((1 + bulge * bulge) * Math.hypot(to.x - from.x, to.y - from.y));
}

function findParts({ points, lines }: PlaneGraph): Int32Array {
  const root = Int32Array.from(points, (_, i) => i);
  const rootOf = (point: number): number => {
    let at = point;
    while (root[at] !== at) {
      root[at] = root[root[at] ?? at] ?? at;
      at = root[at] ?? at;
    }
    return at;
  };
  for (const { from, to } of lines) root[rootOf(from)] = rootOf(to);
  return root.map((_, point) => rootOf(point));
}

/** Walks round faces, and which of them run round the outside: those of least area in each part. */
function findWalks(graph: PlaneGraph, before: Int32Array, partOfPoint: Int32Array) {
  const walkOf = new Int32Array(before.length).fill(-1);
  const leastOfPart = new Map<number, { readonly walk: number; readonly area: number }>();
  let walks = 0;
  for (let start = 0; start < walkOf.length; start++) {
    if (walkOf[start] !== -1) continue;
    let area = 0;
    for (let at = start; walkOf[at] === -1; at = before[at ^ 1] ?? -1) {
      walkOf[at] = walks;
      area += areaAlong(graph, at);
    }
    const part = partOfPoint[graph.lines[start >> 1]?.from ?? -1] ?? -1;
    const least = leastOfPart.get(part);
    if (!least || area < least.area) leastOfPart.set(part, { walk: walks, area });
    walks++;
  }
  return { walkOf, outer: new Set([...leastOfPart.values()].map(({ walk }) => walk)) };
}

/** The area that a walk along an arm's line sweeps, seen from the origin. */
function areaAlong(graph: PlaneGraph, arm: number): number {
  const line = graph.lines[arm >> 1];
  if (!line) return 0;
  const segment = lineSegment(graph, line);
  const { from, to }: { from: Point; to: Point } = segment;
  const area = (from.x * to.y - from.y * to.x) / 2 + bowArea(segment);
  return (arm & 1) === 0 ? area : -area;
}
