/**
 * The neutral record between crafts and vector formats: named layers of arc chains, mm,
 * y up, origin at the lower left corner of the finished piece. Layers stand in the order
 * of work; a writer keeps that order, and the order of paths within a layer.
 */
import type { ArcChain } from "../geometry/arc-chain.ts";
import type { Bounds } from "../geometry/bounds.ts";

export const LAYER_NAMES = [
  "RIBBON",
  "MARK",
  "POCKET",
  "INLAY",
  "GROOVE",
  "GROUND",
  "KEEP",
  "PANEL",
] as const;

export type LayerName = (typeof LAYER_NAMES)[number];

export interface DrawingLayer {
  readonly name: LayerName;
  /** What the machine does with it, for people. */
  readonly purpose: string;
  /** Whether the machine follows these paths (a RIBBON outline is only for reference). */
  readonly worked: boolean;
  readonly paths: readonly ArcChain[];
}

export interface Drawing {
  readonly title: string;
  readonly layers: readonly DrawingLayer[];
  readonly bounds: Bounds;
  /** Cautions and facts that the file carries as comments, one line each. */
  readonly notes: readonly string[];
}
