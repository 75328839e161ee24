/**
 * A picture for people, in mm, y up: what a finished piece or a plan looks like. Neutral:
 * a writer turns it into SVG.
 */
import type { ArcChain } from "../geometry/arc-chain.ts";
import type { Bounds } from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";
import type { RgbImage } from "./rgb-image.ts";

export interface Picture {
  readonly title: string;
  /** What is to be seen, for those who cannot see it. */
  readonly description: string;
  /** What must be in view; dimensions and the ruler may lie outside and are made room for. */
  readonly bounds: Bounds;
  /** Drawn in this order. */
  readonly items: readonly PictureItem[];
  /** What lies below all items; where nothing is said, white with room for half a letter. */
  readonly ground?: PictureGround;
  /** Places after the point of coordinates in mm; two where nothing is said. */
  readonly decimals?: number;
}

export interface PictureGround {
  /** Without a colour the ground is left transparent. */
  readonly colour?: string;
  /** How far it reaches past what must be in view. */
  readonly marginMm: number;
}

export type PictureItem =
  | {
      readonly kind: "area";
      /** Closed outlines with their holes (even-odd). */
      readonly chains: readonly ArcChain[];
      readonly fill: string;
      readonly edge?: { readonly colour: string; readonly widthMm: number };
      readonly name?: string;
      /** From 0, not to be seen, to 1, which covers what lies below. */
      readonly opacity?: number;
    }
  | {
      readonly kind: "line";
      readonly chains: readonly ArcChain[];
      readonly colour: string;
      readonly widthMm: number;
      readonly dashed?: boolean;
      readonly roundEnds?: boolean;
      /** From 0 to 1; lines of one item that cross are as opaque there as elsewhere. */
      readonly opacity?: number;
    }
  /** Fields that are shaded from one side to the other. */
  | {
      readonly kind: "fade";
      readonly colour: string;
      /** Where a field begins; it falls off to nothing. */
      readonly opacity: number;
      readonly fields: readonly FadingField[];
    }
  /** Pixels that fill a box; what they show is named for those who cannot see it. */
  | { readonly kind: "image"; readonly bounds: Bounds; readonly image: RgbImage; readonly name: string }
  /** A dimension line from one point to another, drawn `asideMm` to the left of that direction. */
  | {
      readonly kind: "dimension";
      readonly from: Point;
      readonly to: Point;
      readonly asideMm: number;
      readonly text: string;
    }
  /** Words that begin at a point, their foot on it; with a swatch, a line of a legend. */
  | { readonly kind: "label"; readonly at: Point; readonly text: string; readonly swatch?: string }
  /** A numbered ring round a place that a check speaks of. */
  | { readonly kind: "place"; readonly at: Point; readonly text: string; readonly failed: boolean }
  /** A scale bar, its left end at a point. */
  | { readonly kind: "ruler"; readonly at: Point; readonly lengthMm: number };

export interface FadingField {
  readonly outline: ArcChain;
  /** Lines across the way from here to there are as dark throughout: darkest here, and clear there. */
  readonly from: Point;
  readonly to: Point;
}
