/**
 * The bends of ribbon edges by radius, for the choice of gouges. How sweeps are numbered differs
 * from maker to maker (common practice, no source), so radii are given.
 */
import type { KnotDiagram } from "../../diagram/knot-diagram.ts";
import { segmentsOf } from "../../geometry/arc-chain.ts";
import { arcOf } from "../../geometry/segment.ts";
import { knotCurves } from "./knot-checks.ts";

export interface BendClass {
  /** Of the edge, seen from the ribbon: "hollow" on the inside of a bend, "round" on its outside. */
  readonly side: "hollow" | "round";
  readonly leastRadiusMm: number;
  readonly greatestRadiusMm: number;
  readonly count: number;
  /** A gouge of this sweep spans every bend of the class at most so wide: the shortest chord, mm. */
  readonly gougeMm: number;
  /** The widest straight edge that stays within the error: 2 sqrt(2 r e - e^2), from the bow of a chord. */
  readonly straightMm: number;
}

/** One gouge serves radii within this share of each other: at 10 % a 10 mm edge strays a tenth of its own bow. */
const SAME_CLASS = 1.1;

export function bendClasses(diagram: KnotDiagram, widthMm: number, errorMm: number): BendClass[] {
  return (["hollow", "round"] as const).flatMap((side) => {
    const edges: EdgeBend[] = [];
    for (const curve of knotCurves({ diagram })) {
      for (const segment of segmentsOf(curve)) {
        if (segment.bulge === 0) continue;
        const { radius: centre, sweep } = arcOf(segment);
        const radius = centre + (side === "hollow" ? -widthMm : widthMm) / 2;
        // The inner edge of a bend as tight as the ribbon is wide is a point.
        if (radius > errorMm) edges.push({ radius, chord: 2 * radius * Math.sin(Math.abs(sweep) / 2) });
      }
    }
    return classesOf(edges, errorMm).map((found) => ({ ...found, side }));
  });
}

interface EdgeBend {
  readonly radius: number;
  readonly chord: number;
}

function classesOf(edges: readonly EdgeBend[], errorMm: number): Omit<BendClass, "side">[] {
  const classes: Omit<BendClass, "side">[] = [];
  for (const { radius, chord } of edges.toSorted((a, b) => a.radius - b.radius)) {
    const last = classes.at(-1);
    if (last && radius <= last.leastRadiusMm * SAME_CLASS) {
      classes[classes.length - 1] = {
        ...last,
        greatestRadiusMm: radius,
        count: last.count + 1,
        gougeMm: Math.min(last.gougeMm, chord),
      };
    } else {
      classes.push({
        leastRadiusMm: radius,
        greatestRadiusMm: radius,
        count: 1,
        gougeMm: chord,
        straightMm: straightEdge(radius, errorMm),
      });
    }
  }
  return classes;
}

/** The chord whose bow on a circle of this radius is the error. */
export function straightEdge(radiusMm: number, errorMm: number): number {
  const error = Math.min(errorMm, radiusMm);
  return 2 * Math.sqrt(2 * radiusMm * error - error * error);
}
