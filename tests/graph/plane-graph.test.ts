import { expect, test } from "vitest";
import { graphDiagram } from "../../src/graph/graph-diagram.ts";
import { type GraphLine, type PlaneGraph, planeGraphFaults } from "../../src/graph/plane-graph.ts";
import { line } from "./sample-graphs.ts";

const graph = (points: readonly (readonly [number, number])[], lines: readonly GraphLine[]): PlaneGraph => ({
  points: points.map(([x, y]) => ({ x, y })),
  lines,
});

/** Half an arc's height: a bulge of 0.5 lifts the middle of a chord of 8 by 2. */
const FAULTS: readonly (readonly [string, PlaneGraph, readonly object[]])[] = [
  ["nothing at all", graph([], []), [{ code: "graph-empty" }]],
  [
    "a line to a point that is not there",
    graph(
      [
        [0, 0],
        [1, 0],
      ],
      [line(0, 1), line(0, 2)],
    ),
    [{ code: "graph-no-point", path: ["lines", 1], found: 2, points: 2 }],
  ],
  [
    "a line from half a point",
    graph(
      [
        [0, 0],
        [1, 0],
      ],
      [line(0.5, 1)],
    ),
    [{ code: "graph-no-point", found: 0.5 }],
  ],
  [
    "a line from a point to itself",
    graph(
      [
        [0, 0],
        [1, 0],
      ],
      [line(0, 1), line(1, 1, 0.5)],
    ),
    [{ code: "graph-loop-line", path: ["lines", 1], graphLine: 1, point: 1 }],
  ],
  [
    "more than a half circle",
    graph(
      [
        [0, 0],
        [1, 0],
      ],
      [line(0, 1, 1.2)],
    ),
    [{ code: "number-out-of-range", found: 1.2 }],
  ],
  [
    "a bulge that is no number",
    graph(
      [
        [0, 0],
        [1, 0],
      ],
      [line(0, 1, Number.NaN)],
    ),
    [{ code: "number-out-of-range" }],
  ],
  [
    "two points at one place",
    graph(
      [
        [0, 0],
        [4, 0],
        [0, 0],
      ],
      [line(0, 1), line(1, 2, 0.3)],
    ),
    [{ code: "graph-coincident-points", first: 0, second: 2, atMm: { x: 0, y: 0 } }],
  ],
  [
    "a line through a point",
    graph(
      [
        [0, 0],
        [8, 0],
        [4, 0],
        [4, 5],
      ],
      [line(0, 1), line(2, 3)],
    ),
    [{ code: "graph-point-on-line", point: 2, graphLine: 0, atMm: { x: 4, y: 0 } }],
  ],
  [
    "an arc through a lone point",
    graph(
      [
        [0, 0],
        [8, 0],
        [4, -2],
      ],
      [line(0, 1, 0.5)],
    ),
    [{ code: "graph-point-on-line", point: 2, graphLine: 0, atMm: { x: 4, y: -2 } }],
  ],
  [
    "a line that runs along a longer one",
    graph(
      [
        [0, 0],
        [8, 0],
        [3, 0],
      ],
      [line(0, 1), line(0, 2)],
    ),
    [{ code: "graph-point-on-line", point: 2, graphLine: 0 }],
  ],
  [
    "two lines that cross",
    graph(
      [
        [0, 0],
        [4, 4],
        [0, 4],
        [4, 0],
      ],
      [line(0, 1), line(2, 3)],
    ),
    [{ code: "graph-crossing-lines", path: ["lines", 1], first: 0, second: 1, atMm: { x: 2, y: 2 } }],
  ],
  [
    "a line across an arc",
    graph(
      [
        [0, 0],
        [8, 0],
        [4, 3],
        [4, -1],
      ],
      [line(0, 1, -0.5), line(2, 3)],
    ),
    [{ code: "graph-crossing-lines", first: 0, second: 1, atMm: { x: 4, y: 2 } }],
  ],
  [
    "an arc that touches a line",
    graph(
      [
        [0, 0],
        [8, 0],
        [0, 2],
        [8, 2],
      ],
      [line(0, 1, -0.5), line(2, 3)],
    ),
    [{ code: "graph-crossing-lines", first: 0, second: 1, atMm: { x: 4, y: 2 } }],
  ],
  [
    "the same line twice",
    graph(
      [
        [0, 0],
        [8, 0],
      ],
      [line(0, 1), line(1, 0)],
    ),
    [{ code: "graph-double-line", path: ["lines", 1], first: 0, second: 1 }],
  ],
  [
    "the same arc twice",
    graph(
      [
        [0, 0],
        [8, 0],
      ],
      [line(0, 1, 0.5), line(1, 0, -0.5)],
    ),
    [{ code: "graph-double-line", first: 0, second: 1 }],
  ],
];

test.each(FAULTS)("%s is refused", (_, plane, wanted) => {
  const drawn = graphDiagram(plane, { corner: "round", pitchMm: 12 });
  if (drawn.ok) throw new Error("not refused");
  expect(drawn.faults).toHaveLength(wanted.length);
  for (const [i, fault] of wanted.entries()) {
    const found = drawn.faults[i];
    expect(found).toMatchObject("atMm" in fault ? { ...fault, atMm: {} } : fault);
    if (!found || !("atMm" in fault) || !("atMm" in found)) continue;
    const at = fault.atMm as { x: number; y: number };
    expect(Math.hypot(found.atMm.x - at.x, found.atMm.y - at.y)).toBeLessThan(1e-6);
  }
});

test.each([
  [
    "two arcs and a line between two points",
    graph(
      [
        [0, 0],
        [8, 0],
      ],
      [line(0, 1, 0.5), line(1, 0, 0.5), line(0, 1)],
    ),
  ],
  ["a point alone", graph([[3, 3]], [])],
  [
    "lines that meet at their ends at any angle",
    graph(
      [
        [0, 0],
        [8, 0],
        [8, 0.001],
      ],
      [line(0, 1), line(0, 2)],
    ),
  ],
  [
    "arcs that leave a point in one direction",
    graph(
      [
        [0, 0],
        [8, 8],
        [9, 0],
      ],
      [line(0, 1, Math.tan(Math.PI / 8)), line(0, 2)],
    ),
  ],
])("%s is a plane graph", (_, plane) => {
  expect(planeGraphFaults(plane)).toEqual([]);
});

test("many faults of one kind are cut short", () => {
  const count = 60;
  const points = Array.from({ length: count }, (_, i): [number, number][] => [
    [i, -1],
    [i, 1],
  ]).flat();
  const lines = Array.from({ length: count }, (_, i) => line(2 * i, 2 * i + 1));
  const across = graph([...points, [-1, 0], [count, 0.5]], [...lines, line(2 * count, 2 * count + 1)]);
  expect(planeGraphFaults(across)).toHaveLength(20);
});
