/** A woven diagram laid on the cloth, mm from the lower left corner of the finished piece. */
import type { Faces } from "../../diagram/faces.ts";
import type { KnotDiagram } from "../../diagram/knot-diagram.ts";
import { diagramBounds, moveDiagram } from "../../diagram/move-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type Bounds, boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { makeRibbons, type Ribbons } from "../../ribbon/ribbon.ts";
import type { StitchSettings } from "./settings.ts";

export interface LaidCloth {
  readonly size: { readonly width: number; readonly height: number };
  readonly bounds: Bounds;
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
  readonly ribbons: Ribbons;
}

export function layOnCloth(
  woven: { readonly diagram: KnotDiagram; readonly faces: Faces; readonly strands: Strands },
  { ribbon, borderMm }: StitchSettings,
): LaidCloth {
  const box = diagramBounds(woven.diagram);
  const inset = ribbon.widthMm / 2 + borderMm;
  const diagram = moveDiagram(woven.diagram, inset - box.minX, inset - box.minY);
  const size = { width: boundsWidth(box) + 2 * inset, height: boundsHeight(box) + 2 * inset };
  return {
    size,
    bounds: { minX: 0, minY: 0, maxX: size.width, maxY: size.height },
    diagram,
    faces: woven.faces,
    strands: woven.strands,
    ribbons: makeRibbons(diagram, woven.strands, ribbon),
  };
}
