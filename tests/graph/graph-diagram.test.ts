/** The curves of medial diagrams: smooth, apart, and the same wherever the graph lies. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { leastBendRadius } from "../../src/diagram/bends.ts";
import {
  crossingCount,
  edgeCurve,
  isStraightEdge,
  type KnotDiagram,
} from "../../src/diagram/knot-diagram.ts";
import { chainLength, segmentsOf } from "../../src/geometry/arc-chain.ts";
import { meet } from "../../src/geometry/meet.ts";
import { distance, type Point, turnBetween } from "../../src/geometry/point.ts";
import { endDirection, type Segment, segmentPoint, startDirection } from "../../src/geometry/segment.ts";
import { mirrorAt, moveBy, type Transform, transformPoint, turnBy } from "../../src/geometry/transform.ts";
import { lineSegment, type PlaneGraph } from "../../src/graph/plane-graph.ts";
import { wovenGraph } from "./graph-piece.ts";
import { randomPlaneGraph } from "./random-graph.ts";
import { circlePoints, gridGraph, line, ringGraph, SAMPLE_GRAPHS, STEP, starGraph } from "./sample-graphs.ts";

const DEGREE = Math.PI / 180;

/** All edges once each. */
function edgesOf(diagram: KnotDiagram): (readonly Segment[])[] {
  return [...diagram.twin.keys()]
    .filter((half) => half < (diagram.twin[half] ?? -1))
    .map((half) => segmentsOf(edgeCurve(diagram, half)));
}

/** Places inside edges where the direction jumps by more than 0.01 degrees. */
function kinksOf(diagram: KnotDiagram): { readonly at: Point; readonly turnDeg: number }[] {
  return edgesOf(diagram).flatMap((edge) =>
    edge.flatMap((segment, i) => {
      const before = edge[i - 1];
      if (!before) return [];
      const turnDeg = Math.abs(turnBetween(endDirection(before), startDirection(segment))) / DEGREE;
      return turnDeg > 0.01 ? [{ at: segment.from, turnDeg }] : [];
    }),
  );
}

/** The greatest departure, degrees, from strands that run straight on and cross at right angles. */
function crossingError(diagram: KnotDiagram): number {
  let worst = 0;
  for (let half = 0; half < diagram.twin.length; half++) {
    const next = 4 * (half >> 2) + ((half + 1) & 3);
    const directions = [half, next].map((at) => {
      const first = segmentsOf(edgeCurve(diagram, at))[0];
      if (!first) throw new Error("an edge without length");
      return startDirection(first);
    });
    const [a, b] = directions;
    if (a && b) worst = Math.max(worst, Math.abs(turnBetween(a, b) / DEGREE - 90));
  }
  return worst;
}

/** Places where two edges, or an edge and a line, meet elsewhere than at a crossing that both end at. */
function badMeets(diagram: KnotDiagram, graph: PlaneGraph): Point[] {
  const crossings = Array.from(diagram.x, (x, i): Point => ({ x, y: diagram.y[i] ?? Number.NaN }));
  const edges = [...edgesOf(diagram), ...diagram.loops.map(segmentsOf)];
  const lines = graph.lines.map((own) => lineSegment(graph, own));
  const bad: Point[] = [];
  const look = (a: Segment, b: Segment) => {
    const found = meet(a, b);
    if (found.kind === "none") return;
    for (const { point } of found.at)
      if (!crossings.some((crossing) => distance(crossing, point) < 1e-4)) bad.push(point);
  };
  for (const [i, edge] of edges.entries()) {
    for (const segment of edge) {
      for (const other of edges.slice(i + 1).flat()) look(segment, other);
      for (const other of lines) look(segment, other);
    }
    for (const [j, segment] of edge.entries()) for (const other of edge.slice(j + 2)) look(segment, other);
  }
  // A loop's two half circles meet at both ends.
  return bad.filter(
    (point) => !diagram.loops.some((loop) => loop.vertices.some((end) => distance(end, point) < 1e-6)),
  );
}

const moved = (graph: PlaneGraph, by: Transform, mirrored = false): PlaneGraph => ({
  points: graph.points.map((point) => transformPoint(point, by)),
  lines: graph.lines.map(({ from, to, bulge }) => ({ from, to, bulge: mirrored ? 0 - bulge : bulge })),
});

