/** What the checks of needle work measure, gathered from the diagram and its ribbons. */

import { type Faces, faceWalk } from "../../diagram/faces.ts";
import { crossingPoint, edgeCurve, type KnotDiagram, twin } from "../../diagram/knot-diagram.ts";
import { diagramBounds } from "../../diagram/move-diagram.ts";
import { type ArcChain, joinChains } from "../../geometry/arc-chain.ts";
import { type Bounds, growBounds } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import type { Ribbons } from "../../ribbon/ribbon.ts";

export interface StitchGeometry {
  readonly ribbons: Ribbons;
  /** Every edge and every loop, once. */
  readonly centrelines: readonly ArcChain[];
  /** The centrelines round every bounded face, and round the inside of every loop. */
  readonly faces: readonly ArcChain[];
  readonly crossingAt: (crossing: number) => Point;
  /** What the needle reaches, but for pointed tips. */
  readonly reach: Bounds;
}

export function stitchGeometry(
  diagram: KnotDiagram,
  faces: Faces,
  ribbons: Ribbons,
  pullMm: number,
): StitchGeometry {
  const outer = new Set(faces.outer);
  const edges: ArcChain[] = [];
  for (let half = 0; half < diagram.twin.length; half++)
    if (half < twin(diagram, half)) edges.push(edgeCurve(diagram, half));
  const round = faces.first.flatMap((first, face) =>
    outer.has(face)
      ? []
      : [
          joinChains(
            [...faceWalk(diagram, first)].map((half) => edgeCurve(diagram, half)),
            true,
          ),
        ],
  );
  return {
    ribbons,
    centrelines: [...edges, ...diagram.loops],
    faces: [...round, ...diagram.loops],
    crossingAt: (crossing) => crossingPoint(diagram, crossing),
    reach: growBounds(diagramBounds(diagram), (ribbons.widthMm + pullMm) / 2),
  };
}
