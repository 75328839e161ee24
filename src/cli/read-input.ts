/** Designs and profiles from files and from the profiles that come with the tool. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { done, type Result, refused } from "../base/fault.ts";
import { type Design, parseDesign } from "../documents/design.ts";
import { type Profile, parseProfile } from "../documents/profile.ts";
import { type DesignSet, parseSet } from "../documents/set.ts";
import { systemReason } from "./system-reason.ts";

/** The package's own folder: this file runs as dist/src/cli/read-input.js. */
export const PACKAGE_FOLDER = fileURLToPath(new URL("../../../", import.meta.url));
const PROFILES_FOLDER = join(PACKAGE_FOLDER, "profiles");

/** A panel of ten million places with room to spare. */
const MOST_MEGABYTES = 64;

export interface LoadedDesign {
  readonly design: Design;
  readonly title: string;
  readonly file: string;
  readonly text: string;
}

export function readDesign(file: string): Result<LoadedDesign> {
  const text = readText(file);
  if (!text.ok) return text;
  const design = parseDesign(text.value, file);
  if (!design.ok) return design;
  const named = basename(file).replace(/(\.plait)?\.json$/i, "");
  return done({ design: design.value, title: design.value.title ?? named, file, text: text.value });
}

/** Reads the files that a design names: those that lie beside it. */
export function besideOf(designFile: string): (name: string) => Result<string> {
  return (name) => readText(join(dirname(designFile), name));
}

export interface LoadedSet {
  readonly set: DesignSet;
  readonly title: string;
  /** The path of a file that the set names. */
  readonly beside: (name: string) => string;
}

export function readSet(file: string): Result<LoadedSet> {
  const text = readText(file);
  if (!text.ok) return text;
  const set = parseSet(text.value, file);
  if (!set.ok) return set;
  const named = basename(file).replace(/(\.set)?\.json$/i, "");
  const beside = (name: string) => join(dirname(file), name);
  return done({ set: set.value, title: set.value.title ?? named, beside });
}

/** A profile by name, or by the path of a person's own file. */
export function readProfile(nameOrPath: string): Result<Profile> {
  const isPath = /[\\/]/.test(nameOrPath) || nameOrPath.toLowerCase().endsWith(".json");
  const file = isPath ? nameOrPath : join(PROFILES_FOLDER, `${nameOrPath}.json`);
  const text = isPath ? readText(file) : readProfileText(nameOrPath);
  return text.ok ? parseProfile(text.value, file, readProfileText) : text;
}

/** The text of a profile that comes with the tool. */
function readProfileText(name: string): Result<string> {
  const known = profileNames();
  return known.includes(name)
    ? readText(join(PROFILES_FOLDER, `${name}.json`))
    : refused({ code: "profile-unknown", found: name, known });
}

export function profileNames(): string[] {
  return readdirSync(PROFILES_FOLDER)
    .filter((name) => name.endsWith(".json"))
    .map((name) => name.replace(/\.json$/, ""))
    .sort();
}

function readText(file: string): Result<string> {
  try {
    const { size } = statSync(file);
    if (size > MOST_MEGABYTES * 1e6)
      return refused({ code: "file-too-large", file, megabytes: size / 1e6, most: MOST_MEGABYTES });
    const bytes = readFileSync(file);
    return done(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (error) {
    if (error instanceof TypeError) return refused({ code: "not-utf8", file });
    return refused({ code: "file-unreadable", file, reason: systemReason(error) });
  }
}
