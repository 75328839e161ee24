/** Places on a closed chain by the length along it, round and round: length 0 and the whole length are one place. */
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, chainOf, segmentsOf } from "../../geometry/arc-chain.ts";
import { type BoxedChain, boxChain } from "../../geometry/distance.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance, type Point, type Vec } from "../../geometry/point.ts";
import {
  directionAt,
  type Segment,
  segmentLength,
  segmentPart,
  segmentPoint,
  shareAt,
} from "../../geometry/segment.ts";

export interface RingPlace {
  readonly point: Point;
  /** The way it runs there, length 1. */
  readonly direction: Vec;
}

export class RingRuler {
  readonly boxed: BoxedChain;
  readonly length: number;
  readonly segments: readonly Segment[];
  /** Length along the ring where each segment begins, and at last the whole. */
  readonly begins: readonly number[];

  constructor(ring: ArcChain) {
    this.boxed = boxChain(ring);
    this.segments = segmentsOf(ring).filter(({ from, to }) => distance(from, to) > SAME_POINT_MM);
    const begins = [0];
    for (const segment of this.segments) begins.push((begins.at(-1) ?? 0) + segmentLength(segment));
    this.begins = begins;
    this.length = begins.at(-1) ?? 0;
    if (!(this.length > 0)) throw new InternalError("a ring without length");
  }

  at(length: number): RingPlace {
    const { segment, share } = this.#find(length);
    return { point: segmentPoint(segment, share), direction: directionAt(segment, share) };
  }

  /** The open way from one length on to a greater one, more than once round if need be. */
  part(from: number, to: number): ArcChain {
    const pieces: Segment[] = [];
    let { index, share } = this.#find(from);
    let left = to - from;
    while (left > SAME_POINT_MM) {
      const segment = this.#segment(index);
      const own = (this.begins[index + 1] ?? 0) - (this.begins[index] ?? 0);
      const rest = own * (1 - share);
      const taken = rest - left <= SAME_POINT_MM ? rest : left;
      if (taken > SAME_POINT_MM) {
        const end = taken < rest ? share + taken / own : 1;
        pieces.push(share === 0 && end === 1 ? segment : segmentPart(segment, share, end));
      }
      left -= taken;
      share = 0;
      index = (index + 1) % this.segments.length;
    }
    return chainOf(pieces, false);
  }

  /** Length along the ring of its place nearest to a point. */
  nearest(point: Point): number {
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, segment] of this.segments.entries()) {
      const on = nearestOn(segment, point);
      const apart = distance(on, point);
      if (apart >= least) continue;
      least = apart;
      const begin = this.begins[i] ?? 0;
      best = begin + shareAt(segment, on) * ((this.begins[i + 1] ?? begin) - begin);
    }
    return best;
  }

  /** A length brought into 0 to the whole. */
  wrapped(length: number): number {
    const rest = length % this.length;
    return rest < 0 ? rest + this.length : rest;
  }

  #find(length: number): { readonly index: number; readonly segment: Segment; readonly share: number } {
    const wanted = this.wrapped(length);
    let low = 0;
    let high = this.segments.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.begins[middle] ?? 0) <= wanted) low = middle;
      else high = middle - 1;
    }
    const begin = this.begins[low] ?? 0;
    const own = (this.begins[low + 1] ?? begin) - begin;
    const share = own > 0 ? Math.min(1, (wanted - begin) / own) : 0;
    // Within a point of its end it is the next segment's start, so that no slivers come about.
    if (own * (1 - share) <= SAME_POINT_MM) {
      const next = (low + 1) % this.segments.length;
      return { index: next, segment: this.#segment(next), share: 0 };
    }
    return { index: low, segment: this.#segment(low), share: own * share <= SAME_POINT_MM ? 0 : share };
  }

  #segment(index: number): Segment {
    const segment = this.segments[index];
    if (!segment) throw new InternalError(`a ring has no segment ${index}`);
    return segment;
  }
}
