import { execFileSync } from "node:child_process";
import { expect, test } from "vitest";
import type { Fault } from "../../src/base/fault.ts";
import { parseJson } from "../../src/documents/json-text.ts";

function faultsOf(text: string): readonly Fault[] {
  const result = parseJson(text, "a.json");
  return result.ok ? [] : result.faults;
}

// Places counted by hand: line and column from 1.
test.each([
  ["nothing", "", "empty", 1, 1],
  ["blanks", " \n ", "empty", 1, 1],
  ["cut off after a bracket", '{"a": [1,\n2', "ends-early", 2, 2],
  ["cut off after a key", '{"a"', "ends-early", 1, 5],
  ["cut off after a colon", '{"a":', "ends-early", 1, 6],
  ["cut off after a comma", '{"a": 1,', "ends-early", 1, 9],
  ["cut off in a text", '{"a": "wid', "string-open", 1, 7],
  ["a missing comma", '{\n  "a": 1\n  "b": 2\n}', "comma-missing", 3, 3],
  ["a missing comma, CRLF", '{\r\n  "a": 1\r\n  "b": 2\r\n}', "comma-missing", 3, 3],
  ["a trailing comma in a group", '{"a": 1, }', "comma-extra", 1, 8],
  ["a trailing comma in a list", "[1,\n]", "comma-extra", 1, 3],
  ["two commas", "[1,,2]", "comma-extra", 1, 4],
  ["a missing colon", '{"a" 1}', "colon-missing", 1, 6],
  ["a missing value", '{"a": }', "value-missing", 1, 7],
  ["a decimal comma", '{"a": 4,2}', "key-expected", 1, 9],
  ["a bare key", "{a: 1}", "unknown-word", 1, 2],
  ["single quotes", "{'a': 1}", "unknown-word", 1, 2],
  ["curly quotes", "{“a”: 1}", "unknown-word", 1, 2],
  ["NaN", '{"a": NaN}', "unknown-word", 1, 7],
  ["a non-breaking space", "{\u00a0}", "unknown-word", 1, 2],
  ["another format", "<svg/>", "unknown-word", 1, 1],
  ["a bare point", '{"a": 1.}', "number-wrong", 1, 7],
  ["a plus sign", '{"a": +5}', "number-wrong", 1, 7],
  ["a point first", '{"a": .5}', "number-wrong", 1, 7],
  ["a raw tab in a text", '["ab\tc"]', "string-character", 1, 5],
  ["a raw line break in a text", '["ab\nc"]', "string-open", 1, 2],
  ["an unknown escape", '["\\q"]', "escape-wrong", 1, 2],
  ["a line comment", "// hello\n{}", "comment", 1, 1],
  ["a block comment", "{\n/* hello */ }", "comment", 2, 1],
  ["the wrong bracket", "[1}", "bracket-wrong", 1, 3],
  ["text after the end", '{"a": 1}\n}', "text-after-end", 2, 1],
])("%s is not JSON, and the place is told", (_name, text, problem, line, column) => {
  const at = { code: "not-json", problem, line, column, file: "a.json" };
  expect(faultsOf(text)).toEqual([expect.objectContaining(at)]);
});

test("every doubled key is told, with its place", () => {
  expect(faultsOf('{"a": 1, "a": 2,\n "b": [{"c": 1, "c": 2}]}')).toEqual([
    { code: "doubled-key", found: "a", path: ["a"], line: 1, column: 10, file: "a.json" },
    { code: "doubled-key", found: "c", path: ["b", 0, "c"], line: 2, column: 17, file: "a.json" },
  ]);
});

test.each([
  ["open lists", "[".repeat(10_000)],
  ["closed lists", "[".repeat(10_000) + "]".repeat(10_000)],
  ["groups", `${'{"a":'.repeat(10_000)}1${"}".repeat(10_000)}`],
  ["lists behind a comment with a quote", `// "\n${"[".repeat(20_000)}`],
])("deep nesting is a fault, not a crash: %s", (_name, text) => {
  expect(faultsOf(text)).toEqual([expect.objectContaining({ code: "nested-too-deep", most: 64 })]);
});

test("a byte-order mark, CRLF and tabs between values are fine", () => {
  const result = parseJson('\ufeff{\r\n\t"a": [1, "x"]\r\n}\r\n', "a.json");
  expect(result).toMatchObject({ ok: true, value: { value: { a: [1, "x"] } } });
  if (!result.ok) return;
  expect(result.value.locate(["a"])).toEqual({ line: 2, column: 7 });
  expect(result.value.locate(["a"], "key")).toEqual({ line: 2, column: 2 });
  expect(result.value.locate(["a", 1])).toEqual({ line: 2, column: 11 });
  expect(result.value.locate([])).toEqual({ line: 1, column: 1 });
  expect(result.value.locate(["b"])).toBeUndefined();
});

// The package is CommonJS: named imports pass in the test runner even where plain node refuses them.
test("plain node imports the parser by name", () => {
  const script =
    'import { createScanner, findNodeAtLocation, parseTree, visit } from "jsonc-parser";' +
    "console.log([createScanner, findNodeAtLocation, parseTree, visit].every((f) => typeof f === 'function'));";
  expect(execFileSync(process.execPath, ["--input-type=module", "-e", script], { encoding: "utf8" })).toBe(
    "true\n",
  );
});
