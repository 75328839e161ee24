/**
 * The one curve type: a chain of points, each with the bulge of the segment that leaves it
 * (segment.ts). A closed chain's last vertex leads back to its first; the bulge of an open
 * chain's last vertex is 0 and means nothing.
 */
import { InternalError } from "../base/internal-error.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type Bounds, mergeBounds } from "./bounds.ts";
import { cross, distance, dot, minus, type Point } from "./point.ts";
import { bowArea, type Segment, segmentBounds, segmentLength, segmentPart, segmentPoint } from "./segment.ts";

export interface Vertex extends Point {
  readonly bulge: number;
}

export interface ArcChain {
  readonly closed: boolean;
  readonly vertices: readonly Vertex[];
}

/** How many segments the chain has. */
function segmentCount({ closed, vertices }: ArcChain): number {
  return closed ? vertices.length : Math.max(0, vertices.length - 1);
}

export function segmentsOf(chain: ArcChain): Segment[] {
  const { vertices } = chain;
  const count = segmentCount(chain);
  const segments: Segment[] = [];
  for (let i = 0; i < count; i++) {
    const from = vertexAt(chain, i);
    const to = vertexAt(chain, i + 1 === vertices.length ? 0 : i + 1);
    segments.push({ from, to, bulge: from.bulge });
  }
  return segments;
}

/** A chain through segments that each begin where the one before ended. */
export function chainOf(segments: readonly Segment[], closed: boolean): ArcChain {
  const vertices: Vertex[] = segments.map(({ from, bulge }) => ({ x: from.x, y: from.y, bulge }));
  const last = segments.at(-1);
  if (!closed && last) vertices.push({ x: last.to.x, y: last.to.y, bulge: 0 });
  return { closed, vertices };
}

/** A chain of straight lines through the points. */
export function polyline(points: readonly Point[], closed: boolean): ArcChain {
  return { closed, vertices: points.map(({ x, y }) => ({ x, y, bulge: 0 })) };
}

export function chainLength(chain: ArcChain): number {
  let length = 0;
  for (const segment of segmentsOf(chain)) length += segmentLength(segment);
  return length;
}

/**
 * Signed area of a closed chain, positive counter-clockwise: shoelace plus the bows of the
 * arcs. For an open chain, the area swept as seen from the origin (twice-used by face walks).
 */
export function signedArea(chain: ArcChain): number {
  let area = 0;
  for (const segment of segmentsOf(chain)) {
    const { from, to } = segment;
    area += (from.x * to.y - from.y * to.x) / 2 + bowArea(segment);
  }
  return area;
}

export function chainBounds(chain: ArcChain): Bounds {
  return mergeBounds(segmentsOf(chain).map(segmentBounds));
}

export function chainStart(chain: ArcChain): Vertex {
  return vertexAt(chain, 0);
}

export function chainEnd(chain: ArcChain): Vertex {
  return vertexAt(chain, chain.closed ? 0 : chain.vertices.length - 1);
}

/** The point `length` mm along the chain; held to its ends. */
export function pointAtLength(chain: ArcChain, length: number): Point {
  const place = placeAtLength(chain, length);
  return segmentPoint(place.segment, place.t);
}

/** The segment, and the share of it, `length` mm along the chain; held to its ends. */
export function placeAtLength(
  chain: ArcChain,
  length: number,
): { readonly index: number; readonly segment: Segment; readonly t: number } {
  const segments = segmentsOf(chain);
  let rest = Math.max(0, length);
  for (const [index, segment] of segments.entries()) {
    const own = segmentLength(segment);
    if (rest <= own || index === segments.length - 1)
      return { index, segment, t: own === 0 ? 0 : Math.min(1, rest / own) };
    rest -= own;
  }
  throw new InternalError("a chain without segments has no place along it");
}

/** The part of an open chain between two lengths along it, mm; `from` <= `to`. */
export function chainPart(chain: ArcChain, from: number, to: number): ArcChain {
  const start = placeAtLength(chain, from);
  const end = placeAtLength(chain, to);
  return chainBetween(chain, { index: start.index, t: start.t }, { index: end.index, t: end.t });
}

/** A place on a chain: a segment's number and the share of its length. */
export interface ChainPlace {
  readonly index: number;
  readonly t: number;
}

