/** Bends chosen by the tool: the pairs of two parts that face best. */
import { boundsGap, boundsOf, mergeBounds } from "../geometry/bounds.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { distance, dot, minus, type Point, unit } from "../geometry/point.ts";
import type { Bend } from "./bend.ts";
import { FACING_DEG } from "./tie.ts";

export type BendPair = readonly [Bend, Bend];

/** Bends whose outward directions leave the line between them by more than this do not face. */
const FACING = Math.cos((FACING_DEG * Math.PI) / 180);

/** Pairs looked at; parts that face each other nowhere near are given up before all are. */
const MOST_PAIRS = 1_000_000;

/**
 * The nearest facing pairs, at most `most`; of pairs equally near (mirrored pieces have one at
 * each end of the shared side) the ones nearest to the middle between the parts come first.
 */
export function facingPairs(ofA: readonly Bend[], ofB: readonly Bend[], most: number): BendPair[] {
  if (ofA.length === 0 || ofB.length === 0) return [];
  const boxA = boundsOf(ofA.map(({ at }) => at));
  const boxB = boundsOf(ofB.map(({ at }) => at));
  const all = mergeBounds([boxA, boxB]);
  const middle = { x: (all.minX + all.maxX) / 2, y: (all.minY + all.maxY) / 2 };
  const whole = distance({ x: all.minX, y: all.minY }, { x: all.maxX, y: all.maxY });
  const index = new BoxIndex(ofB.map(({ at }) => boundsOf([at])));
  let found: ScoredPair[] = [];
  let looked = 0;
  // Few bends lie near: look no further than what is found needs.
  const least = whole / Math.max(64, ofA.length);
  for (let reach = Math.max(2 * boundsGap(boxA, boxB), least); looked < MOST_PAIRS; reach *= 2) {
    found = [];
    for (const a of ofA) {
      for (const i of index.near(boundsOf([a.at]), reach)) {
        const b = ofB[i];
        looked++;
        const score = b && scoreOf(a, b, middle);
        if (b && score !== undefined && score <= reach) found.push({ pair: [a, b], score });
      }
    }
    if (found.length >= most || reach > 2 * whole) break;
  }
  return found
    .sort((p, q) => p.score - q.score)
    .slice(0, most)
    .map(({ pair }) => pair);
}

interface ScoredPair {
  readonly pair: BendPair;
  readonly score: number;
}

/** mm apart, more for a pair that looks past each other; undefined for one that does not face. */
function scoreOf(a: Bend, b: Bend, middle: Point): number | undefined {
  const axis = unit(minus(b.at, a.at));
  const fromA = dot(axis, a.outward);
  const fromB = -dot(axis, b.outward);
  if (fromA < FACING || fromB < FACING) return undefined;
  const off = distance(a.at, middle) + distance(b.at, middle);
  return distance(a.at, b.at) / (fromA * fromB) + off / 1000;
}
