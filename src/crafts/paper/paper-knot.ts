/** What every template begins with: the panel laid out, its ribbons joined where they cross. */
import type { Faces } from "../../diagram/faces.ts";
import type { KnotDiagram } from "../../diagram/knot-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type Bounds, boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import { type Laced, laceRibbons } from "../../ribbon/laced.ts";
import { layPanel, type PanelSettings, type RouterPanel } from "../router/router-panel.ts";

/** A design as it is drawn, wherever it lies. */
export interface WovenKnot {
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

export interface PaperKnot extends RouterPanel {
  readonly faces: Faces;
  /** Ribbons without gaps, which is how strands meet in wood and leather. */
  readonly laced: Laced;
}

export function layKnot({ diagram, faces, strands }: WovenKnot, settings: PanelSettings): PaperKnot {
  const panel = layPanel(diagram, strands, settings);
  return { ...panel, faces, laced: laceRibbons(panel.diagram, faces, settings.ribbon.widthMm) };
}

export function boxSize(box: Bounds): { readonly width: number; readonly height: number } {
  return { width: boundsWidth(box), height: boundsHeight(box) };
}

/** Any place on the ribbon, for what holds everywhere on it. */
export function somewhereOn({ diagram }: Pick<PaperKnot, "diagram">): Point {
  return { x: diagram.x[0] ?? 0, y: diagram.y[0] ?? 0 };
}
