/**
 * The one-way law of the source tree, as data: which folder may import which. The checker is
 * a pure function over a map of path to text, so that planted breaches prove that it looks.
 */
import { readdirSync, readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { posix } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, test } from "vitest";

type Sources = ReadonlyMap<string, string>;

const CORE = ["base", "geometry", "diagram"];
const ALL_BELOW = [
  ...CORE,
  ...["lattice", "graph", "join", "readers", "ribbon", "checks", "output", "crafts", "formats"],
];

/** What each folder may import beside itself. */
const LAW: Readonly<Record<string, readonly string[]>> = {
  base: [],
  geometry: ["base"],
  diagram: ["base", "geometry"],
  lattice: CORE,
  graph: CORE,
  join: CORE,
  readers: CORE,
  ribbon: CORE,
  checks: [...CORE, "ribbon"],
  output: ["base", "geometry"],
  crafts: [...CORE, "ribbon", "checks", "output"],
  formats: ["base", "geometry", "output"],
  documents: ALL_BELOW,
  cli: [...ALL_BELOW, "documents"],
  web: [...ALL_BELOW, "documents"],
};

/** Only these may touch chance. */
const FREE_FOLDERS = ["cli", "web"];

/** Lines above which a file is worth splitting by noun. */
const LONG_FILE = 400;

/** All breaches of the law, one line each. */
function breaches(sources: Sources): readonly string[] {
  return [
    ...[...sources].flatMap(([path, text]) => [...fileBreaches(path, text)]),
    ...cycles(sources).map((cycle) => `${cycle.join(" -> ")}: a cycle`),
  ];
}

