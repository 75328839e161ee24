/** Leather inlay as a craft: its settings from a profile, and its job as files. */
import { done } from "../base/fault.ts";
import { formatNumber } from "../base/format-number.ts";
import { type InlayJob, makeInlayJob } from "../crafts/leather-inlay/inlay-job.ts";
import { inlayPicture } from "../crafts/leather-inlay/inlay-picture.ts";
import { inlaySheet } from "../crafts/leather-inlay/inlay-sheet.ts";
import type { InlaySettings } from "../crafts/leather-inlay/settings.ts";
import { writePictureSvg } from "../formats/picture-svg.ts";
import type { CraftJob, CraftKind, CraftRequest } from "./craft.ts";
import { choicesOf, valuesOf } from "./craft-rules.ts";
import { drawingFiles } from "./drawing-files.ts";
import { LEATHER_INLAY_CHOICES, LEATHER_INLAY_NUMBERS } from "./leather-inlay-rules.ts";
import { type Profile, profileInWords } from "./profile.ts";

export const LEATHER_INLAY: CraftKind = {
  options: ["kerf", "way"],
  verb: "cut",
  mostCrossingsToProve: 3000,
  measure: (request) => {
    const { settings, job } = inlayOf(request);
    return done({
      checks: job.checks,
      finish: (checks) => craftJob({ ...job, checks }, settings, request),
    });
  },
};

/** The inlay's own record, for those who want more than its files. */
export function inlayOf(request: CraftRequest): { readonly settings: InlaySettings; readonly job: InlayJob } {
  const settings = inlaySettings(request);
  const { title, woven, profile } = request;
  return { settings, job: makeInlayJob({ title, ...woven }, settings, machineNotes(profile, settings)) };
}

function inlaySettings({ profile, overrides, ribbon }: CraftRequest): InlaySettings {
  const numbers = valuesOf(profile, LEATHER_INLAY_NUMBERS);
  const choices = choicesOf(profile, LEATHER_INLAY_CHOICES);
  return {
    ...numbers,
    ribbon,
    way: overrides.way ?? choices.way,
    cutFace: choices.cutFace,
    kerfMm: overrides.kerfMm ?? numbers.kerfMm,
    kerfMeasured: overrides.kerfMm !== undefined || choices.kerfMeasured,
  };
}

/** What every machine file says at its head. */
function machineNotes(profile: Profile, settings: InlaySettings): string[] {
  return [
    `${profile.title}. Unit: mm. The kerf of ${formatNumber(settings.kerfMm, 3)} mm is already taken into account: set no compensation on the machine.`,
    settings.cutFace === "back"
      ? "Mirrored: the leather lies with its face down."
      : "Not mirrored: the leather lies with its face up.",
    ...profile.cautions,
    profile.standingLine,
  ];
}

function craftJob(job: InlayJob, settings: InlaySettings, request: CraftRequest): CraftJob {
  const { title } = request;
  const profile = profileAsUsed(request.profile, settings, request.corner);
  const { parts } = job.parts;
  const { drawing, cutting } = job.cut;
  return {
    size: job.size,
    checks: job.checks,
    counts: job.counts,
    made: `${parts.length} ${parts.length === 1 ? "part" : "parts"}`,
    facts: [
      `cut ${formatNumber(cutting.lengthMm / 1000, 2)} m, way between cuts ${formatNumber(cutting.travelMm / 1000, 2)} m (${formatNumber(cutting.travelInFileOrderMm / 1000, 2)} m in the order of the design)`,
    ],
    profile,
    settings: { kerfMm: settings.kerfMm, clearancePerSideMm: settings.clearancePerSideMm },
    work: cutting,
    layers: drawing.layers,
    machineFiles: (head, extras) =>
      drawingFiles("cut", { ...drawing, notes: [...head, ...drawing.notes] }, "the cuts", extras),
    pictures: [
      {
        path: "preview.svg",
        kind: "picture",
        purpose: "what the finished inlay looks like, with its sizes",
        content: () => writePictureSvg(inlayPicture(title, job)),
      },
    ],
    sheet: (files, footer) =>
      inlaySheet(job, { title, settings, words: profileInWords(profile), files, footer }),
  };
}

/** The profile with what the options of the job changed in it. */
function profileAsUsed(profile: Profile, settings: InlaySettings, corner: string): Profile {
  const { kerfMm } = profile.numbers;
  const { way, kerfMeasured } = settings;
  const changed = kerfMm && settings.kerfMm !== kerfMm.value;
  return {
    ...profile,
    numbers: changed
      ? {
          ...profile.numbers,
          kerfMm: { ...kerfMm, value: settings.kerfMm, source: "Given for this job." },
        }
      : profile.numbers,
    choices: { ...profile.choices, way, corner, kerfMeasured },
  };
}
