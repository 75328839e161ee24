import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { LEATHER_INLAY_NUMBERS } from "../../src/documents/leather-inlay-rules.ts";
import { parseProfile } from "../../src/documents/profile.ts";

const BUILT_IN = readFileSync(new URL("../../profiles/leather-inlay.json", import.meta.url), "utf8");

type Json = Record<string, unknown>;

/** The built-in profile with some members changed; undefined takes one away. */
function changed(members: Json): string {
  return JSON.stringify({ ...(JSON.parse(BUILT_IN) as Json), ...members });
}

/** The built-in profile with some numbers changed. */
function withNumbers(members: Json): string {
  const { numbers } = JSON.parse(BUILT_IN) as { numbers: Json };
  return changed({ numbers: { ...numbers, ...members } });
}

function faultsOf(text: string) {
  const result = parseProfile(text, "mine.json");
  return result.ok ? [] : result.faults.map(({ code, path = [] }) => [code, path.join("/")]);
}

test("the built-in profile holds every number, each with range, meaning and source in the file itself", () => {
  const result = parseProfile(BUILT_IN, "leather-inlay.json");
  expect(result.ok).toBe(true);
  const { numbers } = JSON.parse(BUILT_IN) as { numbers: Record<string, Json> };
  expect(Object.keys(numbers)).toEqual(Object.keys(LEATHER_INLAY_NUMBERS));
  for (const [key, entry] of Object.entries(numbers)) {
    expect(Object.keys(entry), key).toEqual(["value", "range", "meaning", "source"]);
  }
});

test("the built-in profile carries the standing line word for word", () => {
  const result = parseProfile(BUILT_IN, "leather-inlay.json");
  expect(result.ok && result.value.standingLine).toBe(
    "These notes are general. The manual of your machine, the data sheet of your material, local law and codes, " +
      "and training by a competent person come first; if they differ from this sheet, follow them. If you are not " +
      "trained on the machine, have the work done by someone who is.",
  );
});

test.each([
  ["never left alone", /never leave the laser/i],
  ["extinguisher", /extinguisher/],
  ["extraction", /extraction/],
  ["listed materials", /list names/],
  ["interlocks", /interlock/],
  ["the beam is not seen", /CO2 laser cannot be seen/],
  ["chlorinated plastic", /PVC.*chlorinated/],
  ["chrome tan", /chrome-tanned leather as not to be cut/],
  ["artificial leather", /artificial.*data sheet/],
  ["leather dust", /dust of leather.*IARC.*Group 1/i],
  ["contact cement", /contact cement.*fire/],
])("the built-in profile warns: %s", (_name, words) => {
  const result = parseProfile(BUILT_IN, "leather-inlay.json");
  expect(result.ok && result.value.cautions.some((caution) => words.test(caution))).toBe(true);
});

test("a person's own profile may leave range, meaning and source to the craft", () => {
  const result = parseProfile(withNumbers({ kerfMm: { value: 1.2 } }), "mine.json");
  expect(result.ok && result.value.numbers["kerfMm"]).toEqual({
    value: 1.2,
    unit: "mm",
    range: [0, 2],
    meaning: LEATHER_INLAY_NUMBERS.kerfMm.meaning,
    source: "this profile names none",
  });
});

test("a value on either end of its range is inside it", () => {
  expect(faultsOf(withNumbers({ kerfMm: { value: 0.1, range: [0.1, 0.3] } }))).toEqual([]);
  expect(faultsOf(withNumbers({ kerfMm: { value: 0.3, range: [0.1, 0.3] } }))).toEqual([]);
});

const CHOICES = { way: "pieces", cutFace: "back", corner: "pointed", kerfMeasured: false };

