/**
 * Every alternating link comes from a plane graph (Gross & Tucker 2011): the checkerboard graph
 * of the medial diagram is the graph that it was made of, by the word of an outside library.
 */
import fc from "fast-check";
import { expect } from "vitest";
import { checkerboardGraph } from "../../src/diagram/checkerboard.ts";
import type { PlaneGraph } from "../../src/graph/plane-graph.ts";
import { externalTest, runReader, withFiles } from "../support/external.ts";
import { wovenGraph } from "./graph-piece.ts";
import { randomPlaneGraph } from "./random-graph.ts";
import { SAMPLE_GRAPHS } from "./sample-graphs.ts";

interface Lines {
  readonly vertices: number;
  readonly lines: readonly (readonly [number, number])[];
}

interface Report {
  readonly isomorphic: boolean;
  readonly planar: boolean;
}

function compare(pairs: readonly (readonly [Lines, Lines])[]): readonly Report[] {
  return withFiles(
    { "pairs.json": JSON.stringify(pairs) },
    (pathOf) => runReader("isomorphic_report.py", [pathOf("pairs.json")]) as readonly Report[],
  );
}

/** The graph without its lone points, which have no crossing. */
function linesOf({ points, lines }: PlaneGraph): Lines {
  const used = [...points.keys()].filter((i) => lines.some(({ from, to }) => from === i || to === i));
  return {
    vertices: used.length,
    lines: lines.map(({ from, to }) => [used.indexOf(from), used.indexOf(to)] as const),
  };
}

function checkerboardOf(graph: PlaneGraph): Lines {
  const { diagram, faces } = wovenGraph(graph);
  return checkerboardGraph(diagram, faces);
}

externalTest("plane graph -> diagram -> checkerboard graph is the same graph", ["python:networkx"], () => {
  const graphs = [
    ...Object.values(SAMPLE_GRAPHS),
    ...fc.sample(randomPlaneGraph(5), { numRuns: 120, seed: 3 }),
  ];
  const reports = compare(graphs.map((graph) => [linesOf(graph), checkerboardOf(graph)] as const));
  expect(reports).toHaveLength(graphs.length);
  for (const [i, report] of reports.entries())
    expect(report, JSON.stringify(graphs[i])).toEqual({ isomorphic: true, planar: true });
});

externalTest(
  "the library tells different graphs apart, and double lines from single ones",
  ["python:networkx"],
  () => {
    const path: Lines = {
      vertices: 4,
      lines: [
        [0, 1],
        [1, 2],
        [2, 3],
      ],
    };
    const star: Lines = {
      vertices: 4,
      lines: [
        [0, 1],
        [0, 2],
        [0, 3],
      ],
    };
    const twoDouble: Lines = {
      vertices: 3,
      lines: [
        [0, 1],
        [0, 1],
        [1, 2],
        [1, 2],
      ],
    };
    const oneTriple: Lines = {
      vertices: 3,
      lines: [
        [0, 1],
        [0, 1],
        [0, 1],
        [1, 2],
      ],
    };
    const k5: Lines = {
      vertices: 5,
      lines: [0, 1, 2, 3].flatMap((a) => [1, 2, 3, 4].filter((b) => b > a).map((b) => [a, b] as const)),
    };
    expect(
      compare([
        [path, star],
        [twoDouble, oneTriple],
        [twoDouble, twoDouble],
        [k5, k5],
      ]),
    ).toEqual([
      { isomorphic: false, planar: true },
      { isomorphic: false, planar: true },
      { isomorphic: true, planar: true },
      { isomorphic: true, planar: false },
    ]);
  },
);
