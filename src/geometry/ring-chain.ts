/**
 * Polygons whose corners lie on lines and arcs -> chains of such lines and arcs again.
 *
 * A segment runs from ring corner to ring corner. All arcs between two points are one family,
 * told apart by half their sweep: the angle by which the way turns at any third point that the
 * arc passes through (inscribed angle, Euclid III.20-22). So each ring corner between gives a
 * span of angles that pass it near enough, and there is a segment where the spans have something
 * in common. Segments are made as long as they can be: first so close that they end where the
 * true lines and arcs ended, then neighbours are joined as far as the tolerance goes.
 *
 * What is kept is the distance between chain and ring both ways, the bows over the ring's sides
 * included. Where the ring is smooth the chain is nearly so: no tangents are forced.
 */
import { InternalError } from "../base/internal-error.ts";
import { type ArcChain, polyline } from "./arc-chain.ts";
import { cross, distance, dot, minus, type Point, turnBetween, unit } from "./point.ts";
import { type Region, type Ring, ringArea } from "./region.ts";
import { arcOf, type Segment } from "./segment.ts";

/** A greater turn is a corner of the shape, not of the chords that stand for an arc. */
const CORNER_RAD = Math.PI / 6;
/** How far the corners of a ring lie from the curves that they stand for: rounding of a region, twice. */
const RING_NOISE_MM = 2e-4;
/** Sides shorter than this share of the tolerance tell of rounding only. */
const SHORT_SHARE = 1 / 4;
/** A half circle may seem to turn this much further, by rounding. */
const HALF_TURN_SLACK_RAD = 1e-2;

/**
 * A chain of lines and arcs (at most half a turn each) within `toleranceMm` of the ring, and the
 * ring of it; closed, its direction kept. Rings of three corners, or of less mean width than twice
 * the tolerance, come out as they are.
 */
export function ringChain(ring: Ring, toleranceMm: number): ArcChain {
  const asItIs = polyline(ring, true);
  if (Math.abs(ringArea(ring)) <= perimeter(ring) * toleranceMm) return asItIs;
  const shortMm = toleranceMm * SHORT_SHARE;
  const points = withoutShortSides(ring, shortMm);
  if (points.length < 4) return asItIs;
  const withinMm = toleranceMm - shortMm;
  const close: Allowance = { cornersMm: Math.min(RING_NOISE_MM, withinMm), withinMm };
  const path = new RingPath(restarted(points, close));
  const pieces = path.longest(path.longest(path.sides(), close), { cornersMm: withinMm, withinMm });
  const chain = path.chain(pieces);
  // A sliver's two sides may have become one line.
  return chain.vertices.length < 3 && chain.vertices.every(({ bulge }) => bulge === 0) ? asItIs : chain;
}

/** Every edge of a region as a chain. */
export function regionChains({ rings }: Region, toleranceMm: number): ArcChain[] {
  return rings.map((ring) => ringChain(ring, toleranceMm));
}

function perimeter(ring: Ring): number {
  return ring.reduce((sum, point, i) => sum + distance(ring.at(i - 1) ?? point, point), 0);
}

/** Every point kept is at least that far from the one kept before it; what is left out lies as near to one kept. */
function withoutShortSides(ring: Ring, shortMm: number): Point[] {
  const kept: Point[] = [];
  for (const point of ring) {
    const before = kept.at(-1);
    if (!before || distance(before, point) > shortMm) kept.push(point);
  }
  const first = kept[0];
  while (kept.length > 1 && first && distance(kept.at(-1) ?? first, first) <= shortMm) kept.pop();
  return kept;
}

/** The ring begun at a corner; where it has none, at the end of a segment. */
function restarted(points: readonly Point[], close: Allowance): readonly Point[] {
  const path = new RingPath(points);
  const first = path.firstCorner() ?? path.longest(path.sides(), close)[0]?.to ?? 0;
  return [...points.slice(first), ...points.slice(0, first)];
}

interface Allowance {
  /** How far the ring's corners may lie from the segment. */
  readonly cornersMm: number;
  /** How far any of its points may. */
  readonly withinMm: number;
}

