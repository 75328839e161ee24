/** Diagrams moved, turned, scaled and mirrored, and several laid into one plane. */
import type { ArcChain } from "../geometry/arc-chain.ts";
import { type Transform, transformChain, transformPoint } from "../geometry/transform.ts";
import { crossingCount, crossingPoint, type HalfEdge, type KnotDiagram } from "./knot-diagram.ts";

/**
 * The diagram as it lies after a similarity. A mirror turns the order of the slots round, so
 * that they count counter-clockwise again; each strand stays over where it was over, which
 * exchanges the hand.
 */
export function placeDiagram(diagram: KnotDiagram, by: Transform): KnotDiagram {
  const mirrors = by.a * by.d - by.b * by.c < 0;
  const moved = (half: HalfEdge): HalfEdge => (mirrors ? (half & ~3) | ((4 - (half & 3)) & 3) : half);
  const count = crossingCount(diagram);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let crossing = 0; crossing < count; crossing++) {
    const at = transformPoint(crossingPoint(diagram, crossing), by);
    x[crossing] = at.x;
    y[crossing] = at.y;
  }
  const twin = new Int32Array(diagram.twin.length);
  for (const [half, other] of diagram.twin.entries()) twin[moved(half)] = moved(other);
  return {
    x,
    y,
    twin,
    over: diagram.over.slice(),
    curves: new Map([...diagram.curves].map(([half, curve]) => [moved(half), transformChain(curve, by)])),
    loops: diagram.loops.map((loop) => transformChain(loop, by)),
  };
}

/** Several diagrams as one: the crossings of each follow those of the ones before it. */
export function uniteDiagrams(diagrams: readonly KnotDiagram[]): KnotDiagram {
  const total = diagrams.reduce((sum, diagram) => sum + crossingCount(diagram), 0);
  const x = new Float64Array(total);
  const y = new Float64Array(total);
  const over = new Uint8Array(total);
  const twin = new Int32Array(4 * total);
  const curves = new Map<HalfEdge, ArcChain>();
  const loops: ArcChain[] = [];
  let first = 0;
  for (const diagram of diagrams) {
    x.set(diagram.x, first);
    y.set(diagram.y, first);
    over.set(diagram.over, first);
    for (const [half, other] of diagram.twin.entries()) twin[half + 4 * first] = other + 4 * first;
    for (const [half, curve] of diagram.curves) curves.set(half + 4 * first, curve);
    loops.push(...diagram.loops);
    first += crossingCount(diagram);
  }
  return { x, y, twin, over, curves, loops };
}
