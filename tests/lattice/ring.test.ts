/** Rings and fans: what they are as knots, and what is refused. */
import { describe, expect, test } from "vitest";
import { explain } from "../../src/base/explain.ts";
import type { Fault } from "../../src/base/fault.ts";
import { checkerboardGraph, nugatoryCrossings } from "../../src/diagram/checkerboard.ts";
import { crossingCount } from "../../src/diagram/knot-diagram.ts";
import { strandLengths } from "../../src/diagram/strands.ts";
import { diagramHand, isAlternating } from "../../src/diagram/weave.ts";
import { hasSquare } from "../../src/lattice/panel.ts";
import { squaresOfStrands } from "../../src/lattice/panel-diagram.ts";
import { draftRing } from "../../src/lattice/panel-draft.ts";
import { fanDiagram, type RingSpec, ringDiagram, ringPanel } from "../../src/lattice/ring.ts";
import { colouringDeterminant, spanningTrees, strandsByCorank } from "../support/link-invariants.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { RING_KNOTS } from "../support/published.ts";
import { INNER, unwrapped, woven, wovenRing } from "./ring-piece.ts";

const HUBS = ["wheel", "ring+hub"];

test.each(RING_KNOTS)("$name: crossings, strands and determinant ($source)", (knot) => {
  const { m, n = 1, type } = knot.graph;
  const hub = HUBS.includes(type);
  // A hub and an inner edge half a cell off are two ways to write one ring.
  const ways: Partial<RingSpec>[] = [
    { panel: { around: m, rows: n }, hub },
    { panel: { around: m, rows: n }, hub, spacing: "equal" },
    { panel: { around: m, rows: hub ? n + 0.5 : n } },
    { panel: hub ? draftRing(m, 2 * n + 1).slice(0, -1) : draftRing(m, 2 * n), hub },
  ];
  for (const way of ways) {
    const { diagram, faces, strands } = wovenRing(way.panel ?? [], { innerMm: 2, ...way });
    const graph = checkerboardGraph(diagram, faces);
    expect(crossingCount(diagram)).toBe(knot.crossings);
    expect(strands.count).toBe(knot.components);
    expect(strandsByCorank(graph)).toBe(knot.components);
    expect(colouringDeterminant(diagram)).toBe(BigInt(knot.determinant));
    expect(spanningTrees(graph)).toBe(BigInt(knot.determinant));
    expect(isAlternating(diagram)).toBe(true);
    expect(nugatoryCrossings(diagram, faces)).toEqual([]);
  }
});

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

test("strands gcd(m, k), crossings m (k - 1), faces crossings + 2, for rings of 3 to 12 by 2 to 7", () => {
  for (let around = 3; around <= 12; around++) {
    for (let k = 2; k <= 7; k++) {
      const { diagram, faces, strands } = wovenRing({ around, rows: k / 2 });
      const name = `${around} round, ${k} strands`;
      expect(strands.count, name).toBe(gcd(around, k));
      expect(crossingCount(diagram), name).toBe(around * (k - 1));
      expect(faces.planar, name).toBe(true);
      expect(faces.count, name).toBe(around * (k - 1) + 2);
      // Turned by one repeat a ring is the same, and each strand becomes the next.
      const lengths = strandLengths(diagram, strands);
      for (const length of lengths) expect(length, name).toBeCloseTo(lengths[0] ?? 0, 9);
    }
  }
});

test("the hand is that of the panel text: Z has / on top between side-by-side cells", () => {
  const { diagram, faces } = wovenRing({ around: 6, rows: 2 });
  // Crossings are numbered row by row: rows of 6 between side-by-side cells (odd rows) and stacked ones in turn.
  expect([...diagram.over]).toEqual([0, 1, 0].flatMap((over) => new Array<number>(6).fill(over)));
  expect(diagramHand(diagram, faces)).toBe("Z");
});

// One cell more here, one less there: no repeat is like the next.
const UNEVEN = [
  "+-+-+-+-+-+-+",
  "xoxoxo|oxoxox",
  "+x+-+x+x+x+x+",
  "xoxoxo-oxoxox",
  "+x+x+x+-+x+x+",
  "xoxo|oxoxoxox",
  "+-+-+-+-+-+-+",
];

test("the seam may lie anywhere, and be written once or twice", () => {
  const twice = wovenRing(UNEVEN);
  const lengths = sorted(strandLengths(twice.diagram, twice.strands));
  const once = UNEVEN.map((row) => row.slice(0, -1));
  for (let by = 0; by < 12; by += 2) {
    const turned = once.map((row) => row.slice(by) + row.slice(0, by));
    const { diagram, strands, faces } = wovenRing(turned);
    expect(crossingCount(diagram)).toBe(crossingCount(twice.diagram));
    expect(faces.planar).toBe(true);
    for (const [i, length] of sorted(strandLengths(diagram, strands)).entries())
      expect(length).toBeCloseTo(lengths[i] ?? 0, 9);
  }
  const oneSideBlank = UNEVEN.map((row, i) => (i % 2 === 0 ? row.slice(0, -1) : ` ${row.slice(1)}`));
  expect(wovenRing(oneSideBlank).diagram).toEqual(twice.diagram);
});

