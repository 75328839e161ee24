/**
 * The exact parallel curve of an arc chain: offsets of lines and arcs are lines and arcs.
 *
 * Every segment is moved to its left by `left` mm (to the right when negative) and joined to
 * its neighbour. Where nothing vanishes and nothing meets, that is the answer. Otherwise the
 * raw curve is cut where it meets itself, stretches nearer to the source than |left| are
 * thrown away, and the rest is joined through the meeting points they share (topology, not
 * nearness). The method is that of offsetting by invalid-loop removal: Liu, Yong, Zheng & Sun,
 * "An offset algorithm for polyline curves", Computers in Industry 58 (2007), extended to arcs.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import {
  type ArcChain,
  chainBetween,
  chainEnd,
  chainLength,
  chainOf,
  chainStart,
  joinChains,
  mergeStraights,
  segmentsOf,
  signedArea,
} from "./arc-chain.ts";
import { boundsOf } from "./bounds.ts";
import { BoxIndex } from "./distance.ts";
import { nearestOn } from "./meet.ts";
import { cross, distance, minus, type Point, unit } from "./point.ts";
import { type Join, type RawPart, rawOffset, type Tip } from "./raw-offset.ts";
import { parallelSegment, type Segment, segmentBounds, segmentLength, segmentPoint } from "./segment.ts";
import { type SelfMeet, selfMeets } from "./self-meets.ts";

/**
 * The parallel curve `left` mm to the left of the chain. A closed chain gives any number of
 * closed chains (none where nothing is left, several where a narrow place pinches off); an
 * open chain gives open ones, in order.
 */
export function offsetChain(chain: ArcChain, left: number, join: Join): readonly ArcChain[] {
  const source = segmentsOf(chain);
  if (source.length === 0) return [];
  if (left === 0) return [chain];
  if (source.length === 1 && !chain.closed) {
    const moved = offsetOne(source, left);
    return moved ? [moved] : [];
  }
  const raw = rawOffset(source, chain.closed, left, join);
  const segments = raw.parts.map(({ segment }) => segment);
  const meets = selfMeets(segments, chain.closed);
  if (raw.clean && meets.length === 0) return [mergeStraights(chainOf(segments, chain.closed))];
  const keepsClear = clearanceOf(source, raw.tips, left);
  const slices = cutAt(raw.parts, chain.closed, meets).filter(keepsClear);
  return stitch(withoutSpurs(slices), chain.closed).filter(hasBody).map(mergeStraights);
}

/**
 * The parallel curve of an open chain that may cross itself, which then crosses itself too:
 * only what is lost at corners is thrown away. Undefined where that falls apart.
 */
export function offsetThrough(chain: ArcChain, left: number, join: Join): ArcChain | undefined {
  const source = segmentsOf(chain);
  if (source.length === 1) return offsetOne(source, left);
  const raw = rawOffset(source, false, left, join);
  if (raw.clean) return mergeStraights(chainOf(raw.parts.map(segmentOf), false));
  // From the middle of one long segment to that of the next nothing crosses itself.
  const parts: ArcChain[] = [];
  for (const part of cutInLongSegments(chain, 2 * Math.abs(left))) {
    const moved = offsetWhole(part, left, join);
    const before = parts.at(-1);
    if (!moved || (before && distance(chainEnd(before), chainStart(moved)) > SAME_POINT_MM)) return undefined;
    parts.push(moved);
  }
  return mergeStraights(joinChains(parts, false));
}

/** Most pieces of a large panel are one straight line. */
function offsetOne([only]: readonly Segment[], left: number): ArcChain | undefined {
  const moved = only && parallelSegment(only, left);
  return moved && chainOf([moved], false);
}

function cutInLongSegments(chain: ArcChain, length: number): ArcChain[] {
  const segments = segmentsOf(chain);
  const middles = segments.flatMap((segment, index) =>
    segmentLength(segment) > length ? [{ index, t: 0.5 }] : [],
  );
  const cuts = [{ index: 0, t: 0 }, ...middles, { index: segments.length - 1, t: 1 }];
  return cuts.slice(1).map((to, i) => chainBetween(chain, cuts[i] ?? to, to));
}

/** The one parallel curve, or undefined where it vanishes or falls into several. */
export function offsetWhole(chain: ArcChain, left: number, join: Join): ArcChain | undefined {
  const parts = offsetChain(chain, left, join);
  return parts.length === 1 && parts[0]?.closed === chain.closed ? parts[0] : undefined;
}

interface Slice {
  readonly parts: RawPart[];
  /** The meeting point (by number) it begins and ends at; -1 at the ends of an open chain. */
  readonly begins: number;
  ends: number;
}

function cutAt(parts: readonly RawPart[], closed: boolean, meets: readonly SelfMeet[]): Slice[] {
  const cutsOf: SelfMeet[][] = parts.map(() => []);
  for (const cut of meets) cutsOf[cut.segment]?.push(cut);
  const slices: Slice[] = [];
  let open: Slice = { parts: [], begins: -1, ends: -1 };
  for (const [index, { segment, exact }] of parts.entries()) {
    const cuts = (cutsOf[index] ?? []).sort((a, b) => a.share - b.share);
    let from = segment.from;
    let share = 0;
    for (const cut of cuts) {
      pushPart(open.parts, partOf(segment, share, cut.share, from, cut.point), exact);
      open.ends = cut.node;
      slices.push(open);
      open = { parts: [], begins: cut.node, ends: -1 };
      from = cut.point;
      share = cut.share;
    }
    pushPart(open.parts, partOf(segment, share, 1, from, segment.to), exact);
  }
  const first = slices[0];
  if (closed && first) {
    // The stretch before the first cut belongs behind the last one.
    slices[0] = { parts: [...open.parts, ...first.parts], begins: open.begins, ends: first.ends };
  } else {
    slices.push(open);
  }
  return slices.filter((slice) => slice.parts.length > 0);
}

