/**
 * Contours strung together with as few retracts as can be, every link short and in ground that is
 * cut anyway.
 *
 * Whole contours: the shortest clear links between them make a tree (Kruskal, "On the shortest
 * spanning subtree of a graph", Proc. AMS 7, 1956). Its root is the innermost contour. The cutter
 * goes round each; where a deeper one hangs on it, it goes over, does that one and comes back;
 * those further out come last. So a simple pocket is cut from inside to outside, and one with
 * bays without leaving the wood.
 */
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { chainEnd, chainStart } from "../../geometry/arc-chain.ts";
import { chainNearness } from "../../geometry/distance.ts";
import { distance, type Point } from "../../geometry/point.ts";
import type { ContourPart } from "./pocket-contours.ts";
import type { RingRuler } from "./ring-ruler.ts";
import { type Trail, TrailPen } from "./trail.ts";

export interface TourRules {
  /** Longer links cost more time than a retract. */
  readonly longestLinkMm: number;
  /** Neighbouring contours lie no further apart; links as short as this are looked for first. */
  readonly neighbourMm: number;
  /** Whether the straight way may be cut. */
  readonly clear: (from: Point, to: Point) => boolean;
  /** Whether the cutter can go straight down there: all below was cleared before. */
  readonly cleared: (at: Point) => boolean;
}

interface Link {
  readonly a: number;
  readonly b: number;
  readonly lengthMm: number;
  readonly onA: number;
  readonly onB: number;
}

/** Contours that are whole rings -> one trail for each tree of them. */
export function ringTrails(parts: readonly ContourPart[], rules: TourRules): Trail[] {
  const trees = forest(parts, rules);
  return trees.map((tree) => {
    const root = tree.members.reduce((best, i) =>
      (parts[i]?.depth ?? 0) > (parts[best]?.depth ?? 0) ? i : best,
    );
    const tour = new RingTour(parts, tree.links, rules);
    return tour.from(root);
  });
}

interface Tree {
  readonly members: readonly number[];
  readonly links: readonly Link[];
}

