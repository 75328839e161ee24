/** A panel's diagram bent round a centre. */
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import { arcOf } from "../geometry/segment.ts";
import { transformChain, turnBy } from "../geometry/transform.ts";
import type { Bend } from "./bend.ts";
import { bendChain, bentBiarc } from "./bend-chain.ts";
import type { Panel } from "./panel.ts";
import { type CornerStyle, PanelCurves } from "./panel-curves.ts";
import { traceDiagram } from "./panel-diagram.ts";
import type { LatticePlace } from "./panel-walk.ts";

/** The diagram, mm, y up, the bend's centre at 0, 0; over and under are not set. */
export function bentDiagram(panel: Panel, bend: Bend, corner: CornerStyle): KnotDiagram {
  const { stepXMm, stepYMm } = bend;
  const flat = new PanelCurves({ lowestRow: panel.rows - 1, stepXMm, stepYMm, corner });
  const copies = new TurnedCopies(bend.stepRad);
  return traceDiagram(panel, {
    point: (place) => bend.point(flat.point(place)),
    edge: ({ from, quarters, to, slot }) =>
      copies.of([from, ...quarters, to], (places) => {
        const run = { from: places[0] ?? from, quarters: places.slice(1, -1), to: places.at(-1) ?? to, slot };
        return bendEdge(flat.edge(run), quarters.length - 1, bend);
      }),
    round: ({ quarters, advance }) => {
      const curve = copies.of(quarters, (places) =>
        bendChain(flat.round({ quarters: places, advance }), bend),
      );
      return advance === 0 ? curve : { closed: true, vertices: curve.vertices.slice(0, -1) };
    },
  });
}

/**
 * The bent edge off so many breaklines. The bend curves its diagonals towards the centre; off a
 * breakline on that side the edge would first curve one way and then the other, where one arc
 * does it more gently.
 */
function bendEdge(flat: ArcChain, breaklines: number, bend: Bend): ArcChain {
  const curve = bendChain(flat, bend);
  const isWavy = (sign: number) => curve.vertices.some(({ bulge }) => sign * bulge > 0);
  return breaklines === 1 && isWavy(1) && isWavy(-1) ? bentBiarc(flat, bend) : curve;
}

/**
 * Strands that run alike some columns apart are bent once and turned about the centre: so they
 * are equal to the last arc, and the work of fitting is that of one repeat.
 */
class TurnedCopies {
  readonly #stepRad: number;
  readonly #known = new Map<string, ArcChain>();

  constructor(stepRad: number) {
    this.#stepRad = stepRad;
  }

  /** The curve along these places; it is made along the same places moved to the first column. */
  of(places: readonly LatticePlace[], make: (places: readonly LatticePlace[]) => ArcChain): ArcChain {
    const first = places[0]?.column ?? 0;
    const moved = places.map(({ row, column }) => ({ row, column: column - first }));
    const key = moved.map(({ row, column }) => `${row} ${column}`).join(" ");
    const known = this.#known.get(key) ?? make(moved);
    this.#known.set(key, known);
    return transformChain(known, turnBy(-first * this.#stepRad));
  }
}

/** The radius of the tightest arc of any strand, sharp corners aside; infinite where all is straight. */
export function tightestBendMm(diagram: KnotDiagram): number {
  let tightest = Number.POSITIVE_INFINITY;
  for (const curve of [...diagram.curves.values(), ...diagram.loops]) {
    for (const segment of segmentsOf(curve)) {
      if (segment.bulge !== 0) tightest = Math.min(tightest, arcOf(segment).radius);
    }
  }
  return tightest;
}
