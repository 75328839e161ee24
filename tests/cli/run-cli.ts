/** The built command line, run as a person runs it, in a folder of its own. */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect } from "vitest";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));
export const MAIN = join(ROOT, "dist", "src", "cli", "main.js");

export interface CliRun {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** A folder for the tests of one file, gone afterwards. */
export class Bench {
  folder = "";

  constructor() {
    beforeAll(() => {
      this.folder = mkdtempSync(join(tmpdir(), "plaitwright-cli-"));
    });
    afterAll(() => {
      rmSync(this.folder, { recursive: true, force: true });
    });
  }

  run(...args: readonly string[]): CliRun {
    const env = { ...process.env, NO_COLOR: "1" };
    const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
      cwd: this.folder,
      env,
      encoding: "utf8",
      maxBuffer: 1 << 28,
    });
    return { code: status, stdout, stderr };
  }

  /** What `--json` prints; the run must have ended with `code`. */
  json(code: number, ...args: readonly string[]): Record<string, unknown> {
    const run = this.run(...args, "--json");
    expect([run.code, run.stderr]).toEqual([code, ""]);
    return JSON.parse(run.stdout) as Record<string, unknown>;
  }

  /** Writes a file and answers its name. */
  write(name: string, content: string | Uint8Array | object): string {
    const isData = typeof content === "string" || content instanceof Uint8Array;
    writeFileSync(join(this.folder, name), isData ? content : JSON.stringify(content));
    return name;
  }

  read(...path: readonly string[]): string {
    return readFileSync(join(this.folder, ...path), "utf8");
  }

  /** Names of everything that lies in the folder, hidden things too. */
  names(...path: readonly string[]): string[] {
    return readdirSync(join(this.folder, ...path)).sort();
  }

  /** Each file's name with the digest of its bytes. */
  digests(...path: readonly string[]): Readonly<Record<string, string>> {
    return Object.fromEntries(
      this.names(...path).map((name) => [name, sha256(readFileSync(join(this.folder, ...path, name)))]),
    );
  }
}

function sha256(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

export function sample(name: string): string {
  return join(ROOT, "samples", `${name}.plait.json`);
}