function partOf(whole: Segment, t0: number, t1: number, from: Point, to: Point): Segment {
  return { from, to, bulge: whole.bulge === 0 ? 0 : Math.tan(Math.atan(whole.bulge) * (t1 - t0)) };
}

function pushPart(into: RawPart[], segment: Segment, exact: Segment): void {
  if (distance(segment.from, segment.to) > SAME_POINT_MM) into.push({ segment, exact });
}

/**
 * Points of the exact parallel curve keep their distance but for rounding; a loop to be thrown
 * away may be shallow: at a turn of 1e-4 it lies but a few nanometres too near.
 */
const DEPTH_SLACK_MM = SAME_POINT_MM / 1000;

/**
 * Whether a slice keeps its distance from the source and stays out of other joints' points. It
 * either does everywhere or nowhere.
 */
function clearanceOf(
  source: readonly Segment[],
  tips: readonly Tip[],
  left: number,
): (slice: Slice) => boolean {
  const least = Math.abs(left) - DEPTH_SLACK_MM;
  const sources = new BoxIndex(source.map(segmentBounds));
  const points = new BoxIndex(tips.map(({ from, tip, to }) => boundsOf([from, tip, to])));
  const isClear = (point: Point) => {
    const box = boundsOf([point]);
    const tooNear = sources.near(box, least).some((near) => {
      const segment = source[near];
      return segment !== undefined && distance(nearestOn(segment, point), point) < least;
    });
    if (tooNear) return false;
    return !points.near(box, 0).some((near) => isInTip(tips[near], point, left > 0));
  };
  return ({ parts }) => {
    const longest = longestOf(parts);
    return [0.5, 0.25, 0.75].every((share) =>
      isClear(nearestOn(longest.exact, segmentPoint(longest.segment, share))),
    );
  };
}

/** Whether a point lies inside a pointed joint, deeper than rounding. The source lies right of the way over the tip when moved to the left. */
function isInTip(joint: Tip | undefined, point: Point, movedLeft: boolean): boolean {
  if (!joint) return false;
  const { from, tip, to } = joint;
  const depth = (a: Point, b: Point) => {
    const off = cross(unit(minus(b, a)), minus(point, a));
    return movedLeft ? -off : off;
  };
  return depth(from, tip) > DEPTH_SLACK_MM && depth(tip, to) > DEPTH_SLACK_MM && depth(to, from) >= 0;
}

/** Where two sides come to lie on each other, the way there and the way back enclose nothing. */
function withoutSpurs(slices: readonly Slice[]): Slice[] {
  const byEnds = new Map<string, Slice[]>();
  for (const slice of slices) {
    const key = `${slice.begins} ${slice.ends}`;
    byEnds.set(key, [...(byEnds.get(key) ?? []), slice]);
  }
  return slices.filter((slice) => {
    const back = byEnds.get(`${slice.ends} ${slice.begins}`) ?? [];
    return !back.some(
      (other) => other !== slice && distance(middleOf(other), middleOf(slice)) <= SAME_POINT_MM,
    );
  });
}

function middleOf({ parts }: Slice): Point {
  const longest = longestOf(parts);
  return segmentPoint(longest.segment, 0.5);
}

function longestOf(parts: readonly RawPart[]): RawPart {
  return parts.reduce((a, b) => (segmentLength(b.segment) > segmentLength(a.segment) ? b : a));
}

/** A closed chain thinner than a point is left over from rounding where the raw curve only grazes itself. */
function hasBody(chain: ArcChain): boolean {
  return !chain.closed || Math.abs(signedArea(chain)) > SAME_POINT_MM * chainLength(chain);
}

/** Slices joined through the meeting points that they share. */
function stitch(slices: readonly Slice[], closed: boolean): ArcChain[] {
  const leaving = new Map<number, Slice[]>();
  const starts: Slice[] = [];
  for (const slice of slices) {
    if (slice.begins === -1) starts.push(slice);
    else leaving.set(slice.begins, [...(leaving.get(slice.begins) ?? []), slice]);
  }
  const take = (node: number) => leaving.get(node)?.shift();
  const follow = (first: Slice) => {
    const run = [first];
    let at = first.ends;
    while (at !== first.begins) {
      const next = take(at);
      if (!next) break;
      run.push(next);
      at = next.ends;
    }
    return { segments: run.flatMap(({ parts }) => parts.map(segmentOf)), comesRound: at === first.begins };
  };
  const chains = starts.map((slice) => chainOf(follow(slice).segments, closed));
  for (const node of [...leaving.keys()]) {
    for (let slice = take(node); slice; slice = take(node)) {
      const { segments, comesRound } = follow(slice);
      if (comesRound && segments.length > 1) chains.push(chainOf(segments, true));
      else if (!comesRound && !closed) chains.push(chainOf(segments, false));
    }
  }
  return chains;
}

function segmentOf({ segment }: RawPart): Segment {
  return segment;
}
