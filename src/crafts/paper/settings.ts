/**
 * Everything that templates for hand work depend on besides the diagram. mm and degrees.
 */
import type { RibbonSetting } from "../../checks/remedy.ts";
import type { PanelOutline } from "../router/settings.ts";

/** What all templates have in common: the panel round the knot. */
export interface TemplateSettings {
  readonly ribbon: RibbonSetting;
  readonly outline: PanelOutline;
  /** From the ribbon's edge to the panel's edge (for a circle: at the nearest place). */
  readonly borderMm: number;
  readonly cornerRadiusMm: number;
}

/** Relief carved by hand (CHECKS.md 5, "Hand carving"). Ribbons are carved without gaps. */
export interface CarvingSettings extends TemplateSettings {
  readonly stockThicknessMm: number;
  /** Solid wood that stays below the ground. */
  readonly keepBelowMm: number;
  readonly groundDepthMm: number;
  /** Height over the ground that an under-strand keeps where it passes under, as a share of the full height. */
  readonly underShare: number;
  /** Length of the slope down to a crossing, in ribbon widths. */
  readonly slopeWidths: number;
  readonly leastSlopeWidths: number;
  /** Walls lean outward from the ground by this. */
  readonly wallLeanDeg: number;
  readonly grain: "across" | "up" | "none";
  /** Fibres no shorter than this may stay standing. */
  readonly leastAcrossGrainMm: number;
  /** The tightest gouge at hand. */
  readonly leastGougeRadiusMm: number;
  /** How far the cut of a straight edge may stray from a bend. */
  readonly chordErrorMm: number;
  /** Standing border along the panel's edge; 0: the ground runs out to the edge. */
  readonly frameMm: number;
}

/** Leather carved with a swivel knife (CHECKS.md 7). */
export interface LeatherSettings extends TemplateSettings {
  readonly thicknessMm: number;
  readonly leastThicknessMm: number;
  /** How far before an over-strand the lines of the under-strand end. */
  readonly stopShortMm: number;
  /** Depth of the knife as a share of the thickness. */
  readonly knifeShare: number;
  readonly leastStrapMm: number;
  readonly leastInnerRadiusMm: number;
  /** How far a bevel runs out from its cut. */
  readonly bevelRunMm: number;
  /** Whether the ground is bevelled down along the ribbons too. */
  readonly bevelGround: boolean;
}

/** Scroll saw, fret saw or knife: what is cut out falls away, the rest must hold together. */
export interface PiercedSettings extends TemplateSettings {
  readonly pierce: "ground" | "ribbon";
  /** "joined": strands are one where they cross; "gapped": they stay apart by the gap. */
  readonly crossings: "joined" | "gapped";
  /** Standing border along the panel's edge; 0: with the ground pierced the knot is the piece. */
  readonly frameMm: number;
  readonly bridgeWidthMm: number;
  readonly mostBridgeMm: number;
  /** Bridges in every place that the design's symmetry asks for, though fewer would hold. */
  readonly symmetric: boolean;
  /** Least width of anything that stays standing. */
  readonly leastWebMm: number;
  /** Drill or knife start: the widest disc in every opening is at least this. */
  readonly startHoleMm: number;
  /** How far a part may reach from the only bridge that holds it. */
  readonly mostReachMm: number;
}

/** Line art. */
export interface LineSettings extends TemplateSettings {
  readonly style: "line" | "colouring";
  readonly lineMm: number;
  /** Whether the panel's outline is drawn. */
  readonly edge: boolean;
}
