/**
 * The order of cuts: what lies inside another path before it, and within each depth the
 * machine's way between cuts kept short. Along a Hilbert curve first (Bartholdi & Platzman,
 * "Heuristics based on spacefilling curves", Management Science 34, 1988: about a quarter over
 * the shortest way, in n log n), then stretches of the way turned round while that shortens it,
 * looking a bounded number of cuts ahead. Closed paths begin at their vertex nearest to where
 * the last cut ended.
 */
import { groupBy } from "../base/group-by.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, chainEnd, chainStart, restartChain } from "../geometry/arc-chain.ts";
import { boundsOf } from "../geometry/bounds.ts";
import { distance, type Point } from "../geometry/point.ts";

export interface Cut {
  /** Made one after another: a single path, or the strokes of one label. */
  readonly chains: readonly ArcChain[];
  /** How many other paths lie round it: deeper ones are cut first. */
  readonly depth: number;
}

/** The cuts in working order, for a machine that stands at `from`. */
export function orderCuts(cuts: readonly Cut[], from: Point): ArcChain[] {
  const ordered: ArcChain[] = [];
  let at = from;
  const byDepth = groupBy(cuts, (cut) => cut.depth);
  for (const [, group] of [...byDepth].sort(([a], [b]) => b - a)) {
    for (const { chains } of shortened(alongHilbert(group), at)) {
      for (const chain of chains) {
        const next = chain.closed ? restartChain(chain, nearestVertex(chain, at)) : chain;
        ordered.push(next);
        at = chainEnd(next);
      }
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

function alongHilbert(cuts: readonly Cut[]): Cut[] {
  const box = boundsOf(cuts.map(startOf));
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY, SAME_POINT_MM);
  const cells = 2 ** HILBERT_ORDER - 1;
  const keyed = cuts.map((cut, i) => {
    const { x, y } = startOf(cut);
    const column = Math.floor(((x - box.minX) / size) * cells);
    const row = Math.floor(((y - box.minY) / size) * cells);
    return { cut, i, key: hilbertIndex(column, row) };
  });
  return keyed.sort((a, b) => a.key - b.key || a.i - b.i).map(({ cut }) => cut);
}

function startOf({ chains }: Cut): Point {
  return chains[0] ? chainStart(chains[0]) : { x: 0, y: 0 };
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
function shortened(cuts: readonly Cut[], from: Point): Cut[] {
  const order = [...cuts];
  // Places 1.. are the cuts' starts, place 0 the machine's.
  const places = [from, ...order.map(startOf)];
  const apart = (i: number, j: number) => {
    const a = places[i];
    const b = places[j];
    return a && b ? distance(a, b) : 0;
  };
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let gained = false;
    for (let i = 0; i < places.length - 2; i++) {
      let step = apart(i, i + 1);
      for (let j = i + 2; j < Math.min(places.length, i + LOOK_AHEAD); j++) {
        const toStart = apart(i, j);
        const gain = step + apart(j, j + 1) - toStart - (j + 1 < places.length ? apart(i + 1, j + 1) : 0);
        if (gain <= SAME_POINT_MM) continue;
        reverseBetween(places, i + 1, j);
        reverseBetween(order, i, j - 1);
        step = apart(i, i + 1);
        gained = true;
      }
    }
    if (!gained) break;
  }
  return order;
}

function reverseBetween<T>(list: T[], from: number, to: number): void {
  const turned = list.slice(from, to + 1).reverse();
  for (const [offset, item] of turned.entries()) list[from + offset] = item;
}
