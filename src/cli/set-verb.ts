/** `set`: several designs converted alike, one job folder for each. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Fault } from "../base/fault.ts";
import { formatMm } from "../base/format-number.ts";
import { verdictOf } from "../crafts/check-words.ts";
import { CRAFT_KINDS } from "../documents/crafts.ts";
import { type JobFiles, makeJobFiles } from "../documents/job-files.ts";
import { placePanelFaults } from "../documents/panel-places.ts";
import { prepareJob } from "../documents/prepare-job.ts";
import type { Profile } from "../documents/profile.ts";
import type { DesignSet, SetDesign } from "../documents/set.ts";
import { type Departure, departuresOf, handedDesign } from "../documents/set-departures.ts";
import { colours as pc } from "./colours.ts";
import { sha256 } from "./convert-verb.ts";
import { checkJobFolder, writeJobFolder } from "./job-folder.ts";
import { memoryFault } from "./memory.ts";
import { readFonts } from "./read-fonts.ts";
import { besideOf, type LoadedDesign, readDesign, readProfile, readSet } from "./read-input.ts";
import { EXIT, print, printChecks, printJson, tellFaults } from "./report.ts";
import { TOOL } from "./tool.ts";

export interface SetOptions {
  readonly out: string;
  readonly despiteChecks?: boolean;
  readonly kerf?: number;
  readonly json?: boolean;
}

/** A design of the set, ready to be written. */
interface SetJob {
  readonly file: string;
  readonly out: string;
  readonly ready: boolean;
  readonly departures: readonly Departure[];
  readonly files: JobFiles;
}

/** Answers the exit code: the worst of all its designs. Nothing is written before all have been made. */
export function runSet(file: string, options: SetOptions): number {
  const json = options.json ?? false;
  const read = readSet(file);
  if (!read.ok) return tellFaults(read.faults, json);
  const { set, title } = read.value;
  const profile = readProfile(set.profile.endsWith(".json") ? read.value.beside(set.profile) : set.profile);
  if (!profile.ok) return tellFaults(profile.faults, json);
  const blocked = folderFaults(set, options.out);
  if (blocked.length > 0) return tellFaults(blocked, json);
  const made = makeJobs(set, profile.value, read.value.beside, options);
  if ("faults" in made) return tellFaults(made.faults, json);
  for (const { out, files } of made.jobs) {
    const written = writeJobFolder(out, files.files);
    if (!written.ok) return tellFaults(written.faults, json);
  }
  if (json) printJson(setReport(set, title, profile.value, made.jobs, options.out));
  else printSet(set, title, profile.value, made.jobs);
  return made.jobs.every(({ ready }) => ready) ? EXIT.done : EXIT.checkFailed;
}

/** Each job's folder must be free; the set's own must not be that of a single job. */
function folderFaults({ designs }: DesignSet, out: string): Fault[] {
  if (existsSync(join(out, "job.json")))
    return [
      { code: "not-our-folder", file: out, reason: "it is the folder of one job, and a set holds several" },
    ];
  return designs.flatMap(({ folder }) => {
    const free = checkJobFolder(join(out, folder));
    return free.ok ? [] : [...free.faults];
  });
}

function makeJobs(
  set: DesignSet,
  profile: Profile,
  beside: (name: string) => string,
  options: SetOptions,
): { readonly jobs: readonly SetJob[] } | { readonly faults: readonly Fault[] } {
  const faults: Fault[] = [];
  const loaded: { readonly design: SetDesign; readonly own: LoadedDesign }[] = [];
  for (const design of set.designs) {
    const own = readDesign(beside(design.file));
    if (own.ok) loaded.push({ design, own: own.value });
    else faults.push(...own.faults);
  }
  const [first] = loaded;
  if (!first || faults.length > 0) return { faults };
  const jobs: SetJob[] = [];
  for (const { design, own } of loaded) {
    const job = makeJob(design, own, first.own, set, profile, options);
    if ("faults" in job) faults.push(...job.faults);
    else jobs.push(job);
  }
  return faults.length > 0 ? { faults } : { jobs };
}

