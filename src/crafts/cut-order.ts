/**
 * The order of cuts: what lies inside another path before it, and within each depth the
 * machine's way between cuts kept short. Along a Hilbert curve first (Bartholdi & Platzman,
 * "Heuristics based on spacefilling curves", Management Science 34, 1988: about a quarter over
 * the shortest way, in n log n), then stretches of the way turned round while that shortens it,
 * looking a bounded number of cuts ahead. Closed paths begin at their vertex nearest to where
 * the last cut ended.
 */
import { type ArcChain, chainEnd, chainStart, restartChain } from "../geometry/arc-chain.ts";
import { boundsOf } from "../geometry/bounds.ts";
import { distance, type Point } from "../geometry/point.ts";

export interface Cut {
  readonly chain: ArcChain;
  /** How many other paths lie round it: deeper ones are cut first. */
  readonly depth: number;
}

/** The cuts in working order, for a machine that stands at `from`. */
export function orderCuts(cuts: readonly Cut[], from: Point): ArcChain[] {
  const ordered: ArcChain[] = [];
  let at = from;
  for (const depth of [...new Set(cuts.map((cut) => cut.depth))].sort((a, b) => b - a)) {
    const group = cuts.filter((cut) => cut.depth === depth).map((cut) => cut.chain);
    for (const chain of shortened(alongHilbert(group), at)) {
      const next = chain.closed ? restartChain(chain, nearestVertex(chain, at)) : chain;
      ordered.push(next);
      at = chainEnd(next);
    }
  }
  return ordered;
}

/** The machine's way between cuts, mm: from the end of each to the start of the next. */
export function travelLength(chains: Iterable<ArcChain>, from: Point): number {
  let at = from;
  let travel = 0;
  for (const chain of chains) {
    travel += distance(at, chainStart(chain));
    at = chainEnd(chain);
  }
  return travel;
}

function nearestVertex(chain: ArcChain, to: Point): number {
  let nearest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [i, vertex] of chain.vertices.entries()) {
    const apart = distance(vertex, to);
    if (apart < least) {
      least = apart;
      nearest = i;
    }
  }
  return nearest;
}

/** Cells along each side of the Hilbert square: 2 to the power of this. */
const HILBERT_ORDER = 16;

function alongHilbert(chains: readonly ArcChain[]): ArcChain[] {
  const box = boundsOf(chains.map(chainStart));
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY, 1e-9);
  const cells = 2 ** HILBERT_ORDER - 1;
  const keyed = chains.map((chain, i) => {
    const { x, y } = chainStart(chain);
    const column = Math.floor(((x - box.minX) / size) * cells);
    const row = Math.floor(((y - box.minY) / size) * cells);
    return { chain, i, key: hilbertIndex(column, row) };
  });
  return keyed.sort((a, b) => a.key - b.key || a.i - b.i).map(({ chain }) => chain);
}

/** The place of a cell along the Hilbert curve (Hilbert 1891; the usual bitwise walk). */
function hilbertIndex(column: number, row: number): number {
  let x = column;
  let y = row;
  let index = 0;
  for (let half = 2 ** (HILBERT_ORDER - 1); half >= 1; half /= 2) {
    const right = (x & half) > 0 ? 1 : 0;
    const up = (y & half) > 0 ? 1 : 0;
    index += half * half * ((3 * right) ^ up);
    if (up === 0) {
      if (right === 1) {
        x = half * 2 - 1 - (x & (half * 2 - 1));
        y = half * 2 - 1 - (y & (half * 2 - 1));
      }
      [x, y] = [y, x];
    }
  }
  return index;
}

/** Cuts ahead that are looked at for turning a stretch round. */
const LOOK_AHEAD = 40;
const SWEEPS = 3;

/** Two-opt in a window: turning the stretch i+1..j round pays when its two ends get nearer. */
function shortened(chains: readonly ArcChain[], from: Point): ArcChain[] {
  const order = [...chains];
  const at = (i: number) => {
    const chain = order[i];
    return i < 0 || !chain ? from : chainStart(chain);
  };
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let gained = false;
    for (let i = -1; i < order.length - 2; i++) {
      for (let j = i + 2; j < Math.min(order.length, i + LOOK_AHEAD); j++) {
        const closing = j + 1 < order.length;
        const now = distance(at(i), at(i + 1)) + (closing ? distance(at(j), at(j + 1)) : 0);
        const turned = distance(at(i), at(j)) + (closing ? distance(at(i + 1), at(j + 1)) : 0);
        if (turned >= now - 1e-9) continue;
        order.splice(i + 1, j - i, ...order.slice(i + 1, j + 1).reverse());
        gained = true;
      }
    }
    if (!gained) break;
  }
  return order;
}
