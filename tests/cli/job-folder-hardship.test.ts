/**
 * Job folders on a drive that is full, read-only, limited, lying or failing, and in a process
 * that is killed: run as plain node on the built code, since none of this can be pretended
 * inside the test's own process. Expected: the earlier job as it was, nothing beside it.
 */
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeAll, beforeEach, expect, type TestContext, test } from "vitest";

const SCRIPT = fileURLToPath(new URL("write-job.mjs", import.meta.url));
const BUILT = fileURLToPath(new URL("../../dist/src/cli/job-folder.js", import.meta.url));
const KIB = 1024;

let place = "";

beforeAll(() => {
  if (!existsSync(BUILT)) throw new Error("these tests run the built code: `npm run build` first");
});

beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), "hardship-"));
});

afterEach(() => {
  spawnSync("umount", [place]);
  rmSync(place, { recursive: true });
});

interface Run {
  /** "done", "killed", or code and reason of the fault. */
  readonly said: string;
  readonly left: readonly string[];
}

/** Runs the script behind the words of `before`, and looks at what is there afterwards. */
function run(before: readonly string[], text: string, bytes: number, userId?: number): Run {
  const [program, ...rest] = [...before, process.execPath, SCRIPT, join(place, "lid"), text, String(bytes)];
  const user = userId === undefined ? [] : [String(userId)];
  const { stdout, stderr, status, signal } = spawnSync(program ?? "", [...rest, ...user], {
    encoding: "utf8",
  });
  const left = readdirSync(place).sort();
  if (signal === "SIGKILL" || status === 137) return { said: "killed", left };
  if (status !== 0) throw new Error(`the script failed: ${stderr}`);
  const result = JSON.parse(stdout);
  return { said: result.ok ? "done" : `${result.faults[0].code}: ${result.faults[0].reason}`, left };
}

/** The text of a job that is there whole, every file of the length that was asked for. */
function wholeJob(folder: string, bytes: number): string {
  expect(readdirSync(folder).sort()).toEqual(["cut.dxf", "job.json", "sheet.txt"]);
  const text = readFileSync(join(folder, "sheet.txt"), "utf8");
  const cut = readFileSync(join(folder, "cut.dxf"), "utf8");
  expect(cut.length).toBe(bytes);
  expect(cut).toBe(text.repeat(Math.ceil(bytes / text.length)).slice(0, bytes));
  expect(JSON.parse(readFileSync(join(folder, "job.json"), "utf8")).plaitwrightJob).toBe(1);
  return text;
}

function mountSmall(context: TestContext, kib: number): void {
  const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", `size=${kib}k`, "tmpfs", place]);
  context.skip(mounted.status !== 0, "could not run: only root on Linux can mount a small drive");
}

function inject(context: TestContext, call: string, what: string): readonly string[] {
  const works = spawnSync("strace", ["-f", "-qq", "-e", "trace=none", "true"]);
  context.skip(works.status !== 0, "could not run: strace is not there, or not allowed here");
  return ["strace", "-f", "-qq", "-o", "/dev/null", "-e", `trace=${call}`, "-e", `inject=${call}:${what}`];
}

test.for([
  ["a first job that is larger than the drive", 0, 400 * KIB],
  ["a job that is larger than the drive", 20 * KIB, 400 * KIB],
  ["a job that would fit without the earlier one", 110 * KIB, 110 * KIB],
] as const)("a full drive, %s", ([, earlierBytes, newBytes], context) => {
  mountSmall(context, 200);
  if (earlierBytes > 0) expect(run([], "old", earlierBytes).said).toBe("done");
  const { said, left } = run([], "new", newBytes);
  expect(said).toBe("cannot-write: no space left on the drive");
  expect(left).toEqual(earlierBytes > 0 ? ["lid"] : []);
  if (earlierBytes > 0) expect(wholeJob(join(place, "lid"), earlierBytes)).toBe("old");
});

test("a small drive with room for both", (context) => {
  mountSmall(context, 200);
  expect(run([], "old", 60 * KIB).said).toBe("done");
  expect(run([], "new", 70 * KIB)).toEqual({ said: "done", left: ["lid"] });
  expect(wholeJob(join(place, "lid"), 70 * KIB)).toBe("new");
});

