/** Where pieces come to lie. Places are worked out by hand from rows and columns. */
import { expect, test } from "vitest";
import { crossingCount, crossingPoint, type KnotDiagram } from "../../src/diagram/knot-diagram.ts";
import { diagramBounds } from "../../src/diagram/move-diagram.ts";
import { composed, faultOf, type Layout } from "../join/composed.ts";
import { plainPanel } from "../support/plain-panel.ts";

const PIECES = { a: { panel: plainPanel(2, 3) } };

/** Rows and columns of the crossings of that panel: sites that are not on its edge. */
const SITES = [1, 2, 3, 4, 5].flatMap((row) =>
  [1, 2, 3].filter((column) => (row + column) % 2 === 1).map((column) => [row, column] as const),
);

function crossings(diagram: KnotDiagram): string[] {
  const points = Array.from({ length: crossingCount(diagram) }, (_, i) => crossingPoint(diagram, i));
  return points.map(({ x, y }) => `${tidy(x)} ${tidy(y)}`).sort();
}

function tidy(value: number): string {
  return (Math.round(value * 1e6) / 1e6 + 0).toFixed(4);
}

function placed(lie: (row: number, column: number) => readonly [number, number]): string[] {
  return SITES.map(([row, column]) => lie(row, column).map(tidy).join(" ")).sort();
}

const STRETCHED = { pitchMm: { across: 12, down: 9 } };

function laid(layout: Layout, options = {}): string[] {
  return crossings(composed(PIECES, layout, [], options).diagram);
}

test("at is the top left corner of the box of cells, on a stretched lattice too", () => {
  // Half a cell from column to column, and from row to row.
  const lies = (x: number, y: number) => placed((row, column) => [12 * x + 6 * column, -(9 * y) - 4.5 * row]);
  expect(laid([{ piece: "a", at: [0, 0] }], STRETCHED)).toEqual(lies(0, 0));
  expect(laid([{ piece: "a", at: [-1.5, 2] }], STRETCHED)).toEqual(lies(-1.5, 2));
});

test("panels of whole cells at whole cells tile: their crossings lie on one lattice", () => {
  const diagram = composed(
    PIECES,
    [
      { name: "1", piece: "a", at: [0, 0] },
      { name: "2", piece: "a", at: [2, 0], mirror: true },
      { name: "3", piece: "a", at: [0, 3], turn: 180 },
      { name: "4", piece: "a", at: [2, 3], turn: 90 },
    ],
    [],
  ).diagram;
  for (let i = 0; i < crossingCount(diagram); i++) {
    const { x, y } = crossingPoint(diagram, i);
    const steps = [x / 5, y / 5].map((own) => Math.round(own));
    expect(Math.abs(x - 5 * (steps[0] ?? 0)) + Math.abs(y - 5 * (steps[1] ?? 0))).toBeLessThan(1e-9);
    expect(Math.abs((steps[0] ?? 0) + (steps[1] ?? 0)) % 2).toBe(1);
  }
});

test("a mirrored piece is exchanged left to right within its box", () => {
  expect(laid([{ piece: "a", at: [1, 1], mirror: true }], STRETCHED)).toEqual(
    placed((row, column) => [12 + 24 - 6 * column, -9 - 4.5 * row]),
  );
});

// Counter-clockwise by a quarter the right edge becomes the top: column c lies 4 - c steps down, row r r steps across.
test.each([
  [90, (row: number, column: number) => [4.5 * row, -6 * (4 - column)] as const],
  [180, (row: number, column: number) => [24 - 6 * column, -27 + 4.5 * row] as const],
  [-90, (row: number, column: number) => [27 - 4.5 * row, -6 * column] as const],
  [270, (row: number, column: number) => [27 - 4.5 * row, -6 * column] as const],
])("turned by %i degrees the box has its top left corner where it was", (turn, lies) => {
  expect(laid([{ piece: "a", at: [1, 2], turn }], STRETCHED)).toEqual(
    placed((row, column) => {
      const [x, y] = lies(row, column);
      return [12 + x, -18 + y];
    }),
  );
});

test("mirrored first, then turned", () => {
  // Mirrored, column c is column 4 - c: a quarter turn takes it c steps down.
  expect(laid([{ piece: "a", at: [0, 0], mirror: true, turn: 90 }])).toEqual(
    placed((row, column) => [5 * row, -5 * column]),
  );
});

test("turned by an eighth, the box stands round the turned panel", () => {
  // 20 x 30 mm: the turned box is 50/sqrt(2) square; the panel's middle is in its middle.
  const half = 25 / Math.SQRT2;
  expect(laid([{ piece: "a", at: [0, 0], turn: 45 }])).toEqual(
    placed((row, column) => {
      const [x, y] = [5 * column - 10, 15 - 5 * row];
      return [half + (x - y) / Math.SQRT2, -half + (x + y) / Math.SQRT2];
    }),
  );
});

