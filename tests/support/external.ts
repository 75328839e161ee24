/**
 * Outside programs as independent readers of our files. A test that needs one says so by
 * `externalTest`; without the program it could not run, which is reported as such and never
 * counts as passed. Where CI=true every program has to be there.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { test } from "vitest";

/** Debian's own Python, which sees the Debian packages; another one on the PATH does not. */
const PYTHON = "/usr/bin/python3";

const TIME_LIMIT_MS = 120_000;

export interface ToolRun {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a program to its end; it is stopped, and the test fails, after two minutes. */
export function runTool(command: string, args: readonly string[], input = ""): ToolRun {
  const run = spawnSync(command, args, {
    input,
    encoding: "utf8",
    timeout: TIME_LIMIT_MS,
    maxBuffer: 1 << 28,
  });
  if (run.error) throw new Error(`${command} could not be run to its end: ${run.error.message}`);
  return { code: run.status ?? -1, stdout: run.stdout, stderr: run.stderr };
}

/** What a script of tests/readers prints as JSON; the test fails with its message when it fails. */
export function runReader(script: string, args: readonly string[]): unknown {
  const run = runTool(PYTHON, [fileURLToPath(new URL(`../readers/${script}`, import.meta.url)), ...args]);
  if (run.code !== 0) throw new Error(`${script} ended with ${run.code}: ${run.stderr}`);
  return JSON.parse(run.stdout);
}

/** Calls `use` with the paths of files that hold the given texts or bytes; they are gone afterwards. */
export function withFiles<T>(
  files: Readonly<Record<string, string | Uint8Array>>,
  use: (pathOf: (name: string) => string) => T,
): T {
  const folder = mkdtempSync(join(tmpdir(), "plaitwright-test-"));
  try {
    for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
    return use((name) => join(folder, name));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * A test that needs outside programs: a command on the PATH, or "python:NAME" for a module
 * of Debian's Python.
 */
export function externalTest(name: string, tools: readonly string[], fn: () => void | Promise<void>): void {
  test(name, { timeout: TIME_LIMIT_MS }, async (context) => {
    const missing = tools.filter((tool) => !isThere(tool));
    if (missing.length > 0) {
      const note = `could not run: ${missing.join(", ")} is not installed`;
      if (process.env["CI"] === "true") throw new Error(note);
      context.skip(note);
    }
    await fn();
  });
}

const found = new Map<string, boolean>();

function isThere(tool: string): boolean {
  const known = found.get(tool);
  if (known !== undefined) return known;
  const [kind, module] = tool.split(":");
  const probe =
    kind === "python" && module
      ? spawnSync(PYTHON, ["-c", `import ${module}`])
      : spawnSync("sh", ["-c", 'command -v "$1"', "sh", tool]);
  const there = probe.status === 0;
  found.set(tool, there);
  return there;
}