test("a read-only drive, and a drive's top folder", (context) => {
  mountSmall(context, 200);
  expect(run([], "old", KIB).said).toBe("done");
  expect(spawnSync("mount", ["-o", "remount,ro", place]).status).toBe(0);
  expect(run([], "new", KIB)).toEqual({ said: "cannot-write: the drive is read-only", left: ["lid"] });
  expect(wholeJob(join(place, "lid"), KIB)).toBe("old");
  spawnSync("mount", ["-o", "remount,rw", place]);
  // An empty drive mounted as the job folder itself: it cannot be renamed away.
  mkdirSync(join(place, "top"));
  const top = join(place, "top");
  expect(spawnSync("mount", ["-t", "tmpfs", "-o", "size=200k", "tmpfs", top]).status).toBe(0);
  const result = spawnSync(process.execPath, [SCRIPT, top, "new", "10"], { encoding: "utf8" });
  spawnSync("umount", [top]);
  expect(result.stdout).toContain("it is in use, or it is the top folder of a drive");
  expect(readdirSync(place).sort()).toEqual(["lid", "top"]);
});

test("a limit on the size of files", () => {
  expect(run([], "old", 20 * KIB).said).toBe("done");
  const limited = run(["bash", "-c", 'ulimit -f 100; exec "$@"', "bash"], "new", 400_000);
  expect(limited).toEqual({
    said: "cannot-write: a file would be larger than the system allows",
    left: ["lid"],
  });
  expect(wholeJob(join(place, "lid"), 20 * KIB)).toBe("old");
});

test("a place that belongs to someone else", (context) => {
  context.skip(process.getuid?.() !== 0, "could not run: only root can act as another user");
  expect(run([], "old", KIB).said).toBe("done");
  chmodSync(place, 0o755);
  expect(run([], "new", KIB, 65534)).toEqual({ said: "cannot-write: permission denied", left: ["lid"] });
  expect(wholeJob(join(place, "lid"), KIB)).toBe("old");
});

test.for([
  ["no space at the first write", "pwrite64", "error=ENOSPC:when=1+", "no space left on the drive"],
  ["an error at a later write", "pwrite64", "error=EIO:when=2", "the drive reports an error"],
  ["a drive that takes nothing", "pwrite64", "retval=0:when=3", "the drive takes no more"],
  ["a drive that only says it took all", "pwrite64", "retval=5000:when=3", "the drive kept 0 of 5000 bytes"],
  ["an error when a file is flushed", "fsync", "error=EIO:when=2", "the drive reports an error"],
  ["an error when the new folder is flushed", "fsync", "error=EIO:when=4", "the drive reports an error"],
  ["an error when the folder above is flushed", "fsync", "error=EIO:when=5", "the drive reports an error"],
  ["the earlier job may not be renamed", "rename", "error=EACCES:when=1", "permission denied"],
  ["the new job may not be renamed", "rename", "error=EACCES:when=2", "permission denied"],
] as const)("%s", ([, call, what, reason], context) => {
  const disturbed = inject(context, call, what);
  expect(run([], "old", 3000).said).toBe("done");
  expect(run(disturbed, "new", 5000)).toEqual({ said: `cannot-write: ${reason}`, left: ["lid"] });
  expect(wholeJob(join(place, "lid"), 3000)).toBe("old");
});

test("when even putting back fails, the person is told where the earlier job is", (context) => {
  const disturbed = inject(context, "rename", "error=EACCES:when=2+");
  expect(run([], "old", 3000).said).toBe("done");
  const { said, left } = run(disturbed, "new", 5000);
  expect(said).toMatch(
    /^cannot-write: permission denied; the earlier job is now in .*\/\.lid\.plaitwright-old-/,
  );
  expect(left).toHaveLength(1);
  expect(wholeJob(join(place, left[0] ?? ""), 3000)).toBe("old");
  expect(run([], "new", 5000)).toEqual({ said: "done", left: ["lid"] });
});

// Replacing a job of three files takes 3 writes, 5 flushes (files, folder, folder above),
// 2 renames and 4 removals: killed at each of them.
test.for([
  ["pwrite64", 3],
  ["fsync", 5],
  ["rename", 2],
  ["unlink", 3],
  ["rmdir", 1],
] as const)("killed at any %s", ([call, times], context) => {
  for (let when = 1; when <= times; when++) {
    expect(run([], "old", 3000).said).toBe("done");
    const { said, left } = run(inject(context, call, `signal=SIGKILL:when=${when}`), "new", 5000);
    expect(said).toBe("killed");
    if (left.includes("lid")) {
      expect(readFileSync(join(place, "lid", "sheet.txt"), "utf8")).toMatch(/^old$|^new$/);
      const isOld = readFileSync(join(place, "lid", "sheet.txt"), "utf8") === "old";
      wholeJob(join(place, "lid"), isOld ? 3000 : 5000);
    } else {
      const aside = left.filter((name) => name.startsWith(".lid.plaitwright-old-"));
      expect(aside).toHaveLength(1);
      expect(wholeJob(join(place, aside[0] ?? ""), 3000)).toBe("old");
    }
    expect(run([], "next", 4000)).toEqual({ said: "done", left: ["lid"] });
    expect(wholeJob(join(place, "lid"), 4000)).toBe("next");
  }
});
