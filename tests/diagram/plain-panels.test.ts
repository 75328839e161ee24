/** Plain panels against the published counts: the medial graphs of grid graphs (CHECKS section 1). */
import { expect, test } from "vitest";
import { checkerboardGraph, nugatoryCrossings } from "../../src/diagram/checkerboard.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { strandLengths } from "../../src/diagram/strands.ts";
import { diagramHand, isAlternating } from "../../src/diagram/weave.ts";
import { colouringDeterminant, spanningTrees, strandsByCorank } from "../support/link-invariants.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { GRID_KNOTS } from "../support/published.ts";

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

test("strands gcd(p, q), crossings 2pq - p - q, faces crossings + 2, for all panels up to 12 x 12", () => {
  for (let p = 1; p <= 12; p++) {
    for (let q = 1; q <= 12; q++) {
      const { diagram, faces, strands } = wovenPanel(plainPanel(p, q));
      const name = `${p} x ${q}`;
      expect(strands.count, name).toBe(gcd(p, q));
      expect(crossingCount(diagram), name).toBe(2 * p * q - p - q);
      expect(faces.parts, name).toBe(1);
      expect(faces.count, name).toBe(2 * p * q - p - q + 2);
      expect(faces.planar, name).toBe(true);
      expect(isAlternating(diagram), name).toBe(true);
      expect(strandLengths(diagram, strands).length, name).toBe(gcd(p, q));
      // In a strip one cell wide every crossing can be untwisted; in no wider panel any.
      expect(nugatoryCrossings(diagram, faces).length, name).toBe(
        Math.min(p, q) === 1 ? Math.max(p, q) - 1 : 0,
      );
    }
  }
});

test.each(GRID_KNOTS)("$name: crossings, strands and determinant ($source)", (knot) => {
  const { p, q } = knot.graph;
  for (const [across, down] of [
    [p, q],
    [q, p],
  ] as const) {
    const { diagram, faces, strands } = wovenPanel(plainPanel(across, down), "S");
    const graph = checkerboardGraph(diagram, faces);
    expect(crossingCount(diagram)).toBe(knot.crossings);
    expect(strands.count).toBe(knot.components);
    expect(strandsByCorank(graph)).toBe(knot.components);
    expect(graph.vertices).toBe(p * q);
    expect(spanningTrees(graph)).toBe(BigInt(knot.determinant));
    if (knot.crossings <= 45) expect(colouringDeterminant(diagram)).toBe(BigInt(knot.determinant));
    expect(diagramHand(diagram, faces)).toBe("S");
  }
});

test("the greatest panel of the table by its own overs and unders", () => {
  const knot = GRID_KNOTS.reduce((a, b) => (b.crossings > a.crossings ? b : a));
  const { diagram } = wovenPanel(plainPanel(knot.graph.p, knot.graph.q));
  expect(colouringDeterminant(diagram)).toBe(BigInt(knot.determinant));
});

test("m divides n implies that the determinant of p x m divides that of p x n (A116469)", () => {
  const det = (p: number, q: number) => {
    const { diagram, faces } = wovenPanel(plainPanel(p, q));
    return spanningTrees(checkerboardGraph(diagram, faces));
  };
  for (let p = 2; p <= 4; p++) {
    for (let m = 2; m <= 4; m++) {
      for (let n = m; n <= 8; n += m) expect(det(p, n) % det(p, m), `${p} x ${m} and ${p} x ${n}`).toBe(0n);
    }
  }
});
