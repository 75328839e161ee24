/** The planar diagram code, read by a topology library that knows nothing of panels. */
import fc from "fast-check";
import { expect } from "vitest";
import { checkerboardGraph } from "../../src/diagram/checkerboard.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { planarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";
import type { Hand } from "../../src/diagram/weave.ts";
import { externalTest } from "../support/external.ts";
import { spanningTrees } from "../support/link-invariants.ts";
import { LINK_TOOLS, reportLinks } from "../support/links-report.ts";
import { type WovenPanel, wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { GRID_KNOTS } from "../support/published.ts";
import { mirroredText, randomPanel, turnedText } from "../support/random-panel.ts";

const codeOf = ({ diagram, strands }: WovenPanel) => planarDiagramCode(diagram, strands);
const code = (rows: readonly string[], hand: Hand = "Z") => codeOf(wovenPanel(rows, hand));

/** The same up to a sign, which side is up, and in which mirror. */
function sameUpToMirror(a: readonly number[], b: readonly number[]): boolean {
  const text = (list: readonly number[], sign: number) => list.map((value) => value * sign + 0).join(" ");
  return [b, [...b].reverse()].some((list) => [1, -1].some((sign) => text(list, sign) === text(a, 1)));
}

externalTest(
  "plain panels: strands, alternation, determinant and published Jones polynomials",
  LINK_TOOLS,
  () => {
    const knots = GRID_KNOTS.filter(
      ({ graph }) => Math.min(graph.p, graph.q) <= 5 && graph.p * graph.q <= 30,
    );
    expect(knots.length).toBeGreaterThan(15);
    const reports = reportLinks(knots.map(({ graph }) => code(plainPanel(graph.p, graph.q))));
    let compared = 0;
    for (const [i, knot] of knots.entries()) {
      const report = reports[i];
      expect(report?.crossings, knot.name).toBe(knot.crossings);
      expect(report?.components, knot.name).toBe(knot.components);
      expect(report?.alternating, knot.name).toBe(true);
      expect(report?.determinant, knot.name).toBe(knot.determinant);
      if (!knot.jonesUpToUnitAndMirror || !report) continue;
      compared++;
      expect(sameUpToMirror(report.jones, knot.jonesUpToUnitAndMirror), knot.name).toBe(true);
    }
    expect(compared).toBeGreaterThanOrEqual(5);
  },
);

externalTest(
  "chirality: a mirrored text of the same hand is the mirrored link; half and quarter turns keep it",
  LINK_TOOLS,
  () => {
    // A step, a neck and a breakline, so that no panel is its own mirror image.
    const odd = ["+-+-+-+  ", "|oxoxo|  ", "+x+-+x+-+", "|oxoxoxo|", "+x+x+x+x+", "|oxo|oxo|", "+-+-+-+-+"];
    for (const rows of [plainPanel(2, 3), odd]) {
      const half = turnedText(turnedText(rows));
      const [plain, mirrored, half2, quarter, other] = reportLinks([
        code(rows),
        code(mirroredText(rows)),
        code(half),
        code(turnedText(rows)),
        code(rows, "S"),
      ]).map(({ jones }) => jones);
      if (!plain || !mirrored || !half2 || !quarter || !other) throw new Error("a report is missing");
      expect([...plain].reverse()).not.toEqual(plain);
      // A panel of hand Z mirrored is of hand S; the same text mirrored and woven Z again is the
      // mirrored drawing with every crossing exchanged. Mirroring in the paper's plane and mirroring
      // through it differ by a half turn in space.
      expect(half2).toEqual(plain);
      expect(quarter).toEqual(plain);
      expect(other).toEqual([...plain].reverse());
      expect(mirrored).toEqual(plain);
    }
  },
);

externalTest("random panels: the library finds our strands, alternation and determinant", LINK_TOOLS, () => {
  const panels = fc
    .sample(randomPanel(5), { numRuns: 60, seed: 20 })
    .map((rows) => wovenPanel(rows))
    .filter(({ diagram, faces }) => crossingCount(diagram) > 1 && faces.parts === 1);
  expect(panels.length).toBeGreaterThan(20);
  for (const [i, report] of reportLinks(panels.map(codeOf)).entries()) {
    const panel = panels[i];
    if (!panel) throw new Error("a report too many");
    expect(report.components).toBe(panel.strands.count);
    expect(report.alternating).toBe(true);
    expect(report.determinant).toBe(String(spanningTrees(checkerboardGraph(panel.diagram, panel.faces))));
  }
});
