/**
 * The ways of a V cutter's tip along the medial axis, and what of them is left for each pass:
 * lines in space between numbered nodes.
 */
import type { AxisBranch, MedialAxis } from "../../geometry/medial-axis.ts";
import type { AxisPoint } from "../../geometry/medial-refine.ts";
import type { Point } from "../../geometry/point.ts";
import type { Place3 } from "../../output/toolpath.ts";
import { depthAt } from "./groove-cutter.ts";
import { AXIS_OVERLAP_MM } from "./groove-ground.ts";
import type { GroovePlan } from "./groove-plan.ts";
import { keptParts, mixAxis, mixPlaces } from "./line-parts.ts";
import { simplifyLine } from "./simplify-line.ts";

export interface GrooveLine {
  readonly from: number;
  readonly to: number;
  readonly points: readonly Place3[];
}

/** Nodes of lines that meet are the same number; those of the axis come first. */
export interface GrooveLines {
  readonly lines: readonly GrooveLine[];
  readonly nodeCount: number;
  /** Nodes on the floor or on a path along its walls, which are cut before. */
  readonly onFloor: ReadonlyMap<number, Point>;
}

/** The furthest that a line may stray from the axis and its depths. */
const LINE_ERROR_MM = 3e-3;

/** The axis where its discs are between the tip's radius and the widest, at their depths. */
export function grooveLines(plan: GroovePlan): GrooveLines {
  const { axis, cutter, limitRadiusMm } = plan;
  const widest = widestRadius(plan);
  const room = ({ radius }: AxisPoint) => Math.min(widest - radius, radius - cutter.shape.tipMm / 2);
  const lines: GrooveLine[] = [];
  const onFloor = new Map<number, Point>();
  const note = (node: number, point: AxisPoint | undefined) => {
    if (point && point.radius > limitRadiusMm) onFloor.set(node, point);
  };
  let nodeCount = axis.nodes.length;
  for (const branch of [...axis.branches, ...loneNodes(axis)]) {
    for (const { points, startsWhole, endsWhole } of keptParts(branch.points, room, mixAxis)) {
      const from = startsWhole ? branch.from : nodeCount++;
      const to = endsWhole ? branch.to : nodeCount++;
      note(from, points[0]);
      note(to, points.at(-1));
      lines.push({ from, to, points: simplifyLine(tipPlaces(points, plan), LINE_ERROR_MM) });
    }
  }
  return { lines, nodeCount, onFloor };
}

/**
 * Where the axis is followed. On a floor that the V cutter clears it is the pass in the middle,
 * between the last ones along both walls; the end mill's part begins at its own radius from them.
 */
function widestRadius({ settings, limitRadiusMm, mill }: GroovePlan): number {
  if (settings.fill === "outlines") return limitRadiusMm + AXIS_OVERLAP_MM;
  return mill ? limitRadiusMm + mill.shape.diameterMm / 2 : Number.POSITIVE_INFINITY;
}

function tipPlaces(points: readonly AxisPoint[], { cutter, limitDepthMm }: GroovePlan): Place3[] {
  return points.map(({ x, y, radius }) => ({
    x,
    y,
    z: -Math.min(limitDepthMm, depthAt(cutter.shape, radius)),
  }));
}

/** A part of the ground that is a disc has no branch: a way from its edge to its middle comes down as into a corner. */
function loneNodes({ nodes, branches }: MedialAxis): AxisBranch[] {
  const used = new Set(branches.flatMap(({ from, to }) => [from, to]));
  return nodes.flatMap((middle, i) => {
    if (used.has(i)) return [];
    const edge = { x: middle.x - middle.radius, y: middle.y, radius: 0 };
    // No branch ends at a negative number.
    return [{ from: -1 - i, to: i, points: [edge, middle] }];
  });
}

/** What is left of the lines for a pass down to `z` after one down to `before`; other nodes where a line comes out of the pass before. */
export function linesForPass(
  { lines, nodeCount, onFloor }: GrooveLines,
  before: number,
  z: number,
): GrooveLines {
  let count = nodeCount;
  const left: GrooveLine[] = [];
  for (const { from, to, points } of lines) {
    for (const part of keptParts(points, (point) => before - point.z, mixPlaces)) {
      left.push({
        from: part.startsWhole ? from : count++,
        to: part.endsWhole ? to : count++,
        points: levelled(part.points, z),
      });
    }
  }
  return { lines: left, nodeCount: count, onFloor };
}

/** The line held up at `z`, with points where it comes up from there. */
function levelled(points: readonly Place3[], z: number): Place3[] {
  const result: Place3[] = [];
  let before: Place3 | undefined;
  for (const point of points) {
    if (before && before.z < z !== point.z < z) {
      const t = (z - before.z) / (point.z - before.z);
      if (t > 0 && t < 1) result.push({ ...mixPlaces(before, point, t), z });
    }
    result.push(point.z < z ? { ...point, z } : point);
    before = point;
  }
  return result;
}
