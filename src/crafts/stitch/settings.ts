/** Everything that a stitch job depends on besides the diagram; mm, degrees, thread in tex. */
import type { RibbonSetting } from "../../checks/remedy.ts";

export type StitchColours = "one" | "two" | "strands";

/** What all needle work has in common. */
export interface StitchSettings {
  readonly ribbon: RibbonSetting;
  readonly colours: StitchColours;
  /** Crosses at the left and right edge, to go on from hoop to hoop. */
  readonly alignmentMarks: boolean;
  readonly threadTex: number;
  readonly threadWidthMm: number;
  readonly bobbinTex: number;
  /** Metres on a full bobbin. */
  readonly bobbinMetres: number;
  readonly needleMm: number;
  readonly leastStitchMm: number;
  readonly greatestStitchMm: number;
  /** A running line: travel, underlay along the middle, outlines. */
  readonly runStitchMm: number;
  readonly runStitchTightMm: number;
  readonly hoopWidthMm: number;
  readonly hoopHeightMm: number;
  /** Kept free inside the hoop on all sides. */
  readonly hoopMarginMm: number;
  /** Plain margin round the knot, for the size of the finished piece. */
  readonly borderMm: number;
  /** Least clear space between two columns that must read apart, and least open counter. */
  readonly leastGapMm: number;
  readonly leastCounterMm: number;
  readonly stitchesPerMinute: number;
  /** At stitches longer than this the machine goes slower. */
  readonly slowOverMm: number;
  readonly greatestPerMm2: number;
  readonly tieStitchMm: number;
  readonly tieStitches: number;
}

export interface SatinSettings extends StitchSettings {
  readonly work: "satin";
  /** From one line of thread to the next, measured along the outer edge of bends. */
  readonly spacingMm: number;
  /** Needle holes along an inner edge lie at least this far apart; stitches between are shortened. */
  readonly leastHoleSpacingMm: number;
  /** How far shortened stitches stay off the inner edge, as a share of the width. */
  readonly shortenedShare: number;
  readonly leastSatinMm: number;
  readonly greatestSatinMm: number;
  /** Wider columns are split into stitches of at most this, offset from line to line. */
  readonly splitMm: number;
  /** What a column too narrow for satin becomes. */
  readonly tooNarrow: "bean" | "fault";
  /** Added to the whole width, half on each side. */
  readonly pullMm: number;
  /** Taken off each end along the column. */
  readonly pushMm: number;
  /** How far an under-strand's end runs beneath the over-strand's edge. */
  readonly tuckMm: number;
  readonly underlay: "by-width" | "none";
  readonly underlayStitchMm: number;
  readonly underlayInsetMm: number;
  /** Columns at least this wide also get an edge run, and from the second number on a zig-zag. */
  readonly edgeRunFromMm: number;
  readonly zigzagFromMm: number;
  readonly zigzagSpacingMm: number;
}

export interface OutlineSettings extends StitchSettings {
  readonly work: "outline";
  readonly line: "running" | "back";
  readonly along: "edges" | "centre" | "both";
  readonly stitchMm: number;
  /** Couched cord, hand work: added at each crossing, and at each end. */
  readonly cordPerCrossingMm: number;
  readonly cordEndMm: number;
  readonly cordWidthMm: number;
  /** Snap to the holes of an evenweave cloth: holes per inch; 0 for none. */
  readonly clothCount: number;
}

export interface AppliqueSettings extends StitchSettings {
  readonly work: "applique";
  readonly tackInsetMm: number;
  readonly tackStitchMm: number;
  readonly edgeSatinMm: number;
  readonly spacingMm: number;
  readonly leastHoleSpacingMm: number;
  readonly pullMm: number;
}

export type AnyStitchSettings = SatinSettings | OutlineSettings | AppliqueSettings;
