import { expect, test } from "vitest";
import { explain } from "../../src/base/explain.ts";
import type { Fault } from "../../src/base/fault.ts";

const at = { file: "gate.plait.json", line: 4, column: 12 };
const panel = { ...at, path: ["panel"], row: 3, placeColumn: 5 } as const;

/** One fault of every code, with its whole message: read these as a craftsperson would. */
const GOLDEN: readonly (readonly [Fault, string])[] = [
  [
    { code: "file-unreadable", file: "gate.plait.json", reason: "there is no such file" },
    "gate.plait.json: the file cannot be read: there is no such file.",
  ],
  [
    { code: "file-too-large", file: "gate.plait.json", megabytes: 70.5, most: 64 },
    "gate.plait.json: the file holds 70.5 MB, and 64 MB is the most that is read.",
  ],
  [
    { code: "not-utf8", file: "gate.plait.json" },
    "gate.plait.json: the file is not text in UTF-8. Save it again as UTF-8 (most editors offer this under “Save as”).",
  ],
  [
    { code: "not-json", ...at, problem: "comma-missing", found: '"pitch"' },
    'gate.plait.json, line 4, column 12: a comma is missing before “"pitch"”.',
  ],
  [
    { code: "nested-too-deep", ...at, most: 64 },
    "gate.plait.json, line 4, column 12: brackets nest deeper than 64 here; no file of ours does. Look for brackets that were never closed.",
  ],
  [{ code: "cannot-write", file: "job", reason: "the disk is full" }, "job: cannot write: the disk is full."],
  [
    { code: "not-our-folder", file: "job", reason: "it holds files that are not ours" },
    "job: this folder is not replaced: it holds files that are not ours. Name a new folder, an empty one, or that of an earlier job.",
  ],
  [
    {
      code: "unknown-key",
      ...at,
      path: ["ribbon", "widht"],
      found: "widht",
      known: ["width", "gap", "corner"],
    },
    "gate.plait.json, line 4, column 12, `ribbon.widht`: `widht` is not known here. Did you mean `width`?",
  ],
  [
    {
      code: "unknown-key",
      ...at,
      path: ["ribbon", "colour"],
      found: "colour",
      known: ["width", "gap", "corner"],
    },
    "gate.plait.json, line 4, column 12, `ribbon.colour`: `colour` is not known here. Known are `width`, `gap` and `corner`.",
  ],
  [
    {
      code: "missing-key",
      ...at,
      path: [],
      key: "pitch",
      meaning: "Distance between neighbouring cell centres",
    },
    "gate.plait.json, line 4, column 12: `pitch` is missing (distance between neighbouring cell centres). Add it.",
  ],
  [
    { code: "doubled-key", ...at, path: ["pitch"], found: "pitch" },
    "gate.plait.json, line 4, column 12, `pitch`: `pitch` is given twice in the same group. Take one of them away.",
  ],
  [
    { code: "wrong-kind", ...at, path: ["pitch", 0], found: '"12"', wanted: "a number" },
    'gate.plait.json, line 4, column 12, `pitch[0]`: found "12", where a number is wanted. Write 12 without the quotes.',
  ],
  [
    { code: "wrong-kind", ...at, path: ["pitch"], found: '"12,5 mm"', wanted: "a number" },
    'gate.plait.json, line 4, column 12, `pitch`: found "12,5 mm", where a number is wanted. Write the number alone, without unit and quotes, and with a point for decimals.',
  ],
  [
    { code: "wrong-kind", ...at, path: ["panel", 2], found: "5", wanted: "a text in double quotes" },
    "gate.plait.json, line 4, column 12, panel row 2 (counted from 0): found 5, where a text in double quotes is wanted.",
  ],
  [
    { code: "unknown-word", ...at, path: ["hand"], found: "z", known: ["Z", "S"] },
    "gate.plait.json, line 4, column 12, `hand`: “z” is not one of the words that may stand here. Did you mean `Z`?",
  ],
  [
    {
      code: "number-out-of-range",
      ...at,
      path: ["pitch"],
      found: -4,
      least: 0.5,
      greatest: 5000,
      unit: "mm",
    },
    "gate.plait.json, line 4, column 12, `pitch`: found -4 mm. Allowed is 0.5 to 5000 mm.",
  ],
  [
    {
      code: "number-out-of-range",
      path: ["ribbon", "width"],
      found: Number.POSITIVE_INFINITY,
      least: 0.01,
      greatest: 5000,
      unit: "mm",
    },
    "`ribbon.width`: found a number too large for any use. Allowed is 0.01 to 5000 mm.",
  ],
  [
    { code: "number-out-of-range", found: 1e300, least: 0, unit: "mm2" },
    "Found 1e+300 mm². Allowed is 0 mm² or more.",
  ],
  [
    { code: "wrong-version", ...at, path: ["plaitwright"], found: "2", known: 1 },
    "gate.plait.json, line 4, column 12, `plaitwright`: this file is of format version 2, and this program reads version 1. Write 1, or use a program that knows the other version.",
  ],
  [
    { code: "unsafe-name", ...at, path: ["name"], found: "../leather" },
    "gate.plait.json, line 4, column 12, `name`: “../leather” cannot be a name. Use small letters, digits and single hyphens, and begin with a letter, for example `my-leather`.",
  ],
  [
    { code: "control-character", ...at, path: ["title"], found: "Gate\u0007panel" },
    "gate.plait.json, line 4, column 12, `title`: the text holds an unprintable character (U+0007), which cannot be printed in one line. Take it out.",
  ],
  [
    { code: "too-long", ...at, path: ["title"], length: 201, most: 200, of: "characters" },
    "gate.plait.json, line 4, column 12, `title`: found 201 characters, and 200 is the most.",
  ],
  [
    { code: "too-short", ...at, path: ["pitch"], length: 1, least: 2, of: "entries" },
    "gate.plait.json, line 4, column 12, `pitch`: found 1 entry, and 2 is the least.",
  ],
  [
    { code: "too-short", ...at, path: ["cautions", 1], length: 0, least: 1, of: "characters" },
    "gate.plait.json, line 4, column 12, `cautions[1]`: this is empty; at least 1 character must stand here.",
  ],
  [
    { code: "no-piece", ...at, path: [], known: ["panel"] },
    "gate.plait.json, line 4, column 12: nothing to draw: a design needs `panel`. Add it.",
  ],
  [
    { code: "several-pieces", ...at, path: [], found: ["panel", "ring"] },
    "gate.plait.json, line 4, column 12: `panel` and `ring` stand side by side, and a design has only one of them. Keep one.",
  ],
  [
    { code: "profile-unknown", found: "lether-inlay", known: ["leather-inlay"] },
    "There is no profile “lether-inlay”. Did you mean `leather-inlay`?",
  ],
  [
    { code: "craft-unknown", ...at, path: ["craft"], found: "pottery", known: ["leather-inlay"] },
    "gate.plait.json, line 4, column 12, `craft`: the craft “pottery” is not known. Known is `leather-inlay`.",
  ],
  [
    {
      code: "numbers-clash",
      ...at,
      path: ["numbers", "groundDepthMm", "value"],
      reason: "15 mm deep and 6 mm kept below are more than the board's 18 mm",
    },
    "gate.plait.json, line 4, column 12, `numbers.groundDepthMm.value`: 15 mm deep and 6 mm kept below are more than the board's 18 mm.",
  ],
  [
    { code: "option-not-for-craft", option: "--kerf", craft: "router-ground" },
    "`--kerf` means nothing for the craft “router-ground”. Leave it out.",
  ],
  [
    { code: "range-reversed", ...at, path: ["numbers", "kerfMm", "range"], least: 0.6, greatest: 0.05 },
    "gate.plait.json, line 4, column 12, `numbers.kerfMm.range`: the range runs from 0.6 down to 0.05. Write the smaller number first.",
  ],
  [
    { code: "panel-empty", ...at, path: ["panel"] },
    "gate.plait.json, line 4, column 12, `panel`: the panel has no cell. The smallest is three rows: `+-+`, `|o|`, `+-+`.",
  ],
  [
    { code: "panel-character", ...panel, found: "х", lookalike: "x" },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): found the Cyrillic character `х` (U+0445), which no panel has; write `x`, which it looks like. A panel is drawn with `+`, `o`, `x`, `-`, `|` and spaces.",
  ],
  [
    { code: "panel-character", ...panel, found: "\t", lookalike: " " },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): found a tab (U+0009), which no panel has; write a space (U+0020), which it looks like. A panel is drawn with `+`, `o`, `x`, `-`, `|` and spaces.",
  ],
  [
    { code: "panel-character", row: 0, placeColumn: 0, found: "\u00a0" },
    "panel row 0, column 0 (counted from 0): found a non-breaking space (U+00A0), which no panel has. A panel is drawn with `+`, `o`, `x`, `-`, `|` and spaces.",
  ],
  [
    { code: "panel-dot", ...panel, found: "x", wanted: "o" },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): found `x` on the place of a dot. Write `o`, or leave it blank where the panel has a hole.",
  ],
  [
    { code: "panel-open-site", ...panel, found: " " },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): found nothing on a site inside the panel. Write `x` where the strands cross, or `-` or `|` where both turn back.",
  ],
  [
    { code: "panel-edge-site", ...panel, found: "x", wanted: "|" },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): found `x` on the edge of the panel. Write `|`, or leave it blank.",
  ],
  [
    { code: "panel-stray", ...panel, found: "-" },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): found `-` outside the panel: no two neighbouring dots hold it. Leave it blank, or add the dots round it.",
  ],
  [
    {
      code: "panel-corner-site",
      ...panel,
      add: [
        { row: 2, placeColumn: 5 },
        { row: 3, placeColumn: 6 },
      ],
      remove: [{ row: 4, placeColumn: 5 }],
    },
    "gate.plait.json, line 4, column 12, panel row 3, column 5 (counted from 0): a corner of the panel falls on this place, so a strand would run into it. Add the dot `+` at row 2, column 5 or the dot `o` at row 3, column 6; or take away the dot `+` at row 4, column 5.",
  ],
  [
    { code: "bad-option", option: "--width", found: "3x", wanted: "a number of mm, for example 4.2" },
    "The option `--width` got “3x”, and wants a number of mm, for example 4.2.",
  ],
  [
    { code: "size-impossible", found: "10x10", reason: "the border alone is wider" },
    "The size “10x10” cannot be had: the border alone is wider.",
  ],
  [
    { code: "paper-impossible", reason: "the margins leave nothing of the sheet" },
    "This cannot be laid out on paper: the margins leave nothing of the sheet.",
  ],
  [
    { code: "too-big-for-memory", crossings: 4_000_000, needsMb: 9000, hasMb: 4096 },
    "The design has 4000000 crossings and needs about 9000 MB of memory, but 4096 MB is at hand. Divide it, or give the program more memory.",
  ],
];

