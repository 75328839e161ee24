/** Satin columns against closed forms and laws. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Rung, SatinColumn } from "../../../src/crafts/stitch/column.ts";
import { crossingPoint, type HalfEdge, type KnotDiagram } from "../../../src/diagram/knot-diagram.ts";
import { findStrands } from "../../../src/diagram/strands.ts";
import { chainLength, polyline } from "../../../src/geometry/arc-chain.ts";
import { between, distance, type Point } from "../../../src/geometry/point.ts";
import { grow, insideOf, type Region, regionHolds, regionOf } from "../../../src/geometry/region.ts";
import { mirrorAt, transformChain, transformPoint } from "../../../src/geometry/transform.ts";
import { makeRibbons } from "../../../src/ribbon/ribbon.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { columnCase, loopDiagram, polygon, ring, star } from "./column-case.ts";
import { sampleSatin } from "./sample-settings.ts";

const SETTINGS = sampleSatin();
const { spacingMm, leastHoleSpacingMm, pullMm } = SETTINGS;
const RIBBON_MM = SETTINGS.ribbon.widthMm;
const WIDTH_MM = RIBBON_MM + pullMm;

/** Inside a large panel every piece runs straight over one crossing, at right angles, between two. */
function straightColumns(changes = {}): SatinColumn[] {
  const { diagram } = wovenPanel(plainPanel(4, 4));
  const { columns } = columnCase(diagram, changes);
  return columns.filter(({ centreline }) => centreline.vertices.length === 2);
}

describe("a straight column", () => {
  // Crossings of a square lattice of pitch 10 lie 10 / sqrt 2 apart; from each end of the piece
  // half the ribbon is taken off, less what it runs beneath the edge.
  const lengthMm = 2 * (10 / Math.SQRT2) - 2 * (RIBBON_MM / 2 - (SETTINGS.tuckMm - SETTINGS.pushMm));

  test("ends beneath its neighbours by the tuck less the push", () => {
    const columns = straightColumns();
    expect(columns.length).toBeGreaterThan(8);
    for (const { centreline } of columns) expect(chainLength(centreline)).toBeCloseTo(lengthMm, 4);
  });

  test("never reaches past the middle of its neighbours, whatever the tuck", () => {
    for (const { centreline } of straightColumns({ tuckMm: 9 }))
      expect(chainLength(centreline)).toBeCloseTo(2 * (10 / Math.SQRT2), 4);
  });

  test.each([0.25, 0.3, 0.4, 0.55, 1])("has 2 L / spacing needle holes within one, spacing %f", (spacing) => {
    for (const { rungs } of straightColumns({ spacingMm: spacing }))
      expect(Math.abs(2 * rungs.length - (2 * lengthMm) / spacing)).toBeLessThanOrEqual(1);
  });

  test("takes as much thread as the zig-zag of the closed form", () => {
    // n lines across and n - 1 back, each a step on: n w + (n - 1) sqrt(w^2 + step^2), n = L / step.
    const n = Math.round(lengthMm / spacingMm);
    const step = lengthMm / n;
    for (const { rungs } of straightColumns())
      expect(zigzagLength(rungs)).toBeCloseTo(n * WIDTH_MM + (n - 1) * Math.hypot(WIDTH_MM, step), 3);
  });
});

describe("a ring", () => {
  test.each([3, 5, 9.3])("of radius %f is as dense as set outside, and not crowded inside", (radius) => {
    const [column] = columnCase(loopDiagram([ring(0, 0, radius)])).columns;
    const rungs = column?.rungs ?? [];
    const round = 2 * Math.PI * (radius + WIDTH_MM / 2);
    expect(Math.abs(rungs.length - round / spacingMm)).toBeLessThanOrEqual(1);
    for (const { right } of rungs) expect(Math.hypot(right.x, right.y)).toBeCloseTo(radius + WIDTH_MM / 2, 6);
    expect(leastApart(rungs.map(({ left }) => left))).toBeGreaterThanOrEqual(leastHoleSpacingMm - 1e-6);
  });

  test("shortens every second stitch, seam and all", () => {
    // Inner radius 5 - 1.75: holes would lie 0.4 * 3.25 / 6.75 = 0.193 mm apart, every second 0.385.
    const [column] = columnCase(loopDiagram([ring(0, 0, 5)])).columns;
    const inner = (column?.rungs ?? []).map(({ left }) => Math.hypot(left.x, left.y));
    expect(inner.length % 2).toBe(0);
    for (const [i, radius] of inner.entries())
      expect(radius).toBeCloseTo(3.25 + (i % 2) * SETTINGS.shortenedShare * WIDTH_MM, 6);
  });
});

