import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join, parse } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { Result } from "../../src/base/fault.ts";
import { InternalError } from "../../src/base/internal-error.ts";
import { checkJobFolder, type FileContent, writeJobFolder } from "../../src/cli/job-folder.ts";
import { writeWholeFile } from "../../src/cli/write-file.ts";

let place = "";

beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), "job-folder-"));
});

afterEach(() => {
  rmSync(place, { recursive: true });
});

/** A job of a manifest and the given files. */
function job(files: Readonly<Record<string, string>>): readonly FileContent[] {
  const names = Object.keys(files).map((path) => ({ path }));
  return [
    { path: "job.json", content: JSON.stringify({ plaitwrightJob: 1, files: names }) },
    ...Object.entries(files).map(([path, content]) => ({ path, content })),
  ];
}

/** Code and reason of the one fault, or "done". */
function outcome(result: Result<void>): string {
  if (result.ok) return "done";
  expect(result.faults).toHaveLength(1);
  const [fault] = result.faults;
  return fault !== undefined && "reason" in fault
    ? `${fault.code}: ${fault.reason}`
    : "a fault without a reason";
}

function contents(folder: string): Readonly<Record<string, string>> {
  const names = readdirSync(folder).filter((name) => name !== "job.json");
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name), "utf8")]));
}

test.each<[string, (target: string) => void]>([
  ["new", () => {}],
  ["empty", (target) => mkdirSync(target)],
  [
    "shown by a file manager",
    (target) => {
      mkdirSync(target);
      writeFileSync(join(target, ".DS_Store"), "");
    },
  ],
  ["an earlier job", (target) => void writeJobFolder(target, job({ "old.svg": "old" }))],
])("a folder that is %s is written, whole, and nothing is left beside it", (_, prepare) => {
  const target = join(place, "lid");
  prepare(target);
  expect(outcome(checkJobFolder(target))).toBe("done");
  expect(outcome(writeJobFolder(target, job({ "cut.svg": "ø–½", "empty.txt": "" })))).toBe("done");
  expect(contents(target)).toEqual({ "cut.svg": "ø–½", "empty.txt": "" });
  expect(readdirSync(place)).toEqual(["lid"]);
});

test("missing folders above are made, bytes are kept as they are", () => {
  const target = join(place, "jobs", "gate", "lid");
  expect(outcome(checkJobFolder(target))).toBe("done");
  expect(existsSync(join(place, "jobs"))).toBe(false);
  const bytes = Uint8Array.of(0, 255, 13, 10, 128);
  expect(outcome(writeJobFolder(target, [...job({}), { path: "lid.dst", content: bytes }]))).toBe("done");
  expect(Uint8Array.from(readFileSync(join(target, "lid.dst")))).toEqual(bytes);
});

test.each<[string, (target: string) => void, RegExp]>([
  ["a file", (target) => writeFileSync(target, ""), /^not-our-folder: it is a file, not a folder$/],
  [
    "a folder of other things",
    (target) => fill(target, { "song.txt": "" }),
    /^not-our-folder: it holds "song.txt"/,
  ],
  [
    "a folder of many things",
    (target) => fill(target, { a: "", b: "", c: "", d: "", e: "", f: "" }),
    /^not-our-folder: it holds "a", "b", "c", "d" and 2 more and is not an earlier job/,
  ],
  [
    "another program's job.json",
    (target) => fill(target, { "job.json": '{"job": 7}' }),
    /^not-our-folder: .*"job.json"/,
  ],
  [
    "a job.json that is no object",
    (target) => fill(target, { "job.json": "[]" }),
    /^not-our-folder: .*"job.json"/,
  ],
  ["a broken job.json", (target) => fill(target, { "job.json": '{"plaitwrightJob"' }), /^not-our-folder: /],
  [
    "a folder called job.json",
    (target) => mkdirSync(join(target, "job.json"), { recursive: true }),
    /^not-our-folder: /,
  ],
  [
    "an earlier job with a note and a folder of the person's",
    (target) => {
      writeJobFolder(target, job({ "cut.svg": "old" }));
      writeFileSync(join(target, "note.txt"), "glue first");
      mkdirSync(join(target, "photos"));
    },
    /^not-our-folder: beside an earlier job it holds "note.txt", "photos"; move that away/,
  ],
  [
    "an earlier job with the design in it",
    (target) => {
      writeJobFolder(target, job({ "cut.svg": "old" }));
      writeFileSync(join(target, "lid.plait.json"), "{}");
    },
    /^not-our-folder: beside an earlier job it holds "lid.plait.json"/,
  ],
  [
    "an earlier job whose file is now a folder",
    (target) => {
      writeJobFolder(target, job({ "cut.svg": "old" }));
      rmSync(join(target, "cut.svg"));
      mkdirSync(join(target, "cut.svg"));
    },
    /^not-our-folder: beside an earlier job it holds "cut.svg"/,
  ],
  [
    "a link to an earlier job",
    (target) => {
      writeJobFolder(join(dirname(target), "real"), job({ "cut.svg": "old" }));
      symlinkSync("real", target);
    },
    /^not-our-folder: it is a link/,
  ],
])("%s is refused and stays as it is", (_, prepare, wanted) => {
  const target = join(place, "lid");
  prepare(target);
  const before = tree(place);
  expect(outcome(checkJobFolder(target))).toMatch(wanted);
  expect(outcome(writeJobFolder(target, job({ "cut.svg": "new" })))).toMatch(wanted);
  expect(tree(place)).toEqual(before);
});

