/** What a design holds, before any craft: counts, lengths, hand, size. */
import { done, type Result } from "../base/fault.ts";
import { nugatoryCrossings } from "../diagram/checkerboard.ts";
import { crossingCount, crossingPoint } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { type PlanarDiagramCode, planarDiagramCode } from "../diagram/planar-diagram-code.ts";
import { strandLengths } from "../diagram/strands.ts";
import { diagramHand, type Hand, isAlternating } from "../diagram/weave.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";
import { type Panel, parsePanel } from "../lattice/panel.ts";
import { type PictureMark, panelPicture } from "../lattice/panel-picture.ts";
import type { Design } from "./design.ts";
import { type Woven, weavePanel } from "./woven-design.ts";

/** Where the design gives no width, a profile will: this is what the inlay's profile takes. */
const RIBBON_PER_PITCH = 0.3;

export interface Inspection {
  readonly crossings: number;
  readonly strands: number;
  /** Centreline lengths, mm. */
  readonly strandLengths: readonly number[];
  readonly hand: Hand | null;
  readonly alternating: boolean;
  /** Over the ribbon's outer edges, mm. */
  readonly size: { readonly width: number; readonly height: number };
  readonly faces: number;
  readonly parts: number;
  readonly pitchMm: readonly [number, number];
  readonly ribbonWidthMm: number;
  /** Crossings that could be untwisted, mm from the lower left corner. */
  readonly nugatory: readonly Point[];
}

export interface InspectedDesign {
  readonly inspection: Inspection;
  readonly planarDiagramCode: () => PlanarDiagramCode;
  readonly picture: () => PictureMark[][];
}

/** Faults: those of the panel (path ["panel"]). */
export function inspectDesign(design: Design): Result<InspectedDesign> {
  const panel = parsePanel(design.panel, ["panel"]);
  if (!panel.ok) return panel;
  const { pitchMm, ribbon, hand } = design;
  const woven = weavePanel(panel.value, hand, { pitchMm, corner: ribbon.corner ?? "pointed" });
  return done({
    inspection: inspect(woven, design),
    planarDiagramCode: () => planarDiagramCode(woven.diagram, woven.strands),
    picture: () => pictureOf(panel.value, woven),
  });
}

function inspect({ diagram, faces, strands }: Woven, { pitchMm, ribbon }: Design): Inspection {
  const box = diagramBounds(diagram);
  const widthMm = ribbon.widthMm ?? RIBBON_PER_PITCH * Math.min(pitchMm.across, pitchMm.down);
  const left = box.minX - widthMm / 2;
  const low = box.minY - widthMm / 2;
  return {
    crossings: crossingCount(diagram),
    strands: strands.count,
    strandLengths: strandLengths(diagram, strands),
    hand: diagramHand(diagram, faces),
    alternating: isAlternating(diagram),
    size: { width: boundsWidth(box) + widthMm, height: boundsHeight(box) + widthMm },
    faces: faces.count,
    parts: faces.parts,
    pitchMm: [pitchMm.across, pitchMm.down],
    ribbonWidthMm: widthMm,
    nugatory: nugatoryCrossings(diagram, faces).map((crossing) => {
      const { x, y } = crossingPoint(diagram, crossing);
      return { x: x - left, y: y - low };
    }),
  };
}

function pictureOf(panel: Panel, { diagram, strands }: Woven): PictureMark[][] {
  return panelPicture(panel, diagram, strands);
}
