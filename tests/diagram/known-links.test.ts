/** Names of links, against tables of knots, and the drawings that are known to be them. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { linkDeterminant } from "../../src/diagram/determinant.ts";
import { findFaces } from "../../src/diagram/faces.ts";
import { jonesPolynomial } from "../../src/diagram/jones.ts";
import type { KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { KNOWN_LINKS, mirrorJones, type NamedLink, nameLink } from "../../src/diagram/known-links.ts";
import type { PlanarDiagramCode } from "../../src/diagram/planar-diagram-code.ts";
import { findStrands } from "../../src/diagram/strands.ts";
import { untwisted, type Wired } from "../../src/diagram/untwist.ts";
import { wovenRing } from "../lattice/ring-piece.ts";
import { externalTest } from "../support/external.ts";
import { LINK_TOOLS, reportLinks } from "../support/links-report.ts";
import { wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";

interface PublishedLink {
  readonly name: string;
  readonly crossings: number;
  readonly strands: number;
  readonly determinant: string;
  readonly lowestPower: number;
  readonly jones: readonly number[];
  readonly hand: NamedLink["hand"];
  readonly source: string;
  readonly pd?: PlanarDiagramCode;
}

const PUBLISHED = JSON.parse(
  readFileSync(new URL("../../shared/checks/links.json", import.meta.url), "utf8"),
) as { readonly named: readonly PublishedLink[]; readonly others: readonly PublishedLink[] };
const DRAWN = [...PUBLISHED.named, ...PUBLISHED.others].filter(({ pd }) => pd);

const OTHER_HAND = { right: "left", left: "right" } as const;

function invariantsOf({ crossings, strands, determinant, lowestPower, jones }: PublishedLink) {
  return {
    crossings,
    strands,
    determinant: BigInt(determinant),
    jones: { lowestPower, coefficients: jones },
  };
}

/** The wiring of a code: slots count from the incoming lower strand. */
function wired(code: PlanarDiagramCode): Wired {
  const ends = new Map<number, number[]>();
  for (const [half, edge] of code.flat().entries()) ends.set(edge, [...(ends.get(edge) ?? []), half]);
  const twin = new Int32Array(4 * code.length);
  for (const [a = -1, b = -1] of ends.values()) {
    twin[a] = b;
    twin[b] = a;
  }
  return { twin, over: new Uint8Array(code.length).fill(1) };
}

/** The sum of signs as the code has it: the upper strand runs towards the greater number, or round to the first. */
function writheOf(code: PlanarDiagramCode): number {
  return code.reduce((sum, [, j, , l]) => sum + (j - l === 1 || l - j > 1 ? 1 : -1), 0);
}

function nameOf(diagram: KnotDiagram): NamedLink | undefined {
  const faces = findFaces(diagram);
  const reduced = untwisted(diagram, faces);
  const determinant = linkDeterminant(diagram, faces);
  if (determinant.kind !== "known") throw new Error("too large");
  return nameLink({
    crossings: reduced.over.length,
    strands: findStrands(diagram).count,
    determinant: determinant.value,
    jones: jonesPolynomial(reduced),
  });
}

test.each(DRAWN)(
  "$name: the Jones polynomial of the printed drawing ($source)",
  ({ pd = [], jones, ...link }) => {
    const found = jonesPolynomial(wired(pd));
    // A code fixes how a knot's strand runs only up to turning it round, a link's not at all.
    if (link.strands === 1) expect(found).toEqual({ lowestPower: link.lowestPower, coefficients: jones });
    else expect(found.coefficients).toEqual(jones);
  },
);

test.each(PUBLISHED.named)("$name is known by its published invariants, its mirror image as such", (link) => {
  const found = invariantsOf(link);
  expect(nameLink(found)).toMatchObject({ name: link.name, hand: link.hand });
  expect(nameLink({ ...found, jones: mirrorJones(found.jones) })).toMatchObject({
    name: link.name,
    hand: link.hand && OTHER_HAND[link.hand],
  });
  // Each invariant counts.
  expect(nameLink({ ...found, crossings: found.crossings + 1 })).toBeUndefined();
  expect(nameLink({ ...found, strands: found.strands + 1 })).toBeUndefined();
  expect(nameLink({ ...found, determinant: found.determinant + 1n })).toBeUndefined();
  const jones = { ...found.jones, coefficients: found.jones.coefficients.map((value) => 2 * value) };
  expect(nameLink({ ...found, jones })).toBeUndefined();
});

test.each(PUBLISHED.others)("$name has no name in the table", (link) => {
  expect(nameLink(invariantsOf(link))).toBeUndefined();
});

test("hands: that of most crossings in the printed drawing", () => {
  const handed = PUBLISHED.named.filter(({ pd, hand, name }) => pd && hand && name !== "4^2_1");
  expect(handed.length).toBeGreaterThanOrEqual(5);
  for (const { name, pd = [], hand } of handed)
    expect(Math.sign(writheOf(pd)), name).toBe(hand === "right" ? 1 : -1);
});

test("the Jones polynomials' coefficients add up to the determinant without their signs", () => {
  // Thistlethwaite 1987: those of an alternating link alternate, so V(-1) is their sum.
  for (const { name, jones, determinant } of KNOWN_LINKS)
    expect(
      jones.reduce((sum, value) => sum + Math.abs(value), 0),
      name,
    ).toBe(determinant);
});

