/**
 * The job folder, which is replaced whole: the new job is written beside it, the earlier one
 * renamed aside, the new one renamed into place, the earlier one removed. A failure at any step
 * puts the earlier job back; after a kill between the two renames the next run does.
 */
import {
  accessSync,
  constants,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
} from "node:fs";
import { dirname, isAbsolute, join, relative, resolve, sep } from "node:path";
import type { Result } from "../base/fault.ts";
import { InternalError } from "../base/internal-error.ts";
import {
  attempt,
  leftovers,
  makeFolders,
  Refusal,
  removeLeftovers,
  syncFolder,
  workName,
  writeFully,
} from "./write-file.ts";

export interface FileContent {
  /** A plain name: job folders have no folders inside. */
  readonly path: string;
  readonly content: string | Uint8Array;
}

const MANIFEST = "job.json";

/** A manifest of ours is some kilobytes; what is larger than this is not read. */
const LARGEST_MANIFEST_BYTES = 64 * 2 ** 20;

/** What file managers put into every folder that they show: nobody's work. */
const LITTER: ReadonlySet<string> = new Set([".DS_Store", ".directory", "Thumbs.db", "desktop.ini"]);

/**
 * Whether a job may be written to `target`: it is new, empty, or an earlier job that holds
 * nothing but its own files. Looks only, changes nothing.
 *
 * Faults: `not-our-folder`, `cannot-write`.
 */
export function checkJobFolder(target: string): Result<void> {
  return attempt(target, () => requireReplaceable(resolve(target)));
}

/**
 * Writes a whole job, in place of an earlier one if there is one; missing folders above it are
 * made. After a fault everything is as it was before.
 *
 * Faults: as `checkJobFolder`.
 *
 * @throws InternalError for a file name that is not plain, or is there twice, or no job.json:
 * without it the folder could never be replaced.
 */
export function writeJobFolder(target: string, files: readonly FileContent[]): Result<void> {
  requirePlainNames(files.map((file) => file.path));
  return attempt(target, (undo) => {
    const path = resolve(target);
    putBackEarlierJob(path);
    requireReplaceable(path);
    makeFolders(dirname(path), undo);
    removeLeftovers(path, "new");

    const fresh = workName(path, "new");
    mkdirSync(fresh);
    undo(() => rmSync(fresh, { recursive: true }), `an unfinished job is left: ${fresh}`);
    for (const file of files) writeFully(join(fresh, file.path), file.content);
    syncFolder(fresh);

    if (lstatSync(path, { throwIfNoEntry: false }) !== undefined) {
      const aside = workName(path, "old");
      renameSync(path, aside);
      undo(() => renameSync(aside, path), `the earlier job is now in ${aside}`);
    }
    renameSync(fresh, path);
    undo(() => renameSync(path, fresh), `the new job is in ${path}`);
    syncFolder(dirname(path));

    removeEarlierJob(path);
  });
}

/** After a kill between the two renames the earlier job lies aside and its place is free. */
function putBackEarlierJob(path: string): void {
  if (lstatSync(path, { throwIfNoEntry: false }) !== undefined) return;
  if (!existsSync(dirname(path))) return;
  const [earlier] = leftovers(path, "old");
  if (earlier !== undefined) renameSync(earlier, path);
}

function removeEarlierJob(path: string): void {
  try {
    removeLeftovers(path, "old");
  } catch {
    // The new job stands. What could not be removed is tried again by the next run.
  }
}

function requireReplaceable(path: string): void {
  if (dirname(path) === path) throw notOurs("it is the top of the file system");
  const found = lstatSync(path, { throwIfNoEntry: false });
  workName(path, "new"); // Asked for its error only: better now than after the work.
  if (found !== undefined) {
    if (found.isSymbolicLink()) throw notOurs("it is a link; name the folder itself");
    if (!found.isDirectory()) throw notOurs("it is a file, not a folder");
    if (contains(path, process.cwd())) throw notOurs("you are working inside it; name another folder");
    requireOnlyOurFiles(path);
    accessSync(path, constants.R_OK | constants.W_OK | constants.X_OK);
  }
  requireRoomAbove(path);
}

/** The rule also protects a design file that lies in the folder: no job lists it. */
function requireOnlyOurFiles(path: string): void {
  const entries = readdirSync(path, { withFileTypes: true }).filter((entry) => !LITTER.has(entry.name));
  if (entries.length === 0) return;
  const ours = filesOfEarlierJob(path);
  if (ours === undefined) {
    throw notOurs(`it holds ${listed(entries)} and is not an earlier job; name a new or empty folder`);
  }
  const others = entries.filter((entry) => !(entry.isFile() && ours.has(entry.name)));
  if (others.length > 0) {
    throw notOurs(`beside an earlier job it holds ${listed(others)}; move that away or name another folder`);
  }
}

/** The names that the folder's manifest lists, or undefined when it has no manifest of ours. */
function filesOfEarlierJob(path: string): ReadonlySet<string> | undefined {
  const manifest = join(path, MANIFEST);
  const found = lstatSync(manifest, { throwIfNoEntry: false });
  if (found === undefined || !found.isFile() || found.size > LARGEST_MANIFEST_BYTES) return undefined;
  const job = parsed(readFileSync(manifest, "utf8"));
  if (!isRecord(job) || !Object.hasOwn(job, "plaitwrightJob")) return undefined;
  const files: readonly unknown[] = Array.isArray(job["files"]) ? job["files"] : [];
  const names = files.flatMap((file) =>
    isRecord(file) && typeof file["path"] === "string" ? [file["path"]] : [],
  );
  return new Set([MANIFEST, ...names]);
}

/** The nearest folder above that exists must take new names. */
function requireRoomAbove(path: string): void {
  let above = dirname(path);
  while (!existsSync(above) && dirname(above) !== above) above = dirname(above);
  accessSync(above, constants.W_OK | constants.X_OK);
}

function requirePlainNames(names: readonly string[]): void {
  for (const name of names) {
    if (name === "" || name === "." || name === ".." || /[/\\\0]/.test(name)) {
      throw new InternalError(`not a plain file name: ${JSON.stringify(name)}`);
    }
  }
  if (new Set(names).size !== names.length) throw new InternalError("a job names a file twice");
  if (!names.includes(MANIFEST)) throw new InternalError(`a job without ${MANIFEST}`);
}

function contains(folder: string, inner: string): boolean {
  const way = relative(realpathSync(folder), inner);
  return !isAbsolute(way) && way.split(sep)[0] !== "..";
}

function listed(entries: readonly { readonly name: string }[]): string {
  const most = 4;
  const names = entries.map((entry) => JSON.stringify(entry.name)).sort();
  const shown = names.slice(0, most).join(", ");
  return names.length > most ? `${shown} and ${names.length - most} more` : shown;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function notOurs(reason: string): Refusal {
  return new Refusal("not-our-folder", reason);
}