function sorted(numbers: readonly number[]): number[] {
  return [...numbers].sort((a, b) => a - b);
}

test("every square of a glued panel has its strand", () => {
  const spec: RingSpec = { panel: UNEVEN, innerMm: INNER, spacing: "equal", hub: false };
  const panel = unwrapped(ringPanel(spec));
  const { strands } = wovenRing(UNEVEN, spec);
  const squares = squaresOfStrands(panel, strands);
  for (let row = 0; row < panel.rows - 1; row++) {
    for (let column = 0; column < panel.columns; column++) {
      expect(hasSquare(panel, row, column)).toBe(true);
      expect(squares[row * panel.columns + column]).toBeGreaterThanOrEqual(0);
    }
  }
  expect(new Set(squares.slice(0, -panel.columns)).size).toBe(strands.count);
});

test.each(["conformal", "equal"] as const)("a fan is its panel bent: the same knot (%s)", (spacing) => {
  for (const [p, q] of [
    [5, 2],
    [6, 3],
    [4, 4],
  ] as const) {
    const panel = plainPanel(p, q);
    const flat = unwrapped(
      fanDiagram({ panel, innerMm: INNER, angleDeg: 140, spacing }, { corner: "pointed" }),
    );
    const { diagram, faces, strands } = woven(flat);
    expect(strands.count).toBe(gcd(p, q));
    expect(crossingCount(diagram)).toBe(2 * p * q - p - q);
    expect(faces.planar).toBe(true);
    expect(faces.count).toBe(crossingCount(diagram) + 2);
    expect(diagramHand(diagram, faces)).toBe("Z");
    // The columns take up the angle: the p - 1 crossings of a cell row lie 140 / p degrees apart, their middle at the top.
    const angles = Array.from({ length: p - 1 }, (_, i) => Math.atan2(diagram.y[i] ?? 0, diagram.x[i] ?? 0));
    for (const [i, angle] of angles.entries())
      expect((angle * 180) / Math.PI).toBeCloseTo(90 + (140 / p) * ((p - 2) / 2 - i), 9);
  }
});

