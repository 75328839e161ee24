/** A finished job -> the files of its folder with their manifest. */
import { verdictOf } from "../crafts/check-words.ts";
import type { PaperFonts } from "../formats/pdf/faces.ts";
import type { ExtraFormat } from "./craft.ts";
import type { JobManifest } from "./job-manifest.ts";
import type { PreparedJob } from "./prepare-job.ts";
import { profileUsed } from "./profile.ts";
import { type MadeFile, SHEET_FILES, sheetFiles } from "./sheet-files.ts";

export interface JobFilesOptions {
  readonly design: { readonly file: string; readonly sha256: string };
  readonly tool: { readonly name: string; readonly version: string };
  readonly extras: readonly ExtraFormat[];
  /** Write machine files although a check failed. */
  readonly despiteChecks: boolean;
  readonly sha256: (content: string | Uint8Array) => string;
  /** The typefaces that printed pages embed; read only where a job has any. */
  readonly fonts: () => PaperFonts;
}

export interface WrittenFile {
  readonly path: string;
  readonly content: string | Uint8Array;
}

export interface JobFiles {
  readonly manifest: JobManifest;
  readonly files: readonly WrittenFile[];
  /** Whether machine files are among them. */
  readonly machineFiles: boolean;
}

export function makeJobFiles(prepared: PreparedJob, options: JobFilesOptions): JobFiles {
  const { job, verb } = prepared;
  const { tool, design, extras, despiteChecks, fonts } = options;
  const { ready, text: verdict } = verdictOf(job.checks, verb);
  const machineFiles = ready || despiteChecks;
  // Written all the same, a file for the machine must not look like one that passed.
  const head = ready ? [] : [`${verdict} Written despite that, as asked for.`];
  const planned = [...(machineFiles ? job.machineFiles(head, extras) : []), ...job.pictures];
  const listed = [...planned, ...SHEET_FILES].map(({ path, purpose }) => ({ name: path, purpose }));
  const footer = `${tool.name} ${tool.version} · design ${design.file} · SHA-256 ${design.sha256.slice(0, 16)}…`;
  const files: MadeFile[] = [
    ...planned.map((file) => ({ ...file, content: file.content(fonts) })),
    ...sheetFiles(job.sheet(listed, footer), fonts),
  ];
  const manifest = makeManifest(prepared, options, files, machineFiles);
  return {
    manifest,
    machineFiles,
    files: [
      ...files.map(({ path, content }) => ({ path, content })),
      { path: "job.json", content: `${JSON.stringify(manifest, null, 2)}\n` },
    ],
  };
}

function makeManifest(
  { job, title, ribbon, corner }: PreparedJob,
  { tool, design, sha256 }: JobFilesOptions,
  files: readonly MadeFile[],
  machineFiles: boolean,
): JobManifest {
  const { pitchMm, widthMm, gapMm } = ribbon;
  const { profile } = job;
  return withTidyNumbers({
    plaitwrightJob: 1,
    tool,
    title,
    design,
    profile: profileUsed(profile),
    settings: { pitchMm: [pitchMm.across, pitchMm.down], widthMm, gapMm, corner, ...job.settings },
    size: job.size,
    counts: job.counts,
    checks: job.checks,
    files: files.map(({ path, kind, purpose, content }) => ({
      path,
      kind,
      purpose,
      sha256: sha256(content),
    })),
    layers: machineFiles
      ? job.layers.map(({ name, purpose, paths }) => ({ name, purpose, entities: paths.length }))
      : [],
    ...(machineFiles ? { work: job.work } : {}),
    cautions: profile.cautions,
    standingLine: profile.standingLine,
  });
}

/** Rounded to a millionth, far below anything measured: 96, not 96.00000000000001. */
function withTidyNumbers(manifest: JobManifest): JobManifest {
  const tidy = (_key: string, value: unknown) =>
    typeof value === "number" ? Number(value.toFixed(6)) : value;
  return JSON.parse(JSON.stringify(manifest, tidy)) as JobManifest;
}
