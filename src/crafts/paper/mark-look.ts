/** How all marks on printed sheets look: thin and dark, or grey where they lie among the drawing. */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import type { PaperItem } from "../../output/paper.ts";

export const INK = "#1b1b1b";
/** Contrast 4.5 : 1 on white (WCAG 2.2, 1.4.3), and still told from the drawing. */
export const SOFT_INK = "#6e6e6e";
export const FAINT_INK = "#b4b4b4";

export const MARK_LINE_MM = 0.15;
/** Sizes of type, mm: 7 and 9 points. */
export const SMALL_TYPE_MM = 2.5;
export const BODY_TYPE_MM = 3.2;

export function straight(from: Point, to: Point): ArcChain {
  return polyline([from, to], false);
}

/** Lines of one look. */
export function lines(chains: readonly ArcChain[], colour: string, widthMm = MARK_LINE_MM): PaperItem {
  return { kind: "line", chains, colour, widthMm };
}
