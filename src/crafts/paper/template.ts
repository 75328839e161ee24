/**
 * A template in true size for work by hand: drawn items in groups of one meaning, mm, y up, the
 * lower left corner of the finished piece at the origin, with what is to be said beside it.
 * Neutral: pages, tiles and keys are made of it elsewhere.
 */
import type { ArcChain } from "../../geometry/arc-chain.ts";
import type { Bounds } from "../../geometry/bounds.ts";
import type { PaperItem } from "../../output/paper.ts";

export interface Template {
  readonly title: string;
  /** What is to be seen, for those who cannot see it. */
  readonly description: string;
  /** The finished piece. */
  readonly size: { readonly width: number; readonly height: number };
  /** All that is drawn, marks beside the piece included. */
  readonly bounds: Bounds;
  /** Drawn in this order. */
  readonly groups: readonly TemplateGroup[];
  /** One sentence each. */
  readonly notes: readonly string[];
  readonly tables: readonly TemplateTable[];
}

export interface TemplateGroup {
  readonly name: string;
  /** What the hand does there, for the key. */
  readonly purpose: string;
  readonly items: readonly PaperItem[];
  /** What stands for the group in a key, within a box of {@link SAMPLE_WIDTH_MM} x {@link SAMPLE_HEIGHT_MM} at the origin. */
  readonly sample: readonly PaperItem[];
}

export interface TemplateTable {
  readonly title: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export const SAMPLE_WIDTH_MM = 14;
export const SAMPLE_HEIGHT_MM = 5;

export interface LineLook {
  readonly colour: string;
  readonly widthMm: number;
  readonly dashMm?: readonly number[];
  readonly roundEnds?: boolean;
}

export function lineItem(
  chains: readonly ArcChain[],
  { colour, widthMm, dashMm, roundEnds }: LineLook,
): PaperItem {
  return {
    kind: "line",
    chains,
    colour,
    widthMm,
    ...(dashMm && { dash: { lengthsMm: dashMm } }),
    ...(roundEnds && { roundEnds }),
  };
}

/** A group of lines of one look; the sample is one such line. */
export function lineGroup(
  name: string,
  purpose: string,
  chains: readonly ArcChain[],
  look: LineLook,
): TemplateGroup {
  return {
    name,
    purpose,
    items: chains.length > 0 ? [lineItem(chains, look)] : [],
    sample: [lineItem([sampleLine()], look)],
  };
}

/** A level line through the middle of the sample's box. */
export function sampleLine(heightMm = SAMPLE_HEIGHT_MM / 2): ArcChain {
  return {
    closed: false,
    vertices: [
      { x: 0, y: heightMm, bulge: 0 },
      { x: SAMPLE_WIDTH_MM, y: heightMm, bulge: 0 },
    ],
  };
}
