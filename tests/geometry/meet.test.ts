import fc from "fast-check";
import makerjs from "makerjs";
import { expect, test } from "vitest";
import { meet, nearestOn } from "../../src/geometry/meet.ts";
import { distance, type Point } from "../../src/geometry/point.ts";
import { arcOf, reverseSegment, type Segment, segmentPoint } from "../../src/geometry/segment.ts";
import { sideOf } from "../../src/geometry/side.ts";
import { segment as anySegment } from "../support/random-chain.ts";

const line = (x1: number, y1: number, x2: number, y2: number): Segment => ({
  from: { x: x1, y: y1 },
  to: { x: x2, y: y2 },
  bulge: 0,
});
const arc = (x1: number, y1: number, x2: number, y2: number, bulge: number): Segment => ({
  ...line(x1, y1, x2, y2),
  bulge,
});
const QUARTER = Math.SQRT2 - 1;
/** Half circle of radius 5 about the origin, above the x axis. */
const DOME = arc(5, 0, -5, 0, 1);

// The points by hand (3-4-5 triangles).
const CASES: readonly (readonly [string, Segment, Segment, string, readonly Point[]])[] = [
  ["lines apart", line(0, 0, 1, 0), line(0, 1, 1, 1), "none", []],
  ["lines that would cross further on", line(0, 0, 1, 0), line(3, 1, 2, 0.1), "none", []],
  ["lines that cross", line(0, 0, 4, 4), line(0, 4, 4, 0), "cross", [{ x: 2, y: 2 }]],
  ["an end on a line", line(0, 0, 4, 0), line(2, 0, 2, 3), "touch", [{ x: 2, y: 0 }]],
  ["ends together", line(0, 0, 4, 0), line(4, 0, 5, 3), "touch", [{ x: 4, y: 0 }]],
  ["ends together in one line", line(0, 0, 4, 0), line(4, 0, 9, 0), "touch", [{ x: 4, y: 0 }]],
  [
    "lines along each other",
    line(0, 0, 4, 0),
    line(1, 0, 9, 0),
    "overlap",
    [
      { x: 1, y: 0 },
      { x: 4, y: 0 },
    ],
  ],
  ["a line through an arc once", line(3, 0, 3, 9), DOME, "cross", [{ x: 3, y: 4 }]],
  [
    "a line through an arc twice",
    line(-9, 3, 9, 3),
    DOME,
    "cross",
    [
      { x: -4, y: 3 },
      { x: 4, y: 3 },
    ],
  ],
  ["a line over an arc", line(-9, 6, 9, 6), DOME, "none", []],
  ["a line through the arc's missing half", line(-9, -3, 9, -3), DOME, "none", []],
  ["a tangent", line(-9, 5, 9, 5), DOME, "touch", [{ x: 0, y: 5 }]],
  ["a line from an arc's end", line(5, 0, 9, 0), DOME, "touch", [{ x: 5, y: 0 }]],
  ["arcs that cross once", DOME, arc(11, 0, 1, 0, 1), "cross", [{ x: 3, y: 4 }]],
  [
    "arcs that cross twice",
    arc(4, -3, 4, 3, 1 / 3),
    arc(4, 3, 4, -3, 0.3),
    "touch",
    [
      { x: 4, y: 3 },
      { x: 4, y: -3 },
    ],
  ],
  [
    "circles that cross twice",
    arc(0, -5, 0, 5, 1),
    arc(6, 5, 6, -5, 1),
    "cross",
    [
      { x: 3, y: 4 },
      { x: 3, y: -4 },
    ],
  ],
  ["arcs that touch", DOME, arc(-5, 10, 5, 10, 1), "touch", [{ x: 0, y: 5 }]],
  ["arcs inside each other that touch", arc(0, -5, 0, 5, 1), arc(2, -3, 2, 3, 1), "touch", [{ x: 5, y: 0 }]],
  ["arcs of one circle apart", arc(5, 0, 0, 5, QUARTER), arc(-5, 0, 0, -5, QUARTER), "none", []],
  [
    "arcs of one circle, end to end",
    arc(5, 0, 0, 5, QUARTER),
    arc(0, 5, -5, 0, QUARTER),
    "touch",
    [{ x: 0, y: 5 }],
  ],
  [
    "arcs of one circle along each other",
    DOME,
    arc(3, 4, 0, -5, Math.tan((2 * Math.PI - Math.atan2(4, 3) - Math.PI / 2) / 4)),
    "overlap",
    [
      { x: 3, y: 4 },
      { x: -5, y: 0 },
    ],
  ],
  [
    "two halves of one circle",
    DOME,
    arc(-5, 0, 5, 0, 1),
    "touch",
    [
      { x: 5, y: 0 },
      { x: -5, y: 0 },
    ],
  ],
  ["arcs about one centre", DOME, arc(4, 0, -4, 0, 1), "none", []],
];

