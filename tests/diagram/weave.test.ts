import fc from "fast-check";
import { expect, test } from "vitest";
import { findFaces } from "../../src/diagram/faces.ts";
import { crossingCount, crossingPoint, edgeCurve, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { diagramHand, isAlternating, weave } from "../../src/diagram/weave.ts";
import { segmentsOf } from "../../src/geometry/arc-chain.ts";
import { startDirection } from "../../src/geometry/segment.ts";
import { PITCH, wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { mirroredText, randomPanel, turnedText } from "../support/random-panel.ts";

/** The way the strand on top leans, as drawn. */
function lean(diagram: KnotDiagram, crossing: number): "/" | "\\" {
  const over = 4 * crossing + (diagram.over[crossing] ?? 0);
  const [first] = segmentsOf(edgeCurve(diagram, over));
  if (!first) throw new Error("an edge without a curve");
  const { x, y } = startDirection(first);
  return x * y > 0 ? "/" : "\\";
}

// DESIGN.md, "Weave hand": in hand Z the strand on top leans like the middle stroke of Z between
// side-by-side cells, like that of S between stacked cells. ISO 2 names twist so.
test.each(["Z", "S"] as const)("hand %s leans as textiles name it", (hand) => {
  const { diagram, faces } = wovenPanel(plainPanel(4, 3), hand);
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    // Cells have their centres on odd multiples of half the pitch, so between side-by-side cells
    // x is a whole number of pitches.
    const { x } = crossingPoint(diagram, crossing);
    const sideBySide = Math.abs(x / PITCH - Math.round(x / PITCH)) < 1e-9;
    expect(lean(diagram, crossing)).toBe(sideBySide === (hand === "Z") ? "/" : "\\");
  }
  expect(diagramHand(diagram, faces)).toBe(hand);
});

test("Z and S exchange every crossing, and both alternate", () => {
  fc.assert(
    fc.property(randomPanel(), (rows) => {
      const z = wovenPanel(rows, "Z");
      const s = wovenPanel(rows, "S");
      expect(isAlternating(z.diagram)).toBe(true);
      expect(isAlternating(s.diagram)).toBe(true);
      expect([...s.diagram.over]).toEqual([...z.diagram.over].map((over) => 1 - over));
      const crossings = crossingCount(z.diagram);
      expect(diagramHand(z.diagram, z.faces)).toBe(crossings === 0 ? null : "Z");
      expect(diagramHand(s.diagram, s.faces)).toBe(crossings === 0 ? null : "S");
    }),
    { numRuns: 300 },
  );
});

test("one crossing exchanged alternates no more, but for a strip that can be untwisted", () => {
  const { diagram, faces } = wovenPanel(plainPanel(3, 3));
  const over = Uint8Array.from(diagram.over, (value, i) => (i === 5 ? 1 - value : value));
  expect(isAlternating({ ...diagram, over })).toBe(false);
  expect(diagramHand({ ...diagram, over }, faces)).toBeNull();
});

/** Overs and unders by place, in pitches from the lower left. */
function leans(diagram: KnotDiagram): Map<string, string> {
  const found = new Map<string, string>();
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    const { x, y } = crossingPoint(diagram, crossing);
    found.set(`${(x / PITCH).toFixed(2)} ${(y / PITCH).toFixed(2)}`, lean(diagram, crossing));
  }
  return found;
}

test("a quarter turn keeps the hand: the turned drawing is the drawing of the turned text", () => {
  fc.assert(
    fc.property(randomPanel(), (rows) => {
      const upright = wovenPanel(rows, "Z");
      const turned = leans(wovenPanel(turnedText(rows), "Z").diagram);
      const high = (upright.panel.rows - 1) / 2;
      expect(turned.size).toBe(crossingCount(upright.diagram));
      for (const [place, leaning] of leans(upright.diagram)) {
        const [x = 0, y = 0] = place.split(" ").map(Number);
        // Counter-clockwise: (x, y) goes to (-y, x), moved back by the height.
        expect(turned.get(`${(high - y).toFixed(2)} ${x.toFixed(2)}`)).toBe(leaning === "/" ? "\\" : "/");
      }
    }),
    { numRuns: 200 },
  );
});

test("mirroring the drawing changes the hand", () => {
  fc.assert(
    fc.property(randomPanel(), (rows) => {
      const plain = wovenPanel(rows, "Z");
      const mirrored = leans(wovenPanel(mirroredText(rows), "S").diagram);
      const wide = (Math.max(...rows.map((row) => row.length)) - 1) / 2;
      for (const [place, leaning] of leans(plain.diagram)) {
        const [x = 0, y = 0] = place.split(" ").map(Number);
        expect(mirrored.get(`${(wide - x).toFixed(2)} ${y.toFixed(2)}`)).toBe(leaning === "/" ? "\\" : "/");
      }
    }),
    { numRuns: 200 },
  );
});

test("faces are counted as Euler has it, on any panel", () => {
  fc.assert(
    fc.property(randomPanel(), (rows) => {
      const { diagram, faces } = wovenPanel(rows);
      expect(faces.planar).toBe(true);
      expect(faces.count).toBe(crossingCount(diagram) + 1 + faces.parts);
      // Two faces beside one edge have two colours.
      for (const [half, face] of faces.faceOf.entries()) {
        const beside = faces.faceOf[diagram.twin[half] ?? -1] ?? -1;
        expect(faces.dark[face]).not.toBe(faces.dark[beside]);
      }
      for (const outer of faces.outer) expect(faces.dark[outer]).toBe(0);
      expect(weave(diagram, findFaces(diagram), "Z").over).toEqual(diagram.over);
    }),
    { numRuns: 200 },
  );
});