function* fileBreaches(path: string, text: string): Generator<string> {
  const folder = folderOf(path);
  const allowed = LAW[folder];
  if (allowed === undefined) return yield `${path}: the law knows no folder ${folder}`;
  for (const specifier of imports(text)) {
    if (specifier.startsWith(".")) {
      const target = posix.join(posix.dirname(path), specifier);
      if (!target.startsWith("src/")) yield `${path}: imports ${target}, outside src`;
      else if (folderOf(target) !== folder && !allowed.includes(folderOf(target))) {
        yield `${path}: ${folder} may not import ${target}`;
      }
    } else if (isNodeModule(specifier) && folder !== "cli") {
      yield `${path}: only cli may import ${specifier}`;
    }
  }
  // It compiles and passes in vitest, and dies in plain node: the package is CommonJS.
  if (hasNamedImport(text, "clipper-lib")) yield `${path}: clipper-lib has a default import only`;
  if (/\bMath\s*(\.|\?\.|\[\s*["'`])\s*random\b/.test(text) && !FREE_FOLDERS.includes(folder)) {
    yield `${path}: chance is an argument: same input, same bytes`;
  }
}

/** "src/base/fault.ts" lies in "base"; a file directly in src lies in none that the law knows. */
function folderOf(path: string): string {
  return path.split("/").length > 2 ? (path.split("/")[1] ?? "") : "(none)";
}

/** Specifiers of static, type-only, side-effect and dynamic imports and of re-exports. */
function imports(text: string): readonly string[] {
  return ts.preProcessFile(text).importedFiles.map((file) => file.fileName);
}

function isNodeModule(specifier: string): boolean {
  return specifier.startsWith("node:") || builtinModules.includes(specifier);
}

/** Type-only imports are gone when node runs the file, so they may be named. */
function hasNamedImport(text: string, packageName: string): boolean {
  return ts.createSourceFile("file.ts", text, ts.ScriptTarget.ES2023).statements.some((statement) => {
    if (!ts.isImportDeclaration(statement) || !ts.isStringLiteral(statement.moduleSpecifier)) return false;
    const clause = statement.importClause;
    if (statement.moduleSpecifier.text !== packageName || clause === undefined) return false;
    return clause.phaseModifier !== ts.SyntaxKind.TypeKeyword && clause.namedBindings !== undefined;
  });
}

/** Every cycle of imports once, from where the walk met it. */
function cycles(sources: Sources): readonly (readonly string[])[] {
  const found: (readonly string[])[] = [];
  const finished = new Set<string>();
  const visit = (path: string, trail: readonly string[]): void => {
    if (trail.includes(path)) {
      found.push([...trail.slice(trail.indexOf(path)), path]);
      return;
    }
    if (finished.has(path)) return;
    for (const specifier of imports(sources.get(path) ?? "")) {
      if (specifier.startsWith(".")) visit(posix.join(posix.dirname(path), specifier), [...trail, path]);
    }
    finished.add(path);
  };
  for (const path of sources.keys()) visit(path, []);
  return found;
}

function longFiles(sources: Sources): readonly string[] {
  return [...sources]
    .map(([path, text]) => ({ path, lines: text.split("\n").length - 1 }))
    .filter(({ lines }) => lines > LONG_FILE)
    .map(({ path, lines }) => `${path}: ${lines} lines; split it by noun`);
}

function readSources(): Sources {
  const root = fileURLToPath(new URL("../src/", import.meta.url));
  const names = readdirSync(root, { recursive: true, encoding: "utf8" }).filter((name) =>
    name.endsWith(".ts"),
  );
  return new Map(
    names.map((name) => [posix.join("src", ...name.split(/[/\\]/)), readFileSync(root + name, "utf8")]),
  );
}

const sources = readSources();

test("the source tree keeps the law", () => {
  expect(breaches(sources)).toEqual([]);
});

test("the check saw the tree and its imports", () => {
  const seen = [...sources].map(([path, text]) => ({ folder: folderOf(path), count: imports(text).length }));
  expect(seen.length).toBeGreaterThan(20);
  // A folder in which nothing is imported at all means that the reader failed.
  for (const folder of new Set(seen.map((file) => file.folder))) {
    const count = seen.filter((file) => file.folder === folder).reduce((sum, file) => sum + file.count, 0);
    expect(count, `imports seen in src/${folder}`).toBeGreaterThan(0);
  }
  expect(imports(sources.get("src/base/format-number.ts") ?? "")).toContain("./internal-error.ts");
});

test.each([
  [
    "a value",
    "src/geometry/a.ts",
    'import { b } from "../diagram/b.ts";',
    /geometry may not import src\/diagram/,
  ],
  [
    "a type",
    "src/formats/a.ts",
    'import type { B } from "../crafts/b.ts";',
    /formats may not import src\/crafts/,
  ],
  [
    "in many lines",
    "src/output/a.ts",
    'import {\n  b,\n  c,\n} from\n  "../ribbon/b.ts";',
    /output may not import/,
  ],
  ["a side effect", "src/base/a.ts", 'import "../geometry/b.ts";', /base may not import/],
  ["on demand", "src/join/a.ts", 'await import("../lattice/b.ts");', /join may not import src\/lattice/],
  ["a type on demand", "src/base/a.ts", 'type B = import("../cli/b.ts").B;', /base may not import src\/cli/],
  ["passed on", "src/cli/a.ts", 'export { b } from "../web/b.ts";', /cli may not import src\/web/],
  ["from the tests", "src/cli/a.ts", 'import "../../tests/support/b.ts";', /outside src/],
  ["to an unknown folder", "src/util/a.ts", "", /the law knows no folder util/],
  ["to no folder", "src/a.ts", "", /the law knows no folder \(none\)/],
  ["node", "src/documents/a.ts", 'import { readFileSync } from "node:fs";', /only cli may import node:fs/],
  ["node by its old name", "src/web/a.ts", 'import fs from "fs";', /only cli may import fs/],
  [
    "a name of clipper-lib",
    "src/checks/a.ts",
    'import { Clipper } from "clipper-lib";',
    /default import only/,
  ],
  ["all names of clipper-lib", "src/checks/a.ts", 'import * as c from "clipper-lib";', /default import only/],
  ["chance", "src/lattice/a.ts", "const x = Math.random();", /chance is an argument/],
  ["chance by another way", "src/lattice/a.ts", 'const x = Math["random"]();', /chance is an argument/],
])("a planted breach is found: %s", (_, path, text, wanted) => {
  const found = breaches(new Map([[path, text]]));
  expect(found).toHaveLength(1);
  expect(found[0]).toMatch(wanted);
});

test("planted cycles are found, within a folder and through types", () => {
  const two = new Map([
    ["src/base/a.ts", 'import { b } from "./b.ts";'],
    ["src/base/b.ts", 'import type { A } from "./a.ts";'],
    ["src/base/c.ts", 'import { a } from "./a.ts";'],
  ]);
  expect(breaches(two)).toEqual(["src/base/a.ts -> src/base/b.ts -> src/base/a.ts: a cycle"]);
});

test("what the law allows is not called a breach", () => {
  const lawful = new Map([
    ["src/base/a.ts", '// import "../cli/b.ts"\nexport const said = "from \\"../cli/b.ts\\"";'],
    [
      "src/crafts/b.ts",
      'import C from "clipper-lib";\nimport type { IntPoint } from "clipper-lib";\nimport "../base/a.ts";',
    ],
    ["src/cli/c.ts", 'import { join } from "node:path";\nimport "../crafts/b.ts";\nMath.random();'],
  ]);
  expect(breaches(lawful)).toEqual([]);
});

test("long files are told (a warning only)", () => {
  for (const warning of longFiles(sources)) console.warn(warning);
  const planted = new Map([
    ["src/base/a.ts", "\n".repeat(LONG_FILE + 1)],
    ["src/base/b.ts", "\n".repeat(LONG_FILE)],
  ]);
  expect(longFiles(planted)).toEqual([`src/base/a.ts: ${LONG_FILE + 1} lines; split it by noun`]);
});
