/** An arc chain with a measure laid along it, for many questions about places on it. */
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance, type Point, type Vec } from "../../geometry/point.ts";
import {
  directionAt,
  endDirection,
  type Segment,
  segmentLength,
  segmentPoint,
  shareAt,
  startDirection,
} from "../../geometry/segment.ts";

export interface RuledChain {
  readonly closed: boolean;
  readonly segments: readonly Segment[];
  /** How far along the chain each segment begins, mm. */
  readonly starts: readonly number[];
  readonly lengthMm: number;
}

export interface RuledPlace {
  readonly point: Point;
  /** Of travel, length 1. */
  readonly direction: Vec;
}

export function ruleChain(chain: ArcChain): RuledChain {
  const segments = segmentsOf(chain);
  const starts: number[] = [];
  let lengthMm = 0;
  for (const segment of segments) {
    starts.push(lengthMm);
    lengthMm += segmentLength(segment);
  }
  return { closed: chain.closed, segments, starts, lengthMm };
}

/** The place `alongMm` along the chain; held to its ends. */
export function placeOn({ segments, starts, lengthMm }: RuledChain, alongMm: number): RuledPlace {
  let i = segments.length - 1;
  while (i > 0 && (starts[i] ?? 0) > alongMm) i--;
  const segment = segments[i];
  if (!segment)
    return { point: { x: Number.NaN, y: Number.NaN }, direction: { x: Number.NaN, y: Number.NaN } };
  const from = starts[i] ?? 0;
  const own = (starts[i + 1] ?? lengthMm) - from;
  const t = own === 0 ? 0 : Math.min(1, Math.max(0, (alongMm - from) / own));
  return { point: segmentPoint(segment, t), direction: directionAt(segment, t) };
}

export interface NearPlace {
  readonly point: Point;
  readonly alongMm: number;
  readonly distanceMm: number;
  /** Mean direction where the nearest place is a corner. */
  readonly direction: Vec;
}

/** The place of the stretch from `fromMm` to `toMm` that lies nearest to a point. */
export function nearestAlong(
  ruled: RuledChain,
  point: Point,
  fromMm = Number.NEGATIVE_INFINITY,
  toMm = Number.POSITIVE_INFINITY,
): NearPlace {
  let best: NearPlace | undefined;
  for (const [i, segment] of ruled.segments.entries()) {
    const start = ruled.starts[i] ?? 0;
    const own = (ruled.starts[i + 1] ?? ruled.lengthMm) - start;
    if (start > toMm || start + own < fromMm) continue;
    const near = nearestOn(segment, point);
    const distanceMm = distance(near, point);
    if (best && distanceMm >= best.distanceMm) continue;
    const share = shareAt(segment, near);
    best = {
      point: near,
      alongMm: start + share * own,
      distanceMm,
      direction: meanDirection(ruled, i, share),
    };
  }
  return best ?? { point, alongMm: 0, distanceMm: Number.POSITIVE_INFINITY, direction: { x: 1, y: 0 } };
}

function meanDirection({ segments }: RuledChain, i: number, share: number): Vec {
  const segment = segments[i];
  if (!segment) return { x: 1, y: 0 };
  const own = directionAt(segment, share);
  const beside = share >= 1 ? segments[i + 1] : share <= 0 ? segments[i - 1] : undefined;
  if (!beside) return own;
  const other = share >= 1 ? startDirection(beside) : endDirection(beside);
  return { x: own.x + other.x, y: own.y + other.y };
}
