/** Plane graphs for tests, mm. */
import type { Point } from "../../src/geometry/point.ts";
import type { GraphLine, PlaneGraph } from "../../src/graph/plane-graph.ts";

/** mm between neighbouring points of grids and between the circles of rings. */
export const STEP = 12;

export const line = (from: number, to: number, bulge = 0): GraphLine => ({ from, to, bulge });

export function circlePoints(count: number, radius: number): Point[] {
  return Array.from({ length: count }, (_, i) => {
    const angle = Math.PI / 2 + (2 * Math.PI * i) / count;
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  });
}

/** p x q points, joined to their neighbours. */
export function gridGraph(p: number, q: number): PlaneGraph {
  const points: Point[] = [];
  const lines: GraphLine[] = [];
  for (let row = 0; row < q; row++) {
    for (let column = 0; column < p; column++) {
      const here = points.push({ x: column * STEP, y: row * STEP }) - 1;
      if (column > 0) lines.push(line(here - 1, here));
      if (row > 0) lines.push(line(here - p, here));
    }
  }
  return { points, lines };
}

/** n circles of m points each, joined along and across, with or without a hub joined to the innermost. */
export function ringGraph(m: number, n: number, hub = false): PlaneGraph {
  const points: Point[] = [];
  const lines: GraphLine[] = [];
  for (let circle = 0; circle < n; circle++) {
    points.push(...circlePoints(m, (circle + 1.3) * STEP));
    for (let i = 0; i < m; i++) {
      lines.push(line(circle * m + i, circle * m + ((i + 1) % m)));
      if (circle > 0) lines.push(line((circle - 1) * m + i, circle * m + i));
    }
  }
  if (hub) {
    const middle = points.push({ x: 0, y: 0 }) - 1;
    for (let i = 0; i < m; i++) lines.push(line(middle, i));
  }
  return { points, lines };
}

/** A middle point joined to n points round it. */
export function starGraph(n: number, radius = 2 * STEP): PlaneGraph {
  return {
    points: [...circlePoints(n, radius), { x: 0, y: 0 }],
    lines: Array.from({ length: n }, (_, i) => line(n, i)),
  };
}

export const SAMPLE_GRAPHS: Readonly<Record<string, PlaneGraph>> = {
  "a single line": {
    points: [
      { x: 0, y: 0 },
      { x: 20, y: 3 },
    ],
    lines: [line(0, 1)],
  },
  "a triangle": ringGraph(3, 1),
  K4: ringGraph(3, 1, true),
  "a wheel of four": ringGraph(4, 1, true),
  "a square": gridGraph(2, 2),
  "a grid": gridGraph(4, 3),
  "a prism": ringGraph(4, 2),
  "a star": starGraph(5),
  "a star of many": starGraph(16),
  "a tree": {
    points: [
      { x: 0, y: 0 },
      { x: 0, y: 18 },
      { x: 0, y: 36 },
      { x: -15, y: 26 },
      { x: 14, y: 31 },
      { x: -10, y: 48 },
      { x: 11, y: 49 },
      { x: -24, y: 36 },
    ],
    lines: [line(0, 1), line(1, 2), line(1, 3), line(2, 4), line(2, 5), line(2, 6), line(3, 7)],
  },
  "two arcs": {
    points: [
      { x: -12, y: 0 },
      { x: 12, y: 0 },
    ],
    lines: [line(0, 1, 1), line(0, 1, -1)],
  },
  "three arcs": {
    points: [
      { x: -12, y: 0 },
      { x: 12, y: 0 },
    ],
    lines: [line(0, 1, 0.8), line(1, 0, 0.8), line(0, 1)],
  },
  "a long rectangle": {
    points: [
      { x: 0, y: 0 },
      { x: 120, y: 0 },
      { x: 120, y: 12 },
      { x: 0, y: 12 },
    ],
    lines: [line(0, 1), line(1, 2), line(2, 3), line(3, 0)],
  },
  "an L": {
    points: [
      { x: 0, y: 0 },
      { x: 36, y: 0 },
      { x: 36, y: 12 },
      { x: 12, y: 12 },
      { x: 12, y: 36 },
      { x: 0, y: 36 },
    ],
    lines: [line(0, 1), line(1, 2), line(2, 3), line(3, 4), line(4, 5), line(5, 0)],
  },
  "one within another, and a point": {
    points: [
      { x: 0, y: 0 },
      { x: 60, y: 0 },
      { x: 60, y: 60 },
      { x: 0, y: 60 },
      { x: 15, y: 20 },
      { x: 42, y: 20 },
      { x: 28, y: 44 },
      { x: 52, y: 52 },
    ],
    lines: [line(0, 1), line(1, 2), line(2, 3), line(3, 0), line(4, 5), line(5, 6), line(6, 4)],
  },
};