test.each(CASES)("%s", (_, a, b, kind, points) => {
  for (const [p, q] of [
    [a, b],
    [b, a],
    [reverseSegment(a), b],
    [a, reverseSegment(b)],
  ] as const) {
    const found = meet(p, q);
    expect(found.kind).toBe(kind);
    const at = found.kind === "none" ? [] : found.at;
    expect(at.length).toBe(points.length);
    for (const want of points) {
      const near = at.find(({ point }) => distance(point, want) < 1e-9);
      expect(near, `a meeting point at ${want.x}, ${want.y}`).toBeDefined();
      if (!near) continue;
      expect(distance(segmentPoint(p, near.onA), want)).toBeLessThan(1e-9);
      expect(distance(segmentPoint(q, near.onB), want)).toBeLessThan(1e-9);
    }
  }
});

/** makerjs counts degrees, counter-clockwise only. */
function toMaker({ from, to, bulge }: Segment): makerjs.IPath {
  if (bulge === 0) return new makerjs.paths.Line([from.x, from.y], [to.x, to.y]);
  const { centre, radius } = arcOf({ from, to, bulge });
  const degrees = (p: Point) => (Math.atan2(p.y - centre.y, p.x - centre.x) * 180) / Math.PI;
  const [start, end] = bulge > 0 ? [from, to] : [to, from];
  return new makerjs.paths.Arc([centre.x, centre.y], radius, degrees(start), degrees(end));
}

test("random segments meet where makerjs says", () => {
  fc.assert(
    fc.property(anySegment(), anySegment(), (a, b) => {
      const found = meet(a, b);
      // It rounds to about 1e-6 and may miss tangents, so only clear crossings are compared.
      const wanted = makerjs.path.intersection(toMaker(a), toMaker(b))?.intersectionPoints ?? [];
      const clear = found.kind === "none" ? [] : found.at;
      const nearEnd = (p: Point) => [a.from, a.to, b.from, b.to].some((end) => distance(end, p) < 1e-4);
      const grazing =
        clear.length === 2 && clear[0] && clear[1] && distance(clear[0].point, clear[1].point) < 1e-2;
      fc.pre(!grazing && !clear.some(({ point }) => nearEnd(point)) && found.kind !== "touch");
      const points = wanted.map((p) => ({ x: p[0] ?? 0, y: p[1] ?? 0 })).filter((p) => !nearEnd(p));
      expect(clear.length).toBe(points.length);
      for (const { point } of clear)
        expect(Math.min(...points.map((p) => distance(p, point)))).toBeLessThan(1e-4);
    }),
    { numRuns: 2000 },
  );
});

test("the nearest point is as near as any of a thousand", () => {
  const point = fc.record({ x: fc.integer({ min: -12, max: 12 }), y: fc.integer({ min: -12, max: 12 }) });
  fc.assert(
    fc.property(anySegment(), point, (segment, from) => {
      const near = distance(nearestOn(segment, from), from);
      let best = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= 1000; i++) best = Math.min(best, distance(segmentPoint(segment, i / 1000), from));
      expect(near).toBeLessThan(best + 1e-9);
      expect(best - near).toBeLessThan(0.05);
    }),
    { numRuns: 100 },
  );
});

// Shewchuk 1997: the naive product has the wrong sign for such points. Here exact by hand: the
// point lies off the diagonal by one unit in the last place.
test("sides are decided exactly", () => {
  const ulp = 2 ** -53;
  const a = { x: 12, y: 12 };
  const b = { x: 24, y: 24 };
  expect(sideOf(a, b, { x: 0.5, y: 0.5 })).toBe(0);
  expect(sideOf(a, b, { x: 0.5, y: 0.5 + ulp })).toBe(1);
  expect(sideOf(a, b, { x: 0.5 + ulp, y: 0.5 })).toBe(-1);
  expect(sideOf(b, a, { x: 0.5, y: 0.5 + ulp })).toBe(-1);
});
