/**
 * Surgery on a diagram: edges and loops are cut, new crossings and curves added, and what hangs
 * together is strung into edges again. Only what is touched is handled; the rest of a large
 * diagram is copied as it is.
 */
import { InternalError } from "../base/internal-error.ts";
import { crossingCount, edgeCurve, type HalfEdge, type KnotDiagram, twin } from "../diagram/knot-diagram.ts";
import { type ArcChain, joinChains, mergeStraights, reverseChain } from "../geometry/arc-chain.ts";
import type { Point } from "../geometry/point.ts";

/** A cut end that waits to be joined. */
export type Joint = number & { readonly id?: "joint" };

/** Where a wire ends: at a crossing's slot, or at a joint. */
export type WireEnd = { readonly half: HalfEdge } | { readonly joint: Joint };

interface Wire {
  readonly curve: ArcChain;
  readonly from: WireEnd;
  readonly to: WireEnd;
}

/** What is cut: the edge of a half-edge, or a loop by its number. */
export type Cuttable = { readonly half: HalfEdge } | { readonly loop: number };

export class Wiring {
  readonly #diagram: KnotDiagram;
  readonly #points: Point[] = [];
  readonly #wires: Wire[] = [];
  readonly #cutHalves = new Set<HalfEdge>();
  readonly #cutLoops = new Set<number>();
  #joints = 0;

  constructor(diagram: KnotDiagram) {
    this.#diagram = diagram;
  }

  /**
   * Takes an edge out; what is to stay of it is put back with `add`. The curve is given from
   * the named half-edge to its twin.
   */
  takeEdge(half: HalfEdge): { readonly curve: ArcChain; readonly other: HalfEdge } {
    const other = twin(this.#diagram, half);
    if (this.#cutHalves.has(half)) throw new InternalError(`edge ${half} is cut twice`);
    this.#cutHalves.add(half);
    this.#cutHalves.add(other);
    return { curve: edgeCurve(this.#diagram, half), other };
  }

  takeLoop(loop: number): ArcChain {
    const curve = this.#diagram.loops[loop];
    if (!curve || this.#cutLoops.has(loop)) throw new InternalError(`loop ${loop} is cut twice`);
    this.#cutLoops.add(loop);
    return curve;
  }

  joint(): Joint {
    return this.#joints++;
  }

  /** A new crossing; its half-edges are 4 x the answer + slot, counter-clockwise. */
  crossing(at: Point): number {
    return crossingCount(this.#diagram) + this.#points.push(at) - 1;
  }

  add(curve: ArcChain, from: WireEnd, to: WireEnd): void {
    this.#wires.push({ curve, from, to });
  }

  /** The diagram that came about. Over and under of new crossings are 0: weave it. */
  finish(): KnotDiagram {
    const old = this.#diagram;
    const before = crossingCount(old);
    const count = before + this.#points.length;
    const x = new Float64Array(count);
    const y = new Float64Array(count);
    const over = new Uint8Array(count);
    const twins = new Int32Array(4 * count).fill(-1);
    x.set(old.x);
    y.set(old.y);
    over.set(old.over);
    twins.set(old.twin);
    for (const [i, point] of this.#points.entries()) {
      x[before + i] = point.x;
      y[before + i] = point.y;
    }
    const curves = new Map(old.curves);
    for (const half of this.#cutHalves) {
      curves.delete(half);
      twins[half] = -1;
    }
    const loops = old.loops.filter((_, loop) => !this.#cutLoops.has(loop));
    for (const { curve, from, to } of this.#strung()) {
      if ("half" in from && "half" in to) {
        twins[from.half] = to.half;
        twins[to.half] = from.half;
        const merged = mergeStraights(curve);
        if (!isStraight(merged)) curves.set(from.half, merged);
      } else {
        loops.push(mergeStraights(joinChains([curve], true)));
      }
    }
    if (twins.includes(-1)) throw new InternalError("a crossing was left with a loose end");
    return { x, y, over, twin: twins, curves, loops };
  }

  /** Wires that share a joint run on into each other. */
  #strung(): Wire[] {
    const atJoint = new Map<Joint, Wire[]>();
    for (const wire of this.#wires) {
      for (const end of [wire.from, wire.to]) {
        if ("joint" in end) atJoint.set(end.joint, [...(atJoint.get(end.joint) ?? []), wire]);
      }
    }
    const used = new Set<Wire>();
    const strung: Wire[] = [];
    const follow = (start: Wire, from: WireEnd): void => {
      const parts: ArcChain[] = [];
      let wire: Wire | undefined = start;
      let entered = from;
      let left = from;
      while (wire && !used.has(wire)) {
        used.add(wire);
        const forward = sameEnd(wire.from, entered);
        parts.push(forward ? wire.curve : reverseChain(wire.curve));
        left = forward ? wire.to : wire.from;
        if ("half" in left) break;
        const { joint }: { joint: Joint } = left;
        wire = atJoint.get(joint)?.find((next) => !used.has(next));
        entered = left;
      }
      strung.push({ curve: joinChains(parts, false), from, to: left });
    };
    for (const wire of this.#wires) {
      if (used.has(wire)) continue;
      if ("half" in wire.from) follow(wire, wire.from);
      else if ("half" in wire.to) follow(wire, wire.to);
    }
    for (const wire of this.#wires) if (!used.has(wire)) follow(wire, wire.from);
    return strung;
  }
}

function sameEnd(a: WireEnd, b: WireEnd): boolean {
  if ("half" in a) return "half" in b && a.half === b.half;
  return "joint" in b && a.joint === b.joint;
}

/** The straight line between two crossings needs no curve. */
function isStraight({ vertices }: ArcChain): boolean {
  return vertices.length === 2 && vertices[0]?.bulge === 0;
}
