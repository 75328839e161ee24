/** The centrelines of a diagram as an SVG file, in the ways in which drawing programs write them. */
import { edgeCurve, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { findStrands, strandWalk } from "../../src/diagram/strands.ts";
import {
  type ArcChain,
  chainStart,
  joinChains,
  mergeStraights,
  segmentsOf,
} from "../../src/geometry/arc-chain.ts";
import { along, type Point } from "../../src/geometry/point.ts";
import {
  arcOf,
  endDirection,
  type Segment,
  segmentPart,
  startDirection,
} from "../../src/geometry/segment.ts";

export interface DrawnAs {
  /** Arcs as they are, or as the usual cubic curves, none of more than 45 degrees. */
  readonly curves: "arcs" | "cubics";
  /** Whether straight edges in one line become one, so that crossings lie inside of segments. */
  readonly merged: boolean;
  readonly decimals: number;
  /** The root element's attributes and what stands round the paths; undoes itself or says the size in other units. */
  readonly wrap: (paths: string) => string;
}

/** mm, and nothing else to undo. */
export const PLAIN: DrawnAs = {
  curves: "arcs",
  merged: true,
  decimals: 9,
  wrap: (paths) => svg('width="1000mm" height="1000mm" viewBox="0 0 1000 1000"', paths),
};

export function svg(attributes: string, content: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>\n${content}\n</svg>\n`;
}

/** Closed centrelines, one for each strand. */
export function centrelines(diagram: KnotDiagram, merged: boolean): ArcChain[] {
  const crossed = findStrands(diagram).first.map((first) => {
    const edges = [...strandWalk(diagram, first)].map((half) => edgeCurve(diagram, half));
    return joinChains(edges, true);
  });
  return [...crossed, ...diagram.loops].map((chain) => (merged ? mergeStraights(chain) : chain));
}

export function drawnSvg(diagram: KnotDiagram, as: DrawnAs): string {
  const paths = centrelines(diagram, as.merged).map((chain) => `<path d="${pathOf(chain, as)}"/>`);
  return as.wrap(paths.join("\n"));
}

function pathOf(chain: ArcChain, as: DrawnAs): string {
  const point = ({ x, y }: Point) => `${x.toFixed(as.decimals)} ${(-y).toFixed(as.decimals)}`;
  const step = (segment: Segment): string => {
    if (segment.bulge === 0) return `L${point(segment.to)}`;
    const { radius, sweep } = arcOf(segment);
    // y is flipped: counter-clockwise here is against growing angles there.
    if (as.curves === "arcs") {
      const r = radius.toFixed(as.decimals);
      return `A${r} ${r} 0 0 ${sweep > 0 ? 0 : 1} ${point(segment.to)}`;
    }
    const parts = Math.ceil(Math.abs(sweep) / (Math.PI / 4));
    return Array.from({ length: parts }, (_, i) => {
      const part = segmentPart(segment, i / parts, (i + 1) / parts);
      // The usual handle of a circle's arc: 4/3 tan(sweep / 4) radii.
      const handle = (4 / 3) * Math.tan(Math.abs(sweep) / parts / 4) * radius;
      const out = along(part.from, startDirection(part), handle);
      const back = along(part.to, endDirection(part), -handle);
      return `C${point(out)} ${point(back)} ${point(part.to)}`;
    }).join("");
  };
  return `M${point(chainStart(chain))}${segmentsOf(chain).map(step).join("")}Z`;
}