const lengthsOf = (graph: PlaneGraph, corner: "pointed" | "round") => {
  const { diagram } = wovenGraph(graph, corner);
  return edgesOf(diagram)
    .map((edge) =>
      chainLength({
        closed: false,
        vertices: [
          ...edge.map(({ from, bulge }) => ({ ...from, bulge })),
          { ...(edge.at(-1)?.to ?? { x: 0, y: 0 }), bulge: 0 },
        ],
      }),
    )
    .sort((a, b) => a - b);
};

test.each(Object.entries(SAMPLE_GRAPHS))(
  "%s: smooth edges, right-angled crossings, no other meetings",
  (_, graph) => {
    for (const corner of ["round", "pointed"] as const) {
      const { diagram, faces } = wovenGraph(graph, corner);
      expect(crossingCount(diagram)).toBe(graph.lines.length);
      expect(faces.planar).toBe(true);
      expect(faces.count).toBe(graph.lines.length + 1 + faces.parts);
      expect(crossingError(diagram)).toBeLessThan(0.01);
      if (corner === "round") expect(kinksOf(diagram)).toEqual([]);
      expect(badMeets(diagram, graph)).toEqual([]);
    }
  },
);

test("crossings lie in the middle of their lines", () => {
  const quarter = Math.tan(Math.PI / 8);
  const { diagram } = wovenGraph({
    points: [
      { x: 10, y: 0 },
      { x: 0, y: 10 },
      { x: -6, y: 0 },
    ],
    lines: [line(0, 1, quarter), line(1, 2)],
  });
  // The middle of a quarter circle of radius 10 about the origin, and of a chord.
  expect(diagram.x[0]).toBeCloseTo(10 * Math.SQRT1_2, 9);
  expect(diagram.y[0]).toBeCloseTo(10 * Math.SQRT1_2, 9);
  expect(diagram.x[1]).toBe(-3);
  expect(diagram.y[1]).toBe(5);
});

test("inside a square grid all strands run straight; at its edge they bend with one arc", () => {
  const { diagram } = wovenGraph(gridGraph(4, 4));
  const straight = [...diagram.twin.keys()].filter((half) => isStraightEdge(diagram, half)).length / 2;
  // Nine cells of four corners each.
  expect(straight).toBe(36);
  const half = STEP / 2;
  // Round a point on the side: chord 2 half, turn 90 degrees: radius sqrt 2 half. Round the
  // grid's corner: a half circle between two diagonals that are sqrt 2 half apart.
  expect(leastBendRadius(diagram)?.radiusMm).toBeCloseTo(half * Math.SQRT1_2, 6);
});

test("a regular polygon's inner edges are single arcs", () => {
  for (const n of [3, 5, 6, 8]) {
    const { diagram } = wovenGraph({ points: circlePoints(n, 30), lines: ringGraph(n, 1).lines });
    // Chord between the middles of neighbouring sides, turning by the corner's angle less 90 degrees.
    const apothem = 30 * Math.cos(Math.PI / n);
    const chord = 2 * apothem * Math.sin(Math.PI / n);
    const turn = Math.abs(Math.PI - (2 * Math.PI) / n - Math.PI / 2);
    const length = (chord * turn) / 2 / Math.sin(turn / 2);
    const inner = edgesOf(diagram).filter((edge) => edge.length === 1);
    expect(inner.length).toBeGreaterThanOrEqual(n);
    const found = inner.filter((edge) => {
      const own = edge[0];
      return (
        own &&
        Math.abs(
          chainLength({
            closed: false,
            vertices: [
              { ...own.from, bulge: own.bulge },
              { ...own.to, bulge: 0 },
            ],
          }) - length,
        ) < 1e-6
      );
    });
    expect(found.length).toBeGreaterThanOrEqual(n);
  }
});

