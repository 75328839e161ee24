/** The curves of rings: circles, spirals, tangents and ribbons against closed formulas. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { FIT_ERROR_MM } from "../../src/base/tolerance.ts";
import {
  crossingCount,
  crossingPoint,
  edgeCurve,
  type KnotDiagram,
  twin,
} from "../../src/diagram/knot-diagram.ts";
import { strandLengths } from "../../src/diagram/strands.ts";
import {
  type ArcChain,
  chainEnd,
  chainLength,
  chainStart,
  placeAtLength,
  segmentsOf,
} from "../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../src/geometry/meet.ts";
import { along, distance, leftOf, minus, type Point, turnBetween } from "../../src/geometry/point.ts";
import { directionAt, endDirection, segmentPoint, startDirection } from "../../src/geometry/segment.ts";
import { selfMeets } from "../../src/geometry/self-meets.ts";
import { draftRing } from "../../src/lattice/panel-draft.ts";
import { fanDiagram } from "../../src/lattice/ring.ts";
import { makeRibbons } from "../../src/ribbon/ribbon.ts";
import { samplesOf } from "../support/chorded.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { centrelines, INNER, unwrapped, wovenRing } from "./ring-piece.ts";

const SPACINGS = ["conformal", "equal"] as const;
const CENTRE: Point = { x: 0, y: 0 };
/** A hundredth of a degree. */
const SMOOTH_RAD = (0.01 * Math.PI) / 180;

function kinks(chain: ArcChain): number[] {
  const segments = segmentsOf(chain);
  return segments.flatMap((segment, i) => {
    const next = segments[i + 1] ?? (chain.closed ? segments[0] : undefined);
    return next ? [Math.abs(turnBetween(endDirection(segment), startDirection(next)))] : [];
  });
}

/*
 * Eight cells round: a step is pi/8. With a breakline `-` on every site each row of squares is a
 * closed strand, half a step in from its edges: row j from the inside lies j + 1/2 steps out.
 * Conformal: inner * exp(pi/8 (j + 1/2)). Equal: the same outer edge, inner * exp(pi/8 * 4), in four steps.
 */
test("a ring of breaklines only is a set of circles of exact length", () => {
  const rows = draftRing(8, 4).map((row) => row.replaceAll("x", "-"));
  const outer = INNER * Math.exp((Math.PI / 8) * 4);
  const wanted = {
    conformal: [0.5, 1.5, 2.5, 3.5].map((steps) => INNER * Math.exp((Math.PI / 8) * steps)),
    equal: [0.5, 1.5, 2.5, 3.5].map((steps) => INNER + ((outer - INNER) * steps) / 4),
  };
  for (const spacing of SPACINGS) {
    const { diagram, strands, faces } = wovenRing(rows, { spacing });
    expect(crossingCount(diagram)).toBe(0);
    expect(faces.count).toBe(5);
    const lengths = strandLengths(diagram, strands).sort((a, b) => a - b);
    expect(lengths.length).toBe(4);
    for (const [i, radius] of wanted[spacing].entries())
      expect(lengths[i]).toBeCloseTo(2 * Math.PI * radius, 9);
    for (const loop of diagram.loops) {
      expect(loop.closed).toBe(true);
      for (const turn of kinks(loop)) expect(turn).toBeLessThan(1e-12);
    }
  }
});

test("with a pitch, circles of cell centres lie that far apart", () => {
  const rows = draftRing(8, 4).map((row) => row.replaceAll("x", "-"));
  const { diagram } = wovenRing(rows, { spacing: "equal", pitchMm: 12 });
  const radii = diagram.loops.map((loop) => chainLength(loop) / (2 * Math.PI)).sort((a, b) => a - b);
  // Half a step of 6 mm in from the edges, then a step each.
  for (const [i, radius] of radii.entries()) expect(radius).toBeCloseTo(INNER + 3 + 6 * i, 9);
});