/** The part of an open chain from one place to a later one; empty slivers at the ends are left out. */
export function chainBetween(chain: ArcChain, from: ChainPlace, to: ChainPlace): ArcChain {
  const vertices: Vertex[] = [];
  let end: Point | undefined;
  for (let index = from.index; index <= to.index; index++) {
    const start = vertexAt(chain, index);
    const whole = { from: start, to: vertexAt(chain, index + 1), bulge: start.bulge };
    const t0 = index === from.index ? from.t : 0;
    const t1 = index === to.index ? to.t : 1;
    const part = t0 === 0 && t1 === 1 ? whole : segmentPart(whole, t0, t1);
    if (distance(part.from, part.to) <= SAME_POINT_MM) continue;
    vertices.push(part === whole ? start : { x: part.from.x, y: part.from.y, bulge: part.bulge });
    end = part.to;
  }
  if (end) vertices.push({ x: end.x, y: end.y, bulge: 0 });
  return { closed: false, vertices };
}

/** The open chain cut in two at `length` mm. */
export function splitChain(chain: ArcChain, length: number): readonly [ArcChain, ArcChain] {
  return [chainPart(chain, 0, length), chainPart(chain, length, chainLength(chain))];
}

/** The same curve run the other way. */
export function reverseChain({ closed, vertices }: ArcChain): ArcChain {
  const last = vertices.length - 1;
  const reversed: Vertex[] = [];
  for (let i = last; i >= 0; i--) {
    const { x, y } = vertices[i] ?? ORIGIN;
    // The segment that leaves a vertex now is the one that led to it.
    const bulge = vertices[i === 0 ? (closed ? last : -1) : i - 1]?.bulge ?? 0;
    reversed.push({ x, y, bulge: bulge === 0 ? 0 : -bulge });
  }
  return { closed, vertices: reversed };
}

const ORIGIN: Point = { x: 0, y: 0 };

/** Open chains run one after another; each begins where the one before ended. */
export function joinChains(chains: readonly ArcChain[], closed: boolean): ArcChain {
  const vertices: Vertex[] = [];
  let end: Vertex | undefined;
  for (const chain of chains) {
    for (let i = 0; i < chain.vertices.length - 1; i++) vertices.push(vertexAt(chain, i));
    if (chain.vertices.length > 1) end = chainEnd(chain);
  }
  if (!closed && end) vertices.push(end);
  return { closed, vertices };
}

/** The closed chain begun at its vertex number `first`. */
export function restartChain(chain: ArcChain, first: number): ArcChain {
  return {
    closed: chain.closed,
    vertices: [...chain.vertices.slice(first), ...chain.vertices.slice(0, first)],
  };
}

/** Straight neighbours in one line become one segment; every other vertex stays. */
export function mergeStraights(chain: ArcChain): ArcChain {
  const { closed, vertices } = chain;
  const last = vertices.length - 1;
  const kept = vertices.filter((vertex, i) => {
    const before = vertices[i === 0 ? (closed ? last : -1) : i - 1];
    const after = vertices[i === last ? (closed ? 0 : -1) : i + 1];
    return !before || !after || before.bulge !== 0 || vertex.bulge !== 0 || !inOneLine(before, vertex, after);
  });
  return kept.length === vertices.length ? chain : { closed, vertices: kept };
}

/** Whether three points follow each other on one line, measured by how far the middle one strays from it. */
export function inOneLine(before: Point, middle: Point, after: Point): boolean {
  const u = minus(middle, before);
  const v = minus(after, middle);
  if (dot(u, v) <= 0) return false;
  const longer = Math.max(dot(u, u), dot(v, v));
  const off = cross(u, v);
  return off * off < STRAY_MM * STRAY_MM * longer;
}

/** Far under what counts as one point, so that many merges in a row stay under it too. */
const STRAY_MM = SAME_POINT_MM / 1000;

/** The vertex at `index`; asking for one that is not there is a fault of ours. */
function vertexAt(chain: ArcChain, index: number): Vertex {
  const vertex = chain.vertices[index];
  if (!vertex) throw new InternalError(`no vertex ${index} in a chain of ${chain.vertices.length}`);
  return vertex;
}
