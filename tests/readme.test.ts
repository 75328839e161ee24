/**
 * What README.md and DEVELOPERS.md promise: commands run and say what is quoted, files are
 * there, pictures are those of the demo, the tables agree with the code. Commands run in a
 * folder of their own that holds what a checkout holds, with the built program (npm test builds
 * it first).
 */
import { spawnSync } from "node:child_process";
import { copyFileSync, cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("../", import.meta.url));
const CLI = join(ROOT, "dist/src/cli");

const textOf = (file: string) => readFileSync(join(ROOT, file), "utf8");
const readme = textOf("README.md");
const developers = textOf("DEVELOPERS.md");
const packageJson = JSON.parse(textOf("package.json"));

let checkout = "";

beforeAll(() => {
  checkout = mkdtempSync(join(tmpdir(), "plaitwright-readme-"));
  for (const folder of ["samples", "profiles"])
    cpSync(join(ROOT, folder), join(checkout, folder), { recursive: true });
});

afterAll(() => rmSync(checkout, { recursive: true, force: true }));

function run(command: string, ...words: string[]) {
  const { status, stdout, stderr } = spawnSync(command, words, {
    cwd: checkout,
    encoding: "utf8",
    shell: words.length === 0,
    env: { ...process.env, NO_COLOR: "1", FORCE_COLOR: undefined },
  });
  return { code: status, said: `${stdout}${stderr}` };
}

interface Quoted {
  readonly command: string;
  /** As `echo $?` shows it after the command; else 0. */
  readonly code: number;
  readonly lines: readonly string[];
}

/** The commands of all console blocks, each with the lines quoted below it; `…` stands for any lines. */
function quotedCommands(markdown: string): readonly Quoted[] {
  const commands: Quoted[] = [];
  for (const [, block = ""] of markdown.matchAll(/^```console\n(.*?)^```/gms)) {
    for (const part of block.split(/^\$ /m).slice(1)) {
      const [command = "", ...lines] = part.trimEnd().split("\n");
      const before = commands.at(-1);
      if (command === "echo $?" && before) commands.splice(-1, 1, { ...before, code: Number(lines[0]) });
      else commands.push({ command, code: 0, lines: lines.filter((line) => line !== "…") });
    }
  }
  return commands;
}

test("the README quotes commands", () => {
  expect(quotedCommands(readme).length).toBeGreaterThan(5);
});

// In the order of the page: some work on what others wrote.
test.each(quotedCommands(readme))("quoted: $command", ({ command, code, lines }) => {
  const node = `"${process.execPath}" "${join(CLI, "main.js")}"`;
  const { code: found, said } = run(command.replace(/^npx plaitwright\b/, () => node));
  expect(found, said).toBe(code);
  const spoken = said.split("\n").map((line) => line.trimEnd());
  let from = 0;
  for (const line of lines) {
    const at = spoken.indexOf(line, from);
    expect(at, `no longer says, or not in this order: ${line}`).toBeGreaterThanOrEqual(0);
    from = at + 1;
  }
});

test("every excerpt of a design is part of a sample", () => {
  const samples = readdirSync(join(ROOT, "samples"))
    .filter((file) => file.endsWith(".json"))
    .map((file): unknown => JSON.parse(textOf(`samples/${file}`)));
  const excerpts = [...readme.matchAll(/^```json\n(.*?)^```/gms)].map(([, text = ""]) => text);
  expect(excerpts.length).toBeGreaterThan(5);
  for (const text of excerpts) {
    const excerpt: unknown = JSON.parse(`{${text}}`);
    expect(
      samples.some((sample) => isPartOf(excerpt, sample)),
      text,
    ).toBe(true);
  }
});

/** Objects may have more keys than the excerpt shows, and `["…"]` stands for any list. */
function isPartOf(excerpt: unknown, whole: unknown): boolean {
  if (typeof excerpt !== "object" || excerpt === null) return excerpt === whole;
  if (typeof whole !== "object" || whole === null || Array.isArray(excerpt) !== Array.isArray(whole))
    return false;
  if (Array.isArray(excerpt) && Array.isArray(whole)) {
    if (excerpt.length === 1 && excerpt[0] === "…") return true;
    if (excerpt.length !== whole.length) return false;
  }
  const has = new Map(Object.entries(whole));
  return Object.entries(excerpt).every(([key, value]) => isPartOf(value, has.get(key)));
}

