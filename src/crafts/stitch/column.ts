/**
 * A satin column: one visible piece of ribbon as the needle sees it, a ladder of rungs from one
 * end to the other, each a line of thread across the ribbon.
 */
import type { CrossingId } from "../../diagram/knot-diagram.ts";
import type { ArcChain } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";

export interface Rung {
  /** Where the needle goes in on the left and on the right of someone who walks along the column. */
  readonly left: Point;
  readonly right: Point;
  /** Place along the column's centreline. */
  readonly alongMm: number;
}

/** The stretch of a column that lies over a crossing strand, and must be sewn after it. */
export interface OverStretch {
  readonly crossing: CrossingId;
  readonly fromMm: number;
  readonly toMm: number;
}

export interface SatinColumn {
  readonly strand: number;
  /** From beneath one over-strand to beneath the next, tucks included; closed for a ring that never passes under. */
  readonly centreline: ArcChain;
  /** The crossings beneath whose over-strands it begins and ends; none for a closed one. */
  readonly ends: readonly CrossingId[];
  readonly over: readonly OverStretch[];
  /** In order along the centreline. */
  readonly rungs: readonly Rung[];
  readonly widthMm: number;
  /**
   * Set for a column too narrow for satin: it has no rungs, and a bean line is sewn along its
   * centreline, each stitch three times (on, back and on again).
   */
  readonly line?: "bean";
}
