/** Pieces taken from design files beside a design. */
import { expect, test } from "vitest";
import { type Fault, type Result, refused } from "../../src/base/fault.ts";
import { parseDesign } from "../../src/documents/design.ts";
import { inspectDesign } from "../../src/documents/inspect-design.ts";
import { placePanelFaults } from "../../src/documents/panel-places.ts";
import { plainPanel } from "../support/plain-panel.ts";

const MAIN = "main.plait.json";

/** Inspects `main` among files, as the command line does. */
function inspectAmong(main: object, files: Readonly<Record<string, object | string>> = {}) {
  const text = JSON.stringify({ plaitwright: 1, pitch: 16, ...main });
  const readBeside = (file: string): Result<string> => {
    const found = Object.hasOwn(files, file) ? files[file] : undefined;
    if (found === undefined)
      return refused({ code: "file-unreadable", file, reason: "there is no such file" });
    const value =
      typeof found === "string" ? found : JSON.stringify({ plaitwright: 1, pitch: 10, ...found }, null, 1);
    return { ok: true, value };
  };
  const design = parseDesign(text, MAIN);
  if (!design.ok) return { faults: design.faults };
  const inspected = inspectDesign(design.value, readBeside);
  return inspected.ok
    ? { inspection: inspected.value.inspection }
    : { faults: placePanelFaults(inspected.faults, text, MAIN) };
}

function faultsOf(main: object, files: Readonly<Record<string, object | string>> = {}): readonly Fault[] {
  return inspectAmong(main, files).faults ?? [];
}

const WING = { pieces: { wing: { panel: plainPanel(3, 2), hand: "S" } } };
const layout = (...pieces: readonly string[]) => ({
  layout: pieces.map((piece, i) => ({ name: `p${i}`, piece, at: [10 * i, 0] })),
});

test("a piece of an included file keeps its hand and takes this design's pitch", () => {
  const { inspection } = inspectAmong(
    { include: { knots: "shared.plait.json" }, ...layout("knots/wing") },
    { "shared.plait.json": WING },
  );
  // A plain 3 x 2 panel has 2 x 3 x 2 - 3 - 2 = 7 crossings; centrelines half a cell less than 3 cells.
  expect(inspection).toMatchObject({ crossings: 7, hand: "S", pitchMm: [16, 16] });
  expect(inspection?.size.width).toBeCloseTo(2.5 * 16 + 4.8, 9);
});

test.each<[string, object, object]>([
  ["panel", { panel: plainPanel(2, 2), hand: "S" }, { crossings: 4, hand: "S" }],
  // A graph's medial knot has a crossing on each line.
  [
    "graph",
    {
      graph: {
        points: [
          [0, 3.4],
          [4, 3.4],
          [2, 0],
        ],
        lines: [
          [0, 1],
          [1, 2],
          [2, 0],
        ],
      },
    },
    { crossings: 3, strands: 1 },
  ],
])("a design of one %s alone is the piece of its key", (_, file, found) => {
  const main = { include: { knot: "one.plait.json" }, ...layout("knot") };
  expect(inspectAmong(main, { "one.plait.json": file }).inspection).toMatchObject(found);
});

test("own pieces stand beside included ones, which may be fused", () => {
  const main = {
    include: { knots: "shared.plait.json" },
    pieces: {
      own: { panel: plainPanel(2, 2) },
      pair: {
        fuse: {
          parts: [
            { piece: "knots/wing", at: [0, 0] },
            { piece: "knots/wing", at: [3, 0] },
          ],
          open: "all",
        },
      },
    },
    ...layout("own", "pair"),
  };
  // 2 x 2 cells: 4 crossings. Two of 3 x 2 opened all along are one of 6 x 2: 24 - 8 = 16.
  expect(inspectAmong(main, { "shared.plait.json": WING }).inspection?.crossings).toBe(4 + 16);
});