function makeJob(
  { file, folder }: SetDesign,
  own: LoadedDesign,
  first: LoadedDesign,
  set: DesignSet,
  profile: Profile,
  options: SetOptions,
): SetJob | { readonly faults: readonly Fault[] } {
  const readBeside = besideOf(own.file);
  const memory = memoryFault(own.design.panel, "convert");
  if (memory) return { faults: [{ ...memory, file: own.file }] };
  const placed = (faults: readonly Fault[]) => ({ faults: placePanelFaults(faults, own.text, own.file) });
  const departures = departuresOf(own.design, { set, profile, first: first.design, readBeside });
  if (!departures.ok) return placed(departures.faults);
  const overrides = { ...set.ribbon, ...(options.kerf === undefined ? {} : { kerfMm: options.kerf }) };
  const prepared = prepareJob(handedDesign(own.design, set), own.title, profile, { overrides, readBeside });
  if (!prepared.ok) return placed(prepared.faults);
  const files = makeJobFiles(prepared.value, {
    design: { file, sha256: sha256(own.text) },
    tool: TOOL,
    extras: [],
    despiteChecks: options.despiteChecks ?? false,
    sha256,
    fonts: readFonts,
  });
  const { ready } = verdictOf(files.manifest.checks, prepared.value.verb);
  return { file, out: join(options.out, folder), ready, departures: departures.value, files };
}

function setReport(
  { ribbon, hand }: DesignSet,
  title: string,
  profile: Profile,
  jobs: readonly SetJob[],
  out: string,
): object {
  return {
    out,
    title,
    profile: profile.name,
    ribbon: { width: ribbon.widthMm, gap: ribbon.gapMm },
    hand,
    ready: jobs.every(({ ready }) => ready),
    designs: jobs.map(({ file, out: folder, ready, departures, files }) => ({
      file,
      out: folder,
      ready,
      departures,
      ...files.manifest,
    })),
  };
}

function printSet(
  { ribbon, hand }: DesignSet,
  title: string,
  profile: Profile,
  jobs: readonly SetJob[],
): void {
  const { verb } = CRAFT_KINDS[profile.craft];
  print(pc.bold(title));
  print(
    `  all with ribbon ${formatMm(ribbon.widthMm)}, gap ${formatMm(ribbon.gapMm)}, hand ${hand}, profile ${profile.name}`,
  );
  printTable([
    ["design", "finished", "pitch", "verdict"],
    ...jobs.map(({ file, files: { manifest } }) => [
      file,
      `${formatMm(manifest.size.width)} × ${formatMm(manifest.size.height)}`,
      manifest.settings ? valueWords("pitch", manifest.settings.pitchMm) : "",
      verdictOf(manifest.checks, verb).text,
    ]),
  ]);
  for (const { file, departures } of jobs)
    for (const departure of departures) print(`  departs  ${file}: ${departureWords(departure)}`);
  for (const { file, ready, files } of jobs) {
    if (ready) continue;
    print(`  ${file}`);
    printChecks(files.manifest.checks.filter(({ verdict }) => verdict === "fail"));
    if (!files.machineFiles)
      print("  No file for the machine was written (--despite-checks writes them all the same).");
  }
  for (const { out } of jobs) print(`  wrote ${join(out, "job.json")} and the files that it lists`);
  for (const caution of profile.cautions) print(`   - ${caution}`);
  print(`  ${profile.standingLine}`);
}

function printTable(rows: readonly (readonly string[])[]): void {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  for (const row of rows)
    print(
      `  ${row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join("  ")
        .trimEnd()}`,
    );
}

/** What is common, in words. */
const COMMON = {
  width: "the set's",
  gap: "the set's",
  hand: "the set's",
  corner: "the profile's",
  pitch: "the first design's",
} as const satisfies Record<Departure["what"], string>;

function departureWords({ what, own, set, kept }: Departure): string {
  const values = `${what} ${valueWords(what, own)}, where ${COMMON[what]} is ${valueWords(what, set)}`;
  return `${values}; ${kept ? "it keeps its own" : `made with ${COMMON[what]}`}`;
}

function valueWords(what: Departure["what"], value: Departure["own"]): string {
  if (typeof value === "string") return what === "hand" && value === "both" ? "Z and S" : value;
  if (typeof value === "number") return formatMm(value);
  const [across, down] = value;
  return across === down ? formatMm(across) : `${formatMm(across)} × ${formatMm(down)}`;
}
