/** A sheet from which lines of stitches are brought onto cloth: mm, y up, true to scale. */
import type { Bounds } from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";

export interface TransferSheet {
  readonly title: string;
  /** Facts for people, one line each. */
  readonly notes: readonly string[];
  /** Of the finished piece; its middle is marked. */
  readonly bounds: Bounds;
  readonly lines: readonly TransferLine[];
}

export interface TransferLine {
  readonly closed: boolean;
  /** Needle holes in order; a closed line does not repeat its first. */
  readonly holes: readonly Point[];
}
