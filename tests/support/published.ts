/** The tables of published values in shared/checks. */
import { readFileSync } from "node:fs";

function table(name: string): unknown {
  return JSON.parse(readFileSync(new URL(`../../shared/checks/${name}.json`, import.meta.url), "utf8"));
}

export interface GridKnot {
  readonly name: string;
  readonly graph: { readonly p: number; readonly q: number };
  readonly crossings: number;
  readonly components: number;
  /** A whole number as text. */
  readonly determinant: string;
  readonly source: string;
  readonly knownLink?: string;
  readonly jonesUpToUnitAndMirror?: readonly number[];
}

export const GRID_KNOTS = (table("knots") as { cases: readonly GridKnot[] }).cases;

export interface RingKnot {
  readonly name: string;
  readonly graph: {
    readonly type: "cycle" | "wheel" | "ring" | "ring+hub";
    readonly m: number;
    readonly n?: number;
  };
  readonly crossings: number;
  readonly components: number;
  /** A whole number as text. */
  readonly determinant: string;
  readonly source: string;
}

export const RING_KNOTS = (table("rings") as { cases: readonly RingKnot[] }).cases;

export interface ArcValues {
  readonly thetaDeg: number;
  readonly bulge: number;
  readonly sagitta: number;
  readonly chord: number;
  readonly segmentArea: number;
}

export const ARC_VALUES = (table("arcs") as { cases: readonly ArcValues[] }).cases;
