import fc from "fast-check";
import { expect, test } from "vitest";
import { findFaces } from "../../src/diagram/faces.ts";
import { crossingCount, crossingPoint, edgeCurve, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { placeDiagram, uniteDiagrams } from "../../src/diagram/place-diagram.ts";
import { findStrands, strandLengths } from "../../src/diagram/strands.ts";
import { diagramHand, isAlternating } from "../../src/diagram/weave.ts";
import { chainEnd, chainStart, segmentsOf, signedArea } from "../../src/geometry/arc-chain.ts";
import { cross, distance } from "../../src/geometry/point.ts";
import { startDirection } from "../../src/geometry/segment.ts";
import {
  followedBy,
  mirrorAt,
  moveBy,
  scaleBy,
  transformPoint,
  turnBy,
} from "../../src/geometry/transform.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { randomPanel } from "../support/random-panel.ts";

const placing = fc.record({
  turn: fc.double({ min: -7, max: 7, noNaN: true }),
  mirrors: fc.boolean(),
  scale: fc.double({ min: 0.2, max: 5, noNaN: true }),
  x: fc.integer({ min: -99, max: 99 }),
  y: fc.integer({ min: -99, max: 99 }),
});

/** Slots counter-clockwise, and every edge from its crossing to its twin's. */
function expectLaidOut(diagram: KnotDiagram): void {
  for (let half = 0; half < diagram.twin.length; half++) {
    const curve = edgeCurve(diagram, half);
    expect(distance(chainStart(curve), crossingPoint(diagram, half >> 2))).toBeLessThan(1e-6);
    const other = diagram.twin[half] ?? -1;
    expect(diagram.twin[other]).toBe(half);
    expect(distance(chainEnd(curve), crossingPoint(diagram, other >> 2))).toBeLessThan(1e-6);
  }
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    const [a, b] = [0, 1].map((slot) => segmentsOf(edgeCurve(diagram, 4 * crossing + slot))[0]);
    if (!a || !b) throw new Error("an edge without a curve");
    expect(cross(startDirection(a), startDirection(b))).toBeGreaterThan(0);
  }
}

test("a placed diagram is the same drawing: a mirror exchanges its hand, nothing else does", () => {
  fc.assert(
    fc.property(randomPanel(4), fc.constantFrom("Z" as const, "S" as const), placing, (rows, hand, place) => {
      const { turn, mirrors, scale, x, y } = place;
      const own = wovenPanel(rows, hand);
      const faced = mirrors ? mirrorAt(3) : moveBy(0, 0);
      const by = followedBy(followedBy(faced, turnBy(turn)), followedBy(scaleBy(scale), moveBy(x, y)));
      const diagram = placeDiagram(own.diagram, by);
      const faces = findFaces(diagram);
      const strands = findStrands(diagram);
      expectLaidOut(diagram);
      expect(faces.planar).toBe(true);
      expect([faces.count, faces.parts, strands.count]).toEqual([
        own.faces.count,
        own.faces.parts,
        own.strands.count,
      ]);
      expect(isAlternating(diagram)).toBe(true);
      const other = hand === "Z" ? "S" : "Z";
      if (crossingCount(diagram) > 0) expect(diagramHand(diagram, faces)).toBe(mirrors ? other : hand);
      const sorted = (lengths: readonly number[]) => lengths.toSorted((a, b) => a - b);
      const before = sorted(strandLengths(own.diagram, own.strands));
      for (const [i, length] of sorted(strandLengths(diagram, strands)).entries())
        expect(length / scale).toBeCloseTo(before[i] ?? 0, 6);
      for (let i = 0; i < crossingCount(diagram); i++) {
        const wanted = transformPoint(crossingPoint(own.diagram, i), by);
        expect(distance(crossingPoint(diagram, i), wanted)).toBeLessThan(1e-9);
      }
      for (const [i, loop] of diagram.loops.entries()) {
        const area = signedArea(own.diagram.loops[i] ?? loop);
        expect(signedArea(loop) / (scale * scale)).toBeCloseTo(mirrors ? -area : area, 6);
      }
    }),
    { numRuns: 200 },
  );
});

test("united, each diagram keeps its crossings, strands and faces", () => {
  fc.assert(
    fc.property(fc.array(randomPanel(3), { minLength: 1, maxLength: 4 }), (texts) => {
      const parts = texts.map((rows, i) => placeDiagram(wovenPanel(rows).diagram, moveBy(100 * i, 0)));
      const whole = uniteDiagrams(parts);
      const faces = findFaces(whole);
      expectLaidOut(whole);
      const sum = (count: (diagram: KnotDiagram) => number) =>
        parts.reduce((total, part) => total + count(part), 0);
      expect(crossingCount(whole)).toBe(sum(crossingCount));
      expect(findStrands(whole).count).toBe(sum((part) => findStrands(part).count));
      expect(faces.parts).toBe(sum((part) => findFaces(part).parts));
      // All but the one outer face that they share.
      expect(faces.count - 1).toBe(sum((part) => findFaces(part).count - 1));
      expect([...whole.over]).toEqual(parts.flatMap((part) => [...part.over]));
    }),
    { numRuns: 100 },
  );
});
