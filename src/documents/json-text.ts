/**
 * Plain JSON (RFC 8259) with the place of everything in it. The value comes from the
 * engine's own parser; places are worked out only where a fault asks for them, so that a
 * sound document of several megabytes costs little more than its reading.
 */
import { createScanner, findNodeAtLocation, type Node, parseTree, visit } from "jsonc-parser";
import { done, type Fault, type JsonProblem, type Result, refused } from "../base/fault.ts";

export type JsonPath = readonly (string | number)[];

/** Line and column from 1, as editors count; a column is one UTF-16 unit. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

export interface JsonText {
  readonly value: unknown;
  /** Where the value at `path` begins (or its key); undefined where the document has none. */
  readonly locate: (path: JsonPath, part?: "value" | "key") => TextPlace | undefined;
}

/** Our documents nest five deep. The readers of JSON are recursive: the bound keeps them off the stack's end. */
const DEEPEST = 64;

/**
 * Reads plain JSON. A byte-order mark and any line ends are fine; comments, trailing commas
 * and doubled keys are faults.
 *
 * Faults: `not-json` (the first place where the text is wrong), `nested-too-deep`,
 * `doubled-key` (every one).
 */
export function parseJson(text: string, file: string): Result<JsonText> {
  const plain = text.startsWith("\ufeff") ? text.slice(1) : text;
  const deep = tooDeepAt(plain);
  if (deep) return refused({ code: "nested-too-deep", most: DEEPEST, file, ...deep });
  let value: unknown;
  try {
    value = JSON.parse(plain);
  } catch {
    return refused({ file, ...syntaxFault(plain) });
  }
  const faults = doubledKeys(plain).map((fault) => ({ ...fault, file }));
  return faults.length > 0 ? { ok: false, faults } : done({ value, locate: locator(plain) });
}

// The kinds of token, errors of the scanner and of the parser that we tell apart. The
// package declares them as const enums, which isolated modules cannot import.
const TOKEN = { openBrace: 1, closeBrace: 2, openBracket: 3, closeBracket: 4, end: 17 } as const;
const INVALID_CHARACTER = 16;

/** Where brackets nest deeper than we read: found token by token, without recursion. */
function tooDeepAt(text: string): TextPlace | undefined {
  const scanner = createScanner(text, true);
  let depth = 0;
  for (;;) {
    const token: number = scanner.scan();
    if (token === TOKEN.end) return undefined;
    if (token === TOKEN.openBrace || token === TOKEN.openBracket) depth++;
    if (token === TOKEN.closeBrace || token === TOKEN.closeBracket) depth--;
    if (depth > DEEPEST) {
      return { line: scanner.getTokenStartLine() + 1, column: scanner.getTokenStartCharacter() + 1 };
    }
  }
}

function doubledKeys(text: string): Fault[] {
  const faults: Fault[] = [];
  const open: Set<string>[] = [];
  visit(text, {
    onObjectBegin: () => {
      open.push(new Set());
    },
    onObjectEnd: () => {
      open.pop();
    },
    onObjectProperty: (key, _offset, _length, line, character, pathOf) => {
      const keys = open.at(-1);
      if (keys?.has(key)) {
        const place = { line: line + 1, column: character + 1 };
        faults.push({ code: "doubled-key", found: key, path: [...pathOf(), key], ...place });
      }
      keys?.add(key);
    },
  });
  return faults;
}

function locator(text: string): JsonText["locate"] {
  let root: Node | undefined;
  let starts: readonly number[] | undefined;
  return (path, part = "value") => {
    root ??= parseTree(text);
    const value = root && findNodeAtLocation(root, [...path]);
    const node = part === "key" && value?.parent?.type === "property" ? value.parent : value;
    if (!node) return undefined;
    starts ??= lineStarts(text);
    return placeAt(starts, node.offset);
  };
}

function lineStarts(text: string): number[] {
  const starts = [0];
  for (const end of text.matchAll(/\r\n|\r|\n/g)) starts.push(end.index + end[0].length);
  return starts;
}

function placeAt(starts: readonly number[], offset: number): TextPlace {
  let low = 0;
  let high = starts.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((starts[middle] ?? 0) <= offset) low = middle;
    else high = middle;
  }
  return { line: low + 1, column: offset - (starts[low] ?? 0) + 1 };
}

interface RawError {
  readonly code: number;
  readonly offset: number;
  readonly length: number;
}

/** What is wrong with a text that is not JSON: the first error only, as those after it mostly follow from it. */
function syntaxFault(text: string): Fault {
  if (text.trim() === "") return { code: "not-json", problem: "empty", found: "", line: 1, column: 1 };
  const errors: RawError[] = [];
  const onError = (code: number, offset: number, length: number) => {
    if (errors.length === 0) errors.push({ code, offset, length });
  };
  visit(text, { onError }, { disallowComments: true });
  const [first] = errors;
  if (!first) return { code: "not-json", problem: "other", found: "" };
  const { code, offset } = first;
  const found = text.slice(offset, offset + first.length);
  const problem = problemOf(code, found, text.slice(0, offset).trimEnd().at(-1));
  const at = (start: number, shown: string): Fault => {
    return { code: "not-json", problem, found: shown, ...placeAt(lineStarts(text), start) };
  };
  if (problem === "comma-extra" && found !== ",") return at(text.lastIndexOf(",", offset), ",");
  if (problem !== "string-character") return at(offset, found);
  const start = controlCharacterFrom(text, offset);
  return at(start, text.charAt(start));
}

function controlCharacterFrom(text: string, start: number): number {
  let offset = start;
  while (offset < text.length && text.charCodeAt(offset) >= 0x20) offset++;
  return offset;
}

/** The error codes of jsonc-parser 3.3 (its ParseErrorCode), in our words. */
function problemOf(code: number, found: string, before: string | undefined): JsonProblem {
  const closes = found === "}" || found === "]";
  switch (code) {
    case 1:
      return /^[+.\d-]/.test(found) ? "number-wrong" : "unknown-word";
    case 2:
    case 13:
      return "number-wrong";
    case 3:
    case 4:
      if (found === "") return "ends-early";
      if (closes && before === ",") return "comma-extra";
      return code === 3 ? "key-expected" : found === "," ? "comma-extra" : "value-missing";
    case 5:
      return found === "" ? "ends-early" : "colon-missing";
    case 6:
      return closes ? "bracket-wrong" : "comma-missing";
    case 7:
    case 8:
      return "ends-early";
    case 9:
      return "text-after-end";
    case 10:
      return "comment";
    case 12:
      return "string-open";
    case 14:
    case 15:
      return "escape-wrong";
    case INVALID_CHARACTER:
      return "string-character";
    default:
      return "other";
  }
}
