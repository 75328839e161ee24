/**
 * Diagram + width + gap -> ribbon pieces, built locally: from one under-crossing to the next a
 * piece is its left edge, a cap, its right edge, a cap, where edges are the centreline moved
 * out by half the width and caps are the over-strand's own edge moved out by the gap. Every
 * curve is an exact arc chain, and the work is proportional to the crossings.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import {
  type CrossingId,
  crossingOf,
  crossingPoint,
  edgeCurve,
  type HalfEdge,
  isOver,
  isStraightEdge,
  type KnotDiagram,
  nextSlot,
  twin,
} from "../diagram/knot-diagram.ts";
import { type Strands, strandWalk } from "../diagram/strands.ts";
import {
  type ArcChain,
  type ChainPlace,
  chainBetween,
  chainPart,
  chainStart,
  inOneLine,
  joinChains,
  mergeStraights,
  polyline,
  reverseChain,
  segmentsOf,
  signedArea,
} from "../geometry/arc-chain.ts";
import { firstMeet, isBefore, lastMeet } from "../geometry/first-meet.ts";
import { offsetThrough, offsetWhole } from "../geometry/offset.ts";
import type { Point } from "../geometry/point.ts";
import { arcOf, segmentPoint } from "../geometry/segment.ts";
import { selfMeets } from "../geometry/self-meets.ts";

/** A region with holes: the outline runs counter-clockwise, the holes clockwise. */
export interface Shape {
  readonly outline: ArcChain;
  readonly holes: readonly ArcChain[];
}

export interface RibbonPiece extends Shape {
  readonly strand: number;
  /** From under-crossing to under-crossing; closed for a strand that never passes under. */
  readonly centreline: ArcChain;
  /** The crossings at whose over-strands the piece begins and ends. */
  readonly ends: readonly CrossingId[];
  /** The crossings it passes over. */
  readonly over: readonly CrossingId[];
}

/** Why a piece has no sound outline, and where. */
export type RibbonTrouble =
  | { readonly kind: "bend-too-tight"; readonly at: Point; readonly radiusMm: number }
  /** Two edges that should bound the piece do not meet: it is too wide for the room it has. */
  | { readonly kind: "too-wide"; readonly at: Point };

export interface Ribbons {
  readonly widthMm: number;
  readonly gapMm: number;
  readonly pieces: readonly RibbonPiece[];
  readonly troubles: readonly RibbonTrouble[];
}

export interface RibbonSize {
  readonly widthMm: number;
  /** mm of ground between an under-strand's end and the edge of the strand that passes over it. */
  readonly gapMm: number;
}

export function makeRibbons(diagram: KnotDiagram, strands: Strands, size: RibbonSize): Ribbons {
  const pieces: RibbonPiece[] = [];
  const troubles: RibbonTrouble[] = [];
  const add = (built: RibbonPiece | RibbonTrouble) => {
    if ("kind" in built) troubles.push(built);
    else pieces.push(built);
  };
  for (const [strand, first] of strands.first.entries()) {
    const halves = [...strandWalk(diagram, first)];
    const start = halves.findIndex((half) => !isOver(diagram, half));
    if (start < 0) {
      const centreline = mergeStraights(
        joinChains(
          halves.map((half) => edgeCurve(diagram, half)),
          true,
        ),
      );
      add(closedPiece(strand, centreline, halves.map(crossingOf), size.widthMm));
      continue;
    }
    let run: HalfEdge[] = [];
    for (const half of [...halves.slice(start), ...halves.slice(0, start)]) {
      run.push(half);
      if (isOver(diagram, twin(diagram, half))) continue;
      add(openPiece(diagram, strand, run, size));
      run = [];
    }
  }
  for (const [i, loop] of diagram.loops.entries())
    add(closedPiece(strands.first.length + i, loop, [], size.widthMm));
  return { ...size, pieces, troubles };
}

