/**
 * Couched cord: how much each strand needs. A cord laid along the middle of a strand is as long as
 * that, and rises and falls at each crossing, over and under; both ends go to the back.
 */
import type { KnotDiagram } from "../../diagram/knot-diagram.ts";
import { type Strands, strandLengths, strandName, strandWalk } from "../../diagram/strands.ts";

export interface CordLength {
  readonly strand: number;
  readonly name: string;
  readonly centrelineMm: number;
  /** How often the strand passes over or under; a crossing of its own counts twice. */
  readonly passes: number;
  readonly cordMm: number;
}

export interface CordRule {
  /** For each passing over or under. */
  readonly cordPerCrossingMm: number;
  /** For each of the two ends: a strand is closed, and its cord ends where it began. */
  readonly cordEndMm: number;
}

/** One row for each strand, in the order of their numbers. */
export function cordPlan(diagram: KnotDiagram, strands: Strands, rule: CordRule): CordLength[] {
  return strandLengths(diagram, strands).map((centrelineMm, strand) => {
    const first = strands.first[strand];
    const passes = first === undefined ? 0 : [...strandWalk(diagram, first)].length;
    const cordMm = centrelineMm + passes * rule.cordPerCrossingMm + 2 * rule.cordEndMm;
    return { strand, name: strandName(strand), centrelineMm, passes, cordMm };
  });
}
