/** A breakline put on a crossing (CHECKS section 1.6: the usual smoothing rule, e.g. Kauffman). */
import fc from "fast-check";
import { expect, test } from "vitest";
import { checkerboardGraph } from "../../src/diagram/checkerboard.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { colouringDeterminant, spanningTrees, strandsByCorank } from "../support/link-invariants.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { randomPanel } from "../support/random-panel.ts";

function withSite(rows: readonly string[], crossing: number, what: string): string[] {
  let seen = -1;
  return rows.map((row) => row.replaceAll("x", (x) => (++seen === crossing ? what : x)));
}

test("two strands become one both ways; one strand stays one, or falls in two", () => {
  fc.assert(
    fc.property(randomPanel(), fc.nat(999), (rows, number) => {
      const { diagram, strands } = wovenPanel(rows);
      fc.pre(crossingCount(diagram) > 0);
      // Crossings are numbered as the text is read.
      const crossing = number % crossingCount(diagram);
      const [a, b] = [strands.strandOf[4 * crossing], strands.strandOf[4 * crossing + 1]];
      const change = ["-", "|"]
        .map((way) => wovenPanel(withSite(rows, crossing, way)).strands.count - strands.count)
        .sort();
      expect(change).toEqual(a === b ? [0, 1] : [-1, -1]);
    }),
    { numRuns: 300 },
  );
});

test("spanning trees: without a crossing, deleted plus contracted; two roads to one determinant", () => {
  fc.assert(
    fc.property(randomPanel(4), (rows) => {
      const { diagram, faces, strands } = wovenPanel(rows);
      fc.pre(crossingCount(diagram) > 0 && faces.parts === 1);
      const graph = checkerboardGraph(diagram, faces);
      const trees = spanningTrees(graph);
      expect(trees > 0n).toBe(true);
      expect(colouringDeterminant(diagram)).toBe(trees);
      expect(strandsByCorank(graph)).toBe(strands.count);
      // The determinant of either smoothing, where it hangs together, adds up.
      const parts = ["-", "|"].map((way) => wovenPanel(withSite(rows, 0, way)));
      fc.pre(parts.every((part) => part.faces.parts === 1 && crossingCount(part.diagram) > 0));
      const sum = parts.reduce(
        (add, part) => add + spanningTrees(checkerboardGraph(part.diagram, part.faces)),
        0n,
      );
      expect(sum).toBe(trees);
    }),
    { numRuns: 150 },
  );
});
