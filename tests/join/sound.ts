/** What must hold of every joined diagram, asked of the drawing itself. */
import { expect } from "vitest";
import { findFaces } from "../../src/diagram/faces.ts";
import {
  crossingCount,
  crossingPoint,
  edgeCurve,
  type KnotDiagram,
  twin,
} from "../../src/diagram/knot-diagram.ts";
import { findStrands } from "../../src/diagram/strands.ts";
import { isAlternating } from "../../src/diagram/weave.ts";
import { type ArcChain, segmentsOf } from "../../src/geometry/arc-chain.ts";
import { BoxIndex } from "../../src/geometry/distance.ts";
import { meet } from "../../src/geometry/meet.ts";
import { cross, distance, dot, type Point, turnBetween } from "../../src/geometry/point.ts";
import { endDirection, type Segment, segmentBounds, startDirection } from "../../src/geometry/segment.ts";
import { makeRibbons } from "../../src/ribbon/ribbon.ts";

const DEG = Math.PI / 180;

/** Corners that the pieces had before they were joined may stay; no join makes one. */
export function kinks(diagram: KnotDiagram): Point[] {
  return everyCurve(diagram).flatMap((curve) => {
    const segments = segmentsOf(curve);
    return segments.flatMap((segment, i) => {
      const next = segments[i + 1] ?? (curve.closed ? segments[0] : undefined);
      if (!next) return [];
      const turn = turnBetween(endDirection(segment), startDirection(next));
      return Math.abs(turn) > 0.01 * DEG ? [segment.to] : [];
    });
  });
}

function everyCurve(diagram: KnotDiagram): ArcChain[] {
  const curves: ArcChain[] = [...diagram.loops];
  for (let half = 0; half < diagram.twin.length; half++) {
    if (half < twin(diagram, half)) curves.push(edgeCurve(diagram, half));
  }
  return curves;
}

export interface Soundness {
  /** Corners that may be there. */
  readonly corners: readonly Point[];
  readonly pitch: number;
  /** From which crossing on they are new. */
  readonly firstNew: number;
}

export function expectSound(diagram: KnotDiagram, { corners, pitch, firstNew }: Soundness): void {
  const faces = findFaces(diagram);
  expect(faces.planar).toBe(true);
  expect(faces.count).toBe(crossingCount(diagram) + 1 + faces.parts);
  expect(isAlternating(diagram)).toBe(true);
  for (const kink of kinks(diagram)) {
    expect(Math.min(...corners.map((corner) => distance(corner, kink)))).toBeLessThan(1e-5);
  }
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++)
    expectCrossing(diagram, crossing, crossing >= firstNew);
  expectApart(diagram);
  const ribbons = makeRibbons(diagram, findStrands(diagram), { widthMm: 0.3 * pitch, gapMm: 0.05 * pitch });
  expect(ribbons.troubles).toEqual([]);
}

/** Strands run straight through, slots lie counter-clockwise, new crossings are neither flat nor more than square. */
function expectCrossing(diagram: KnotDiagram, crossing: number, isNew: boolean): void {
  const at = crossingPoint(diagram, crossing);
  const ways = [0, 1, 2, 3].map((slot) => {
    const [first] = segmentsOf(edgeCurve(diagram, 4 * crossing + slot));
    if (!first) throw new Error("an edge without a curve");
    expect(distance(first.from, at)).toBeLessThan(1e-6);
    return startDirection(first);
  });
  const [a, b, c, d] = ways;
  if (!a || !b || !c || !d) throw new Error("a crossing without four ways");
  expect(Math.abs(turnBetween(a, { x: -c.x, y: -c.y }))).toBeLessThan(0.01 * DEG);
  expect(Math.abs(turnBetween(b, { x: -d.x, y: -d.y }))).toBeLessThan(0.01 * DEG);
  expect(cross(a, b)).toBeGreaterThan(0);
  const angle = Math.acos(Math.abs(dot(a, b))) / DEG;
  if (isNew) expect(angle).toBeGreaterThan(45 - 1e-6);
}

/** No two segments meet but neighbours at their joint, and edges at their crossing. */
function expectApart(diagram: KnotDiagram): void {
  const segments = everyCurve(diagram).flatMap(segmentsOf);
  const tree = new BoxIndex(segments.map(segmentBounds));
  for (const [i, a] of segments.entries()) {
    for (const j of tree.near(segmentBounds(a), 0)) {
      const b = segments[j];
      if (j > i && b) expectJointOnly(a, b);
    }
  }
}

function expectJointOnly(a: Segment, b: Segment): void {
  const found = meet(a, b);
  if (found.kind === "none") return;
  const isEnd = (point: Point, { from, to }: Segment) =>
    Math.min(distance(from, point), distance(to, point)) < 2e-6;
  const stray = found.at.find(({ point }) => !isEnd(point, a) || !isEnd(point, b));
  if (stray || found.kind === "overlap")
    throw new Error(`strands ${found.kind} at ${JSON.stringify((stray ?? found.at[0]).point)}`);
}