test("the box of a drawing reaches a quarter of the pitch past its strands, however it is turned", () => {
  const beside =
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8"/></svg>';
  for (const turn of [0, 30, 45]) {
    const { diagram } = composed({ c: { strands: "c.svg" } }, [{ piece: "c", at: [1, 1], turn }], [], {
      beside,
    });
    const box = diagramBounds(diagram);
    expect(box.minX).toBeCloseTo(10 + 2.5, 4);
    expect(box.maxY).toBeCloseTo(-10 - 2.5, 4);
    expect(box.maxX - box.minX).toBeCloseTo(16, 4);
  }
});

test("around a centre: equal angles, clockwise", () => {
  const own = placed((row, column) => [10 + 5 * column, -10 - 5 * row]);
  const turned = (points: readonly string[]) =>
    points.map((point) => {
      const [x = 0, y = 0] = point.split(" ").map(Number);
      // A quarter clockwise about (0, 0).
      return `${tidy(y)} ${tidy(-x)}`;
    });
  const [second, third, fourth] = [turned(own), turned(turned(own)), turned(turned(turned(own)))];
  const { diagram, pieces } = composed(PIECES, [
    { piece: "a", at: [1, 1], around: { centre: [0, 0], times: 4 } },
  ]);
  expect(pieces.map(({ name }) => name)).toEqual(["a#1", "a#2", "a#3", "a#4"]);
  expect(crossings(diagram)).toEqual([...own, ...second, ...third, ...fourth].sort());
  const points = Array.from({ length: SITES.length }, (_, i) => crossingPoint(diagram, SITES.length + i));
  expect(points.map(({ x, y }) => `${tidy(x)} ${tidy(y)}`).sort()).toEqual(second.sort());
});

test("around a centre three and seven times: every copy a step further", () => {
  for (const times of [3, 7]) {
    const { diagram } = composed(PIECES, [{ piece: "a", at: [6, -1.5], around: { centre: [1, 0], times } }]);
    const each = SITES.length;
    for (let copy = 1; copy < times; copy++) {
      for (let i = 0; i < each; i++) {
        const first = crossingPoint(diagram, i);
        const here = crossingPoint(diagram, copy * each + i);
        const angle = (-2 * Math.PI * copy) / times;
        const [x, y] = [first.x - 10, first.y];
        expect(here.x).toBeCloseTo(10 + x * Math.cos(angle) - y * Math.sin(angle), 9);
        expect(here.y).toBeCloseTo(x * Math.sin(angle) + y * Math.cos(angle), 9);
      }
    }
  }
});

test("repeated across and down, every second copy mirrored", () => {
  const { diagram, pieces } = composed(PIECES, [
    {
      name: "f",
      piece: "a",
      at: [1, 0],
      repeat: { across: 3, down: 2, every: [2.5, 4], mirror: "alternate" },
    },
  ]);
  expect(pieces.map(({ name, hand }) => `${name} ${hand}`)).toEqual([
    "f#1 Z",
    "f#2 S",
    "f#3 Z",
    "f#4 S",
    "f#5 Z",
    "f#6 S",
  ]);
  // A plain panel's mirror image has its crossings at the same places.
  const all = [0, 1, 2].flatMap((i) =>
    [0, 1].flatMap((j) => placed((row, column) => [10 + 25 * i + 5 * column, -40 * j - 5 * row])),
  );
  expect(crossings(diagram)).toEqual(all.sort());
});

test("faults of the layout", () => {
  expect(faultOf(PIECES, [{ piece: "aa", at: [0, 0] }])).toEqual({
    code: "piece-unknown",
    found: "aa",
    known: ["a"],
    path: ["layout", 0, "piece"],
  });
  const twice: Layout = [
    { piece: "a", at: [0, 0] },
    { piece: "a", at: [5, 0] },
  ];
  expect(faultOf(PIECES, twice)).toMatchObject({ code: "name-twice", found: "a", path: ["layout", 1] });
});

test("overlapping pieces: both names, and where", () => {
  const layout: Layout = [
    { name: "low", piece: "a", at: [0, 0] },
    { name: "far", piece: "a", at: [9, 0] },
    { name: "high", piece: "a", at: [1, 0.5] },
  ];
  const fault = faultOf(PIECES, layout);
  expect(fault).toMatchObject({ code: "pieces-overlap", a: "low", b: "high", path: ["layout", 2] });
  if (fault.code !== "pieces-overlap") return;
  // From the lower left corner of all centrelines, (2.5, -32.5): within both boxes of strands.
  const { x, y } = fault.atMm;
  expect(x + 2.5).toBeGreaterThan(10);
  expect(x + 2.5).toBeLessThan(20);
  expect(y - 32.5).toBeLessThan(-5);
  expect(y - 32.5).toBeGreaterThan(-30);
});