test.each(GOLDEN)("$code in words", (fault, words) => {
  expect(explain(fault)).toBe(words);
});

test.each([
  ["comma-extra", ",", "a comma too many: no value stands beside it. Take it away."],
  [
    "key-expected",
    "2",
    "a key in double quotes must stand here, not “2”. Decimals are written with a point, for example 4.2.",
  ],
  [
    "unknown-word",
    "“a”",
    'a curly quote (U+201C) cannot stand here. Keys and texts stand in straight double quotes: "…".',
  ],
  [
    "unknown-word",
    "pitch",
    '“pitch” cannot stand here. Keys and texts stand in straight double quotes: "…".',
  ],
  ["string-character", "\t", "a tab (U+0009) stands inside double quotes. Use spaces instead."],
  [
    "ends-early",
    "",
    "the text ends too early: a value or a closing bracket is missing. Is the file complete?",
  ],
] as const)("JSON: %s %s", (problem, found, words) => {
  expect(explain({ code: "not-json", problem, found, line: 1, column: 2 })).toBe(
    `line 1, column 2: ${words}`,
  );
});

test("what a file holds cannot steer the terminal, nor fill it", () => {
  const found = `\u001b[2J\u202e${"a".repeat(10_000)}`;
  const words = explain({ code: "unknown-key", path: [found], found, known: ["pitch"] });
  expect(words).toContain("<U+001B>[2J<U+202E>aaa");
  expect(words).not.toMatch(/\p{C}/u);
  expect(words.length).toBeLessThan(250);
});
