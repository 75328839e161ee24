/** A prepared job -> the files of its folder, as text, with their manifest. */
import type { CheckResult } from "../checks/check.ts";
import { inlayPicture } from "../crafts/leather-inlay/inlay-picture.ts";
import { inlaySheet, verdictOf } from "../crafts/leather-inlay/inlay-sheet.ts";
import { writeDxfR12 } from "../formats/dxf/r12.ts";
import { writeDxf } from "../formats/dxf/r2000.ts";
import { writeJobSheetHtml } from "../formats/job-sheet-html.ts";
import { makerModel } from "../formats/maker-model.ts";
import { writePictureSvg } from "../formats/picture-svg.ts";
import { writeSvg } from "../formats/svg.ts";
import type { Drawing } from "../output/drawing.ts";
import type { JobManifest } from "./job-manifest.ts";
import type { PreparedJob } from "./prepare-job.ts";
import type { NumberEntry, Profile } from "./profile.ts";

/** Kinds of file that are written only when asked for. */
export type ExtraFormat = "dxf-r12" | "maker-model";

export interface JobFilesOptions {
  readonly profile: Profile;
  readonly design: { readonly file: string; readonly sha256: string };
  readonly tool: { readonly name: string; readonly version: string };
  readonly extras: readonly ExtraFormat[];
  /** Write machine files although a check failed. */
  readonly despiteChecks: boolean;
  readonly sha256: (text: string) => string;
}

export interface TextFile {
  readonly path: string;
  readonly content: string;
}

export interface JobFiles {
  readonly manifest: JobManifest;
  readonly files: readonly TextFile[];
  /** Whether machine files are among them. */
  readonly machineFiles: boolean;
}

interface PlannedFile {
  readonly path: string;
  readonly kind: string;
  readonly purpose: string;
  readonly content: () => string;
}

export function makeJobFiles(prepared: PreparedJob, options: JobFilesOptions): JobFiles {
  const { job, title, settings } = prepared;
  const { tool, design } = options;
  const profile = profileAsUsed(options.profile, prepared);
  const { ready, text: verdict } = verdictOf(job.checks);
  const machineFiles = ready || options.despiteChecks;
  // Written all the same, a file for the machine must not look like one that passed.
  const { drawing: cuts } = job.cut;
  const drawing = ready
    ? cuts
    : { ...cuts, notes: [`${verdict} Written despite that, as asked for.`, ...cuts.notes] };
  const planned: PlannedFile[] = [
    ...(machineFiles ? drawingFiles("cut", drawing, "the cuts", options.extras) : []),
    {
      path: "preview.svg",
      kind: "picture",
      purpose: "what the finished inlay looks like, with its sizes",
      content: () => writePictureSvg(inlayPicture(title, job)),
    },
  ];
  const sheet: PlannedFile = {
    path: "job-sheet.html",
    kind: "sheet",
    purpose: "to print and take to the bench",
    content: () =>
      writeJobSheetHtml(
        inlaySheet(job, {
          title,
          settings,
          words: { ...profile, numbers: numbersInWords(profile) },
          files: [...planned, sheet].map(({ path, purpose }) => ({ name: path, purpose })),
          footer: `${tool.name} ${tool.version} · design ${design.file} · SHA-256 ${design.sha256.slice(0, 16)}…`,
        }),
      ),
  };
  const files = [...planned, sheet].map(({ path, kind, purpose, content }) => ({
    path,
    kind,
    purpose,
    text: content(),
  }));
  const manifest = makeManifest(prepared, { ...options, profile }, files, machineFiles);
  return {
    manifest,
    machineFiles,
    files: [
      ...files.map(({ path, text }) => ({ path, content: text })),
      { path: "job.json", content: `${JSON.stringify(manifest, null, 2)}\n` },
    ],
  };
}

/** A drawing in every vector format: the files that go to a machine. */
export function drawingFiles(
  name: string,
  drawing: Drawing,
  what: string,
  extras: readonly ExtraFormat[],
): PlannedFile[] {
  const files: PlannedFile[] = [
    {
      path: `${name}.dxf`,
      kind: "dxf",
      purpose: `${what}, for the machine (DXF 2000, mm)`,
      content: () => writeDxf(drawing),
    },
    {
      path: `${name}.svg`,
      kind: "svg",
      purpose: `${what}, for the machine (SVG, mm)`,
      content: () => writeSvg(drawing),
    },
  ];
  if (extras.includes("dxf-r12"))
    files.push({
      path: `${name}-r12.dxf`,
      kind: "dxf",
      purpose: `${what}, for old controllers (DXF R12, mm)`,
      content: () => writeDxfR12(drawing),
    });
  if (extras.includes("maker-model"))
    files.push({
      path: `${name}.model.json`,
      kind: "model",
      purpose: `${what}, as a makerjs model for people who go on in code`,
      content: () => `${JSON.stringify(makerModel(drawing))}\n`,
    });
  return files;
}

function makeManifest(
  { job, title, settings, corner }: PreparedJob,
  { profile, tool, design, sha256 }: JobFilesOptions,
  files: readonly { path: string; kind: string; purpose: string; text: string }[],
  machineFiles: boolean,
): JobManifest {
  const { pitchMm, widthMm, gapMm } = settings.ribbon;
  return withTidyNumbers({
    plaitwrightJob: 1,
    tool,
    title,
    design,
    profile: profileUsed(profile),
    settings: {
      pitchMm: [pitchMm.across, pitchMm.down],
      widthMm,
      gapMm,
      corner,
      kerfMm: settings.kerfMm,
      clearancePerSideMm: settings.clearancePerSideMm,
    },
    size: job.size,
    counts: job.counts,
    checks: job.checks,
    files: files.map(({ path, kind, purpose, text }) => ({ path, kind, purpose, sha256: sha256(text) })),
    layers: machineFiles
      ? job.cut.drawing.layers.map(({ name, purpose, paths }) => ({ name, purpose, entities: paths.length }))
      : [],
    ...(machineFiles ? { cutting: job.cut.cutting } : {}),
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

/** The profile with what the options of the job changed in it. */
function profileAsUsed(profile: Profile, { settings, corner }: PreparedJob): Profile {
  const { kerfMm } = profile.numbers;
  const given = { ...kerfMm, value: settings.kerfMm, source: "Given for this job." };
  const { way, kerfMeasured } = settings;
  return {
    ...profile,
    numbers: { ...profile.numbers, kerfMm: settings.kerfMm === kerfMm.value ? kerfMm : given },
    choices: { ...profile.choices, way, corner, kerfMeasured },
  };
}

/** The profile as the manifest names it: every number used, without its words. */
export function profileUsed({ name, craft, numbers, choices }: Profile): JobManifest["profile"] {
  return {
    name,
    craft,
    numbers: Object.fromEntries(Object.entries(numbers).map(([key, { value }]) => [key, value])),
    choices: { ...choices },
  };
}

export function numbersInWords(profile: Profile): ({ readonly key: string } & NumberEntry)[] {
  return Object.entries(profile.numbers).map(([key, entry]) => ({ key, ...entry }));
}

/** The failed checks and warnings first, as people want to read them. */
export function worstFirst(checks: readonly CheckResult[]): CheckResult[] {
  const order = { fail: 0, warning: 1, pass: 2 };
  return [...checks].sort((a, b) => order[a.verdict] - order[b.verdict]);
}