test("diagonals are spirals: logarithmic under the conformal map, of Archimedes with equal steps", () => {
  const around = 9;
  const rows = 3;
  const step = Math.PI / around;
  const outer = INNER * Math.exp(step * 2 * rows);
  for (const spacing of SPACINGS) {
    const { diagram } = wovenRing({ around, rows }, { spacing });
    let spirals = 0;
    for (let half = 0; half < diagram.twin.length; half++) {
      const from = crossingPoint(diagram, half >> 2);
      const to = crossingPoint(diagram, twin(diagram, half) >> 2);
      // Between crossings one row apart the leg is the diagonal.
      if (Math.abs(Math.hypot(from.x, from.y) - Math.hypot(to.x, to.y)) < 1e-6) continue;
      spirals++;
      const sense =
        Math.sign(turnBetween(minus(from, CENTRE), minus(to, CENTRE))) *
        Math.sign(Math.hypot(to.x, to.y) - Math.hypot(from.x, from.y));
      for (const point of samplesOf(edgeCurve(diagram, half), 5)) {
        const angle = turnBetween(minus(from, CENTRE), minus(point, CENTRE));
        const start = Math.hypot(from.x, from.y);
        const radius =
          spacing === "conformal"
            ? start * Math.exp(sense * angle)
            : start + (sense * angle * (outer - INNER)) / (2 * rows * step);
        expect(Math.abs(Math.hypot(point.x, point.y) - radius)).toBeLessThanOrEqual(2 * FIT_ERROR_MM);
      }
    }
    // Of the 2 * 45 edges 9 bend along each edge of the ring; each of the others is met from both ends.
    expect(crossingCount(diagram)).toBe(45);
    expect(spirals).toBe(2 * (90 - 18));
  }
});

test("the conformal map keeps every crossing square, and its slots counter-clockwise", () => {
  const { diagram } = wovenRing({ around: 7, rows: 2.5 });
  for (let half = 0; half < diagram.twin.length; half++) {
    const { x, y } = crossingPoint(diagram, half >> 2);
    const [first] = segmentsOf(edgeCurve(diagram, half));
    const outward = { x, y };
    const slot = [-45, 45, 135, -135][half & 3] ?? 0;
    const turn = first ? turnBetween(outward, startDirection(first)) : Number.NaN;
    expect((turn * 180) / Math.PI).toBeCloseTo(slot, 7);
  }
});

/** Rings of any rows with breaklines on some of their sites. */
const randomRing = fc
  .record({
    around: fc.integer({ min: 3, max: 9 }),
    strands: fc.integer({ min: 2, max: 6 }),
    breaks: fc.array(fc.record({ site: fc.nat(999), kind: fc.constantFrom("-", "|") }), { maxLength: 12 }),
  })
  .map(({ around, strands, breaks }) => {
    const rows = draftRing(around, strands).map((row) => [...row.slice(0, -1)]);
    for (const { site, kind } of breaks) {
      const sites = rows.flatMap((row) =>
        row.flatMap((found, column) => (found === "x" ? [{ row, column }] : [])),
      );
      const chosen = sites[site % Math.max(1, sites.length)];
      if (chosen) chosen.row[chosen.column] = kind;
    }
    return rows.map((row) => row.join(""));
  });

