/** How far curves lie apart, exactly for lines and arcs; many curves through a spatial index. */
import Flatbush from "flatbush";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import type { ArcChain } from "./arc-chain.ts";
import { segmentsOf } from "./arc-chain.ts";
import { type Bounds, boundsGap, growBounds, mergeBounds } from "./bounds.ts";
import { meet, nearestOn, squaredToLine } from "./meet.ts";
import { along, distance, minus, type Point, unit } from "./point.ts";
import { arcOf, arcSpans, type Segment, segmentBounds } from "./segment.ts";
import { sideOf } from "./side.ts";

/** The nearest points of two curves and how far they lie apart, mm. */
export interface Nearness {
  readonly distance: number;
  readonly onA: Point;
  readonly onB: Point;
}

export function segmentNearness(a: Segment, b: Segment): Nearness {
  if (a.bulge === 0 && b.bulge === 0) return lineNearness(a, b);
  const shared = meet(a, b);
  if (shared.kind !== "none" && shared.at[0]) return together(shared.at[0].point);
  let best = nearer(fromA(a.from, b), fromA(a.to, b));
  best = nearer(best, swapped(fromA(b.from, a)));
  best = nearer(best, swapped(fromA(b.to, a)));
  for (const point of innerCandidates(a, b)) best = nearer(best, fromA(point, b));
  return best;
}

/** Straight segments that do not cross are nearest at one of their four ends. */
function lineNearness(a: Segment, b: Segment): Nearness {
  if (linesCross(a, b)) {
    const crossing = meet(a, b);
    if (crossing.kind !== "none" && crossing.at[0]) return together(crossing.at[0].point);
  }
  const fromStart = squaredToLine(a.from, b.from, b.to);
  const fromEnd = squaredToLine(a.to, b.from, b.to);
  const toStart = squaredToLine(b.from, a.from, a.to);
  const toEnd = squaredToLine(b.to, a.from, a.to);
  const least = Math.min(fromStart, fromEnd, toStart, toEnd);
  if (least === fromStart) return fromA(a.from, b);
  if (least === fromEnd) return fromA(a.to, b);
  return swapped(fromA(least === toStart ? b.from : b.to, a));
}

function linesCross(a: Segment, b: Segment): boolean {
  return (
    sideOf(a.from, a.to, b.from) !== sideOf(a.from, a.to, b.to) &&
    sideOf(b.from, b.to, a.from) !== sideOf(b.from, b.to, a.to)
  );
}

function together(point: Point): Nearness {
  return { distance: 0, onA: point, onB: point };
}

function fromA(onA: Point, b: Segment): Nearness {
  const onB = nearestOn(b, onA);
  return { distance: distance(onA, onB), onA, onB };
}

function swapped({ distance: apart, onA, onB }: Nearness): Nearness {
  return { distance: apart, onA: onB, onB: onA };
}

function nearer(a: Nearness, b: Nearness): Nearness {
  return b.distance < a.distance ? b : a;
}

/** Points inside `a` where the distance to the carrier of `b` is least or greatest. */
function innerCandidates(a: Segment, b: Segment): Point[] {
  if (a.bulge === 0) return [nearestOn(a, arcOf(b).centre)];
  const { centre, radius } = arcOf(a);
  const target = b.bulge === 0 ? nearestOn(b, centre) : arcOf(b).centre;
  // About one centre arcs are as near at an end of one of them as anywhere.
  if (distance(target, centre) <= SAME_POINT_MM) return [];
  const direction = unit(minus(target, centre));
  return [along(centre, direction, radius), along(centre, direction, -radius)].filter((point) =>
    arcSpans(a, point),
  );
}

/**
 * Whether two segments surely lie further apart than `within` mm: straight ones of which one
 * lies wholly beyond a line along the other. Cheap, and true of most neighbours that run side by side.
 */
export function surelyApart(a: Segment, b: Segment, within: number): boolean {
  return a.bulge === 0 && b.bulge === 0 && (liesBeyond(b, a, within) || liesBeyond(a, b, within));
}

/** Whether both ends of `segment` lie on one side of the line through `line`, further than `within` from it. */
function liesBeyond(segment: Segment, line: Segment, within: number): boolean {
  const dx = line.to.x - line.from.x;
  const dy = line.to.y - line.from.y;
  const from = dx * (segment.from.y - line.from.y) - dy * (segment.from.x - line.from.x);
  const to = dx * (segment.to.y - line.from.y) - dy * (segment.to.x - line.from.x);
  const least = Math.min(Math.abs(from), Math.abs(to));
  return from > 0 === to > 0 && least * least > within * within * (dx * dx + dy * dy);
}

/** A chain's segments with their boxes, made once for many questions. */
export interface BoxedChain {
  readonly segments: readonly Segment[];
  readonly boxes: readonly Bounds[];
  readonly bounds: Bounds;
}

export function boxChain(chain: ArcChain): BoxedChain {
  const segments = segmentsOf(chain);
  const boxes = segments.map(segmentBounds);
  return { segments, boxes, bounds: mergeBounds(boxes) };
}

/** The nearest points of two chains, or undefined when they lie further apart than `within` mm. */
export function chainNearness(a: BoxedChain, b: BoxedChain, within: number): Nearness | undefined {
  let best: Nearness | undefined;
  let limit = within;
  if (boundsGap(a.bounds, b.bounds) > limit) return undefined;
  for (let i = 0; i < a.segments.length; i++) {
    const boxA = a.boxes[i];
    const segmentA = a.segments[i];
    if (!boxA || !segmentA || boundsGap(boxA, b.bounds) > limit) continue;
    for (let j = 0; j < b.segments.length; j++) {
      const boxB = b.boxes[j];
      const segmentB = b.segments[j];
      if (!boxB || !segmentB || boundsGap(boxA, boxB) > limit) continue;
      if (surelyApart(segmentA, segmentB, limit)) continue;
      const found = segmentNearness(segmentA, segmentB);
      if (found.distance <= limit && (best === undefined || found.distance < best.distance)) {
        best = found;
        limit = found.distance;
      }
    }
  }
  return best;
}

/** Boxes in a static R-tree; answers which of them lie near a box. */
export class BoxIndex {
  readonly #tree: Flatbush | undefined;

  constructor(boxes: readonly Bounds[]) {
    // The library refuses an empty index.
    if (boxes.length === 0) return;
    const tree = new Flatbush(boxes.length);
    for (const { minX, minY, maxX, maxY } of boxes) tree.add(minX, minY, maxX, maxY);
    tree.finish();
    this.#tree = tree;
  }

  /** The numbers of the boxes that come within `margin` mm of `box`. */
  near(box: Bounds, margin: number): number[] {
    const { minX, minY, maxX, maxY } = growBounds(box, margin);
    return this.#tree?.search(minX, minY, maxX, maxY) ?? [];
  }
}