function forest(parts: readonly ContourPart[], rules: TourRules): Tree[] {
  const group = parts.map((_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    while (group[root] !== root) root = group[root] ?? root;
    return root;
  };
  const taken: Link[] = [];
  // First what lies next to each other, then what is left apart: few pairs are looked at in full.
  for (const withinMm of [rules.neighbourMm, rules.longestLinkMm]) {
    const links: Link[] = [];
    for (let a = 0; a < parts.length; a++) {
      for (let b = a + 1; b < parts.length; b++) {
        if (rootOf(a) === rootOf(b)) continue;
        const link = linkBetween(parts, a, b, withinMm, rules);
        if (link) links.push(link);
      }
    }
    links.sort((p, q) => p.lengthMm - q.lengthMm || p.a - q.a || p.b - q.b);
    for (const link of links) {
      const a = rootOf(link.a);
      const b = rootOf(link.b);
      if (a === b) continue;
      group[b] = a;
      taken.push(link);
    }
  }
  const roots = [...new Set(parts.map((_, i) => rootOf(i)))];
  return roots.map((root) => ({
    members: parts.flatMap((_, i) => (rootOf(i) === root ? [i] : [])),
    links: taken.filter(({ a }) => rootOf(a) === root),
  }));
}

function linkBetween(
  parts: readonly ContourPart[],
  a: number,
  b: number,
  withinMm: number,
  { clear }: TourRules,
): Link | undefined {
  const from = parts[a]?.ring;
  const to = parts[b]?.ring;
  if (!from || !to) return undefined;
  const near = chainNearness(from.boxed, to.boxed, withinMm);
  if (!near || !clear(near.onA, near.onB)) return undefined;
  return { a, b, lengthMm: near.distance, onA: from.nearest(near.onA), onB: to.nearest(near.onB) };
}

/** A ring to be visited from another one: by the places on both. */
interface Visit {
  readonly ring: number;
  /** On the ring that the visit goes out from, counted from where that one is begun. */
  readonly after: number;
  readonly leaveAt: number;
  readonly arriveAt: number;
}

class RingTour {
  readonly #parts: readonly ContourPart[];
  readonly #links: readonly Link[];
  readonly #rules: TourRules;

  constructor(parts: readonly ContourPart[], links: readonly Link[], rules: TourRules) {
    this.#parts = parts;
    this.#links = links;
    this.#rules = rules;
  }

  from(root: number): Trail {
    const ring = this.#ring(root);
    const starts = Array.from({ length: STARTS }, (_, i) => (i * ring.length) / STARTS);
    const at = starts.find((length) => this.#rules.cleared(ring.at(length).point)) ?? 0;
    const pen = new TrailPen(ring.at(at).point);
    this.#visit(pen, root, at, undefined);
    return { chain: pen.chain, loop: { ring, at }, round: this.#links.length === 0 };
  }

  #visit(pen: TrailPen, number: number, start: number, cameFrom: Link | undefined): void {
    const ring = this.#ring(number);
    let gone = 0;
    for (const visit of this.#visits(number, start, cameFrom)) {
      pen.run(ring.part(start + gone, start + visit.after));
      gone = visit.after;
      pen.link(this.#ring(visit.ring).at(visit.arriveAt).point);
      this.#visit(pen, visit.ring, visit.arriveAt, this.#linkOf(number, visit.ring));
      pen.link(ring.at(visit.leaveAt).point);
    }
    pen.run(ring.part(start + gone, start + ring.length));
  }

  /** In the order in which the way round comes by; rings further out at the end of it, where that can be. */
  #visits(number: number, start: number, cameFrom: Link | undefined): Visit[] {
    const ring = this.#ring(number);
    const visits = this.#links
      .filter((link) => link !== cameFrom && (link.a === number || link.b === number))
      .map((link): Visit => {
        const outward = link.a === number;
        const other = outward ? link.b : link.a;
        const leaveAt = outward ? link.onA : link.onB;
        const later = this.#fromStart(number, start, other, link.lengthMm);
        return (
          later ?? {
            ring: other,
            after: ring.wrapped(leaveAt - start),
            leaveAt,
            arriveAt: outward ? link.onB : link.onA,
          }
        );
      });
    return visits.sort((p, q) => p.after - q.after || p.ring - q.ring);
  }

  /** To a ring further out the way is as short from anywhere. */
  #fromStart(number: number, start: number, other: number, lengthMm: number): Visit | undefined {
    if ((this.#parts[other]?.depth ?? 0) >= (this.#parts[number]?.depth ?? 0)) return undefined;
    const ring = this.#ring(number);
    const there = this.#ring(other);
    const from = ring.at(start).point;
    const arriveAt = there.nearest(from);
    const to = there.at(arriveAt).point;
    if (distance(from, to) > lengthMm * DETOUR_SHARE || !this.#rules.clear(from, to)) return undefined;
    return { ring: other, after: ring.length, leaveAt: start, arriveAt };
  }

  #linkOf(a: number, b: number): Link | undefined {
    return this.#links.find((link) => (link.a === a && link.b === b) || (link.a === b && link.b === a));
  }

  #ring(number: number): RingRuler {
    const part = this.#parts[number];
    if (!part) throw new InternalError(`no contour ${number}`);
    return part.ring;
  }
}

/** Places on a ring that are tried for its start. */
const STARTS = 24;

/** A link at the end of the round may be this much longer than the shortest. */
const DETOUR_SHARE = 2;

/** Stretches of contours -> trails: from the end of one to the nearest start among those that can be linked. */
export function stretchTrails(stretches: readonly Trail[], rules: TourRules, from: Point): Trail[] {
  const left = [...stretches];
  const trails: Trail[] = [];
  let at = from;
  while (left.length > 0) {
    const first = left.splice(nearestStart(left, at), 1)[0];
    if (!first) break;
    const pen = new TrailPen(chainStart(first.chain));
    pen.run(first.chain);
    at = chainEnd(first.chain);
    let joined = false;
    for (;;) {
      const reached = left.filter(({ chain }) => linkable(at, chainStart(chain), rules));
      const next = reached[nearestStart(reached, at)];
      if (!next) break;
      left.splice(left.indexOf(next), 1);
      pen.link(chainStart(next.chain));
      pen.run(next.chain);
      at = chainEnd(next.chain);
      joined = true;
    }
    trails.push(joined ? { ...first, chain: pen.chain, round: false } : first);
  }
  return trails;
}

function linkable(from: Point, to: Point, { longestLinkMm, clear }: TourRules): boolean {
  const apart = distance(from, to);
  return apart <= SAME_POINT_MM || (apart <= longestLinkMm && clear(from, to));
}

function nearestStart(trails: readonly Trail[], to: Point): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [i, { chain }] of trails.entries()) {
    const apart = distance(chainStart(chain), to);
    if (apart >= least) continue;
    best = i;
    least = apart;
  }
  return best;
}