describe("narrow columns", () => {
  const ribbon = { ...SETTINGS.ribbon, widthMm: 1 };

  test("become a bean line along the same centreline", () => {
    const { diagram } = wovenPanel(plainPanel(3, 3));
    for (const column of columnCase(diagram, { ribbon }).columns) {
      expect(column.line).toBe("bean");
      expect(column.rungs).toEqual([]);
      expect(chainLength(column.centreline)).toBeGreaterThan(10);
      expect(column.over).toHaveLength(1);
    }
  });

  test("stay satin where that is to be a fault", () => {
    const { diagram } = wovenPanel(plainPanel(3, 3));
    for (const { line, rungs } of columnCase(diagram, { ribbon, tooNarrow: "fault" }).columns) {
      expect(line).toBeUndefined();
      expect(rungs.length).toBeGreaterThan(20);
    }
  });
});

const CORNERS = [3, 4, 5, 6, 8, 12].map((n) => ({ name: `a polygon of ${n}`, chain: polygon(n, 8) }));
const CLOSED = [
  ...CORNERS,
  { name: "a star", chain: star(4, 9, 5) },
  { name: "a blunt star", chain: star(5, 12, 10) },
];

describe.each(CLOSED)("$name", ({ chain }) => {
  const { columns } = columnCase(loopDiagram([chain]));
  const rungs = columns[0]?.rungs ?? [];

  test("is a ladder from the first place to the last", () => {
    const places = rungs.map(({ alongMm }) => alongMm);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  test("keeps holes apart on both edges", () => {
    for (const side of ["left", "right"] as const)
      expect(leastApart(rungs.map((rung) => rung[side]))).toBeGreaterThanOrEqual(leastHoleSpacingMm - 1e-6);
  });

  test("stays within the ribbon grown by the pull, its rungs apart", () => {
    const grown = makeRibbons(loopDiagram([chain]), findStrands(loopDiagram([chain])), {
      widthMm: WIDTH_MM,
      gapMm: 1,
    }).pieces[0];
    const region = grow(regionOf(grown ? [grown.outline, ...grown.holes] : [], 0.001), 0.02, 0.001);
    for (const { left, right } of rungs)
      for (const t of [0, 0.5, 1]) expect(regionHolds(region, between(left, right, t))).toBe(true);
    expect(crossedNeighbours(rungs)).toBe(0);
  });

  test("mirrored gives mirrored rungs", () => {
    const mirror = mirrorAt(3);
    const mirrored = columnCase(loopDiagram([transformChain(chain, mirror)])).columns[0]?.rungs ?? [];
    expectMirrored(rungs, mirrored, mirror);
  });
});

test.each(["pointed", "round"] as const)(
  "a mirrored panel with %s corners gives mirrored columns",
  (corner) => {
    const { diagram, strands } = wovenPanel(plainPanel(3, 2), "Z", {
      pitchMm: { across: 10, down: 12 },
      corner,
    });
    const mirror = mirrorAt(7);
    // Slots are numbered counter-clockwise, so a mirror exchanges 1 and 3.
    const half = (h: HalfEdge): HalfEdge => (h & ~3) | ((4 - (h & 3)) & 3);
    const twins = diagram.twin.map((_, h) => half(diagram.twin[half(h)] ?? 0));
    const mirrored: KnotDiagram = {
      ...diagram,
      x: diagram.x.map((x) => 14 - x),
      twin: twins,
      curves: new Map([...diagram.curves].map(([h, curve]) => [half(h), transformChain(curve, mirror)])),
    };
    const strandOf = strands.strandOf.map((_, h) => strands.strandOf[half(h)] ?? 0);
    const a = columnCase(diagram, {}, strands).columns;
    const b = columnCase(mirrored, {}, { ...strands, strandOf, first: strands.first.map(half) }).columns;
    expect(b).toHaveLength(a.length);
    for (const [i, { rungs, over, ends }] of a.entries()) {
      expect(b[i]?.ends).toEqual(ends);
      expect(b[i]?.over[0]?.fromMm).toBeCloseTo(over[0]?.fromMm ?? -1, 6);
      expectMirrored(rungs, b[i]?.rungs ?? [], mirror);
    }
  },
);

const LATTICES = fc.record({
  rows: randomPanel(3),
  corner: fc.constantFrom("pointed" as const, "round" as const),
  down: fc.constantFrom(10, 14),
});

test("on random panels rungs stay in their ribbons, neither crowd nor cross, and ends lie beneath patches", () => {
  fc.assert(
    fc.property(LATTICES, ({ rows, corner, down }) => {
      const { diagram, strands } = wovenPanel(rows, "Z", { pitchMm: { across: 10, down }, corner });
      const { columns, ribbons } = columnCase(diagram, {}, strands);
      fc.pre(ribbons.troubles.length === 0);
      const whole = makeRibbons(diagram, strands, {
        widthMm: WIDTH_MM,
        gapMm: -(SETTINGS.tuckMm - SETTINGS.pushMm) - pullMm / 2,
      });
      fc.pre(whole.troubles.length === 0);
      for (const [i, { rungs }] of columns.entries()) {
        const piece = whole.pieces[i];
        const region = grow(regionOf(piece ? [piece.outline, ...piece.holes] : [], 0.002), 0.03, 0.002);
        for (const { left, right } of rungs)
          for (const t of [0, 0.3, 0.7, 1]) expect(regionHolds(region, between(left, right, t))).toBe(true);
        expect(crossedNeighbours(rungs)).toBe(0);
        for (const side of ["left", "right"] as const)
          expect(leastApart(rungs.map((rung) => rung[side]))).toBeGreaterThanOrEqual(
            leastHoleSpacingMm - 1e-6,
          );
      }
      expectHidden(diagram, columns);
    }),
    { numRuns: 25 },
  );
});

/** Every end of every column that lies within the over-strand's rungs lies within the patch of them. */
function expectHidden(diagram: KnotDiagram, columns: readonly SatinColumn[]): void {
  const patches = patchesOf(columns);
  for (const { rungs, ends } of columns) {
    for (const [i, crossing] of ends.entries()) {
      const found = patches.get(crossing);
      if (!found) throw new Error(`nothing lies over crossing ${crossing}`);
      const at = crossingPoint(diagram, crossing);
      const tucked = (i === 0 ? rungs : rungs.toReversed())
        .slice(0, 6)
        .filter(({ left }) => distance(left, at) < 2 * WIDTH_MM)
        .flatMap(({ left, right }) => [0, 0.25, 0.5, 0.75, 1].map((t) => between(left, right, t)));
      const seen = tucked.filter(
        (point) => regionHolds(found.whole, point) && !regionHolds(found.patch, point),
      );
      expect(seen).toEqual([]);
    }
  }
}

/** For each crossing the rungs that lie round it, and those of them that are the patch. */
function patchesOf(columns: readonly SatinColumn[]) {
  const patches = new Map<number, { readonly whole: Region; readonly patch: Region }>();
  for (const { rungs, over } of columns) {
    for (const { crossing, fromMm, toMm } of over) {
      const near = rungs.filter(({ alongMm }) => alongMm > fromMm - 4 && alongMm < toMm + 4);
      const own = near.filter(({ alongMm }) => alongMm >= fromMm && alongMm <= toMm);
      patches.set(crossing, {
        whole: grow(insideOf(polyline(outlineOf(near), true), 0.001), -0.02, 0.001),
        // Half a step is covered beyond the outermost rungs.
        patch: grow(insideOf(polyline(outlineOf(own), true), 0.001), spacingMm / 2, 0.001),
      });
    }
  }
  return patches;
}

function outlineOf(rungs: readonly Rung[]): Point[] {
  return [...rungs.map(({ right }) => right), ...rungs.toReversed().map(({ left }) => left)];
}

function zigzagLength(rungs: readonly Rung[]): number {
  const points = rungs.flatMap(({ left, right }) => [left, right]);
  return points.slice(1).reduce((sum, point, i) => sum + distance(points[i] ?? point, point), 0);
}

function leastApart(points: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [i, a] of points.entries())
    for (const b of points.slice(i + 1)) least = Math.min(least, distance(a, b));
  return least;
}

function crossedNeighbours(rungs: readonly Rung[]): number {
  const side = (a: Point, b: Point, p: Point) => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  return rungs.slice(1).filter((b, i) => {
    const a = rungs[i] ?? b;
    return (
      side(a.left, a.right, b.left) * side(a.left, a.right, b.right) < -1e-9 &&
      side(b.left, b.right, a.left) * side(b.left, b.right, a.right) < -1e-9
    );
  }).length;
}

function expectMirrored(
  rungs: readonly Rung[],
  mirrored: readonly Rung[],
  mirror: ReturnType<typeof mirrorAt>,
): void {
  expect(mirrored).toHaveLength(rungs.length);
  for (const [i, { left, right }] of rungs.entries()) {
    expect(distance(mirrored[i]?.right ?? left, transformPoint(left, mirror))).toBeLessThan(1e-6);
    expect(distance(mirrored[i]?.left ?? right, transformPoint(right, mirror))).toBeLessThan(1e-6);
  }
}
