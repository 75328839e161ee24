/** Whether a planned tie keeps clear of every strand that is not its own. */
import { crossingOf, edgeCurve, type HalfEdge, type KnotDiagram, twin } from "../diagram/knot-diagram.ts";
import { type ArcChain, chainBounds, chainLength, chainPart, segmentsOf } from "../geometry/arc-chain.ts";
import { type Bounds, boundsGap } from "../geometry/bounds.ts";
import { type BoxedChain, BoxIndex, boxChain, chainNearness } from "../geometry/distance.ts";
import { meet } from "../geometry/meet.ts";
import { distance, type Point } from "../geometry/point.ts";
import { routeCurve } from "./route.ts";
import type { Tie, TieEnd } from "./tie.ts";
import type { Cuttable } from "./wiring.ts";

/** What a tie would run into. */
export type Obstacle =
  | { readonly kind: "strand"; readonly at: Point; readonly strand: Cuttable }
  /** The tie's own strands would cross where they should not. */
  | { readonly kind: "itself"; readonly at: Point };

/** Strands keep this far from each other, in spacings, measured between centrelines. */
const CLEAR = 0.75;

/** A tie may be near to the strands of the crossing that it leaves from for this far, in spacings. */
const LEAVING = 1.5;

/** A strand, and how it may be known that it is still there. */
interface KnownStrand {
  readonly curve: ArcChain;
  readonly bounds: Bounds;
  /** The half-edges at its ends; undefined for a loop. */
  readonly ends: readonly [HalfEdge, HalfEdge] | undefined;
}

/** So many strands are compared one by one before all are indexed anew. */
const MOST_RECENT = 500;

/** All strands of a diagram, to be asked many times. */
export class Clearance {
  readonly #diagram: KnotDiagram;
  /** In the index, some of them no more there. */
  readonly #indexed: readonly KnownStrand[];
  readonly #index: BoxIndex;
  /** Those that came later. */
  readonly #recent: readonly KnownStrand[];

  constructor(diagram: KnotDiagram, before?: Clearance, recent: readonly KnownStrand[] = []) {
    this.#diagram = diagram;
    this.#recent = recent;
    this.#indexed = before ? before.#indexed : [...strandsOf(diagram, () => true)];
    this.#index = before ? before.#index : new BoxIndex(this.#indexed.map(({ bounds }) => bounds));
  }

  /** The same after a change of the diagram that kept the numbers of its crossings. */
  changed(diagram: KnotDiagram): Clearance {
    const old = this.#diagram;
    const loops = new Set(old.loops);
    const isNew = (strand: HalfEdge | ArcChain) =>
      typeof strand === "number" ? old.twin[strand] !== diagram.twin[strand] : !loops.has(strand);
    const recent = [...this.#recent, ...strandsOf(diagram, isNew)];
    return recent.length > MOST_RECENT ? new Clearance(diagram) : new Clearance(diagram, this, recent);
  }

  /** The first strand that comes too near, or undefined. */
  obstacle(tie: Tie, spacing: number): Obstacle | undefined {
    const curves = tie.strands.map(routeCurve);
    return crossesItself(tie, curves) ?? this.#strandNear(tie, curves, spacing);
  }

  #strandNear(tie: Tie, curves: readonly ArcChain[], spacing: number): Obstacle | undefined {
    for (const [i, strand] of tie.strands.entries()) {
      const curve = curves[i];
      if (!curve) continue;
      const route = new CheckedRoute(curve, spacing);
      const ends = [strand.from, strand.to];
      const near = this.#othersNear(tie, ends, route) ?? this.#stubsNear(tie, ends, route);
      if (near) return near;
    }
    return undefined;
  }

