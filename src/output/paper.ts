/**
 * Pages of paper: lines, areas, words and pictures with their places in mm, y up, origin at the
 * lower left corner of the sheet. Neutral: a writer turns it into a file.
 *
 * What is to be read stands in `marked` items, each part of an element of the document's
 * structure; elements in their order are the reading order. Everything else is furniture: frames,
 * rules, marks, which a voice passes over.
 */
import type { ArcChain } from "../geometry/arc-chain.ts";
import type { Bounds } from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";
import type { Transform } from "../geometry/transform.ts";
import type { RgbImage } from "./rgb-image.ts";

export interface PaperDocument {
  readonly title: string;
  /** BCP 47, e.g. "en". */
  readonly language: string;
  readonly pages: readonly PaperPage[];
  /** What is to be read, in the order of reading. */
  readonly structure: readonly PaperElement[];
}

export interface PaperPage {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Drawn in this order. */
  readonly items: readonly PaperItem[];
}

/** ISO 32000-1, 14.8.4: what a part of the text is. */
export type PaperRole =
  | "section"
  | "heading1"
  | "heading2"
  | "heading3"
  | "paragraph"
  | "list"
  | "list-item"
  | "list-label"
  | "list-body"
  | "table"
  | "row"
  | "column-header"
  | "row-header"
  | "cell"
  | "figure"
  | "caption";

/** An element is told from another by being itself: `marked` items point at it. */
export interface PaperElement {
  readonly role: PaperRole;
  /** What a figure shows, for those who cannot see it. */
  readonly alt?: string;
  /** How many columns of a table a cell spans, if not one. */
  readonly columns?: number;
  readonly children: readonly PaperElement[];
}

export type PaperWeight = "regular" | "bold";

export type PaperItem =
  | {
      readonly kind: "line";
      readonly chains: readonly ArcChain[];
      /** "#rgb" or "#rrggbb". */
      readonly colour: string;
      readonly widthMm: number;
      readonly dash?: PaperDash;
      /** Butt unless said. */
      readonly roundEnds?: boolean;
    }
  | {
      readonly kind: "area";
      /** Closed outlines with their holes (even-odd). */
      readonly chains: readonly ArcChain[];
      readonly fill: string;
      readonly edge?: { readonly colour: string; readonly widthMm: number };
    }
  | PaperText
  /** Pixels that fill a box. */
  | { readonly kind: "image"; readonly bounds: Bounds; readonly image: RgbImage }
  /** Items moved, turned, scaled or mirrored together, and cut off at a box that is not moved with them. */
  | {
      readonly kind: "group";
      readonly transform?: Transform;
      readonly clip?: Bounds;
      readonly items: readonly PaperItem[];
    }
  /** Items that belong to an element of the structure. */
  | { readonly kind: "marked"; readonly element: PaperElement; readonly items: readonly PaperItem[] };

export interface PaperDash {
  /** Dash, gap, dash, gap … each more than 0. */
  readonly lengthsMm: readonly number[];
  /** How far into the pattern the line begins. */
  readonly phaseMm?: number;
}

/** One line of words, its foot at a point. */
export interface PaperText {
  readonly kind: "text";
  readonly text: string;
  readonly at: Point;
  /** Size of the typeface (its em), mm; a point is 0.3528 mm. */
  readonly sizeMm: number;
  readonly colour: string;
  readonly weight?: PaperWeight;
  /** Which point of the line's foot stands at `at`; its start unless said. */
  readonly anchor?: "start" | "middle" | "end";
  /** Counter-clockwise. */
  readonly turnRad?: number;
  /** White ground this far round the letters, so that lines below do not spoil them. */
  readonly clearMm?: number;
  /** Words that would be longer are made smaller. */
  readonly mostMm?: number;
}

/** A point of typography, mm: ISO 32000-1, 8.3.2.3, a 72nd of an inch. */
export const POINT_MM = 25.4 / 72;

/** ISO 32000-1, annex C: readers need not open pages with a side of more than 14,400 points. */
export const LONGEST_SIDE_MM = 14_400 * POINT_MM;