/** A strand that never passes under: a band between its two edges. */
export function closedPiece(
  strand: number,
  centreline: ArcChain,
  over: readonly CrossingId[],
  widthMm: number,
): RibbonPiece | RibbonTrouble {
  const trouble = tightBend(centreline, widthMm);
  if (trouble) return trouble;
  const ccw = signedArea(centreline) > 0 ? centreline : reverseChain(centreline);
  const inner = offsetWhole(ccw, widthMm / 2, "pointed");
  const outline = offsetWhole(ccw, -widthMm / 2, "pointed");
  if (!inner || !outline) return { kind: "too-wide", at: chainStart(centreline) };
  return { strand, centreline, ends: [], over, outline, holes: [reverseChain(inner)] };
}

function openPiece(
  diagram: KnotDiagram,
  strand: number,
  run: readonly HalfEdge[],
  size: RibbonSize,
): RibbonPiece | RibbonTrouble {
  const first = run[0] ?? -1;
  const last = twin(diagram, run.at(-1) ?? -1);
  const centreline = centrelineOf(diagram, run);
  const trouble = tightBend(centreline, size.widthMm);
  if (trouble) return trouble;
  // A piece may pass over its own end, so that its edges cross until the caps cut them.
  const right = offsetThrough(centreline, -size.widthMm / 2, "pointed");
  const left = offsetThrough(centreline, size.widthMm / 2, "pointed");
  const startCap = right && left && capBeyond(diagram, first, size, [right, left]);
  const endCap = right && left && capBeyond(diagram, last, size, [right, left]);
  const outline = startCap && endCap && closeOutline(right, left, startCap, endCap);
  if (!outline) return { kind: "too-wide", at: middleOf(centreline) };
  return {
    strand,
    centreline,
    ends: [crossingOf(first), crossingOf(last)],
    over: run.slice(1).map(crossingOf),
    outline,
    holes: [],
  };
}

/** Right edge forward, end cap, left edge back, start cap: counter-clockwise. */
function closeOutline(
  right: ArcChain,
  left: ArcChain,
  startCap: ArcChain,
  endCap: ArcChain,
): ArcChain | undefined {
  const [onRight, onLeft, onStart, onEnd] = [right, left, startCap, endCap].map(segmentsOf);
  if (!onRight || !onLeft || !onStart || !onEnd) return undefined;
  const rightStart = firstMeet(onRight, onStart);
  const leftStart = firstMeet(onLeft, onStart);
  const rightEnd = lastMeet(onRight, onEnd);
  const leftEnd = lastMeet(onLeft, onEnd);
  if (!rightStart || !leftStart || !rightEnd || !leftEnd) return undefined;
  if (isStraight(right) && isStraight(left) && isStraight(startCap) && isStraight(endCap)) {
    // Most pieces: four corners, each line in its order.
    const inOrder =
      isBefore(rightStart.onA, rightEnd.onA) &&
      isBefore(leftStart.onA, leftEnd.onA) &&
      isBefore(rightStart.onB, leftStart.onB) &&
      isBefore(leftEnd.onB, rightEnd.onB);
    return inOrder
      ? polyline([rightStart.point, rightEnd.point, leftEnd.point, leftStart.point], true)
      : undefined;
  }
  const rightPart = partBetween(right, rightStart.onA, rightEnd.onA);
  const leftPart = partBetween(left, leftStart.onA, leftEnd.onA);
  // Caps run from the right to the left of someone who walks out of the crossing; at its end
  // the piece is walked into the crossing.
  const atStart = partBetween(startCap, rightStart.onB, leftStart.onB);
  const atEnd = partBetween(endCap, leftEnd.onB, rightEnd.onB);
  if (!rightPart || !leftPart || !atEnd || !atStart) return undefined;
  const sides = [rightPart, reverseChain(atEnd), reverseChain(leftPart), reverseChain(atStart)];
  const outline = mergeStraights(joinChains(sides, true));
  return isSound(outline) ? outline : undefined;
}