test("included files include others; what they fuse is theirs", () => {
  const middle = {
    include: { deep: "deep.plait.json" },
    pieces: {
      pair: {
        fuse: {
          parts: [
            { piece: "deep/wing", at: [0, 0] },
            { piece: "deep/wing", at: [3, 0] },
          ],
          open: "all",
        },
      },
    },
  };
  const main = { include: { mid: "mid.plait.json" }, ...layout("mid/pair", "mid/deep/wing") };
  const files = { "mid.plait.json": middle, "deep.plait.json": WING };
  expect(inspectAmong(main, files).inspection?.crossings).toBe(16 + 7);
});

test("files that include each other: a fault that names both", () => {
  const main = { include: { a: "a.plait.json" }, ...layout("a/b/wing") };
  const files = {
    "a.plait.json": { include: { b: "b.plait.json" }, pieces: {} },
    "b.plait.json": { include: { a: "a.plait.json" }, ...WING },
  };
  expect(faultsOf(main, files)).toMatchObject([
    {
      code: "include-cycle",
      file: "b.plait.json",
      included: "a.plait.json",
      path: ["include", "a"],
      line: 5,
    },
  ]);
});

test("includes that double with every step are stopped", () => {
  const files = Object.fromEntries(
    Array.from({ length: 30 }, (_, i) => [
      `f${i}.json`,
      { include: { a: `f${i + 1}.json`, b: `f${i + 1}.json` }, pieces: {} },
    ]),
  );
  const ends = { ...files, "f30.json": WING };
  expect(faultsOf({ include: { f: "f0.json" }, ...layout("f") }, ends)).toMatchObject([
    { code: "include-too-many" },
  ]);
});

test.each<[string, object, Readonly<Record<string, object | string>>, object]>([
  [
    "no such file",
    { include: { knots: "nowhere.json" }, ...layout("knots") },
    {},
    { code: "include-unreadable", file: MAIN, included: "nowhere.json", path: ["include", "knots"], line: 1 },
  ],
  [
    "no such piece",
    { include: { knots: "s.json" }, ...layout("knots/wnig") },
    { "s.json": WING },
    {
      code: "include-no-piece",
      file: MAIN,
      found: "wnig",
      included: "s.json",
      known: ["wing"],
      path: ["layout", 0, "piece"],
    },
  ],
  [
    "a name that is taken",
    { include: { knot: "s.json" }, pieces: { knot: { panel: plainPanel(2, 2) } }, ...layout("knot") },
    { "s.json": { panel: plainPanel(2, 2) } },
    { code: "include-same-name", file: MAIN, found: "knot", included: "s.json" },
  ],
  [
    "a file that is no design",
    { include: { knots: "s.json" }, ...layout("knots") },
    { "s.json": "hello" },
    { code: "not-json", file: "s.json", line: 1 },
  ],
  [
    "a panel that is wrong, in its own file",
    { include: { knots: "s.json" }, ...layout("knots/wing") },
    { "s.json": { pieces: { wing: { panel: ["+-+-+", "|o o|", "+x+x+", "|oxo|", "+-+-+"] } } } },
    // One key, piece, row to a line: the brace, two heads, pieces, wing, panel and its row 0 come before.
    {
      code: "panel-open-site",
      file: "s.json",
      line: 8,
      row: 1,
      placeColumn: 2,
      path: ["pieces", "wing", "panel"],
    },
  ],
  [
    "a panel alone that is wrong",
    { include: { knots: "s.json" }, ...layout("knots") },
    { "s.json": { panel: ["+-+-+", "|o o|", "+x+x+", "|oxo|", "+-+-+"] } },
    { code: "panel-open-site", file: "s.json", line: 6, path: ["panel"] },
  ],
  [
    "a path",
    { include: { knots: "../s.json" }, ...layout("knots") },
    {},
    { code: "not-beside", file: MAIN, found: "../s.json", path: ["include", "knots"] },
  ],
  ["no layout", { include: { knots: "s.json" } }, {}, { code: "missing-key", key: "layout" }],
  [
    "a panel beside an include",
    { include: { knots: "s.json" }, panel: plainPanel(2, 2), ...layout("knots") },
    {},
    { code: "several-pieces", found: ["panel", "include"] },
  ],
])("refused: %s", (_, main, files, fault) => {
  expect(faultsOf(main, files)).toMatchObject([fault]);
});