/** A segment from ring point to ring point, by their numbers. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly bulge: number;
}

class RingPath {
  /** The first point is also the last. */
  readonly #points: readonly Point[];
  /** All that the way has turned before it leaves each point, radians. */
  readonly #turned: readonly number[];
  /** The first corner at or after each point. */
  readonly #corner: readonly number[];

  constructor(ring: readonly Point[]) {
    const last = ring.length;
    this.#points = [...ring, ...ring.slice(0, 1)];
    const turns = ring.map((point, i) => turnAt(ring.at(i - 1) ?? point, point, this.#point(i + 1)));
    let sum = 0;
    this.#turned = turns.map((turn) => {
      sum += turn;
      return sum;
    });
    const corner = new Array<number>(last + 1).fill(last);
    for (let i = last - 1; i >= 0; i--) {
      const isCorner = Math.abs(turns[i] ?? 0) > CORNER_RAD;
      corner[i] = isCorner ? i : (corner[i + 1] ?? last);
    }
    this.#corner = corner;
  }

  chain(pieces: readonly Piece[]): ArcChain {
    const vertices = pieces.map(({ from, bulge }) => {
      const { x, y } = this.#point(from);
      return { x, y, bulge };
    });
    return { closed: true, vertices };
  }

  firstCorner(): number | undefined {
    const first = this.#corner[0];
    return first === undefined || first >= this.#points.length - 1 ? undefined : first;
  }

  /** The ring as it is. */
  sides(): Piece[] {
    return Array.from({ length: this.#points.length - 1 }, (_, i) => ({ from: i, to: i + 1, bulge: 0 }));
  }

  /** Neighbours joined, each time as many as one segment can stand for. */
  longest(pieces: readonly Piece[], allowance: Allowance): Piece[] {
    const joined: Piece[] = [];
    for (let next = 0; next < pieces.length; ) {
      const { count, piece } = this.#longestFrom(pieces, next, allowance);
      joined.push(piece);
      next += count;
    }
    return joined;
  }

  #longestFrom(
    pieces: readonly Piece[],
    first: number,
    allowance: Allowance,
  ): { count: number; piece: Piece } {
    const start = pieces[first];
    if (!start) throw new InternalError("no piece to begin with");
    let best = { count: 1, piece: start };
    const stands = (count: number) => {
      const end = pieces[first + count - 1];
      const piece = end && this.#fit(start.from, end.to, allowance);
      if (piece) best = { count, piece };
      return piece !== undefined;
    };
    let good = 1;
    let bad = 2;
    while (stands(bad)) [good, bad] = [bad, 2 * bad];
    while (bad - good > 1) {
      const middle = (good + bad) >> 1;
      if (stands(middle)) good = middle;
      else bad = middle;
    }
    return best;
  }

  /** The line or arc from point to point that passes all between near enough, if there is one. */
  #fit(from: number, to: number, allowance: Allowance): Piece | undefined {
    const turn = (this.#turned[to - 1] ?? 0) - (this.#turned[from] ?? 0);
    if (to > (this.#corner[from + 1] ?? 0) || Math.abs(turn) > Math.PI + HALF_TURN_SLACK_RAD)
      return undefined;
    const line = { from, to, bulge: 0 };
    if (this.#staysNear(line, { ...allowance, cornersMm: Math.min(RING_NOISE_MM, allowance.cornersMm) }))
      return line;
    const half = this.#halfSweep(from, to, allowance.cornersMm);
    if (half === undefined) return undefined;
    const arc = { from, to, bulge: Math.tan(half / 2) };
    return this.#staysNear(arc, allowance) ? arc : undefined;
  }

  /**
   * Half the sweep of the arc with the least squares of distances, held to what every point
   * allows. A point at a and b from the ends, which are c apart, may move by e across the arc for
   * every e c / (a b) that its angle differs.
   */
  #halfSweep(from: number, to: number, cornersMm: number): number | undefined {
    const start = this.#point(from);
    const end = this.#point(to);
    const chord = distance(start, end);
    let least = -Math.PI / 2;
    let most = Math.PI / 2;
    let sum = 0;
    let weights = 0;
    for (let i = from + 1; i < to; i++) {
      const point = this.#point(i);
      const angle = turnBetween(minus(point, start), minus(end, point));
      const perAngle = (distance(start, point) * distance(point, end)) / chord;
      least = Math.max(least, angle - cornersMm / perAngle);
      most = Math.min(most, angle + cornersMm / perAngle);
      if (!(least <= most)) return undefined;
      sum += angle * perAngle * perAngle;
      weights += perAngle * perAngle;
    }
    return weights > 0 ? Math.min(most, Math.max(least, sum / weights)) : undefined;
  }

  /** Whether the ring's way runs onward along the segment, its corners and sides as near as allowed. */
  #staysNear({ from, to, bulge }: Piece, { cornersMm, withinMm }: Allowance): boolean {
    const track = trackOf({ from: this.#point(from), to: this.#point(to), bulge });
    let before = this.#point(from);
    let offBefore = 0;
    for (let i = from + 1; i <= to; i++) {
      const point = this.#point(i);
      const off = i === to ? 0 : track.off(point);
      if (Math.abs(off) > cornersMm || !track.runsOn(before, point)) return false;
      // A side bows towards an arc's centre from where its ends lie.
      if (track.bow(distance(before, point)) - Math.min(off, offBefore) > withinMm) return false;
      before = point;
      offBefore = off;
    }
    return true;
  }

  #point(i: number): Point {
    const point = this.#points[i];
    if (!point) throw new InternalError(`no point ${i} on a ring of ${this.#points.length}`);
    return point;
  }
}

function turnAt(before: Point, point: Point, after: Point): number {
  return turnBetween(minus(point, before), minus(after, point));
}

/** A segment as what ring points are measured against. */
interface Track {
  /** How far a point lies from it; on an arc, outward. */
  readonly off: (point: Point) => number;
  /** Whether the way from one point to another goes along it, not back. */
  readonly runsOn: (from: Point, to: Point) => boolean;
  /** How far the middle of a straight side lies from it when its ends lie on it, mm. */
  readonly bow: (sideMm: number) => number;
}

function trackOf(segment: Segment): Track {
  const { from, to, bulge } = segment;
  if (bulge === 0) {
    const ahead = unit(minus(to, from));
    return {
      off: (point) => cross(ahead, minus(point, from)),
      runsOn: (a, b) => dot(ahead, minus(b, a)) > 0,
      bow: () => 0,
    };
  }
  const { centre, radius } = arcOf(segment);
  return {
    off: (point) => distance(centre, point) - radius,
    runsOn: (a, b) => bulge * cross(minus(a, centre), minus(b, centre)) > 0,
    bow: (sideMm) => radius - Math.sqrt(Math.max(0, radius * radius - (sideMm * sideMm) / 4)),
  };
}
