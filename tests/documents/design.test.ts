import { expect, test } from "vitest";
import { parseDesign } from "../../src/documents/design.ts";

const PANEL = '"panel": ["+-+-+", "|oxo|", "+-+-+"]';

/** A design of one line: the version and the members given. */
function design(...members: readonly string[]): string {
  return `{${['"plaitwright": 1', ...members].join(", ")}}`;
}

/** [code, path] of every fault, in order. */
function faultsOf(text: string) {
  const result = parseDesign(text, "a.plait.json");
  return result.ok ? [] : result.faults.map(({ code, path = [] }) => [code, path.join("/")]);
}

test("a full design", () => {
  const text = `\ufeff{
    "plaitwright": 1,
    "title": "Gate panel — Türblatt",
    "pitch": [12, 10.5],
    "ribbon": { "width": 4.2, "gap": 0.8, "corner": "round" },
    ${PANEL},
    "hand": "S"
  }`.replaceAll("\n", "\r\n");
  expect(parseDesign(text, "a.plait.json")).toEqual({
    ok: true,
    value: {
      title: "Gate panel — Türblatt",
      pitchMm: { across: 12, down: 10.5 },
      ribbon: { widthMm: 4.2, gapMm: 0.8, corner: "round" },
      panel: ["+-+-+", "|oxo|", "+-+-+"],
      hand: "S",
    },
  });
});

test("the least design: hand Z, the ribbon left to the profile, no title", () => {
  expect(parseDesign(design('"pitch": 12', PANEL), "a.plait.json")).toEqual({
    ok: true,
    value: {
      pitchMm: { across: 12, down: 12 },
      ribbon: {},
      panel: ["+-+-+", "|oxo|", "+-+-+"],
      hand: "Z",
    },
  });
});

const PITCH = '"pitch": 12';

