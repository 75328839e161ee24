/** The Jones polynomial against published ones and a topology library. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { findFaces } from "../../src/diagram/faces.ts";
import { type JonesPolynomial, jonesPolynomial } from "../../src/diagram/jones.ts";
import { crossingCount, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { mirrorJones } from "../../src/diagram/known-links.ts";
import { planarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";
import { findStrands } from "../../src/diagram/strands.ts";
import { untwisted } from "../../src/diagram/untwist.ts";
import { wovenRing } from "../lattice/ring-piece.ts";
import { externalTest } from "../support/external.ts";
import { LINK_TOOLS, reportLinks } from "../support/links-report.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { GRID_KNOTS } from "../support/published.ts";
import { randomPanel } from "../support/random-panel.ts";

const codeOf = (diagram: KnotDiagram) => planarDiagramCode(diagram, findStrands(diagram));

function sumOf({ coefficients }: JonesPolynomial): number {
  return coefficients.reduce((sum, value) => sum + value, 0);
}

test("plain panels: published coefficients, from one end or the other, up to a sign", () => {
  const small = GRID_KNOTS.filter(({ jonesUpToUnitAndMirror: jones, crossings }) => jones && crossings <= 12);
  expect(small.length).toBe(4);
  for (const { graph, jonesUpToUnitAndMirror: published = [] } of small) {
    const { coefficients } = jonesPolynomial(wovenPanel(plainPanel(graph.p, graph.q)).diagram);
    const forms = [coefficients, coefficients.toReversed()].flatMap((list) => [
      list,
      list.map((value) => 0 - value),
    ]);
    expect(forms, `${graph.p} x ${graph.q}`).toContainEqual(published);
  }
});

test("V(1) is (-2)^(strands - 1); exchanging every over and under mirrors it (Jones 1985)", () => {
  let met = 0;
  fc.assert(
    fc.property(randomPanel(3), fc.nat(4095), (rows, bits) => {
      const { diagram, faces, strands } = wovenPanel(rows);
      if (faces.parts !== 1 || crossingCount(diagram) > 9 || crossingCount(diagram) === 0) return;
      met++;
      const woven = { ...diagram, over: diagram.over.map((over, i) => over ^ ((bits >> i) & 1)) };
      const jones = jonesPolynomial(woven);
      expect(sumOf(jones)).toBe((-2) ** (strands.count - 1));
      const other = jonesPolynomial({ ...woven, over: woven.over.map((over) => 1 - over) });
      expect(other).toEqual(mirrorJones(jones));
    }),
    { numRuns: 400, seed: 3 },
  );
  expect(met).toBeGreaterThan(60);
});

externalTest("trefoil rings: the library and we agree which hand is which", LINK_TOOLS, () => {
  const rings = (["Z", "S"] as const).map((hand) => {
    const { diagram } = wovenRing({ around: 3, rows: 1 });
    return hand === "Z" ? diagram : { ...diagram, over: diagram.over.map((over) => 1 - over) };
  });
  const found = rings.map(jonesPolynomial);
  expect(
    reportLinks(rings.map(codeOf)).map(({ jones, lowestPower }) => ({ lowestPower, coefficients: jones })),
  ).toEqual(found);
  // t + t^3 - t^4, the right-handed trefoil, and its mirror image.
  const right = { lowestPower: 1, coefficients: [1, 0, 1, -1] };
  const left = { lowestPower: -4, coefficients: [-1, 1, 0, 1] };
  expect(found).toEqual(expect.arrayContaining([right, left]));
});

externalTest(
  "random panels and rings, alternating and not: as the library has them, powers and all",
  LINK_TOOLS,
  () => {
    const panels = fc
      .sample(fc.tuple(randomPanel(4), fc.nat(4095)), { numRuns: 150, seed: 5 })
      .map(([rows, bits]) => ({ ...wovenPanel(rows), bits }))
      .filter(
        ({ diagram, faces }) =>
          crossingCount(diagram) > 0 && crossingCount(diagram) <= 12 && faces.parts === 1,
      )
      .flatMap(({ diagram, bits }) => [
        diagram,
        { ...diagram, over: diagram.over.map((over, i) => over ^ ((bits >> i) & 1)) },
      ]);
    const rings = [3, 4, 5, 6]
      .flatMap((around) => [
        wovenRing({ around, rows: 1 }).diagram,
        ...(around <= 4 ? [wovenRing({ around, rows: 2 }).diagram] : []),
        ...(around <= 6 ? [wovenRing({ around, rows: 1.5 }).diagram] : []),
      ])
      .filter((diagram) => crossingCount(diagram) <= 12);
    const all = [...panels, ...rings];
    expect(panels.length).toBeGreaterThan(60);
    expect(rings.length).toBeGreaterThan(8);
    const reports = reportLinks(all.map(codeOf));
    expect(all.map(jonesPolynomial)).toEqual(
      reports.map(({ jones, lowestPower }) => ({ lowestPower, coefficients: jones })),
    );
    expect(reports.filter(({ components }) => components > 1).length).toBeGreaterThan(5);
  },
);

test("untwisting keeps a knot's polynomial and an unknot's nothing", () => {
  let untied = 0;
  fc.assert(
    fc.property(randomPanel(4), (rows) => {
      const { diagram, faces, strands } = wovenPanel(rows);
      if (faces.parts !== 1 || crossingCount(diagram) > 11) return;
      const reduced = untwisted(diagram, faces);
      if (reduced.over.length === crossingCount(diagram)) return;
      untied++;
      const [before, after] = [jonesPolynomial(diagram), jonesPolynomial(reduced)];
      if (strands.count === 1) expect(after).toEqual(before);
      else expect(after.coefficients).toEqual(before.coefficients);
    }),
    { numRuns: 300, seed: 9 },
  );
  expect(untied).toBeGreaterThan(30);
  const strip = wovenPanel(plainPanel(5, 1)).diagram;
  expect(untwisted(strip, findFaces(strip)).over.length).toBe(0);
});
