/** Where a chain meets itself, other than at the joints of neighbours. */
import { SAME_DIRECTION_RAD, SAME_POINT_MM } from "../base/tolerance.ts";
import { boundsGap } from "./bounds.ts";
import { BoxIndex } from "./distance.ts";
import { meet } from "./meet.ts";
import { distance, type Point, turnBetween } from "./point.ts";
import { endDirection, type Segment, segmentBounds, startDirection } from "./segment.ts";

/** One segment's part in a meeting point; the point's number tells which parts belong together. */
export interface SelfMeet {
  readonly segment: number;
  readonly share: number;
  readonly node: number;
  readonly point: Point;
}

/** Segments shorter than this do not part their neighbours: all three meet within SAME_POINT_MM of each other. */
const SLIVER_MM = 4 * SAME_POINT_MM;

/** Below this many segments, looking at all pairs is quicker than building an index. */
const INDEX_FROM = 40;

export function selfMeets(segments: readonly Segment[], closed: boolean): SelfMeet[] {
  const nodes = new Nodes();
  const meets: SelfMeet[] = [];
  for (const [i, j] of candidatePairs(segments)) {
    const a = segments[i];
    const b = segments[j];
    if (!a || !b || meetOnlyAtJoint(i, j, a, b)) continue;
    const found = meet(a, b);
    if (found.kind === "none") continue;
    const joint = sharedJoint(i, j, segments, closed);
    for (const { point, onA, onB } of found.at) {
      if (joint.some((known) => distance(known, point) <= SAME_POINT_MM)) continue;
      const node = nodes.numberOf(point);
      const there = nodes.pointOf(node);
      meets.push(
        { segment: i, share: onA, node, point: there },
        { segment: j, share: onB, node, point: there },
      );
    }
  }
  return withoutRepeats(meets);
}

/**
 * Neighbours that run smoothly on, and straight neighbours that turn, share their joint and
 * nothing else: tangent circles, and lines in different directions, have one common point.
 */
function meetOnlyAtJoint(i: number, j: number, a: Segment, b: Segment): boolean {
  if (j !== i + 1) return false;
  const turn = Math.abs(turnBetween(endDirection(a), startDirection(b)));
  if (turn <= SAME_DIRECTION_RAD) return true;
  return a.bulge === 0 && b.bulge === 0 && turn < Math.PI - SAME_DIRECTION_RAD;
}

function* candidatePairs(segments: readonly Segment[]): Iterable<readonly [number, number]> {
  const boxes = segments.map(segmentBounds);
  if (segments.length < INDEX_FROM) {
    for (let i = 0; i < boxes.length; i++) {
      for (let j = i + 1; j < boxes.length; j++) {
        const a = boxes[i];
        const b = boxes[j];
        if (a && b && boundsGap(a, b) <= SAME_POINT_MM) yield [i, j];
      }
    }
    return;
  }
  const index = new BoxIndex(boxes);
  for (const [i, box] of boxes.entries()) {
    for (const j of index.near(box, SAME_POINT_MM)) if (j > i) yield [i, j];
  }
}

/** The joints that two segments share by being neighbours, or but for a sliver between them. */
function sharedJoint(i: number, j: number, segments: readonly Segment[], closed: boolean): Point[] {
  const ahead = j - i;
  const behind = closed ? segments.length - ahead : Number.POSITIVE_INFINITY;
  return [...jointsAhead(i, ahead, j, segments), ...jointsAhead(j, behind, i, segments)];
}

function jointsAhead(from: number, steps: number, to: number, segments: readonly Segment[]): Point[] {
  const end = segments[from]?.to;
  const start = segments[to]?.from;
  if (!end || !start) return [];
  if (steps === 1) return [end];
  return steps === 2 && distance(end, start) <= SLIVER_MM ? [end, start] : [];
}

/** A place where three parts meet is found twice: each segment is cut there once. */
function withoutRepeats(meets: readonly SelfMeet[]): SelfMeet[] {
  const seen = new Set<string>();
  return meets.filter(({ segment, node }) => {
    const key = `${segment} ${node}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Numbers for points, the same for points that are one. */
class Nodes {
  readonly #points: Point[] = [];
  readonly #cells = new Map<string, number[]>();

  numberOf(point: Point): number {
    const size = 4 * SAME_POINT_MM;
    const column = Math.round(point.x / size);
    const row = Math.round(point.y / size);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const known of this.#cells.get(`${column + dx} ${row + dy}`) ?? []) {
          if (distance(this.pointOf(known), point) <= 2 * SAME_POINT_MM) return known;
        }
      }
    }
    const number = this.#points.push(point) - 1;
    const key = `${column} ${row}`;
    this.#cells.set(key, [...(this.#cells.get(key) ?? []), number]);
    return number;
  }

  pointOf(number: number): Point {
    return this.#points[number] ?? { x: Number.NaN, y: Number.NaN };
  }
}
