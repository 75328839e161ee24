/** Designs all the way to satin columns, for tests. */
import type { SatinColumn } from "../../../src/crafts/stitch/column.ts";
import { satinColumns } from "../../../src/crafts/stitch/satin-column.ts";
import type { SatinSettings } from "../../../src/crafts/stitch/settings.ts";
import type { KnotDiagram } from "../../../src/diagram/knot-diagram.ts";
import { findStrands, type Strands } from "../../../src/diagram/strands.ts";
import type { ArcChain } from "../../../src/geometry/arc-chain.ts";
import { makeRibbons, type Ribbons } from "../../../src/ribbon/ribbon.ts";
import { sampleSatin } from "./sample-settings.ts";

export interface ColumnCase {
  readonly diagram: KnotDiagram;
  readonly ribbons: Ribbons;
  readonly columns: readonly SatinColumn[];
  readonly settings: SatinSettings;
}

/** Closed strands that cross nothing. */
export function loopDiagram(loops: readonly ArcChain[]): KnotDiagram {
  return {
    x: new Float64Array(),
    y: new Float64Array(),
    twin: new Int32Array(),
    over: new Uint8Array(),
    curves: new Map(),
    loops,
  };
}

export function columnCase(
  diagram: KnotDiagram,
  changes: Partial<SatinSettings> = {},
  strands: Strands = findStrands(diagram),
): ColumnCase {
  const settings = sampleSatin(changes);
  const { widthMm, gapMm } = settings.ribbon;
  const ribbons = makeRibbons(diagram, strands, { widthMm, gapMm });
  return { diagram, ribbons, settings, columns: satinColumns(diagram, strands, ribbons, settings) };
}

/** A circle as two half circles. */
export function ring(x: number, y: number, radius: number): ArcChain {
  return {
    closed: true,
    vertices: [
      { x: x - radius, y, bulge: 1 },
      { x: x + radius, y, bulge: 1 },
    ],
  };
}

/** A regular polygon; it turns by 360 / n degrees at each corner. */
export function polygon(n: number, radius: number): ArcChain {
  return {
    closed: true,
    vertices: Array.from({ length: n }, (_, i) => ({
      x: radius * Math.cos(0.3 + (2 * Math.PI * i) / n),
      y: radius * Math.sin(0.3 + (2 * Math.PI * i) / n),
      bulge: 0,
    })),
  };
}

/** A star: corners in and out by turns. */
export function star(n: number, outer: number, inner: number): ArcChain {
  return {
    closed: true,
    vertices: Array.from({ length: 2 * n }, (_, i) => ({
      x: (i % 2 === 0 ? outer : inner) * Math.cos((Math.PI * i) / n),
      y: (i % 2 === 0 ? outer : inner) * Math.sin((Math.PI * i) / n),
      bulge: 0,
    })),
  };
}