test.each([
  ["not JSON", "{", [["not-json", ""]]],
  ["a list", "[]", [["wrong-kind", ""]]],
  ["a number", "5", [["wrong-kind", ""]]],
  ["null", "null", [["wrong-kind", ""]]],
  [
    "nothing in it",
    "{}",
    [
      ["missing-key", ""],
      ["missing-key", ""],
      ["no-piece", ""],
    ],
  ],
  ["no version", `{${PITCH}, ${PANEL}}`, [["missing-key", ""]]],
  ["another version", `{"plaitwright": 2, "colour": "red"}`, [["wrong-version", "plaitwright"]]],
  ["the version as text", `{"plaitwright": "1", ${PITCH}, ${PANEL}}`, [["wrong-version", "plaitwright"]]],
  ["no pitch", design(PANEL), [["missing-key", ""]]],
  ["an unknown key", design(PITCH, PANEL, '"colour": "red"'), [["unknown-key", "colour"]]],
  ["a prototype's key", design(PITCH, PANEL, '"__proto__": 1'), [["unknown-key", "__proto__"]]],
  ["an unknown inner key", design(PITCH, PANEL, '"ribbon": {"widht": 3}'), [["unknown-key", "ribbon/widht"]]],
  ["a doubled key", design(PITCH, PITCH, PANEL), [["doubled-key", "pitch"]]],
  ["pitch as text", design('"pitch": "12 mm"', PANEL), [["wrong-kind", "pitch"]]],
  ["pitch null", design('"pitch": null', PANEL), [["wrong-kind", "pitch"]]],
  ["pitch as a group", design('"pitch": {"across": 3}', PANEL), [["wrong-kind", "pitch"]]],
  ["pitch zero", design('"pitch": 0', PANEL), [["number-out-of-range", "pitch"]]],
  ["pitch below zero", design('"pitch": -12', PANEL), [["number-out-of-range", "pitch"]]],
  ["pitch absurd", design('"pitch": 1e9', PANEL), [["number-out-of-range", "pitch"]]],
  ["pitch beyond numbers", design('"pitch": 1e999', PANEL), [["number-out-of-range", "pitch"]]],
  ["pitch of one", design('"pitch": [12]', PANEL), [["too-short", "pitch"]]],
  ["pitch of three", design('"pitch": [12, 12, 12]', PANEL), [["too-long", "pitch"]]],
  ["pitch of texts", design('"pitch": [12, "a"]', PANEL), [["wrong-kind", "pitch/1"]]],
  ["pitch down zero", design('"pitch": [12, 0]', PANEL), [["number-out-of-range", "pitch/1"]]],
  ["width zero", design(PITCH, PANEL, '"ribbon": {"width": 0}'), [["number-out-of-range", "ribbon/width"]]],
  ["gap absurd", design(PITCH, PANEL, '"ribbon": {"gap": 1e9}'), [["number-out-of-range", "ribbon/gap"]]],
  ["gap -1e999", design(PITCH, PANEL, '"ribbon": {"gap": -1e999}'), [["number-out-of-range", "ribbon/gap"]]],
  ["ribbon a number", design(PITCH, PANEL, '"ribbon": 3'), [["wrong-kind", "ribbon"]]],
  [
    "corner unknown",
    design(PITCH, PANEL, '"ribbon": {"corner": "rund"}'),
    [["unknown-word", "ribbon/corner"]],
  ],
  ["corner a number", design(PITCH, PANEL, '"ribbon": {"corner": 1}'), [["wrong-kind", "ribbon/corner"]]],
  ["hand unknown", design(PITCH, PANEL, '"hand": "left"'), [["unknown-word", "hand"]]],
  ["title empty", design(PITCH, PANEL, '"title": ""'), [["too-short", "title"]]],
  ["title too long", design(PITCH, PANEL, `"title": "${"a".repeat(201)}"`), [["too-long", "title"]]],
  ["title of two lines", design(PITCH, PANEL, '"title": "a\\nb"'), [["control-character", "title"]]],
  ["title with half a pair", design(PITCH, PANEL, '"title": "a\\ud800b"'), [["control-character", "title"]]],
  ["an empty panel", design(PITCH, '"panel": []'), [["panel-empty", "panel"]]],
  ["panel as text", design(PITCH, '"panel": "+-+"'), [["wrong-kind", "panel"]]],
  ["a row that is a number", design(PITCH, '"panel": ["+-+", 5]'), [["wrong-kind", "panel/1"]]],
  ["a row too long", design(PITCH, `"panel": ["${"+".repeat(20_002)}"]`), [["too-long", "panel/0"]]],
  ["too many rows", design(PITCH, `"panel": [${'"",'.repeat(20_001)}""]`), [["too-long", "panel"]]],
  ["no piece", design(PITCH), [["no-piece", ""]]],
  ["a ring without its radius", design(PITCH, '"ring": {"around": 16}'), [["missing-key", "ring"]]],
  [
    "an empty graph",
    design(PITCH, '"graph": {}'),
    [
      ["missing-key", "graph"],
      ["missing-key", "graph"],
    ],
  ],
  ["a drawing elsewhere", design(PITCH, '"strands": "../a.svg"'), [["unsafe-name", "strands"]]],
  ["pieces that are not laid out", design(PITCH, '"pieces": {}', '"joins": []'), [["missing-key", ""]]],
  [
    "two pieces",
    design(PITCH, PANEL, '"ring": {}'),
    [
      ["several-pieces", ""],
      ["missing-key", "ring"],
    ],
  ],
])("%s", (_name, text, faults) => {
  expect(faultsOf(text)).toEqual(faults);
});

test("all faults are told, in the order of the text, each with its place", () => {
  const text = [
    "{",
    '  "plaitwright": 1,',
    '  "title": 7,',
    '  "pitch": 0.1,',
    '  "ribon": {},',
    '  "panel": ["+-+", 5],',
    '  "hand": "z"',
    "}",
  ].join("\n");
  const result = parseDesign(text, "a.plait.json");
  // Line and column counted by hand.
  expect(result.ok ? [] : result.faults).toEqual([
    expect.objectContaining({ code: "wrong-kind", found: "7", line: 3, column: 12, file: "a.plait.json" }),
    {
      code: "number-out-of-range",
      found: 0.1,
      least: 0.5,
      greatest: 5000,
      unit: "mm",
      path: ["pitch"],
      line: 4,
      column: 12,
      file: "a.plait.json",
    },
    expect.objectContaining({ code: "unknown-key", found: "ribon", line: 5, column: 3 }),
    expect.objectContaining({ code: "wrong-kind", found: "5", path: ["panel", 1], line: 6, column: 20 }),
    expect.objectContaining({ code: "unknown-word", found: "z", known: ["Z", "S"], line: 7, column: 11 }),
  ]);
});

test("a panel of a million cells is read in well under the time that a person notices", () => {
  const row = "+x".repeat(1000);
  const text = design(PITCH, `"panel": [${Array.from({ length: 2001 }, () => `"${row}+"`).join(",\n")}]`);
  const start = performance.now();
  expect(parseDesign(text, "a.plait.json").ok).toBe(true);
  // 4 MB: about 50 ms when measured; the bound only tells linear from quadratic.
  expect(performance.now() - start).toBeLessThan(3000);
});
