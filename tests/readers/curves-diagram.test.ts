/** Centrelines written as SVG and read back; drawings with known crossings; drawings that cannot be woven. */
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Fault } from "../../src/base/fault.ts";
import { findFaces } from "../../src/diagram/faces.ts";
import { crossingCount, edgeCurve, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { diagramBounds, moveDiagram } from "../../src/diagram/move-diagram.ts";
import { planarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";
import { findStrands } from "../../src/diagram/strands.ts";
import { isAlternating, weave } from "../../src/diagram/weave.ts";
import { type ArcChain, chainLength, pointAtLength, segmentsOf } from "../../src/geometry/arc-chain.ts";
import { boundsOf } from "../../src/geometry/bounds.ts";
import { BoxIndex } from "../../src/geometry/distance.ts";
import { nearestOn } from "../../src/geometry/meet.ts";
import { distance } from "../../src/geometry/point.ts";
import { segmentBounds } from "../../src/geometry/segment.ts";
import { curvesDiagram } from "../../src/readers/curves-diagram.ts";
import { readSvgCurves } from "../../src/readers/svg-curves.ts";
import { codeForm } from "../support/code-form.ts";
import { centrelines, type DrawnAs, drawnSvg, PLAIN, svg } from "../support/drawn-svg.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { randomPanel } from "../support/random-panel.ts";

function read(text: string): KnotDiagram {
  const curves = readSvgCurves(text, "drawn.svg");
  if (!curves.ok) throw new Error(JSON.stringify(curves.faults));
  const diagram = curvesDiagram(curves.value);
  if (!diagram.ok) throw new Error(JSON.stringify(diagram.faults));
  return diagram.value;
}

function faultsOf(content: string): readonly Fault[] {
  const curves = readSvgCurves(svg(MM, content), "drawn.svg");
  if (!curves.ok) return curves.faults;
  const diagram = curvesDiagram(curves.value);
  return diagram.ok ? [] : diagram.faults;
}

const MM = 'width="100mm" height="100mm" viewBox="0 0 100 100"';

const WAYS: readonly (readonly [string, Partial<DrawnAs>])[] = [
  ["arcs, in one piece over the crossings", {}],
  ["arcs, with a joint on every crossing", { merged: false }],
  ["cubic curves", { curves: "cubics" }],
  ["four decimals", { decimals: 4 }],
  [
    "nested transforms that undo each other",
    {
      wrap: (paths) =>
        svg(
          'width="1000mm" height="1000mm" viewBox="0 0 1000 1000"',
          `<g transform="translate(30,40) rotate(30)"><g transform="skewX(20) scale(2 0.5)">
           <g transform="scale(0.5,2) skewX(-20)"><g transform="rotate(-30 0 0) translate(-30 -40)">${paths}</g></g></g></g>`,
        ),
    },
  ],
  [
    "inches: 254 mm are ten of them",
    { wrap: (paths) => svg('width="10in" height="10in" viewBox="0 0 254 254"', paths) },
  ],
  [
    "pixels, without a viewBox",
    { wrap: (paths) => svg("", `<g transform="scale(${96 / 25.4})">${paths}</g>`) },
  ],
];

const PANELS: readonly (readonly string[])[] = [
  plainPanel(2, 3),
  plainPanel(4, 4),
  // A breakline of each kind, a step, a neck.
  ["+-+-+-+  ", "|oxoxo|  ", "+x+-+x+-+", "|oxoxoxo|", "+x+x+x+x+", "|oxo|oxo|", "+-+-+-+-+"],
  // A hole, and strands round it.
  ["+-+-+-+", "|oxoxo|", "+x+-+x+", "|o| |o|", "+x+-+x+", "|oxoxo|", "+-+-+-+"],
];

for (const [name, way] of WAYS) {
  test(`panels written and read back are the same diagrams: ${name}`, () => {
    for (const rows of PANELS) expectSame(wovenPanel(rows).diagram, { ...PLAIN, ...way });
  });
}

test("random panels written and read back are the same diagrams", () => {
  fc.assert(
    fc.property(randomPanel(4), fc.constantFrom(...WAYS), (rows, [, way]) => {
      expectSame(wovenPanel(rows).diagram, { ...PLAIN, ...way });
    }),
    { numRuns: 60, seed: 8 },
  );
});

function expectSame(diagram: KnotDiagram, as: DrawnAs): void {
  const back = read(drawnSvg(diagram, as));
  const faces = findFaces(back);
  const strands = findStrands(back);
  const wantedFaces = findFaces(diagram);
  const wantedStrands = findStrands(diagram);
  expect(crossingCount(back)).toBe(crossingCount(diagram));
  expect(strands.count).toBe(wantedStrands.count);
  expect(faces.count).toBe(wantedFaces.count);
  expect(faces.planar).toBe(true);
  const woven = weave(back, faces, "Z");
  expect(isAlternating(woven)).toBe(true);
  expect(codeForm(planarDiagramCode(woven, strands))).toEqual(
    codeForm(planarDiagramCode(diagram, wantedStrands)),
  );
  const box = diagramBounds(diagram);
  const moved = moveDiagram(diagram, -box.minX, -box.minY);
  // Fitting takes 0.005 mm; four decimals take far less; the cubic arcs stray by 4e-6 radii.
  expect(furthest(centrelines(moved, true), centrelines(back, true))).toBeLessThan(0.006);
  expect(furthest(centrelines(back, true), centrelines(moved, true))).toBeLessThan(0.006);
}

/** How far points all along some chains lie from other chains, mm. */
function furthest(from: readonly ArcChain[], to: readonly ArcChain[]): number {
  const segments = to.flatMap(segmentsOf);
  const index = new BoxIndex(segments.map(segmentBounds));
  let worst = 0;
  for (const chain of from) {
    const length = chainLength(chain);
    const count = Math.ceil(length / 0.7);
    for (let i = 0; i < count; i++) {
      const point = pointAtLength(chain, (i / count) * length);
      let off = 1;
      for (const near of index.near(boundsOf([point]), 1)) {
        const segment = segments[near];
        if (segment) off = Math.min(off, distance(nearestOn(segment, point), point));
      }
      worst = Math.max(worst, off);
    }
  }
  return worst;
}

// By hand, from the drawings: crossings, strands, faces (crossings + 1 + connected parts).
test.each([
  ["one circle", '<circle cx="50" cy="50" r="20"/>', 0, 1, 2],
  ["a circle within a circle", '<circle cx="50" cy="50" r="20"/><circle cx="50" cy="50" r="10"/>', 0, 2, 3],
  ["two circles that overlap", '<circle cx="40" cy="50" r="20"/><circle cx="60" cy="50" r="20"/>', 2, 2, 4],
  [
    "three circles, each crossing the others",
    '<circle cx="40" cy="50" r="20"/><circle cx="60" cy="50" r="20"/><circle cx="50" cy="33" r="20"/>',
    6,
    3,
    8,
  ],
  ["a figure eight", '<path d="M50 50C70 20 90 20 90 50S70 80 50 50 30 20 10 50 30 80 50 50Z"/>', 1, 1, 3],
  ["a loop within one cubic curve", '<path d="M20 80C110 10 -10 10 80 80C70 95 30 95 20 80Z"/>', 1, 1, 3],
  [
    "a pointed square over a circle",
    '<path d="M50 20 80 50 50 80 20 50Z"/><circle cx="50" cy="50" r="25"/>',
    8,
    2,
    10,
  ],
  [
    "a rounded rectangle and an ellipse",
    '<rect x="20" y="30" width="60" height="40" rx="8"/><ellipse cx="50" cy="50" rx="15" ry="35"/>',
    4,
    2,
    6,
  ],
  [
    "a circle of two open paths, and one of another drawn apart by 0.04 mm",
    '<path d="M30 50A20 20 0 0 1 70 50"/><path d="M30.02 50.02A20 20 0 0 0 70 50"/><path d="M50 50a20 20 0 1 1 .02 -.03"/>',
    2,
    2,
    4,
  ],
])("%s", (_, content, crossings, strands, faces) => {
  const diagram = read(svg(MM, content));
  expect(crossingCount(diagram)).toBe(crossings);
  expect(findStrands(diagram).count).toBe(strands);
  expect(findFaces(diagram).count).toBe(faces);
  expect(findFaces(diagram).planar).toBe(true);
});

/** The trefoil r = 20 + 8 cos 3a/2 over two turns, as cubic curves through its points (Hermite handles). */
function trefoil(): string {
  const at = (a: number) => {
    const r = 20 + 8 * Math.cos(1.5 * a);
    return { x: 50 + r * Math.cos(a), y: 50 + r * Math.sin(a) };
  };
  const slope = (a: number) => {
    const r = 20 + 8 * Math.cos(1.5 * a);
    const dr = -12 * Math.sin(1.5 * a);
    return { x: dr * Math.cos(a) - r * Math.sin(a), y: dr * Math.sin(a) + r * Math.cos(a) };
  };
  const steps = 24;
  const h = (4 * Math.PI) / steps;
  const parts = Array.from({ length: steps }, (_, i) => {
    const [p, q] = [at(i * h), at((i + 1) * h)];
    const [u, v] = [slope(i * h), slope((i + 1) * h)];
    return `C${p.x + (u.x * h) / 3} ${p.y + (u.y * h) / 3} ${q.x - (v.x * h) / 3} ${q.y - (v.y * h) / 3} ${q.x} ${q.y}`;
  });
  return `<path d="M${at(0).x} ${at(0).y}${parts.join("")}Z"/>`;
}

test("a trefoil of cubic curves has three crossings, and the code of the standard trefoil", () => {
  const plain = read(svg(MM, trefoil()));
  const diagram = weave(plain, findFaces(plain), "Z");
  expect(crossingCount(diagram)).toBe(3);
  // The left trefoil and its mirror image, 3_1 of Rolfsen's table as PD[X[1,4,2,5], X[3,6,4,1], X[5,2,6,3]] (KnotTheory).
  const table = codeForm([
    [1, 4, 2, 5],
    [3, 6, 4, 1],
    [5, 2, 6, 3],
  ]);
  const mirrored = codeForm([
    [4, 2, 5, 1],
    [6, 4, 1, 3],
    [2, 6, 3, 5],
  ]);
  expect(mirrored).not.toEqual(table);
  const codes = (["Z", "S"] as const).map((hand) =>
    codeForm(planarDiagramCode(weave(plain, findFaces(plain), hand), findStrands(plain))),
  );
  expect(codes).toContainEqual(table);
  expect(codes).toContainEqual(mirrored);
});

test("crossings lie where two circles cross: by hand, 10 from the middle line, 10 root 3 up and down", () => {
  const diagram = read(svg(MM, '<circle cx="40" cy="50" r="20"/><circle cx="60" cy="50" r="20"/>'));
  // The lower left corner of both circles is (20, 70) of the page.
  expect([...diagram.x].every((x) => Math.abs(x - 30) < 1e-6)).toBe(true);
  const heights = [...diagram.y].sort((a, b) => a - b);
  expect(heights[0]).toBeCloseTo(20 - 10 * Math.sqrt(3), 6);
  expect(heights[1]).toBeCloseTo(20 + 10 * Math.sqrt(3), 6);
});

test("every edge runs from its crossing to the next, in the slot's own direction", () => {
  const diagram = read(svg(MM, trefoil()));
  for (let half = 0; half < diagram.twin.length; half++) {
    const { vertices } = edgeCurve(diagram, half);
    expect(vertices[0]?.x).toBe(diagram.x[half >> 2]);
    expect(vertices[0]?.y).toBe(diagram.y[half >> 2]);
  }
});

/** Places are sure to within the fitting. */
const near = (mm: number): unknown => expect.closeTo(mm, 2);

// Places by hand: mm from the lower left corner of the box round each drawing.
test.each([
  [
    "circles that touch",
    '<circle cx="30" cy="50" r="20"/>\n<circle cx="70" cy="50" r="20"/>',
    [{ code: "strands-touch", line: 2, otherLine: 3, xMm: near(40), yMm: near(20) }],
  ],
  [
    "a corner that touches a line",
    '<path d="M10 10H90V20H10Z"/><path d="M50 20 70 60H30Z"/>',
    [{ code: "strands-touch", line: 2, xMm: near(40), yMm: near(40) }],
  ],
  [
    // The line leaves (50, 50) at 10 degrees: tan 10 = 0.17633.
    "lines that cross at 10 degrees",
    '<path d="M5 50H95V90H5Z"/><path d="M10 57.0532 90 42.9468V10H10Z"/>',
    [{ code: "crossing-flat", angleDeg: 10, xMm: near(45), yMm: near(40), leastDeg: 20 }],
  ],
  [
    "three strands through one place",
    '<path d="M10 50H90V80H10Z"/><path d="M35 35 70 70V90H35Z"/><path d="M70 30 30 70 25 95H75Z"/>',
    [{ code: "crossings-crowd", leastMm: 0.1, xMm: near(40), yMm: near(45) }],
  ],
  [
    "the same circle twice",
    '<circle cx="50" cy="50" r="20"/><circle cx="50" cy="50" r="20"/>',
    [{ code: "strands-overlap" }],
  ],
  [
    "a line there and back",
    '<path d="M10 10H90Z"/>',
    [{ code: "strands-overlap", xMm: near(40), yMm: near(0) }],
  ],
  [
    "an open line",
    '<path d="M10 10L90 90"/>',
    [
      { code: "strand-open", line: 2, xMm: near(0), yMm: near(80) },
      { code: "strand-open", line: 2, xMm: near(80), yMm: near(0) },
    ],
  ],
  [
    "three ends at one place",
    '<path d="M50 50L90 90"/><path d="M50 50L10 90"/><path d="M50 50V10"/><path d="M10 90V95H90V90"/>',
    [
      { code: "strand-branch", xMm: near(40), yMm: near(45) },
      { code: "strand-open", xMm: near(40), yMm: near(85) },
    ],
  ],
  ["nothing", "<g/>", [{ code: "drawing-empty" }]],
])("%s is a fault with its place", (_, content, wanted) => {
  const faults = faultsOf(content);
  expect(faults).toEqual(expect.arrayContaining(wanted.map((one) => expect.objectContaining(one))));
  expect(faults).toHaveLength(wanted.length);
});

test("no more than eight places are listed, and the rest are counted", () => {
  const lines = Array.from({ length: 20 }, (_, i) => `<path d="M10 ${10 + i}H90"/>`);
  const faults = faultsOf(lines.join("\n"));
  expect(faults).toHaveLength(9);
  expect(faults.at(-1)).toMatchObject({ code: "more-places", count: 32 });
});

test("a drawing that would ask for endless work is refused", () => {
  const lines = Array.from(
    { length: 5000 },
    (_, i) => `<path d="M${i / 100} 0L${100 - i / 100} 100V${101 + i / 50}H-1Z"/>`,
  );
  expect(faultsOf(lines.join("\n"))[0]).toMatchObject({ code: "drawing-too-rich" });
});
