/** The edges of the separate parts of a piece, and which of them lie near each other. */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsGap } from "../../geometry/bounds.ts";
import { BoxIndex, segmentNearness, surelyApart } from "../../geometry/distance.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { type Segment, segmentBounds, segmentLength, segmentPoint } from "../../geometry/segment.ts";

/** Two parts that can be bridged, and the least distance between them. */
export interface PartPair {
  readonly a: number;
  readonly b: number;
  readonly distance: number;
}

/** Where a bridge would stand: from a point of one part to the nearest of the other. */
export interface BridgeSite {
  readonly a: number;
  readonly b: number;
  readonly onA: Point;
  readonly onB: Point;
}

/** Places that are this much further apart than the nearest ones are as good. */
const AS_NEAR_MM = 0.02;

/** Two edges that curve apart settle in a few rounds; nearly parallel ones are square from the start. */
const MOST_SETTLING = 40;

interface Edge {
  readonly part: number;
  readonly segment: Segment;
  readonly box: Bounds;
  /** Its number along its ring, and how far along that it begins. */
  readonly ring: number;
  readonly start: number;
}

export class PartEdges {
  readonly #edges: Edge[] = [];
  readonly #byPart: Edge[][];
  readonly #ringLengths: number[] = [];
  readonly #index: BoxIndex;

  constructor(parts: readonly (readonly ArcChain[])[]) {
    this.#byPart = parts.map((chains, part) => chains.flatMap((chain) => this.#ringEdges(chain, part)));
    for (const edges of this.#byPart) this.#edges.push(...edges);
    this.#index = new BoxIndex(this.#edges.map(({ box }) => box));
  }

  #ringEdges(chain: ArcChain, part: number): Edge[] {
    const ring = this.#ringLengths.length;
    let start = 0;
    const edges = segmentsOf(chain).map((segment): Edge => {
      const edge = { part, segment, box: segmentBounds(segment), ring, start };
      start += segmentLength(segment);
      return edge;
    });
    this.#ringLengths.push(start);
    return edges;
  }

  /** Every two parts no further apart than `within` mm, with their exact distance. */
  pairs(within: number): PartPair[] {
    const least = new Map<number, PartPair>();
    for (const [i, own] of this.#edges.entries()) {
      for (const j of this.#index.near(own.box, within)) {
        const other = this.#edges[j];
        if (j <= i || !other || other.part === own.part) continue;
        const [a, b] = own.part < other.part ? [own.part, other.part] : [other.part, own.part];
        const key = a * this.#byPart.length + b;
        const limit = Math.min(within, least.get(key)?.distance ?? Number.POSITIVE_INFINITY);
        if (boundsGap(own.box, other.box) > limit || surelyApart(own.segment, other.segment, limit)) continue;
        const apart = segmentNearness(own.segment, other.segment).distance;
        if (apart <= within && apart < (least.get(key)?.distance ?? Number.POSITIVE_INFINITY))
          least.set(key, { a, b, distance: apart });
      }
    }
    return [...least.values()];
  }