test("two half circles between two points give two linked circles", () => {
  const graph = SAMPLE_GRAPHS["two arcs"];
  if (!graph) throw new Error("no such sample");
  const { diagram, strands } = wovenGraph(graph);
  expect(strands.count).toBe(2);
  // Both pass (0, 12) and (0, -12) at 45 degrees: circles of radius 12 sqrt 2.
  for (const edge of edgesOf(diagram)) {
    for (const segment of edge) {
      const middle = segmentPoint(segment, 0.5);
      const right = distance(middle, { x: 12, y: 0 });
      const left = distance(middle, { x: -12, y: 0 });
      expect(Math.min(Math.abs(right - 12 * Math.SQRT2), Math.abs(left - 12 * Math.SQRT2))).toBeLessThan(
        1e-6,
      );
    }
  }
});

test("pointed corners: one at each convex tip outside, beyond the point, nowhere else", () => {
  for (const [graph, tips] of [
    [ringGraph(3, 1), 3],
    [ringGraph(4, 2), 4],
    [gridGraph(4, 3), 4],
    [starGraph(5), 5],
    [ringGraph(12, 1), 0],
  ] as const) {
    const kinks = kinksOf(wovenGraph(graph, "pointed").diagram);
    expect(kinks).toHaveLength(tips);
    const middle = { x: 0, y: 0 };
    for (const { at, turnDeg } of kinks) {
      expect(turnDeg).toBeGreaterThan(60);
      const near = graph.points.reduce((a, b) => (distance(b, at) < distance(a, at) ? b : a));
      if (graph.points.length > 12 || near.x === 0) continue;
      expect(distance(at, middle)).toBeGreaterThan(distance(near, middle));
    }
  }
});

test("a point alone has a strand round it, half a step wide, less where lines are near", () => {
  const alone = wovenGraph({ points: [{ x: 5, y: 7 }], lines: [] });
  expect(alone.strands.count).toBe(1);
  expect(alone.faces).toMatchObject({ parts: 1, count: 2 });
  expect(leastBendRadius(alone.diagram)?.radiusMm).toBeCloseTo(STEP / 4, 9);
  const near = wovenGraph({
    points: [
      { x: 0, y: 0 },
      { x: 40, y: 0 },
      { x: 20, y: 3 },
    ],
    lines: [line(0, 1)],
  });
  const loop = near.diagram.loops[0];
  expect(loop && distance(loop.vertices[0] ?? { x: 0, y: 0 }, { x: 20, y: 3 })).toBeLessThan(1);
  expect(near.faces.planar).toBe(true);
});

test("random plane graphs: smooth, right-angled, apart", () => {
  fc.assert(
    fc.property(
      randomPlaneGraph(4),
      fc.constantFrom("round" as const, "pointed" as const),
      (graph, corner) => {
        const { diagram, faces } = wovenGraph(graph, corner);
        expect(faces.planar).toBe(true);
        expect(faces.count).toBe(graph.lines.length + 1 + faces.parts);
        if (crossingCount(diagram) > 0) expect(crossingError(diagram)).toBeLessThan(0.01);
        // Nothing between smooth and a tip of some 76 to 108 degrees.
        const kinks = kinksOf(diagram);
        if (corner === "round") expect(kinks).toEqual([]);
        for (const { turnDeg } of kinks) expect(turnDeg).toBeGreaterThan(70);
        expect(badMeets(diagram, graph)).toEqual([]);
      },
    ),
    { numRuns: 150, seed: 7 },
  );
});

test("moved, turned and mirrored graphs give edges of the same lengths", () => {
  const same = (graph: PlaneGraph, corner: "pointed" | "round") => {
    const own = lengthsOf(graph, corner);
    for (const other of [
      moved(graph, moveBy(123.4, -56.7)),
      moved(graph, turnBy(1)),
      moved(graph, turnBy(Math.PI / 2)),
      moved(graph, mirrorAt(3), true),
    ]) {
      for (const [i, length] of lengthsOf(other, corner).entries())
        expect(Math.abs(length - (own[i] ?? Number.NaN))).toBeLessThan(1e-6 * STEP);
    }
  };
  for (const graph of Object.values(SAMPLE_GRAPHS))
    for (const corner of ["round", "pointed"] as const) same(graph, corner);
  fc.assert(
    fc.property(randomPlaneGraph(4), (graph) => same(graph, "round")),
    { numRuns: 60, seed: 11 },
  );
});
