/** Each strand of a design for people: its length, what it crosses, which pieces it runs through. */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { crossingCount, edgeCurve, type KnotDiagram, twin } from "../diagram/knot-diagram.ts";
import { type Strands, strandName } from "../diagram/strands.ts";
import { type ArcChain, chainBounds, segmentsOf } from "../geometry/arc-chain.ts";
import { boundsOf } from "../geometry/bounds.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { nearestOn } from "../geometry/meet.ts";
import { distance, type Point } from "../geometry/point.ts";
import { segmentPoint } from "../geometry/segment.ts";
import type { LaidPiece } from "./laid-piece.ts";
import type { WovenDesign } from "./woven-design.ts";

export interface ListedStrand {
  /** The letter that pictures and job sheets use. */
  readonly name: string;
  readonly lengthMm: number;
  /** Crossings that lie on it; one with itself counts once, one with another strand for both. */
  readonly crossings: number;
  /** Of a composed design: names of the pieces that it runs through, as they are laid. Crossings of ties are in no piece. */
  readonly pieces: readonly string[];
}

/** In the order of the strands' numbers, to which the lengths (mm) belong. */
export function listStrands(
  { diagram, strands, laid = [] }: WovenDesign,
  lengthsMm: readonly number[],
): ListedStrand[] {
  const crossings = new Array<number>(strands.count).fill(0);
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++)
    for (const strand of strandsAt(strands, crossing)) crossings[strand] = (crossings[strand] ?? 0) + 1;
  const pieces = strandPieces(diagram, strands, laid);
  return lengthsMm.map((lengthMm, strand) => ({
    name: strandName(strand),
    lengthMm,
    crossings: crossings[strand] ?? 0,
    pieces: [...(pieces[strand] ?? [])],
  }));
}

/** The one or two strands of a crossing. */
function strandsAt({ strandOf }: Strands, crossing: number): Set<number> {
  return new Set([strandOf[4 * crossing] ?? -1, strandOf[4 * crossing + 1] ?? -1]);
}

/** The names of the pieces that each strand runs through. Pieces' crossings come first and in order. */
function strandPieces(diagram: KnotDiagram, strands: Strands, laid: readonly LaidPiece[]): Set<string>[] {
  const pieces = Array.from({ length: strands.count }, () => new Set<string>());
  const loopStrand = new Map(diagram.loops.map((loop, i) => [loop, strands.first.length + i]));
  let finder: StrandFinder | undefined;
  let first = 0;
  for (const { name, diagram: own } of laid) {
    const past = first + crossingCount(own);
    for (let crossing = first; crossing < past; crossing++)
      for (const strand of strandsAt(strands, crossing)) pieces[strand]?.add(name);
    first = past;
    for (const loop of own.loops) {
      let strand = loopStrand.get(loop);
      if (strand === undefined) {
        // Ties have cut it: it is found again by where it lies.
        finder ??= new StrandFinder(diagram, strands);
        strand = finder.strandAlong(loop);
      }
      if (strand !== undefined) pieces[strand]?.add(name);
    }
  }
  return pieces;
}

/** Finds the strand that lies on a curve. */
class StrandFinder {
  readonly #curves: { readonly curve: ArcChain; readonly strand: number }[] = [];
  readonly #index: BoxIndex;

  constructor(diagram: KnotDiagram, strands: Strands) {
    for (let half = 0; half < diagram.twin.length; half++) {
      if (half < twin(diagram, half))
        this.#curves.push({ curve: edgeCurve(diagram, half), strand: strands.strandOf[half] ?? -1 });
    }
    for (const [i, curve] of diagram.loops.entries())
      this.#curves.push({ curve, strand: strands.first.length + i });
    this.#index = new BoxIndex(this.#curves.map(({ curve }) => chainBounds(curve)));
  }

  /** The strand on which most places of the curve lie: ties have cut away some of them. */
  strandAlong(curve: ArcChain): number | undefined {
    const hits = new Map<number, number>();
    for (const segment of segmentsOf(curve)) {
      for (let i = 0; i < PLACES; i++) {
        for (const strand of this.#strandsAt(segmentPoint(segment, (i + 0.5) / PLACES)))
          hits.set(strand, (hits.get(strand) ?? 0) + 1);
      }
    }
    return [...hits].sort(([, a], [, b]) => b - a)[0]?.[0];
  }

  #strandsAt(point: Point): Set<number> {
    const found = new Set<number>();
    for (const i of this.#index.near(boundsOf([point]), SAME_POINT_MM)) {
      const near = this.#curves[i];
      if (near && !found.has(near.strand) && passes(near.curve, point)) found.add(near.strand);
    }
    return found;
  }
}

/** Places looked at on each segment. */
const PLACES = 5;

function passes(curve: ArcChain, point: Point): boolean {
  for (const segment of segmentsOf(curve))
    if (distance(nearestOn(segment, point), point) <= SAME_POINT_MM) return true;
  return false;
}
