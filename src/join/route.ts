/** The curve of a strand of a tie, and the strand laid into a wiring, cut at its crossings. */
import { type ArcChain, chainBetween, segmentsOf } from "../geometry/arc-chain.ts";
import { filletLegs } from "../geometry/fillet-legs.ts";
import { nearestOn } from "../geometry/meet.ts";
import { cross, distance, minus, type Point, unit, type Vec } from "../geometry/point.ts";
import { shareAt } from "../geometry/segment.ts";
import type { TieStrand } from "./tie.ts";
import type { WireEnd, Wiring } from "./wiring.ts";

/**
 * The filleted curve. Crossings are points of it at which nothing turns, so that no fillet
 * reaches past one and strands cross straight.
 */
export function routeCurve({ points }: Pick<TieStrand, "points">): ArcChain {
  return filletLegs(points.map(({ at }) => at));
}

export interface Route extends Pick<TieStrand, "points"> {
  readonly from: WireEnd;
  readonly to: WireEnd;
}

/**
 * Lays routes into the wiring; `crossings` are the wiring's numbers of theirs. Each is passed
 * exactly twice.
 */
export function layRoutes(wiring: Wiring, routes: readonly Route[], crossings: readonly number[]): void {
  const passes = new Map<number, Vec>();
  for (const route of routes) {
    let from = route.from;
    let rest = routeCurve(route);
    for (const [i, { at, crossing: own }] of route.points.entries()) {
      const before = route.points[i - 1];
      const crossing = own === undefined ? undefined : crossings[own];
      if (crossing === undefined || !before) continue;
      const direction = unit(minus(at, before.at));
      const [slotIn, slotOut] = slotsFor(passes.get(crossing), direction);
      if (!passes.has(crossing)) passes.set(crossing, direction);
      const [head, tail] = splitAtPoint(rest, at);
      wiring.add(head, from, { half: 4 * crossing + slotIn });
      from = { half: 4 * crossing + slotOut };
      rest = tail;
    }
    wiring.add(rest, from, route.to);
  }
}

/** Slots counter-clockwise: the first pass runs from 2 to 0, the second across it. */
function slotsFor(first: Vec | undefined, direction: Vec): readonly [number, number] {
  if (!first) return [2, 0];
  // Slot 1 lies to the left of the first pass.
  return cross(first, direction) > 0 ? [3, 1] : [1, 3];
}

function splitAtPoint(chain: ArcChain, at: Point): readonly [ArcChain, ArcChain] {
  let best = { index: 0, t: 0 };
  let least = Number.POSITIVE_INFINITY;
  for (const [index, segment] of segmentsOf(chain).entries()) {
    const point = nearestOn(segment, at);
    const apart = distance(point, at);
    if (apart < least) {
      least = apart;
      best = { index, t: shareAt(segment, point) };
    }
  }
  const end = { index: chain.vertices.length - 2, t: 1 };
  return [chainBetween(chain, { index: 0, t: 0 }, best), chainBetween(chain, best, end)];
}
