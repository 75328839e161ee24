/** What a design holds, before any craft: counts, lengths, hand, size. */
import { done, type Result } from "../base/fault.ts";
import { leastBendRadius } from "../diagram/bends.ts";
import { nugatoryCrossings } from "../diagram/checkerboard.ts";
import { crossingCount, crossingPoint } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { type PlanarDiagramCode, planarDiagramCode } from "../diagram/planar-diagram-code.ts";
import { strandLengths } from "../diagram/strands.ts";
import { diagramHand, type Hand, isAlternating } from "../diagram/weave.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";
import type { Panel } from "../lattice/panel.ts";
import { type PictureMark, panelPicture } from "../lattice/panel-picture.ts";
import type { ComposedPiece } from "./compose-design.ts";
import type { Design } from "./design.ts";
import { type InspectedLink, inspectLink } from "./inspect-link.ts";
import type { MadeJoin } from "./make-join.ts";
import { type ListedStrand, listStrands } from "./strand-list.ts";
import { type ReadBeside, readsNothing, type Woven, type WovenDesign, weaveDesign } from "./woven-design.ts";

/** Where the design gives no width, a profile will: this is what the inlay's profile takes. */
const RIBBON_PER_PITCH = 0.3;

export interface Inspection {
  readonly crossings: number;
  readonly strands: number;
  /** Centreline lengths, mm. */
  readonly strandLengths: readonly number[];
  readonly strandList: readonly ListedStrand[];
  readonly hand: Hand | null;
  readonly alternating: boolean;
  /** Over the ribbon's outer edges, mm. */
  readonly size: { readonly width: number; readonly height: number };
  readonly faces: number;
  readonly parts: number;
  readonly pitchMm: readonly [number, number];
  readonly ribbonWidthMm: number;
  /** Of a composed design. */
  readonly pieces: readonly ComposedPiece[];
  readonly joins: readonly MadeJoin[];
  /** Crossings that could be untwisted, mm from the lower left corner. */
  readonly nugatory: readonly Point[];
  /** The tightest bend of a centreline, mm from the lower left corner; null where none bends. */
  readonly leastBend: { readonly radiusMm: number; readonly at: Point } | null;
}

export interface InspectedDesign {
  readonly inspection: Inspection;
  readonly planarDiagramCode: () => PlanarDiagramCode;
  /** What the strands are as a link; takes some seconds where there are many crossings. */
  readonly link: () => InspectedLink;
  /** The plan as text, of a design of one panel. */
  readonly picture: (() => PictureMark[][]) | undefined;
}

/** Faults: those of the panel (path ["panel"]) or of the composition. */
export function inspectDesign(
  design: Design,
  readBeside: ReadBeside = readsNothing,
): Result<InspectedDesign> {
  const { pitchMm, ribbon } = design;
  const made = weaveDesign(design, { pitchMm, corner: ribbon.corner ?? "pointed", readBeside });
  if (!made.ok) return made;
  const { panel } = made.value;
  return done({
    inspection: inspect(made.value, design),
    planarDiagramCode: () => planarDiagramCode(made.value.diagram, made.value.strands),
    link: () => inspectLink(made.value),
    picture: panel && (() => pictureOf(panel, made.value)),
  });
}

function inspect(woven: WovenDesign, { pitchMm, ribbon }: Design): Inspection {
  const { diagram, faces, strands, pieces, joins } = woven;
  const lengthsMm = strandLengths(diagram, strands);
  const box = diagramBounds(diagram);
  const widthMm = ribbon.widthMm ?? RIBBON_PER_PITCH * Math.min(pitchMm.across, pitchMm.down);
  const left = box.minX - widthMm / 2;
  const low = box.minY - widthMm / 2;
  const bend = leastBendRadius(diagram);
  return {
    crossings: crossingCount(diagram),
    strands: strands.count,
    strandLengths: lengthsMm,
    strandList: listStrands(woven, lengthsMm),
    hand: diagramHand(diagram, faces),
    alternating: isAlternating(diagram),
    size: { width: boundsWidth(box) + widthMm, height: boundsHeight(box) + widthMm },
    faces: faces.count,
    parts: faces.parts,
    pitchMm: [pitchMm.across, pitchMm.down],
    ribbonWidthMm: widthMm,
    pieces,
    joins,
    leastBend: bend ? { radiusMm: bend.radiusMm, at: { x: bend.at.x - left, y: bend.at.y - low } } : null,
    nugatory: nugatoryCrossings(diagram, faces).map((crossing) => {
      const { x, y } = crossingPoint(diagram, crossing);
      return { x: x - left, y: y - low };
    }),
  };
}

function pictureOf(panel: Panel, { diagram, strands }: Woven): PictureMark[][] {
  return panelPicture(panel, diagram, strands);
}
