/** Panel -> knot diagram: every strand walked from site to site, its curve flat or bent. */
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import type { Strands } from "../diagram/strands.ts";
import type { ArcChain } from "../geometry/arc-chain.ts";
import type { Point } from "../geometry/point.ts";
import type { Panel } from "./panel.ts";
import { type CornerStyle, PanelCurves } from "./panel-curves.ts";
import {
  type LatticePlace,
  numberCrossings,
  PanelWalk,
  placeNumber,
  type Round,
  type Run,
} from "./panel-walk.ts";

export interface LatticeOptions {
  /** mm between neighbouring cell centres. */
  readonly pitchMm: { readonly across: number; readonly down: number };
  readonly corner: CornerStyle;
}

/**
 * The diagram of a panel, in mm, y up, the lowest row and the first column of places at 0.
 * Over and under are not set (all 0): weave it.
 */
export function panelDiagram(panel: Panel, { pitchMm, corner }: LatticeOptions): KnotDiagram {
  const steps = { stepXMm: pitchMm.across / 2, stepYMm: pitchMm.down / 2 };
  const curves = new PanelCurves({ lowestRow: panel.rows - 1, ...steps, corner });
  return traceDiagram(panel, {
    point: (place) => curves.point(place),
    edge: (run) => (run.quarters.length > 1 ? curves.edge(run) : undefined),
    round: (round) => curves.round(round),
  });
}

/** Where a panel's places come to lie, and its strands' curves. */
export interface PanelShape {
  readonly point: (place: LatticePlace) => Point;
  /** The curve from crossing to crossing; undefined for the straight line. */
  readonly edge: (run: Run) => ArcChain | undefined;
  readonly round: (round: Round) => ArcChain;
}

/** The diagram of a panel in a shape that keeps slots counter-clockwise. Over and under are not set. */
export function traceDiagram(panel: Panel, shape: PanelShape): KnotDiagram {
  const crossings = numberCrossings(panel);
  const walk = new PanelWalk(panel);
  const points = crossings.rows.map((row, i) => shape.point({ row, column: crossings.columns[i] ?? 0 }));
  const twin = new Int32Array(4 * points.length).fill(-1);
  const curves = new Map<number, ArcChain>();
  for (let half = 0; half < twin.length; half++) {
    if (twin[half] !== -1) continue;
    const from = { row: crossings.rows[half >> 2] ?? 0, column: crossings.columns[half >> 2] ?? 0 };
    const run = walk.run(from, half & 3);
    const other = 4 * (crossings.numbers[placeNumber(panel, run.to)] ?? 0) + ((run.slot + 2) & 3);
    twin[half] = other;
    twin[other] = half;
    const curve = shape.edge(run);
    if (curve) curves.set(half, curve);
  }
  return {
    x: Float64Array.from(points, ({ x }) => x),
    y: Float64Array.from(points, ({ y }) => y),
    twin,
    over: new Uint8Array(points.length),
    curves,
    loops: walk.rounds().map(shape.round),
  };
}

/**
 * The strand that passes each unit square (by its top left place), -1 where there is none.
 * Numbers are those of the panel's own diagram.
 */
export function squaresOfStrands(panel: Panel, strands: Strands): Int32Array {
  const squares = new Int32Array(panel.rows * panel.columns).fill(-1);
  const crossings = numberCrossings(panel);
  const walk = new PanelWalk(panel);
  const mark = ({ quarters }: Run | Round, strand: number) => {
    for (const quarter of quarters) squares[placeNumber(panel, quarter)] = strand;
  };
  for (const [half, strand] of strands.strandOf.entries()) {
    const from = { row: crossings.rows[half >> 2] ?? 0, column: crossings.columns[half >> 2] ?? 0 };
    mark(walk.run(from, half & 3), strand);
  }
  for (const [i, round] of walk.rounds().entries()) mark(round, strands.first.length + i);
  return squares;
}