const named = (name: string, called: string | null = expect.anything()) =>
  expect.objectContaining({ name, called });

test("plain panels", () => {
  expect(nameOf(wovenPanel(plainPanel(2, 2)).diagram)).toEqual(named("4^2_1", "Solomon's knot"));
  expect(nameOf(wovenPanel(plainPanel(2, 3)).diagram)).toEqual(named("7_4", "small endless knot"));
  expect(nameOf(wovenPanel(plainPanel(4, 1)).diagram)).toEqual({ name: "0_1", called: "unknot", hand: null });
  expect(nameOf(wovenPanel(plainPanel(3, 3)).diagram)).toBeUndefined();
  const [z, s] = (["Z", "S"] as const).map(
    (hand) => nameOf(wovenPanel(plainPanel(2, 3), hand).diagram)?.hand,
  );
  expect([z, s].sort()).toEqual(["left", "right"]);
});

test.each([
  [3, 1, "3_1"],
  [4, 1, "4^2_1"],
  [5, 1, "5_1"],
  [6, 1, "6^2_1"],
  [7, 1, "7_1"],
  [12, 1, "T(2,12)"],
  [3, 1.5, "6^3_2"],
  [4, 1.5, "8_18"],
  [5, 1.5, "10_123"],
  [6, 1.5, "closed braid (s1 s2^-1)^6"],
  [3, 2, "9_40"],
  [4, 2, "closed braid (s1 s2^-1 s3)^4"],
])("a ring of %i repeats and %d cells across: %s", (around, rows, name) => {
  expect(nameOf(wovenRing({ around, rows }).diagram)?.name).toBe(name);
});

/** The closed braid: s for each generator, negative for its inverse; right-handed crossings for positive ones. */
function closedBraid(strands: number, word: readonly number[]): PlanarDiagramCode {
  const first = Array.from({ length: strands }, (_, i) => i + 1);
  const now = [...first];
  let last = strands;
  const code: [number, number, number, number][] = [];
  for (const s of word) {
    const i = Math.abs(s) - 1;
    const [left = 0, right = 0] = [now[i], now[i + 1]];
    now[i] = ++last;
    now[i + 1] = ++last;
    code.push(s > 0 ? [right, last, last - 1, left] : [left, right, last, last - 1]);
  }
  const closed = new Map(now.map((edge, i) => [edge, first[i] ?? 0]));
  const joined = code.map((crossing) => crossing.map((edge) => closed.get(edge) ?? edge));
  const numbers = new Map([...new Set(joined.flat())].sort((a, b) => a - b).map((edge, i) => [edge, i + 1]));
  return joined.map(([a = 0, b = 0, c = 0, d = 0]) => {
    const at = (edge: number) => numbers.get(edge) ?? 0;
    return [at(a), at(b), at(c), at(d)];
  });
}

externalTest(
  "the table's polynomials are those that a topology library finds for closed braids",
  LINK_TOOLS,
  () => {
    const power = (word: readonly number[], times: number) =>
      Array.from({ length: times }, () => word).flat();
    // Braids: the torus links and turk's heads by their making; the others from the Table of Knot
    // Invariants, from memory.
    const braids: readonly (readonly [string, number, readonly number[]])[] = [
      ...KNOWN_LINKS.slice(1, 12).map(({ name, crossings }) => [name, 2, power([1], crossings)] as const),
      ["4_1", 3, power([1, -2], 2)],
      ["2^2_1 # 2^2_1", 3, [1, 1, 2, 2]],
      ["5_2", 3, [1, 1, 1, 2, -1, 2]],
      ["5^2_1", 3, [1, -2, 1, -2, 1]],
      ["3_1 # 3_1", 3, [1, 1, 1, 2, 2, 2]],
      ["3_1 # mirrored 3_1", 3, [1, 1, 1, -2, -2, -2]],
      ["6_1", 4, [1, 1, 2, -1, -3, 2, -3]],
      ["6^3_2", 3, power([1, -2], 3)],
      ["7_4", 4, [1, 1, 2, -1, 2, 2, 3, -2, 3]],
      ["8_18", 3, power([1, -2], 4)],
      ["10_123", 3, power([1, -2], 5)],
      ["closed braid (s1 s2^-1)^6", 3, power([1, -2], 6)],
      ["9_40", 4, power([1, -2, 3], 3)],
      ["closed braid (s1 s2^-1 s3)^4", 4, power([1, -2, 3], 4)],
    ];
    expect(braids.map(([name]) => name).sort()).toEqual(
      KNOWN_LINKS.slice(1)
        .map(({ name }) => name)
        .sort(),
    );
    const reports = reportLinks(braids.map(([, strands, word]) => closedBraid(strands, word)));
    for (const [i, [name]] of braids.entries()) {
      const report = reports[i];
      const known = KNOWN_LINKS.find((link) => link.name === name);
      if (!report || !known) throw new Error(`${name} is missing`);
      expect(report.components, name).toBe(known.strands);
      expect(report.determinant, name).toBe(String(known.determinant));
      const sign = (report.jones[0] ?? 0) * (known.jones[0] ?? 0) > 0 ? 1 : -1;
      expect(
        report.jones.map((value) => value * sign + 0),
        name,
      ).toEqual(known.jones);
      if (known.lowestPower !== undefined) expect(report.lowestPower, name).toBe(known.lowestPower);
    }
  },
);