test.each([
  ["not JSON", "", [["not-json", ""]]],
  ["a list", "[]", [["wrong-kind", ""]]],
  ["no version", changed({ plaitwrightProfile: undefined }), [["missing-key", ""]]],
  [
    "another version",
    changed({ plaitwrightProfile: 3, extra: 1 }),
    [["wrong-version", "plaitwrightProfile"]],
  ],
  ["a name with a way up", changed({ name: "../leather" }), [["unsafe-name", "name"]]],
  ["a name with a slash", changed({ name: "a/b" }), [["unsafe-name", "name"]]],
  ["a name with a backslash", changed({ name: "a\\b" }), [["unsafe-name", "name"]]],
  ["a name with a dot", changed({ name: "a.json" }), [["unsafe-name", "name"]]],
  ["a name with a line break", changed({ name: "leather\n" }), [["unsafe-name", "name"]]],
  ["no name", changed({ name: "" }), [["unsafe-name", "name"]]],
  ["a name that is a number", changed({ name: 5 }), [["wrong-kind", "name"]]],
  [
    "an unknown craft, whose numbers nobody knows",
    changed({ craft: "wood-inlay", numbers: {}, choices: {}, title: "" }),
    [
      ["craft-unknown", "craft"],
      ["too-short", "title"],
    ],
  ],
  ["an unknown key", changed({ colour: "red" }), [["unknown-key", "colour"]]],
  ["an unknown number", withNumbers({ kerf: { value: 0.2 } }), [["unknown-key", "numbers/kerf"]]],
  ["a missing number", withNumbers({ kerfMm: undefined }), [["missing-key", "numbers"]]],
  ["a bare number", withNumbers({ kerfMm: 0.2 }), [["wrong-kind", "numbers/kerfMm"]]],
  ["a number without value", withNumbers({ kerfMm: {} }), [["missing-key", "numbers/kerfMm"]]],
  ["a value as text", withNumbers({ kerfMm: { value: "0.2" } }), [["wrong-kind", "numbers/kerfMm/value"]]],
  [
    "a value out of its range",
    withNumbers({ kerfMm: { value: 0.7, range: [0.05, 0.6] } }),
    [["number-out-of-range", "numbers/kerfMm/value"]],
  ],
  [
    "a value beyond all sense",
    withNumbers({ kerfMm: { value: -1 } }),
    [["number-out-of-range", "numbers/kerfMm/value"]],
  ],
  [
    "a value beyond all sense and its own range",
    withNumbers({ kerfMm: { value: null, range: [0.1, 0.3] } }).replace('"value":null', '"value":1e999'),
    [["number-out-of-range", "numbers/kerfMm/value"]],
  ],
  [
    "a range beyond all sense",
    withNumbers({ kerfMm: { value: 0.2, range: [0, 1e9] } }),
    [["number-out-of-range", "numbers/kerfMm/range/1"]],
  ],
  [
    "a range upside down",
    withNumbers({ kerfMm: { value: 0.2, range: [0.6, 0.05] } }),
    [["range-reversed", "numbers/kerfMm/range"]],
  ],
  [
    "a range of one",
    withNumbers({ kerfMm: { value: 0.2, range: [0.1] } }),
    [["too-short", "numbers/kerfMm/range"]],
  ],
  ["an unknown way", changed({ choices: { ...CHOICES, way: "piece" } }), [["unknown-word", "choices/way"]]],
  [
    "a flag as text",
    changed({ choices: { ...CHOICES, kerfMeasured: "no" } }),
    [["wrong-kind", "choices/kerfMeasured"]],
  ],
  ["no cautions", changed({ cautions: [] }), [["too-short", "cautions"]]],
  ["an empty caution", changed({ cautions: ["Be careful", ""] }), [["too-short", "cautions/1"]]],
  ["no standing line", changed({ standingLine: "" }), [["too-short", "standingLine"]]],
  ["a step with a line break", changed({ orderOfWork: ["a\nb"] }), [["control-character", "orderOfWork/0"]]],
  [
    "a material with an unknown key",
    changed({ materials: [{ part: "a", material: "b", notes: "c", note: "d" }] }),
    [["unknown-key", "materials/0/note"]],
  ],
])("%s", (_name, text, faults) => {
  expect(faultsOf(text)).toEqual(faults);
});

test("facts and place of a fault deep in a profile", () => {
  const text = BUILT_IN.replace('"value": 0.2,', '"value": 0.9,');
  const result = parseProfile(text, "mine.json");
  // The value stands after 6 blanks, 8 characters of the key and a blank.
  const line = text.split("\n").indexOf('      "value": 0.9,') + 1;
  expect(result.ok ? [] : result.faults).toEqual([
    {
      code: "number-out-of-range",
      found: 0.9,
      least: 0.05,
      greatest: 0.6,
      unit: "mm",
      path: ["numbers", "kerfMm", "value"],
      line,
      column: 16,
      file: "mine.json",
    },
  ]);
});
