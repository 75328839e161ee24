/**
 * Everything that a router job depends on besides the diagram. mm, degrees, mm per minute.
 * Heights are depths below the upper face of the stock, all positive, unless a name says z.
 */
import type { RibbonSetting } from "../../checks/remedy.ts";
import type { Cutter } from "../../output/toolpath.ts";

/** A cutter with what the profile's numbers make of it. */
export interface LoadedCutter extends Cutter {
  readonly spindleRpm: number;
  /** In the cut, sideways; never over the machine's. */
  readonly feedMmPerMin: number;
  /** Straight down, and down a ramp. */
  readonly plungeMmPerMin: number;
  /** The most it goes deeper in one pass. */
  readonly stepDownMm: number;
  /** From one path to the next when clearing an area (end mills) or shaping a dome (balls). */
  readonly stepOverMm: number;
}

export type PanelOutline = "rectangle" | "rounded" | "circle" | "knot";

/** What all router work has in common. */
export interface RouterSettings {
  readonly ribbon: RibbonSetting;
  /** In the profile's order; sorted where a use needs an order. */
  readonly cutters: readonly LoadedCutter[];
  readonly stockThicknessMm: number;
  /** Solid material that always stays below a cut that is not meant to go through. */
  readonly keepBelowMm: number;
  /** "across": the grain runs from left to right; "up": from bottom to top; "none": no grain (MDF, board). */
  readonly grain: "across" | "up" | "none";
  /** Least width that may stay standing where it runs along and across the grain. */
  readonly leastAlongGrainMm: number;
  readonly leastAcrossGrainMm: number;

  readonly outline: PanelOutline;
  /** From the ribbon's edge to the panel's edge (for a circle: at the nearest place). */
  readonly borderMm: number;
  readonly cornerRadiusMm: number;
  /** Whether the panel is cut free, held by tabs. */
  readonly cutOut: boolean;
  readonly tabLengthMm: number;
  readonly tabHeightMm: number;
  readonly tabCount: number;

  readonly origin: "corner" | "centre";
  /** Rapid moves between cuts: above the stock and its clamps. */
  readonly clearanceMm: number;
  /** Rapid moves come down to here before the cutter goes on at the plunge feed. */
  readonly approachMm: number;
  readonly climb: boolean;
  readonly plungeAllowed: boolean;
  readonly rampDeg: number;
  /** Left on walls by clearing, taken by the finishing pass. */
  readonly wallAllowanceMm: number;
  /** How far the carved piece may differ from the drawn one; the simulation holds it. */
  readonly toleranceMm: number;
  /** Pixel of the simulation. */
  readonly pixelMm: number;

  readonly machine: {
    readonly maxFeedMmPerMin: number;
    readonly rapidMmPerMin: number;
    readonly accelerationMmPerS2: number;
    readonly travelMm: { readonly x: number; readonly y: number; readonly z: number };
    readonly leastRpm: number;
    readonly greatestRpm: number;
  };

  /** Of the wood, for the note on wood movement; 0 where it does not move by the grain. */
  readonly movementPerPercent: number;
  readonly moistureChangePercent: number;
}

/** Ribbons stand, the ground round them is cleared. */
export interface GroundSettings extends RouterSettings {
  readonly work: "ground";
  readonly groundDepthMm: number;
  /** Standing border along the panel's edge; 0: the ground runs out to the edge. */
  readonly frameMm: number;
  /** What a cutter may leave in an inner corner, measured from the corner's tip, and still count as reaching it. */
  readonly cornerLeftMm: number;
}

/** A V cutter follows outlines, or fills the ground between ribbons. */
export interface GrooveSettings extends RouterSettings {
  readonly work: "groove";
  readonly fill: "outlines" | "ground";
  /** Width of the groove along outlines, at the upper face. */
  readonly grooveWidthMm: number;
  /** No deeper than this; a wider place gets a flat floor. */
  readonly deepestMm: number;
  /** Filling the ground: how far outside the knot it reaches. */
  readonly fieldMarginMm: number;
}

export type DomeShape = "round" | "eased" | "two-ridged";

/** Ribbons domed, rising over and dipping under. */
export interface ReliefSettings extends RouterSettings {
  readonly work: "relief";
  readonly dome: DomeShape;
  /** Depths of the ribbon's ridge where it passes over and where it passes under, of the ground and of the border. */
  readonly overDepthMm: number;
  readonly underDepthMm: number;
  readonly groundDepthMm: number;
  readonly borderDepthMm: number;
  /** How far the ribbon's edge lies below its ridge. */
  readonly domeHeightMm: number;
  readonly frameMm: number;
  /** Ridges that the ball may leave. */
  readonly scallopMm: number;
  /** Left by roughing for the ball. */
  readonly roughAllowanceMm: number;
  /** Pixel of the height map and mesh. */
  readonly reliefPixelMm: number;
  /** How far the mesh may stray from the height map. */
  readonly meshDeviationMm: number;
}

export type AnyRouterSettings = GroundSettings | GrooveSettings | ReliefSettings;