test("the folder one works in, those above it and the top of the drive are refused", () => {
  expect(outcome(checkJobFolder("."))).toMatch(/^not-our-folder: you are working inside it/);
  expect(outcome(checkJobFolder(dirname(process.cwd())))).toMatch(
    /^not-our-folder: you are working inside it/,
  );
  expect(outcome(checkJobFolder(parse(place).root))).toMatch(/^not-our-folder: it is the top/);
});

test("a place that cannot be is refused with the system's reason", () => {
  writeFileSync(join(place, "lid.txt"), "");
  expect(outcome(checkJobFolder(join(place, "lid.txt", "deep", "lid")))).toMatch(
    /^cannot-write: a part of the path is a file/,
  );
  expect(outcome(checkJobFolder(join(place, "l".repeat(300))))).toBe("cannot-write: the name is too long");
  // 250 bytes are a good name (Linux takes 255), but leave no room for our name beside it.
  expect(outcome(checkJobFolder(join(place, "l".repeat(250))))).toBe("cannot-write: the name is too long");
});

test("a failure takes the new folders away again and keeps the earlier job", () => {
  const tooLong = job({ "first.svg": "new", ["n".repeat(300)]: "new" });
  expect(outcome(writeJobFolder(join(place, "jobs", "lid"), tooLong))).toBe(
    "cannot-write: the name is too long",
  );
  expect(readdirSync(place)).toEqual([]);
  const target = join(place, "lid");
  writeJobFolder(target, job({ "cut.svg": "old" }));
  const before = tree(place);
  expect(outcome(writeJobFolder(target, tooLong))).toBe("cannot-write: the name is too long");
  expect(tree(place)).toEqual(before);
});

test.each([
  ["a separator", ["job.json", "a/b.svg"]],
  ["the other separator", ["job.json", "a\\b.svg"]],
  ["the folder above", ["job.json", ".."]],
  ["no name", ["job.json", ""]],
  ["a name twice", ["job.json", "a.svg", "a.svg"]],
  ["no manifest", ["a.svg"]],
])("%s in a job's file names is a fault of ours", (_, names) => {
  const files = names.map((path) => ({ path, content: "" }));
  expect(() => writeJobFolder(join(place, "lid"), files)).toThrow(InternalError);
  expect(readdirSync(place)).toEqual([]);
});

// Above the largest process id that Linux gives (2^22): no such process is running.
const DEAD = 2 ** 22 + 1;

test("what a killed run left is cleared; what a running one set up, or a person named so, is not", () => {
  const kept = [
    `.lid.plaitwright-new-${process.ppid}-0123abcd`,
    ".lid.plaitwright-new-mine",
    `.box.plaitwright-new-${DEAD}-0123abcd`,
  ];
  for (const name of [...kept, `.lid.plaitwright-new-${DEAD}-0123abcd`])
    fill(join(place, name), { "cut.svg": "half" });
  expect(outcome(writeJobFolder(join(place, "lid"), job({})))).toBe("done");
  expect(readdirSync(place).sort()).toEqual([...kept, "lid"].sort());
});

test("an earlier job that a killed run left aside is put back when the next run fails", () => {
  const target = join(place, "lid");
  writeJobFolder(join(place, `.lid.plaitwright-old-${DEAD}-0123abcd`), job({ "cut.svg": "old" }));
  expect(outcome(writeJobFolder(target, job({ ["n".repeat(300)]: "new" })))).toMatch(/^cannot-write/);
  expect(contents(target)).toEqual({ "cut.svg": "old" });
  expect(readdirSync(place)).toEqual(["lid"]);
});

test("a single file is written whole into new folders, and never over another", () => {
  const target = join(place, "designs", "lid.plait.json");
  expect(outcome(writeWholeFile(target, "one"))).toBe("done");
  expect(outcome(writeWholeFile(target, "two"))).toMatch(
    /^cannot-write: something of this name is there already/,
  );
  expect(readFileSync(target, "utf8")).toBe("one");
  expect(readdirSync(dirname(target))).toEqual([basename(target)]);
  expect(outcome(writeWholeFile(join(place, "new", "n".repeat(300)), ""))).toBe(
    "cannot-write: the name is too long",
  );
  expect(outcome(writeWholeFile(join(target, "lid"), ""))).toMatch(
    /^cannot-write: a part of the path is a file/,
  );
  expect(readdirSync(place)).toEqual(["designs"]);
});

function fill(folder: string, files: Readonly<Record<string, string>>): void {
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
}

/** Every path below `folder` with its text. */
function tree(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return entry.isFile() ? `${path}: ${readFileSync(path, "utf8")}` : path;
    })
    .sort();
}