function isStraight({ vertices }: ArcChain): boolean {
  return vertices.length === 2 && vertices[0]?.bulge === 0;
}

function isSound(outline: ArcChain): boolean {
  return signedArea(outline) > 0 && selfMeets(segmentsOf(outline), true).length === 0;
}

function partBetween(chain: ArcChain, from: ChainPlace, to: ChainPlace): ArcChain | undefined {
  return isBefore(from, to) ? chainBetween(chain, from, to) : undefined;
}

/**
 * The line at which the under-strand that leaves a crossing by `half` begins: the edge of the
 * over-strand on that side, moved out by the gap; from right to left as seen walking out.
 */
function capBeyond(
  diagram: KnotDiagram,
  half: HalfEdge,
  size: RibbonSize,
  edges: readonly ArcChain[],
): ArcChain | undefined {
  const ahead = nextSlot(half, 1);
  const behind = nextSlot(half, 3);
  const out = -(size.widthMm / 2 + size.gapMm);
  const straight = straightThrough(diagram, behind, ahead);
  if (straight) return offsetThrough(straight, out, "pointed");
  // As much of the over-strand as the cap needs: corners further on are no business of it.
  for (const reach of [1, 2, 4]) {
    const over = bentThrough(diagram, behind, ahead, reach * (size.widthMm + size.gapMm));
    const cap = offsetThrough(over, out, "pointed");
    if (cap && edges.every((edge) => firstMeet(segmentsOf(edge), segmentsOf(cap)))) return cap;
  }
  return undefined;
}

/** The curve through the edges of a run; most run straight over one crossing. */
function centrelineOf(diagram: KnotDiagram, run: readonly HalfEdge[]): ArcChain {
  const [first, second, ...more] = run;
  const straight =
    first !== undefined && second !== undefined && more.length === 0
      ? straightThrough(diagram, twin(diagram, first), second)
      : undefined;
  if (straight) return straight;
  return mergeStraights(
    joinChains(
      run.map((half) => edgeCurve(diagram, half)),
      false,
    ),
  );
}

/** The line through a crossing by two straight edges that lie in one line, from the far end of one to that of the other. */
function straightThrough(diagram: KnotDiagram, behind: HalfEdge, ahead: HalfEdge): ArcChain | undefined {
  if (!isStraightEdge(diagram, behind) || !isStraightEdge(diagram, ahead)) return undefined;
  const from = crossingPoint(diagram, crossingOf(twin(diagram, behind)));
  const to = crossingPoint(diagram, crossingOf(twin(diagram, ahead)));
  if (!inOneLine(from, crossingPoint(diagram, crossingOf(ahead)), to)) return undefined;
  return polyline([from, to], false);
}

/** The curve through a crossing, `reach` mm to each side or to the next crossings. */
function bentThrough(diagram: KnotDiagram, behind: HalfEdge, ahead: HalfEdge, reach: number): ArcChain {
  const before = reverseChain(chainPart(edgeCurve(diagram, behind), 0, reach));
  const after = chainPart(edgeCurve(diagram, ahead), 0, reach);
  return mergeStraights(joinChains([before, after], false));
}

/** The first arc that turns so tightly that the inner edge would vanish. */
export function tightBend(centreline: ArcChain, widthMm: number): RibbonTrouble | undefined {
  for (const segment of segmentsOf(centreline)) {
    if (segment.bulge === 0) continue;
    const { radius } = arcOf(segment);
    if (radius <= widthMm / 2 + SAME_POINT_MM)
      return { kind: "bend-too-tight", at: segmentPoint(segment, 0.5), radiusMm: radius };
  }
  return undefined;
}

function middleOf(chain: ArcChain): Point {
  const segments = segmentsOf(chain);
  const middle = segments[Math.floor(segments.length / 2)];
  return middle ? segmentPoint(middle, 0.5) : chainStart(chain);
}
