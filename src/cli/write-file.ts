/**
 * Files appear whole or not at all: content is written beside its place under a name of ours,
 * measured, flushed to the drive, and only then renamed. What was begun is undone, last step
 * first, when a later step fails.
 */
import { randomBytes } from "node:crypto";
import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import { systemCode, systemReason } from "./system-reason.ts";

/** A step's undoing, and what to tell the person should the undoing fail too. */
export type Undo = (step: () => void, otherwise: string) => void;

/** Thrown inside `attempt` to refuse: becomes a fault with this code and reason. */
export class Refusal extends Error {
  override readonly name = "Refusal";
  readonly code: "cannot-write" | "not-our-folder";

  constructor(code: Refusal["code"], reason: string) {
    super(reason);
    this.code = code;
  }
}

/**
 * Does `work`, which registers an undoing for each step it takes. When it throws, the undoings
 * run in reverse order; refusals and the system's errors become faults that name `target`,
 * anything else is a fault of ours and is thrown on.
 */
export function attempt(target: string, work: (undo: Undo) => void): Result<void> {
  const undoings: { readonly step: () => void; readonly otherwise: string }[] = [];
  try {
    work((step, otherwise) => undoings.push({ step, otherwise }));
    return done(undefined);
  } catch (error) {
    const left: string[] = [];
    for (const { step, otherwise } of undoings.reverse()) {
      try {
        step();
      } catch {
        left.push(otherwise);
      }
    }
    return refused(faultFrom(error, target, left));
  }
}

/**
 * Writes a new file whole, making missing folders on the way.
 * An existing file (or anything else of that name) is not overwritten: fault `cannot-write`.
 */
export function writeWholeFile(target: string, content: string | Uint8Array): Result<void> {
  return attempt(target, (undo) => {
    const path = resolve(target);
    if (lstatSync(path, { throwIfNoEntry: false }) !== undefined) {
      throw new Refusal("cannot-write", "something of this name is there already, and is not overwritten");
    }
    makeFolders(dirname(path), undo);
    removeLeftovers(path, "new");
    const fresh = workName(path, "new");
    undo(() => rmSync(fresh, { force: true }), `an unfinished file is left: ${fresh}`);
    writeFully(fresh, content);
    renameSync(fresh, path);
    undo(() => rmSync(path), `an unfinished file is left: ${path}`);
    syncFolder(dirname(path));
  });
}

/**
 * Writes a new file and does not return before its every byte is on the drive.
 *
 * A write may store only a part and report no error (a full drive, a size limit): so it is
 * repeated until all is stored or the system says why not, and the length is measured at the end.
 *
 * @throws Refusal when the drive kept less than it said; the system's error otherwise.
 */
export function writeFully(path: string, content: string | Uint8Array): void {
  const bytes = typeof content === "string" ? Buffer.from(content, "utf8") : content;
  const file = openSync(path, "wx");
  try {
    for (let stored = 0; stored < bytes.length; ) {
      const more = writeSync(file, bytes, stored, bytes.length - stored, stored);
      if (more === 0) throw new Refusal("cannot-write", "the drive takes no more");
      stored += more;
    }
    fsyncSync(file);
    const kept = fstatSync(file).size;
    if (kept !== bytes.length) {
      throw new Refusal("cannot-write", `the drive kept ${kept} of ${bytes.length} bytes`);
    }
  } catch (error) {
    closeQuietly(file);
    throw error;
  }
  // Not in a `finally`: network drives report a failed write as late as here.
  closeSync(file);
}

/** Flushes a folder's list of names to the drive, where the system can do that. */
export function syncFolder(path: string): void {
  if (process.platform === "win32") return; // Windows does not open folders.
  const folder = openSync(path, "r");
  try {
    fsyncSync(folder);
  } catch (error) {
    // fsync(2): EINVAL is the answer of a file system that cannot flush folders.
    if (systemCode(error) !== "EINVAL") throw error;
  } finally {
    closeQuietly(folder);
  }
}

/** Makes `path` and the folders above it, as far as they are missing. */
export function makeFolders(path: string, undo: Undo): void {
  if (existsSync(path)) return;
  if (dirname(path) !== path) makeFolders(dirname(path), undo);
  // "recursive" only because it accepts a folder that another run has made just now.
  if (mkdirSync(path, { recursive: true }) !== undefined) {
    undo(() => rmdirSync(path), `the new folder ${path} is left`);
  }
}

/**
 * A fresh hidden name beside `path`, for what this process sets up ("new") or sets aside ("old").
 *
 * @throws the system's error when such a name cannot be: a good name may leave no room for ours.
 */
export function workName(path: string, role: "new" | "old"): string {
  // Containers give every run the same process id: the random part keeps their names apart.
  const end = `${process.pid}-${randomBytes(4).toString("hex")}`;
  const name = join(dirname(path), `${workStart(path, role)}${end}`);
  lstatSync(name, { throwIfNoEntry: false });
  return name;
}

/** What runs that were killed left beside `path`: our names, and their process is no more. */
export function leftovers(path: string, role: "new" | "old"): readonly string[] {
  const start = workStart(path, role);
  return readdirSync(dirname(path))
    .filter((name) => name.startsWith(start) && isOver(name.slice(start.length)))
    .map((name) => join(dirname(path), name));
}

export function removeLeftovers(path: string, role: "new" | "old"): void {
  for (const name of leftovers(path, role)) rmSync(name, { recursive: true, force: true });
}

function workStart(path: string, role: "new" | "old"): string {
  return `.${basename(path)}.plaitwright-${role}-`;
}

function isOver(nameEnd: string): boolean {
  const processId = Number(/^([1-9]\d*)-[0-9a-f]{8}$/.exec(nameEnd)?.[1]);
  if (Number.isNaN(processId)) return false;
  // Whatever bears our own number is finished: set aside just now, or by an earlier process.
  if (processId === process.pid) return true;
  try {
    process.kill(processId, 0); // signal 0 only asks whether the process is there
    return false;
  } catch (error) {
    return systemCode(error) === "ESRCH";
  }
}

function closeQuietly(file: number): void {
  try {
    closeSync(file);
  } catch {
    // Nothing that was written hangs on it: the file is given up, or a folder was only read.
  }
}

function faultFrom(error: unknown, target: string, left: readonly string[]): Fault {
  if (error instanceof Refusal) {
    return { file: target, code: error.code, reason: [error.message, ...left].join("; ") };
  }
  const reason = systemReason(error);
  return { file: target, code: "cannot-write", reason: [reason, ...left].join("; ") };
}
