/** What is said of each strand, and of the link that the strands are. */
import { expect, test } from "vitest";
import { parseDesign } from "../../src/documents/design.ts";
import { type InspectedDesign, inspectDesign } from "../../src/documents/inspect-design.ts";
import { linkRecord } from "../../src/documents/inspect-link.ts";
import { plainPanel } from "../support/plain-panel.ts";

/** mm */
const PITCH = 10;

function inspected(design: object): InspectedDesign {
  const parsed = parseDesign(JSON.stringify({ plaitwright: 1, pitch: PITCH, ...design }), "test.plait.json");
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  const found = inspectDesign(parsed.value);
  if (!found.ok) throw new Error(JSON.stringify(found.faults));
  return found.value;
}

const strandsOf = (design: object) => inspected(design).inspection.strandList;
const square = { panel: plainPanel(2, 2) };
const lone = { panel: plainPanel(1, 1) };
const tied = (a: string, b: string, twists = 0) => ({ tie: [{ in: a }, { in: b }], twists });

/** Names of the pieces of the strands, without the strands' order, which is ours to choose. */
const throughOf = (design: object) =>
  strandsOf(design)
    .map(({ pieces }) => pieces.join(" "))
    .sort();

test("a strand's crossings: with itself once, with another for both", () => {
  // Two strands that cross four times; one that crosses itself seven times (CHECKS 1.1 and 1.5).
  expect(strandsOf(square).map(({ crossings }) => crossings)).toEqual([4, 4]);
  expect(strandsOf({ panel: plainPanel(2, 3) }).map(({ crossings }) => crossings)).toEqual([7]);
  expect(strandsOf(lone).map(({ crossings }) => crossings)).toEqual([0]);
});

test("names are those of the pictures, lengths those of strandLengths; a lone panel has no pieces", () => {
  const { strandList, strandLengths } = inspected({ panel: plainPanel(3, 3) }).inspection;
  expect(strandList.map(({ name }) => name)).toEqual(["A", "B", "C"]);
  expect(strandList.map(({ lengthMm }) => lengthMm)).toEqual(strandLengths);
  for (const { pieces } of strandList) expect(pieces).toEqual([]);
});

test("untied pieces keep their strands; a tie leads one of each through both", () => {
  const pieces = {
    pieces: { square },
    layout: [
      { name: "left", piece: "square", at: [0, 0] },
      { name: "right", piece: "square", at: [4, 0] },
    ],
  };
  expect(throughOf(pieces)).toEqual(["left", "left", "right", "right"]);
  for (const twists of [0, 1, 2]) {
    const design = { ...pieces, joins: [tied("left", "right", twists)] };
    expect(throughOf(design)).toEqual(["left", "left right", "right"]);
    // 4 crossings lie on each strand; twists lie on the tied one, which crosses itself there.
    const crossings = strandsOf(design).map((strand) => strand.crossings);
    expect(crossings.sort((a, b) => a - b)).toEqual([4, 4, 8 + twists]);
  }
});

test("pieces without a crossing are found after they were tied, too", () => {
  const pieces = {
    pieces: { lone, square },
    layout: [
      { name: "a", piece: "lone", at: [0, 0] },
      { name: "b", piece: "square", at: [3, 0] },
      { name: "c", piece: "lone", at: [7, 0] },
    ],
  };
  expect(throughOf(pieces)).toEqual(["a", "b", "b", "c"]);
  expect(throughOf({ ...pieces, joins: [tied("a", "b")] })).toEqual(["a b", "b", "c"]);
  // Both lone strands are tied to the same strand of the square, or to one each.
  const both = throughOf({ ...pieces, joins: [tied("a", "b"), tied("b", "c")] });
  expect(both.join("; ")).toMatch(/^(a b c; b|a b; b c)$/);
});

test("the link: determinant as text, crossings when untwisted, a known link's name", () => {
  expect(linkRecord(inspected({ panel: plainPanel(2, 3) }).link())).toEqual({
    determinant: "15",
    split: false,
    untwistedCrossings: 7,
    jones: { lowestPower: expect.any(Number), coefficients: expect.any(Array) },
    sameAs: { name: "7_4", called: "small endless knot", hand: expect.stringMatching(/left|right/) },
  });
});

test("the link of a tie: the product's determinant, a twist is untwisted (CHECKS 1.6)", () => {
  const twice = (twists: number) => ({
    pieces: { square },
    layout: [
      { name: "left", piece: "square", at: [0, 0] },
      { name: "right", piece: "square", at: [4, 0] },
    ],
    joins: [tied("left", "right", twists)],
  });
  for (const twists of [0, 1]) {
    const link = inspected(twice(twists)).link();
    expect(linkRecord(link)).toMatchObject({ determinant: "16", untwistedCrossings: 8, sameAs: null });
  }
});

test("a link of many parts: split, determinant 0, nothing more", () => {
  const link = inspected({
    pieces: { square },
    layout: [
      { name: "left", piece: "square", at: [0, 0] },
      { name: "right", piece: "square", at: [4, 0] },
    ],
  }).link();
  expect(linkRecord(link)).toEqual({
    determinant: "0",
    split: true,
    untwistedCrossings: 8,
    jones: null,
    sameAs: null,
  });
});

test("a large link: the determinant alone, or too many crossings for it", () => {
  // A007341, n = 4; 24 crossings are too many for a polynomial.
  expect(linkRecord(inspected({ panel: plainPanel(4, 4) }).link())).toMatchObject({
    determinant: "100352",
    jones: null,
    sameAs: null,
  });
  expect(linkRecord(inspected({ panel: plainPanel(40, 40) }).link())).toMatchObject({ determinant: null });
});
