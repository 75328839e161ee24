/** The determinant against published counts, the colouring equations and a topology library. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { linkDeterminant, MOST_CROSSINGS } from "../../src/diagram/determinant.ts";
import { findFaces } from "../../src/diagram/faces.ts";
import { crossingCount, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { planarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";
import { findStrands } from "../../src/diagram/strands.ts";
import { wovenRing } from "../lattice/ring-piece.ts";
import { externalTest } from "../support/external.ts";
import { colouringDeterminant } from "../support/link-invariants.ts";
import { LINK_TOOLS, reportLinks } from "../support/links-report.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { GRID_KNOTS } from "../support/published.ts";
import { randomPanel } from "../support/random-panel.ts";

function determinantOf(diagram: KnotDiagram): bigint {
  const found = linkDeterminant(diagram, findFaces(diagram));
  if (found.kind !== "known") throw new Error(`too large: ${found.crossings}`);
  return found.value;
}

/** The same drawing with over and under exchanged at the crossings whose bit is set. */
function exchanged(diagram: KnotDiagram, bits: number): KnotDiagram {
  return { ...diagram, over: diagram.over.map((over, i) => over ^ ((bits >> (i % 30)) & 1)) };
}

test.each(GRID_KNOTS)("$name has determinant $determinant ($source)", ({ graph, determinant }) => {
  for (const hand of ["Z", "S"] as const)
    expect(determinantOf(wovenPanel(plainPanel(graph.p, graph.q), hand).diagram)).toBe(BigInt(determinant));
});

test("8 x 8 cells: the 27 digits of A007341", () => {
  expect(determinantOf(wovenPanel(plainPanel(8, 8)).diagram)).toBe(126231322912498539682594816n);
});

test("rings: prisms as A006235 counts them", () => {
  for (const [around, trees] of [
    [3, 75n],
    [4, 384n],
    [5, 1805n],
    [9, 632025n],
  ] as const)
    expect(determinantOf(wovenRing({ around, rows: 2 }).diagram)).toBe(trees);
});

test("parts that can be pulled apart have 0, a closed strand without a crossing 1", () => {
  const two = wovenPanel(["+-+-+ +-+-+", "|oxo| |oxo|", "+x+x+ +x+x+", "|oxo| |oxo|", "+-+-+ +-+-+"]);
  expect(two.faces.parts).toBe(2);
  expect(determinantOf(two.diagram)).toBe(0n);
  const one = wovenPanel(["+-+", "|o|", "+-+"]);
  expect(crossingCount(one.diagram)).toBe(0);
  expect(determinantOf(one.diagram)).toBe(1n);
});

test("a strip whose crossings can all be untwisted is the unknot, woven in any way", () => {
  const { diagram } = wovenPanel(plainPanel(6, 1));
  for (let bits = 0; bits < 32; bits++) expect(determinantOf(exchanged(diagram, bits))).toBe(1n);
});

test("random panels, alternating and not: as the colouring equations have it", () => {
  let compared = 0;
  fc.assert(
    fc.property(randomPanel(5), fc.nat(2 ** 30 - 1), (rows, bits) => {
      const { diagram, faces } = wovenPanel(rows);
      if (faces.parts !== 1 || crossingCount(diagram) < 2) return;
      for (const one of [diagram, exchanged(diagram, bits)]) {
        if (!passesUnderEverywhere(one)) continue;
        expect(determinantOf(one)).toBe(colouringDeterminant(one));
        compared++;
      }
    }),
    { numRuns: 200, seed: 7 },
  );
  expect(compared).toBeGreaterThan(150);
});

/** The colouring equations count arcs, of which a strand that is always on top has none. */
function passesUnderEverywhere(diagram: KnotDiagram): boolean {
  const { strandOf, count } = findStrands(diagram);
  const under = new Set<number>();
  for (const [half, strand] of strandOf.entries()) {
    if ((half & 1) !== diagram.over[half >> 2]) under.add(strand);
  }
  return under.size === count;
}

externalTest("random panels woven at random: as a topology library has it", LINK_TOOLS, () => {
  const diagrams = fc
    .sample(fc.tuple(randomPanel(4), fc.nat(2 ** 30 - 1)), { numRuns: 160, seed: 11 })
    .map(([rows, bits]) => ({ ...wovenPanel(rows), bits }))
    .filter(({ diagram, faces }) => crossingCount(diagram) > 1 && faces.parts === 1)
    .map(({ diagram, bits }) => exchanged(diagram, bits));
  expect(diagrams.length).toBeGreaterThan(25);
  const reports = reportLinks(diagrams.map((diagram) => planarDiagramCode(diagram, findStrands(diagram))));
  expect(diagrams.map((diagram) => String(determinantOf(diagram)))).toEqual(
    reports.map(({ determinant }) => determinant),
  );
  expect(reports.some(({ alternating }) => !alternating)).toBe(true);
});

test("more crossings than can be reckoned with are said, not tried", () => {
  const { diagram, faces } = wovenPanel(plainPanel(60, 60));
  expect(linkDeterminant(diagram, faces)).toEqual({
    kind: "too-large",
    crossings: 2 * 60 * 60 - 60 - 60,
    most: MOST_CROSSINGS,
  });
});
