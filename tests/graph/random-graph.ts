/** Random plane graphs: parts of grids with diagonals, their points moved and some lines bent. */
import fc from "fast-check";
import type { Point } from "../../src/geometry/point.ts";
import { type GraphLine, type PlaneGraph, planeGraphFaults } from "../../src/graph/plane-graph.ts";
import { STEP } from "./sample-graphs.ts";

/** Thousandths, so that shrinking ends soon. */
const thousandths = (most: number) =>
  fc.integer({ min: Math.round(-1000 * most), max: Math.round(1000 * most) }).map((count) => count / 1000);

export function randomPlaneGraph(most = 5): fc.Arbitrary<PlaneGraph> {
  return fc
    .record({ across: fc.integer({ min: 1, max: most }), down: fc.integer({ min: 1, max: most }) })
    .chain(({ across, down }) => {
      const points = across * down;
      const slots = 3 * points;
      return fc.record({
        across: fc.constant(across),
        moves: fc.array(fc.record({ x: thousandths(0.32), y: thousandths(0.32) }), {
          minLength: points,
          maxLength: points,
        }),
        kept: fc.array(fc.boolean(), { minLength: slots, maxLength: slots }),
        bent: fc.array(
          fc.oneof({ weight: 4, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: thousandths(0.25) }),
          {
            minLength: slots,
            maxLength: slots,
          },
        ),
        slant: fc.array(fc.boolean(), { minLength: points, maxLength: points }),
      });
    })
    .map(({ across, moves, kept, bent, slant }): PlaneGraph => {
      const points = moves.map(
        ({ x, y }, i): Point => ({
          x: STEP * ((i % across) + x),
          y: STEP * (Math.floor(i / across) + y),
        }),
      );
      const lines: GraphLine[] = [];
      const join = (slot: number, from: number, to: number) => {
        if (kept[slot] && points[from] && points[to]) lines.push({ from, to, bulge: bent[slot] ?? 0 });
      };
      for (const i of points.keys()) {
        const isFirst = i % across === 0;
        const isBottom = i < across;
        if (!isFirst) join(3 * i, i - 1, i);
        if (!isBottom) join(3 * i + 1, i - across, i);
        if (isFirst || isBottom) continue;
        if (slant[i]) join(3 * i + 2, i - across - 1, i);
        else join(3 * i + 2, i - across, i - 1);
      }
      return { points, lines };
    })
    .filter((graph) => planeGraphFaults(graph).length === 0);
}
