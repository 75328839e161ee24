/**
 * The stretch of a column that hides what ends beneath it. It is measured on the tucked rungs
 * themselves, so that slanting crossings and bends come out right, and is at least half the
 * under-strand's width to both sides.
 */
import type { CrossingId } from "../../diagram/knot-diagram.ts";
import { between, type Point } from "../../geometry/point.ts";
import type { OverStretch, SatinColumn } from "./column.ts";
import type { ColumnEnd } from "./column-end.ts";
import { nearestAlong, ruleChain } from "./ruled-chain.ts";

/** The place along a column's centreline where it passes over a crossing. */
export interface CrossingPlace {
  readonly crossing: CrossingId;
  readonly alongMm: number;
}

/** Thread that lies beneath the over-strand of a crossing. */
export interface Tuck {
  readonly crossing: CrossingId;
  readonly points: readonly Point[];
}

/** Each rung is looked at in so many places. */
const PLACES = 16;

/** The points of a column's rungs that lie beneath the over-strand at one of its ends. */
export function tuckOf(column: SatinColumn, { crossing, depth, isStart }: ColumnEnd): Tuck {
  const points: Point[] = [];
  const rungs = column.rungs;
  for (let i = 0; i < rungs.length; i++) {
    const rung = rungs[isStart ? i : rungs.length - 1 - i];
    if (!rung) break;
    const line = Array.from({ length: PLACES + 1 }, (_, k) => between(rung.left, rung.right, k / PLACES));
    // As wide as this column, so is the one above.
    const hidden = line.filter((point) => depth(point) <= column.widthMm / 2);
    if (hidden.length === 0) break;
    points.push(...hidden);
  }
  return { crossing, points };
}

export function overStretches(
  column: SatinColumn,
  places: readonly CrossingPlace[],
  tucks: ReadonlyMap<CrossingId, readonly Tuck[]>,
  [clearFrom, clearTo]: readonly [number, number],
  hairMm: number,
): OverStretch[] {
  const ruled = ruleChain(column.centreline);
  const { widthMm } = column;
  return places.map(({ crossing, alongMm }) => {
    let [from, to] = [alongMm - widthMm / 2, alongMm + widthMm / 2];
    for (const { points } of tucks.get(crossing) ?? []) {
      for (const point of points) {
        const near = nearestAlong(ruled, point, alongMm - LOOK * widthMm, alongMm + LOOK * widthMm);
        from = Math.min(from, near.alongMm);
        to = Math.max(to, near.alongMm);
      }
    }
    return {
      crossing,
      fromMm: Math.max(clearFrom, from - hairMm),
      toMm: Math.min(clearTo, to + hairMm),
    };
  });
}

/** Places further from a crossing than so many widths belong to something else. */
const LOOK = 4;
