/** Medial diagrams of grids and rings against published counts (CHECKS section 1). */
import { expect, test } from "vitest";
import { checkerboardGraph } from "../../src/diagram/checkerboard.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { isAlternating } from "../../src/diagram/weave.ts";
import type { PlaneGraph } from "../../src/graph/plane-graph.ts";
import { colouringDeterminant, spanningTrees, strandsByCorank } from "../support/link-invariants.ts";
import { GRID_KNOTS, RING_KNOTS, type RingKnot } from "../support/published.ts";
import { wovenGraph } from "./graph-piece.ts";
import { gridGraph, ringGraph } from "./sample-graphs.ts";

const KNOTS = [
  ...GRID_KNOTS.filter(({ crossings }) => crossings <= 45).map((knot) => ({
    ...knot,
    plane: gridGraph(knot.graph.p, knot.graph.q),
  })),
  ...RING_KNOTS.map((knot) => ({ ...knot, plane: ringOf(knot) })),
];

function ringOf({ graph: { type, m, n = 1 } }: RingKnot): PlaneGraph {
  return ringGraph(m, n, type === "wheel" || type === "ring+hub");
}

test("the tables are there", () => {
  expect(KNOTS.length).toBeGreaterThan(45);
});

test.each(KNOTS)("$name: crossings, strands and determinant ($source)", (knot) => {
  const { diagram, faces, strands } = wovenGraph(knot.plane);
  expect(crossingCount(diagram)).toBe(knot.crossings);
  expect(strands.count).toBe(knot.components);
  expect(isAlternating(diagram)).toBe(true);
  expect(faces).toMatchObject({ planar: true, parts: 1, count: knot.crossings + 2 });
  const graph = checkerboardGraph(diagram, faces);
  expect(graph.vertices).toBe(knot.plane.points.length);
  expect(strandsByCorank(graph)).toBe(knot.components);
  expect(spanningTrees(graph)).toBe(BigInt(knot.determinant));
  expect(colouringDeterminant(diagram)).toBe(BigInt(knot.determinant));
});
