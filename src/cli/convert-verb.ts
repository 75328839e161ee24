/** `convert` and `check`: a design through a profile, measured, and written as a job folder. */
import { createHash } from "node:crypto";
import { join } from "node:path";
import { formatMm } from "../base/format-number.ts";
import { verdictOf } from "../crafts/check-words.ts";
import type { ExtraFormat } from "../documents/craft.ts";
import { type JobFiles, makeJobFiles } from "../documents/job-files.ts";
import type { Overrides, Pitch } from "../documents/job-settings.ts";
import { placePanelFaults } from "../documents/panel-places.ts";
import { type PreparedJob, prepareJob } from "../documents/prepare-job.ts";
import { colours as pc } from "./colours.ts";
import { checkJobFolder, writeJobFolder } from "./job-folder.ts";
import { memoryFault } from "./memory.ts";
import { withProgress } from "./progress.ts";
import { readFonts } from "./read-fonts.ts";
import { besideOf, type LoadedDesign, readDesign, readProfile } from "./read-input.ts";
import { EXIT, print, printChecks, printJson, tellFaults } from "./report.ts";
import { TOOL } from "./tool.ts";

export interface CheckOptions {
  readonly profile: string;
  readonly pitch?: Pitch;
  readonly width?: number;
  readonly gap?: number;
  readonly corner?: "pointed" | "round";
  readonly size?: { readonly width: number; readonly height: number };
  readonly stretch?: boolean;
  readonly kerf?: number;
  readonly way?: "pieces" | "laced";
  readonly json?: boolean;
}

export interface ConvertOptions extends CheckOptions {
  readonly out: string;
  readonly despiteChecks?: boolean;
  readonly also?: readonly ExtraFormat[];
}

interface Prepared {
  readonly loaded: LoadedDesign;
  readonly prepared: PreparedJob;
}

/** Answers the exit code. */
export function runCheck(file: string, options: CheckOptions): number {
  const ready = prepare(file, options);
  if (typeof ready === "number") return ready;
  const { job, title, ribbon, verb } = ready.prepared;
  const verdict = verdictOf(job.checks, verb);
  if (options.json) {
    printJson({ title, ready: verdict.ready, size: job.size, settings: ribbon, checks: job.checks });
  } else {
    printHead(ready);
    printChecks(job.checks);
    print(`  ${verdict.text}`);
  }
  return verdict.ready ? EXIT.done : EXIT.checkFailed;
}

/** Answers the exit code. */
export function runConvert(file: string, options: ConvertOptions): number {
  const json = options.json ?? false;
  // Before the work: a folder that can't be written is no reason to wait for a long conversion.
  const folder = checkJobFolder(options.out);
  if (!folder.ok) return tellFaults(folder.faults, json);
  const ready = prepare(file, options);
  if (typeof ready === "number") return ready;
  const { prepared, loaded } = ready;
  const files = makeJobFiles(prepared, {
    design: { file: loaded.file.replace(/^.*[\\/]/, ""), sha256: sha256(loaded.text) },
    tool: TOOL,
    extras: options.also ?? [],
    despiteChecks: options.despiteChecks ?? false,
    sha256,
    fonts: readFonts,
  });
  const written = writeJobFolder(options.out, files.files);
  if (!written.ok) return tellFaults(written.faults, json);
  if (json) printJson({ out: options.out, ...files.manifest });
  else printConverted(ready, files, options.out);
  return verdictOf(prepared.job.checks, prepared.verb).ready ? EXIT.done : EXIT.checkFailed;
}

export function sha256(content: string | Uint8Array): string {
  return createHash("sha256").update(content).digest("hex");
}

function prepare(file: string, options: CheckOptions): Prepared | number {
  const json = options.json ?? false;
  const profile = readProfile(options.profile);
  if (!profile.ok) return tellFaults(profile.faults, json);
  const loaded = readDesign(file);
  if (!loaded.ok) return tellFaults(loaded.faults, json);
  const { design, title, text } = loaded.value;
  const memory = memoryFault(design.panel, "convert");
  if (memory) return tellFaults([{ ...memory, file }], json);
  const prepared = withProgress(json, (progress) =>
    prepareJob(design, title, profile.value, {
      overrides: overridesOf(options),
      readBeside: besideOf(file),
      progress,
    }),
  );
  if (!prepared.ok) return tellFaults(placePanelFaults(prepared.faults, text, file), json);
  return { loaded: loaded.value, prepared: prepared.value };
}

function overridesOf({ pitch, width, gap, corner, size, stretch, kerf, way }: CheckOptions): Overrides {
  return {
    ...(pitch === undefined ? {} : { pitchMm: pitch }),
    ...(width === undefined ? {} : { widthMm: width }),
    ...(gap === undefined ? {} : { gapMm: gap }),
    ...(corner === undefined ? {} : { corner }),
    ...(size === undefined ? {} : { sizeMm: size }),
    ...(stretch === undefined ? {} : { stretch }),
    ...(kerf === undefined ? {} : { kerfMm: kerf }),
    ...(way === undefined ? {} : { way }),
  };
}

function printHead({ prepared: { title, job, ribbon } }: Prepared): void {
  const { pitchMm, widthMm, gapMm } = ribbon;
  const pitch =
    pitchMm.across === pitchMm.down
      ? formatMm(pitchMm.across)
      : `${formatMm(pitchMm.across)} × ${formatMm(pitchMm.down)}`;
  print(pc.bold(title));
  print(
    `  finished ${formatMm(job.size.width)} × ${formatMm(job.size.height)}, pitch ${pitch}, ribbon ${formatMm(widthMm)}, gap ${formatMm(gapMm)}, ${job.made}`,
  );
}

function printConverted(ready: Prepared, { manifest, files, machineFiles }: JobFiles, out: string): void {
  printHead(ready);
  const { job, verb } = ready.prepared;
  for (const fact of machineFiles ? job.facts : []) print(`  ${fact}`);
  printChecks(manifest.checks);
  print(`  ${verdictOf(manifest.checks, verb).text}`);
  if (!machineFiles)
    print("  No file for the machine was written (--despite-checks writes them all the same).");
  for (const { path } of files) print(`  wrote ${join(out, path)}`);
  print("  Cautions:");
  for (const caution of manifest.cautions) print(`   - ${caution}`);
  print(`  ${manifest.standingLine}`);
}
