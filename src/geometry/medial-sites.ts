/**
 * The boundary of a region as single points along it, close enough together that their Voronoi
 * diagram shows the medial axis. Rings keep the region on their left.
 *
 * Towards a sharp inner corner the points grow denser, at the same distances from it on both of
 * its sides, so that the axis that runs into the corner comes out exactly.
 */
import { minus, type Point, turnBetween } from "./point.ts";
import type { Region, Ring } from "./region.ts";
import { straighten } from "./straighten.ts";

/** A ring that turns to the left by more than this at a point has a corner there that the axis runs into. */
const SHARP_RAD = Math.PI / 12;
/** Rings are freed of corners that stray less than this from the line past them: they are rounding. */
const STRAIGHT_MM = 5e-4;
/** The first point beside a sharp corner, and how much further the next ones stand. */
const FIRST_MM = 5e-3;
const GRADING = 1.35;

/** Sites are numbered along the rings, ring after ring; so are the rings' corners. */
export interface BoundarySites {
  /** x and y of each site in turn. */
  readonly coords: Float64Array;
  /** The ring that each site lies on. */
  readonly ringOf: Int32Array;
  /** The first site of each ring, and after the last one the count of all. */
  readonly firstOf: readonly number[];
  /** The corner at which the side that each site lies on begins. A site at a corner comes with the side that leaves it. */
  readonly sideOf: Int32Array;
  readonly atCorner: Uint8Array;
  /** For each site the number of sharp corners among the sites before it. */
  readonly sharpBefore: Int32Array;
  readonly isSharp: Uint8Array;
  readonly corners: BoundaryCorners;
}

export interface BoundaryCorners {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly next: Int32Array;
  readonly before: Int32Array;
  /** Whether the ring turns to the left there, and whether so much that the axis runs into the corner. */
  readonly turnsLeft: Uint8Array;
  readonly isSharp: Uint8Array;
}

/** Sites no further apart than `spacingMm`. */
export function boundarySites(region: Region, spacingMm: number): BoundarySites {
  const { rings } = straighten(region, STRAIGHT_MM);
  const coords: number[] = [];
  const ringOf: number[] = [];
  const sideOf: number[] = [];
  const atCorner: number[] = [];
  const isSharp: number[] = [];
  const firstOf = [0];
  const corners = cornersOf(rings);
  let corner = 0;
  const add = (x: number, y: number, ring: number, sharp: boolean, isCorner: boolean) => {
    coords.push(x, y);
    ringOf.push(ring);
    sideOf.push(corner);
    atCorner.push(isCorner ? 1 : 0);
    isSharp.push(sharp ? 1 : 0);
  };
  for (const [number, ring] of rings.entries()) {
    const sharp = ring.map((_, i) => turnAt(ring, i) > SHARP_RAD);
    for (const [i, from] of ring.entries()) {
      const to = ring[(i + 1) % ring.length] ?? from;
      const length = Math.hypot(to.x - from.x, to.y - from.y);
      add(from.x, from.y, number, sharp[i] === true, true);
      const ends = { fromSharp: sharp[i] === true, toSharp: sharp[(i + 1) % ring.length] === true };
      for (const at of stations(length, ends, spacingMm)) {
        const t = at / length;
        add(from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t, number, false, false);
      }
      corner++;
    }
    firstOf.push(ringOf.length);
  }
  return {
    coords: Float64Array.from(coords),
    ringOf: Int32Array.from(ringOf),
    firstOf,
    sideOf: Int32Array.from(sideOf),
    atCorner: Uint8Array.from(atCorner),
    isSharp: Uint8Array.from(isSharp),
    sharpBefore: runningCount(isSharp),
    corners,
  };
}

/** Where sites stand on a side between its ends, mm from its start. */
function stations(
  length: number,
  { fromSharp, toSharp }: { readonly fromSharp: boolean; readonly toSharp: boolean },
  spacingMm: number,
): number[] {
  const half = length / 2;
  const head = fromSharp ? graded(half, spacingMm) : [];
  const tail = toSharp ? graded(half, spacingMm) : [];
  const from = head.at(-1) ?? 0;
  const to = length - (tail.at(-1) ?? 0);
  const steps = Math.max(1, Math.ceil((to - from) / spacingMm));
  const middle = Array.from({ length: steps - 1 }, (_, i) => from + ((to - from) * (i + 1)) / steps);
  return [...head, ...middle, ...tail.reverse().map((at) => length - at)];
}

/** Distances from a sharp corner, each further than the last by a share of it, until they are a spacing apart. */
function graded(within: number, spacingMm: number): number[] {
  const places: number[] = [];
  let at = FIRST_MM;
  while (at < within - FIRST_MM) {
    places.push(at);
    if (at * (GRADING - 1) >= spacingMm) break;
    at *= GRADING;
  }
  return places;
}

function runningCount(flags: readonly number[]): Int32Array {
  const counts = new Int32Array(flags.length + 1);
  for (const [i, flag] of flags.entries()) counts[i + 1] = (counts[i] ?? 0) + flag;
  return counts;
}

function cornersOf(rings: readonly Ring[]): BoundaryCorners {
  const count = rings.reduce((sum, ring) => sum + ring.length, 0);
  const corners = {
    x: new Float64Array(count),
    y: new Float64Array(count),
    next: new Int32Array(count),
    before: new Int32Array(count),
    turnsLeft: new Uint8Array(count),
    isSharp: new Uint8Array(count),
  };
  let first = 0;
  for (const ring of rings) {
    for (const [i, { x, y }] of ring.entries()) {
      corners.x[first + i] = x;
      corners.y[first + i] = y;
      corners.next[first + i] = first + ((i + 1) % ring.length);
      corners.before[first + i] = first + ((i + ring.length - 1) % ring.length);
      const turn = turnAt(ring, i);
      corners.turnsLeft[first + i] = turn > 0 ? 1 : 0;
      corners.isSharp[first + i] = turn > SHARP_RAD ? 1 : 0;
    }
    first += ring.length;
  }
  return corners;
}

function turnAt(ring: Ring, i: number): number {
  const { before, at, after } = around(ring, i);
  return turnBetween(minus(at, before), minus(after, at));
}

function around(
  ring: Ring,
  i: number,
): { readonly before: Point; readonly at: Point; readonly after: Point } {
  const at = ring[i] ?? ORIGIN;
  return { before: ring.at(i - 1) ?? at, at, after: ring[(i + 1) % ring.length] ?? at };
}

const ORIGIN: Point = { x: 0, y: 0 };