test.each(SPACINGS)(
  "every strand is smooth at every joint and meets others at crossings only (%s)",
  (spacing) => {
    fc.assert(
      fc.property(randomRing, fc.constantFrom("pointed" as const, "round" as const), (rows, corner) => {
        const ring = wovenRing(rows, { spacing, innerMm: 20 }, corner);
        expect(ring.faces.planar).toBe(true);
        for (const chain of centrelines(ring)) {
          const sharp = kinks(chain).filter((turn) => turn > SMOOTH_RAD);
          if (corner === "round") expect(sharp).toEqual([]);
          // A corner of two lanes, along the circle and along the ray, stays a right angle under both maps.
          for (const turn of sharp) expect(turn).toBeCloseTo(Math.PI / 2, 6);
        }
        for (const { point } of meetsOf(ring.diagram)) {
          const nearest = Math.min(
            ...Array.from(ring.diagram.x, (_, i) => distance(point, crossingPoint(ring.diagram, i))),
          );
          expect(nearest).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 60 },
    );
  },
);

/** Where curves meet, joints along a curve left out. */
function meetsOf(diagram: KnotDiagram): { readonly point: Point }[] {
  const edges: ArcChain[] = [];
  for (let half = 0; half < diagram.twin.length; half++)
    if (twin(diagram, half) > half) edges.push(edgeCurve(diagram, half));
  const meets = selfMeets(edges.flatMap(segmentsOf), false);
  const ofLoops = diagram.loops.flatMap((loop) => selfMeets(segmentsOf(loop), true));
  return [...meets, ...ofLoops];
}

test("edges begin and end at their crossings", () => {
  const { diagram } = wovenRing({ around: 11, rows: 2 });
  for (let half = 0; half < diagram.twin.length; half++) {
    const chain = edgeCurve(diagram, half);
    expect(distance(chainStart(chain), crossingPoint(diagram, half >> 2))).toBeLessThan(1e-9);
    expect(distance(chainEnd(chain), crossingPoint(diagram, twin(diagram, half) >> 2))).toBeLessThan(1e-9);
  }
});

test.each([
  ["2 strands", { around: 12, rows: 1 }, {}],
  ["3 strands, equal steps", { around: 16, rows: 1.5 }, { spacing: "equal" }],
  ["4 strands", { around: 16, rows: 2 }, {}],
  ["5 strands, equal steps", { around: 20, rows: 2.5 }, { spacing: "equal" }],
  ["a carrick mat", { around: 4, rows: 1 }, { hub: true, innerMm: 12 }],
] as const)("ribbons keep their width to a hundredth of a mm: %s", (_, panel, more) => {
  const { diagram, strands } = wovenRing(panel, more);
  const size = { widthMm: 4, gapMm: 0.8 };
  const { pieces, troubles } = makeRibbons(diagram, strands, size);
  expect(troubles).toEqual([]);
  expect(pieces.length).toBe(crossingCount(diagram));
  for (const { centreline, outline } of pieces) {
    const edge = segmentsOf(outline);
    // Past the caps: at the flattest crossing here the over-strand's edge reaches this far along.
    const clear = 2 * (size.widthMm + size.gapMm);
    const length = chainLength(centreline);
    expect(length).toBeGreaterThan(2 * clear);
    for (let at = clear; at <= length - clear; at += length / 50) {
      const { segment, t } = placeAtLength(centreline, at);
      const point = segmentPoint(segment, t);
      for (const side of [1, -1]) {
        const wanted = along(point, leftOf(directionAt(segment, t)), (side * size.widthMm) / 2);
        const off = Math.min(...edge.map((part) => distance(nearestOn(part, wanted), wanted)));
        expect(off).toBeLessThan(0.01);
      }
    }
  }
});

test.each(SPACINGS)("a fan lies the same on both sides of its middle (%s)", (spacing) => {
  const flat = unwrapped(
    fanDiagram({ panel: plainPanel(6, 2), innerMm: INNER, angleDeg: 150, spacing }, { corner: "pointed" }),
  );
  const mirrored = (point: Point) => ({ x: -point.x, y: point.y });
  const crossings = Array.from(flat.x, (_, i) => crossingPoint(flat, i));
  for (const crossing of crossings)
    expect(Math.min(...crossings.map((other) => distance(mirrored(crossing), other)))).toBeLessThan(1e-9);
  const lengths = [...flat.curves.values()].map((curve) => ({
    at: chainStart(curve).x + chainEnd(curve).x,
    length: chainLength(curve),
  }));
  const sum = (keep: (at: number) => boolean) =>
    lengths.filter(({ at }) => keep(at)).reduce((total, { length }) => total + length, 0);
  expect(sum((at) => at < -1e-6)).toBeCloseTo(
    sum((at) => at > 1e-6),
    6,
  );
});
