/** Columns drawn by hand: straight, with evenly spaced rungs. */
import type { SatinColumn } from "../../../src/crafts/stitch/column.ts";
import { polyline } from "../../../src/geometry/arc-chain.ts";

export interface PlainColumn {
  readonly lengthMm: number;
  readonly widthMm: number;
  /** How many rungs, the first and the last at the ends. */
  readonly rungs: number;
  readonly ends?: SatinColumn["ends"];
  readonly over?: SatinColumn["over"];
}

/** Along the x axis, from 0. */
export function plainColumn({ lengthMm, widthMm, rungs, ends = [], over = [] }: PlainColumn): SatinColumn {
  return {
    strand: 0,
    centreline: polyline(
      [
        { x: 0, y: 0 },
        { x: lengthMm, y: 0 },
      ],
      false,
    ),
    ends,
    over,
    rungs: Array.from({ length: rungs }, (_, i) => {
      const x = (i * lengthMm) / (rungs - 1);
      return { left: { x, y: widthMm / 2 }, right: { x, y: -widthMm / 2 }, alongMm: x };
    }),
    widthMm,
  };
}