test("the pictures of the samples are those that the demo writes", () => {
  const { code, said } = run(process.execPath, join(CLI, "demo.js"));
  expect(code, said).toBe(0);
  const names = readdirSync(join(ROOT, "samples"))
    .filter((file) => file.endsWith(".plait.json"))
    .map((file) => file.replace(".plait.json", ""));
  expect(names.length).toBeGreaterThanOrEqual(3);
  for (const name of names) {
    // Embroidery is shown stitch by stitch.
    const stitched = join(checkout, "jobs", name, "stitches.svg");
    const made = existsSync(stitched) ? stitched : join(checkout, "jobs", name, "preview.svg");
    const kept = join(ROOT, "samples", `${name}.svg`);
    if (process.env["UPDATE_GOLDEN"] === "1") copyFileSync(made, kept);
    expect(readFileSync(kept, "utf8") === readFileSync(made, "utf8"), `samples/${name}.svg`).toBe(true);
    expect(readme).toContain(`](samples/${name}.svg)`);
    expect(readme).toContain(`](samples/${name}.plait.json)`);
  }
});

test.each([
  ["README.md", readme],
  ["DEVELOPERS.md", developers],
])("%s names only scripts and files that exist", (_, markdown) => {
  const scripts = [...markdown.matchAll(/\bnpm run (?:--\S+ )*([\w-]+)/g)].map(([, name = ""]) => name);
  expect(scripts.length).toBeGreaterThan(0);
  expect(Object.keys(packageJson.scripts)).toEqual(expect.arrayContaining(scripts));

  const links = [...markdown.matchAll(/\]\((?!https?:)([^)#]+)\)/g)].map(([, path = ""]) => path);
  const named = [...markdown.matchAll(/`((?:src|tests|shared|profiles|samples)\/[\w./-]*)`/g)].map(
    ([, path = ""]) => path,
  );
  expect(links.length + named.length).toBeGreaterThan(5);
  expect([...links, ...named].filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
});

test("every dependency is accounted for", () => {
  const names = Object.keys({ ...packageJson.dependencies, ...packageJson.devDependencies });
  expect(names.length).toBeGreaterThan(10);
  expect(names.filter((name) => !developers.includes(`\`${name}\``))).toEqual([]);
});

test("the table of imports is the one that the architecture test keeps", () => {
  const law = textOf("tests/architecture.test.ts");
  const core = namesIn(/^const CORE = (.*?);/ms.exec(law)?.[1]);
  const below = namesIn(/^const ALL_BELOW = (.*?);/ms.exec(law)?.[1], { CORE: core });
  const rules = /^const LAW.*?\{\n(.*?)^\};/ms.exec(law)?.[1] ?? "";
  const kept = [...rules.matchAll(/^ {2}(\w+): (.*),$/gm)].map(([, folder = "", list]) => ({
    folder,
    imports: namesIn(list, { CORE: core, ALL_BELOW: below }),
  }));
  expect(kept.length).toBeGreaterThan(10);

  const shown: { folder: string; imports: readonly string[] }[] = [];
  for (const [, folder = "", list] of developers.matchAll(/^\| `(\w+)` \|[^|]*\| ([^|]*) \|$/gm)) {
    const above = shown.map((row) => row.folder);
    const butCli = above.filter((name) => name !== "cli");
    shown.push({ folder, imports: namesIn(list, { core, "all above but cli": butCli, "all above": above }) });
  }
  expect(shown).toEqual(kept);
});

/** The folders that a list names, short words for several of them spelt out. */
function namesIn(list = "", shortWords: Readonly<Record<string, readonly string[]>> = {}): readonly string[] {
  const spelt = Object.entries(shortWords).reduce(
    (text, [short, names]) => text.replace(short, names.join(" ")),
    list,
  );
  return spelt.match(/[a-z]+/g) ?? [];
}