  /** Strands that the tie leaves as they are. */
  #othersNear(tie: Tie, ends: readonly TieEnd[], route: CheckedRoute): Obstacle | undefined {
    const feet = new Set(ends.map((end) => this.#footOf(tie, end)));
    for (const known of this.#near(route)) {
      const strand = this.#cuttable(known);
      if (!strand || this.#isCut(tie, strand)) continue;
      const at = route.tooNear(known.curve, this.#touchesAny(strand, feet));
      if (at) return { kind: "strand", at, strand };
    }
    return undefined;
  }

  *#near({ whole: { bounds }, clear }: CheckedRoute): Iterable<KnownStrand> {
    for (const i of this.#index.near(bounds, clear)) {
      const known = this.#indexed[i];
      if (known) yield known;
    }
    for (const known of this.#recent) if (boundsGap(known.bounds, bounds) <= clear) yield known;
  }

  /** A known strand as it is numbered now; undefined when it is no more there. */
  #cuttable({ curve, ends }: KnownStrand): Cuttable | undefined {
    if (ends) return twin(this.#diagram, ends[0]) === ends[1] ? { half: ends[0] } : undefined;
    const loop = this.#diagram.loops.indexOf(curve);
    return loop < 0 ? undefined : { loop };
  }

  /** What is left of the strands that the tie cuts. */
  #stubsNear(tie: Tie, ends: readonly TieEnd[], route: CheckedRoute): Obstacle | undefined {
    const feet = new Set(ends.map((end) => this.#footOf(tie, end)));
    for (const [number, { bend, open }] of tie.bends.entries()) {
      for (const side of SIDES) {
        const isOwn = ends.some((end) => end.bend === number && end.side === side);
        const hangs = isOwn || "loop" in bend.cut || feet.has(this.#footOf(tie, { bend: number, side }));
        const at = route.tooNear(open[side].curve, hangs);
        if (at) return { kind: "strand", at, strand: bend.cut };
      }
    }
    return undefined;
  }

  /** The crossing that a side of a bend hangs on; -1 - its number for a loop. */
  #footOf(tie: Tie, { bend, side }: TieEnd): number {
    const cut = tie.bends[bend]?.bend.cut;
    if (!cut || "loop" in cut) return -1 - bend;
    return crossingOf(side === "left" ? cut.half : twin(this.#diagram, cut.half));
  }

  #isCut(tie: Tie, strand: Cuttable): boolean {
    return tie.bends.some(({ bend: { cut } }) =>
      "loop" in strand
        ? "loop" in cut && cut.loop === strand.loop
        : "half" in cut && this.#isOneEdge(cut.half, strand.half),
    );
  }

  #isOneEdge(a: HalfEdge, b: HalfEdge): boolean {
    return a === b || a === twin(this.#diagram, b);
  }

  #touchesAny(strand: Cuttable, feet: ReadonlySet<number>): boolean {
    if ("loop" in strand) return false;
    return feet.has(crossingOf(strand.half)) || feet.has(crossingOf(twin(this.#diagram, strand.half)));
  }
}

function* strandsOf(
  diagram: KnotDiagram,
  wanted: (strand: HalfEdge | ArcChain) => boolean,
): Iterable<KnownStrand> {
  for (let half = 0; half < diagram.twin.length; half++) {
    const other = twin(diagram, half);
    if (half > other || !wanted(half)) continue;
    const curve = edgeCurve(diagram, half);
    yield { curve, bounds: chainBounds(curve), ends: [half, other] };
  }
  for (const curve of diagram.loops)
    if (wanted(curve)) yield { curve, bounds: chainBounds(curve), ends: undefined };
}

const SIDES = ["left", "right"] as const;

/** One strand of a tie, to be compared with others. */
class CheckedRoute {
  readonly whole: BoxedChain;
  /** Without what is near to the strands that it leaves from and goes on into. */
  readonly #inner: BoxedChain | undefined;
  readonly #ends: readonly (Point | undefined)[];
  /** How far it keeps from others, mm. */
  readonly clear: number;

  constructor(curve: ArcChain, spacing: number) {
    this.whole = boxChain(curve);
    const length = chainLength(curve);
    const leaving = LEAVING * spacing;
    if (length > 2 * leaving) this.#inner = boxChain(chainPart(curve, leaving, length - leaving));
    this.#ends = [curve.vertices[0], curve.vertices.at(-1)];
    this.clear = CLEAR * spacing;
  }

  /** Where it comes too near to another strand; to one that hangs on an end of it, it may be near there. */
  tooNear(curve: ArcChain, hangs: boolean): Point | undefined {
    if (curve.vertices.length < 2) return undefined;
    const other = boxChain(curve);
    if (!hangs) return chainNearness(this.whole, other, this.clear)?.onA;
    const met = meetsBeyond(this.whole, other, this.#ends);
    return met ?? (this.#inner && chainNearness(this.#inner, other, this.clear)?.onA);
  }
}

/** A place other than the given ends at which two chains meet. */
function meetsBeyond(a: BoxedChain, b: BoxedChain, ends: readonly (Point | undefined)[]): Point | undefined {
  for (const one of a.segments) {
    for (const other of b.segments) {
      const found = meet(one, other);
      if (found.kind === "none") continue;
      for (const { point } of found.at) {
        if (!ends.some((end) => end && distance(end, point) <= AT_END_MM)) return point;
      }
    }
  }
  return undefined;
}

/** Strands that leave one crossing, or go on from one cut, share that point up to rounding. */
const AT_END_MM = 1e-5;

/** Strands of a tie meet at its crossings only. */
function crossesItself({ crossings }: Tie, curves: readonly ArcChain[]): Obstacle | undefined {
  for (const [i, curve] of curves.entries()) {
    for (const other of curves.slice(i + 1)) {
      for (const one of segmentsOf(curve)) {
        for (const two of segmentsOf(other)) {
          const found = meet(one, two);
          if (found.kind === "none") continue;
          const stray = found.at.find(
            ({ point }) => !crossings.some((crossing) => distance(crossing, point) <= AT_END_MM),
          );
          if (stray) return { kind: "itself", at: stray.point };
        }
      }
    }
  }
  return undefined;
}
