/**
 * How much ground stands between neighbouring openings, measured on their real outlines:
 * apart at crossings, where an under-strand ends at the gap, and beside each other elsewhere.
 */
import type { ArcChain } from "../geometry/arc-chain.ts";
import { boundsGap } from "../geometry/bounds.ts";
import { type BoxedChain, BoxIndex, boxChain, segmentNearness, surelyApart } from "../geometry/distance.ts";
import { between, distance, dot, leftOf, minus, type Point, unit } from "../geometry/point.ts";
import { directionAt, type Segment, shareAt } from "../geometry/segment.ts";
import { type Finding, LeastFinder } from "./judge.ts";

export interface SpacedPart {
  /** The closed outline that is measured, its inside on the left; holes' outlines too. */
  readonly outlines: readonly ArcChain[];
  /** Crossings at which the part ends under another. */
  readonly ends: readonly number[];
  /** Crossings at which it passes over another. */
  readonly over: readonly number[];
}

export interface SpacingQuestion {
  /** The least ground that passes, mm. */
  readonly limitMm: number;
  /** What the beam takes from each measured distance, mm (0 for finished outlines). */
  readonly takenMm: number;
  /** Places this near to a crossing that two parts share belong to that crossing, mm. */
  readonly crossingReachMm: number;
  readonly crossingAt: (crossing: number) => Point;
}

export interface Spacing {
  readonly atCrossings: Finding;
  readonly beside: Finding;
}

/** Distances over this many limits are not looked for. */
const LOOK_FURTHER = 1.5;

export function measureSpacing(parts: readonly SpacedPart[], question: SpacingQuestion): Spacing {
  const measure = new SpacingMeasure(question);
  const boxed = parts.map((part) => part.outlines.map(boxChain));
  const owners: number[] = [];
  const chains: BoxedChain[] = [];
  for (const [owner, outlines] of boxed.entries()) {
    for (const chain of outlines) {
      owners.push(owner);
      chains.push(chain);
    }
  }
  const index = new BoxIndex(chains.map((chain) => chain.bounds));
  for (const [i, chain] of chains.entries()) {
    measure.self(chain);
    for (const j of index.near(chain.bounds, measure.within)) {
      const other = chains[j];
      const a = parts[owners[i] ?? -1];
      const b = parts[owners[j] ?? -1];
      // Two outlines of one part bound the part, not ground between parts.
      if (j <= i || !other || !a || !b || a === b) continue;
      measure.pair(chain, other, sharedCrossings(a, b));
    }
  }
  return { atCrossings: measure.atCrossings.finding, beside: measure.beside.finding };
}

/** Crossings at which one of the two ends under the other. */
function sharedCrossings(a: SpacedPart, b: SpacedPart): number[] {
  const shared = a.ends.filter((crossing) => b.over.includes(crossing));
  for (const crossing of b.ends) if (a.over.includes(crossing)) shared.push(crossing);
  return shared;
}

class SpacingMeasure {
  readonly within: number;
  readonly atCrossings: LeastFinder;
  readonly beside: LeastFinder;
  readonly #question: SpacingQuestion;

  constructor(question: SpacingQuestion) {
    this.#question = question;
    this.within = question.limitMm * LOOK_FURTHER + question.takenMm;
    this.atCrossings = new LeastFinder(question.limitMm);
    this.beside = new LeastFinder(question.limitMm);
  }

  /** The nearest places of two outlines: one for each crossing they share, one for all the rest. */
  pair(a: BoxedChain, b: BoxedChain, shared: readonly number[]): void {
    const centres = shared.map(this.#question.crossingAt);
    const nearest = new Array<{ value: number; at: Point } | undefined>(centres.length + 1);
    for (let i = 0; i < a.segments.length; i++) {
      const boxA = a.boxes[i];
      const segmentA = a.segments[i];
      if (!boxA || !segmentA || boundsGap(boxA, b.bounds) > this.within) continue;
      for (let j = 0; j < b.segments.length; j++) {
        const boxB = b.boxes[j];
        const segmentB = b.segments[j];
        if (!boxB || !segmentB || boundsGap(boxA, boxB) > this.within) continue;
        if (surelyApart(segmentA, segmentB, this.within)) continue;
        const found = segmentNearness(segmentA, segmentB);
        if (found.distance > this.within) continue;
        const at = between(found.onA, found.onB, 0.5);
        const near = centres.findIndex((centre) => distance(centre, at) <= this.#question.crossingReachMm);
        const kind = near < 0 ? centres.length : near;
        const known = nearest[kind];
        if (!known || found.distance < known.value) nearest[kind] = { value: found.distance, at };
      }
    }
    for (const [kind, found] of nearest.entries()) {
      if (!found) continue;
      const finder = kind < centres.length ? this.atCrossings : this.beside;
      finder.add(found.value - this.#question.takenMm, found.at);
    }
  }

  /** Where an outline comes near itself across the ground: a bend that folds back. */
  self(chain: BoxedChain): void {
    let nearest: { value: number; at: Point } | undefined;
    const count = chain.segments.length;
    for (let i = 0; i < count; i++) {
      const boxA = chain.boxes[i];
      const a = chain.segments[i];
      if (!boxA || !a) continue;
      for (let j = i + 2; j < count; j++) {
        const boxB = chain.boxes[j];
        const b = chain.segments[j];
        if (!boxB || !b || (i === 0 && j === count - 1) || boundsGap(boxA, boxB) > this.within) continue;
        if (surelyApart(a, b, this.within)) continue;
        const found = segmentNearness(a, b);
        if (nearest && found.distance >= nearest.value) continue;
        if (found.distance > this.within || !facesOut(a, found.onA, found.onB)) continue;
        if (!facesOut(b, found.onB, found.onA)) continue;
        nearest = { value: found.distance, at: between(found.onA, found.onB, 0.5) };
      }
    }
    if (nearest) this.beside.add(nearest.value - this.#question.takenMm, nearest.at);
  }
}

/**
 * Neighbours round a bend are near each other along the outline. Only places that look straight
 * at each other are nearest across ground (cosine of the angle between the link and the normal).
 */
const LOOKS_AT = 0.999;

function facesOut(segment: Segment, from: Point, to: Point): boolean {
  const outward = leftOf(directionAt(segment, shareAt(segment, from)));
  return -dot(outward, unit(minus(to, from))) > LOOKS_AT;
}