  /** The part whose edge lies nearest to a point, looking no further than `within` mm. */
  partAt(point: Point, within: number): number | undefined {
    let nearest: { readonly part: number; readonly apart: number } | undefined;
    for (const i of this.#index.near(
      { minX: point.x, minY: point.y, maxX: point.x, maxY: point.y },
      within,
    )) {
      const edge = this.#edges[i];
      if (!edge) continue;
      const apart = distance(nearestOn(edge.segment, point), point);
      if (apart <= (nearest?.apart ?? within)) nearest = { part: edge.part, apart };
    }
    return nearest?.part;
  }

  /** The middle of the longest stretch along which two parts are as near as they come. */
  site({ a, b, distance: least }: PartPair, stepMm: number): BridgeSite {
    const within = least + AS_NEAR_MM;
    const samples: { readonly ring: number; readonly along: number }[] = [];
    for (const edge of this.#byPart[a] ?? []) {
      const near = this.#edgesNear(edge.box, b, within);
      if (near.length === 0) continue;
      const length = segmentLength(edge.segment);
      const steps = Math.max(1, Math.ceil(length / stepMm));
      const shares = Array.from({ length: steps + 1 }, (_, i) => i / steps);
      // Where an edge passes a corner its nearest place lies between the steps.
      for (const other of near) shares.push(shareNearest(edge.segment, other.segment));
      for (const share of shares.sort((p, q) => p - q)) {
        if (apartFrom(segmentPoint(edge.segment, share), near) <= within)
          samples.push({ ring: edge.ring, along: edge.start + share * length });
      }
    }
    const { ring, along } = middleOfLongest(samples, { stepMm, lengths: this.#ringLengths });
    const onA = this.#pointAlong(a, ring, along);
    return this.settled({ a, b, onA, onB: onA }, 2 * within + stepMm);
  }

  /** The site moved to where both edges face each other squarely, looking no further than `within` mm from its first end. */
  settled({ a, b, onA: first }: BridgeSite, within: number): BridgeSite {
    let onA = this.#nearestOf(a, first, within);
    let onB = this.#nearestOf(b, onA, within);
    for (let i = 0; i < MOST_SETTLING; i++) {
      const next = this.#nearestOf(a, onB, within);
      if (distance(next, onA) <= SAME_POINT_MM) break;
      onA = next;
      onB = this.#nearestOf(b, onA, within);
    }
    return { a, b, onA, onB };
  }

  #edgesNear(box: Bounds, part: number, within: number): Edge[] {
    return this.#index
      .near(box, within)
      .flatMap((i) => this.#edges[i] ?? [])
      .filter((edge) => edge.part === part);
  }

  #pointAlong(part: number, ring: number, along: number): Point {
    const length = this.#ringLengths[ring] ?? 1;
    const at = ((along % length) + length) % length;
    const edge = (this.#byPart[part] ?? []).findLast((own) => own.ring === ring && own.start <= at);
    if (!edge) return { x: 0, y: 0 };
    return segmentPoint(edge.segment, (at - edge.start) / segmentLength(edge.segment));
  }

  #nearestOf(part: number, point: Point, within: number): Point {
    const box = { minX: point.x, minY: point.y, maxX: point.x, maxY: point.y };
    const places = this.#edgesNear(box, part, within).map(({ segment }) => nearestOn(segment, point));
    return places.reduce(
      (best, place) => (distance(place, point) < distance(best, point) ? place : best),
      places[0] ?? point,
    );
  }
}

function apartFrom(point: Point, edges: readonly Edge[]): number {
  return Math.min(...edges.map(({ segment }) => distance(nearestOn(segment, point), point)));
}

/** The share of `segment` at which it comes nearest to `other`. */
function shareNearest(segment: Segment, other: Segment): number {
  const { onA } = segmentNearness(segment, other);
  const length = segmentLength(segment);
  // Good enough for a sample: chords are as long as their arcs to a few parts in a hundred.
  return length === 0 ? 0 : Math.min(1, distance(segment.from, onA) / length);
}

/** Samples in a row, no more than two steps from one to the next, make a run; rings close. */
function middleOfLongest(
  samples: readonly { readonly ring: number; readonly along: number }[],
  { stepMm, lengths }: { readonly stepMm: number; readonly lengths: readonly number[] },
): { readonly ring: number; readonly along: number } {
  const runs: { ring: number; from: number; to: number }[] = [];
  for (const { ring, along } of samples) {
    const last = runs.at(-1);
    if (last && last.ring === ring && along - last.to <= 2 * stepMm) last.to = along;
    else runs.push({ ring, from: along, to: along });
  }
  for (const run of runs) {
    // A run that ends where the ring begins goes on with the run that begins there.
    const length = lengths[run.ring] ?? 0;
    const first = runs.find((other) => other !== run && other.ring === run.ring && other.from <= 2 * stepMm);
    if (first && first.from + length - run.to <= 2 * stepMm) run.to = first.to + length;
  }
  const longest = runs.reduce(
    (best, run) => (run.to - run.from > best.to - best.from + AS_NEAR_MM ? run : best),
    runs[0] ?? { ring: 0, from: 0, to: 0 },
  );
  return { ring: longest.ring, along: (longest.from + longest.to) / 2 };
}