describe("what is refused", () => {
  const ring = (spec: Partial<RingSpec>, ribbonWidthMm = 0): readonly Fault[] => {
    const whole: RingSpec = {
      panel: { around: 8, rows: 2 },
      innerMm: INNER,
      spacing: "conformal",
      hub: false,
      ...spec,
    };
    const built = ringDiagram(whole, { corner: "round", ribbonWidthMm, path: ["ring"] });
    return built.ok ? [] : built.faults;
  };
  const PANEL = ["ring", "panel"];

  test.each([
    [
      "two repeats",
      { panel: { around: 2, rows: 1 } },
      { code: "number-out-of-range", path: ["ring", "around"], found: 2, least: 3, unit: "" },
    ],
    [
      "half a repeat",
      { panel: { around: 7.5, rows: 1 } },
      { code: "wrong-kind", path: ["ring", "around"], found: "7.5", wanted: "a whole number" },
    ],
    [
      "one strand",
      { panel: { around: 7, rows: 0.5 } },
      { code: "number-out-of-range", path: ["ring", "rows"], found: 0.5, least: 1, unit: "" },
    ],
    [
      "a third of a cell",
      { panel: { around: 7, rows: 1.3 } },
      {
        code: "wrong-kind",
        path: ["ring", "rows"],
        found: "1.3",
        wanted: "a number of cells, whole or with a half",
      },
    ],
    [
      "no radius",
      { innerMm: 0 },
      {
        code: "number-out-of-range",
        path: ["ring", "inner"],
        found: 0,
        least: 0.1,
        greatest: 1e5,
        unit: "mm",
      },
    ],
    ["no panel", { panel: [] }, { code: "panel-empty", path: PANEL }],
    [
      "a text of two repeats",
      { panel: draftRing(2, 2) },
      { code: "ring-repeats", path: PANEL, found: 2, least: 3 },
    ],
    [
      "a seam that does not match",
      { panel: ["+-+-+-+", "xoxoxo|", "+-+-+-+"] },
      { code: "panel-seam", path: PANEL, row: 1, placeColumn: 6, found: "|", wanted: "x" },
    ],
    [
      "an open site on the seam",
      { panel: ["+-+-+-", " oxoxo", "+-+-+-"] },
      { code: "panel-open-site", path: PANEL, row: 1, placeColumn: 0, found: " " },
    ],
    [
      "a lookalike in the last column",
      { panel: ["+-+-+-+", "xoxoxoX", "+-+-+-+"] },
      { code: "panel-character", path: PANEL, row: 1, placeColumn: 6, found: "X", lookalike: "x" },
    ],
    [
      "a hub over a gap",
      { panel: ["+-+-+-", "xoxoxo", "+x+   "], hub: true },
      { code: "ring-hub-dot", path: PANEL, row: 2, placeColumn: 4, wanted: "+" },
    ],
    [
      "a hub on sites left blank",
      { panel: ["+-+-+-", "xoxoxo", "+ + + "], hub: true },
      { code: "panel-open-site", path: PANEL, row: 2, placeColumn: 1, found: " " },
    ],
  ] as const)("%s", (_, spec, wanted) => {
    expect(ring(spec)[0]).toEqual(wanted);
  });

  test("a corner on the seam names dots on both sides of it", () => {
    // Without the first dot of the outer edge, the sites beside it at columns 1 and 7 are corners.
    const faults = ring({ panel: [" -+-+-+-", "-oxoxoxo", "+-+-+-+-"] });
    expect(faults).toMatchObject([
      { code: "panel-corner-site", row: 0, placeColumn: 1, add: [{ row: 0, placeColumn: 0 }] },
      { code: "panel-corner-site", row: 0, placeColumn: 7, add: [{ row: 0, placeColumn: 0 }] },
    ]);
  });

  test.each(["conformal", "equal"] as const)(
    "a ribbon that cannot turn, and the radius from which it can (%s)",
    (spacing) => {
      const spec = { panel: { around: 12, rows: 2 }, spacing, innerMm: 5 } as const;
      const [fault] = ring(spec, 12);
      expect(fault).toMatchObject({ code: "bend-too-small", path: ["ring", "inner"], innerMm: 5 });
      if (fault?.code !== "bend-too-small" || fault.leastMm === undefined)
        throw new Error("a radius was expected");
      expect(ring({ ...spec, innerMm: fault.leastMm }, 12)).toEqual([]);
      expect(ring({ ...spec, innerMm: fault.leastMm * 0.99 }, 12)[0]?.code).toBe("bend-too-small");
    },
  );

  test("a pitch at which no radius helps", () => {
    // A round corner beside a breakline fits between two circles half a pitch apart.
    const panel = ["+-+-+-+-", "|oxoxoxo", "+-+-+-+-"];
    const spec = { panel, spacing: "equal", pitchMm: 2, innerMm: 20 } as const;
    expect(ring(spec, 3)).toEqual([{ code: "bend-too-small", path: ["ring", "inner"], innerMm: 20 }]);
    expect(ring(spec, 0.5)).toEqual([]);
  });

  test("rows that grow past any size", () => {
    // 3 cells round: a step is 60 degrees, and 40 steps grow by exp(40 pi / 3).
    const [fault] = ring({ panel: { around: 3, rows: 20 }, innerMm: 10 });
    expect(fault).toMatchObject({ code: "bend-too-large", path: ["ring", "inner"] });
    if (fault?.code === "bend-too-large")
      expect(fault.outerMm / (10 * Math.exp((40 * Math.PI) / 3))).toBeCloseTo(1, 9);
  });

  test.each([0, 361, Number.NaN])("a fan over %s degrees", (angleDeg) => {
    const built = fanDiagram(
      { panel: plainPanel(3, 2), innerMm: 10, angleDeg, spacing: "equal" },
      { corner: "round", path: ["fan"] },
    );
    expect(built.ok ? [] : built.faults).toMatchObject([
      { code: "number-out-of-range", path: ["fan", "angle"] },
    ]);
  });

  test.each<readonly [Fault, string]>([
    [
      { code: "panel-seam", row: 1, placeColumn: 6, found: "|", wanted: "x" },
      "panel row 1, column 6 (counted from 0): found `|` on the seam, where the row begins with `x`: the last column of a ring repeats its first. Write `x` in both, or leave the last column out.",
    ],
    [
      { code: "ring-hub-dot", row: 2, placeColumn: 4, wanted: "+" },
      "panel row 2, column 4 (counted from 0): the dot `+` is missing on the inner edge, and a hub needs all of them. Add it, or take the hub away.",
    ],
    [{ code: "ring-repeats", found: 1, least: 3 }, "The ring is 1 cell round; it needs 3 or more."],
    [
      { code: "bend-too-small", innerMm: 5, leastMm: 16.25 },
      "With an inner radius of 5 mm the strands turn too tightly for the ribbon. It can turn from 16.25 mm on; or make the ribbon narrower.",
    ],
    [
      { code: "bend-too-small", innerMm: 5 },
      "With an inner radius of 5 mm the strands turn too tightly for the ribbon. A larger one does not help: make the ribbon narrower, or the pitch larger.",
    ],
    [
      { code: "bend-too-large", outerMm: 2e6, mostMm: 1e5 },
      "The outer edge would lie 2000000 mm from the centre, and 100000 mm is the most: outward the rows grow in proportion. Take fewer rows, or more cells round.",
    ],
  ])("in words: %j", (fault, words) => {
    expect(explain(fault)).toBe(words);
  });
});
