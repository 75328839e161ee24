/**
 * The widest disc inside a closed chain, by halving squares and leaving out those that can't hold
 * a better centre (the pole of inaccessibility: D. Garcia-Castellanos and U. Lombardo, "Poles of
 * inaccessibility", Scottish Geographical Journal 123 (2007), the search by a tree of squares).
 */
import { type ArcChain, chainBounds, segmentsOf } from "../../geometry/arc-chain.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { insideChain } from "../../geometry/inside.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance, type Point } from "../../geometry/point.ts";

export interface Disc {
  readonly centre: Point;
  readonly radiusMm: number;
}

interface Square {
  readonly centre: Point;
  readonly half: number;
  readonly depth: number;
}

export interface DiscQuestion {
  /** The radius is found to within this. */
  readonly errorMm: number;
  /** A disc of this radius will do: no wider one is looked for. */
  readonly enoughMm: number;
}

export function widestDisc(chain: ArcChain, { errorMm, enoughMm }: DiscQuestion): Disc {
  const segments = segmentsOf(chain);
  const box = chainBounds(chain);
  const squareAt = (x: number, y: number, half: number): Square => {
    const centre = { x, y };
    let apart = Number.POSITIVE_INFINITY;
    for (const segment of segments) apart = Math.min(apart, distance(centre, nearestOn(segment, centre)));
    return { centre, half, depth: insideChain(chain, centre) ? apart : -apart };
  };
  const side = Math.min(boundsWidth(box), boundsHeight(box));
  const waiting: Square[] = [];
  for (let x = box.minX; x < box.maxX; x += side)
    for (let y = box.minY; y < box.maxY; y += side)
      waiting.push(squareAt(x + side / 2, y + side / 2, side / 2));
  let best = squareAt((box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2, 0);
  for (let square = waiting.shift(); square && best.depth < enoughMm; square = waiting.shift()) {
    if (square.depth > best.depth) best = square;
    // No point of a square lies further in than its centre by more than half the diagonal.
    if (square.depth + square.half * Math.SQRT2 <= best.depth + errorMm) continue;
    const { centre, half } = square;
    for (const [x, y] of QUARTERS)
      waiting.push(squareAt(centre.x + (x * half) / 2, centre.y + (y * half) / 2, half / 2));
  }
  return { centre: best.centre, radiusMm: Math.max(0, best.depth) };
}

const QUARTERS = [
  [-1, -1],
  [1, -1],
  [-1, 1],
  [1, 1],
] as const;
