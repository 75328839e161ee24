/** Needle work as a craft: the stitches are laid, counted and proven before a record leaves. */
import { done, type Result } from "../base/fault.ts";
import { formatNumber } from "../base/format-number.ts";
import type { CheckResult } from "../checks/check.ts";
import { appliqueWork } from "../crafts/stitch/applique-work.ts";
import { layOnCloth } from "../crafts/stitch/cloth.ts";
import { type OutlineWork, outlineWork } from "../crafts/stitch/outline-work.ts";
import { satinWork } from "../crafts/stitch/satin-work.ts";
import { stitchPicture } from "../crafts/stitch/stitch-picture.ts";
import { stitchSheet } from "../crafts/stitch/stitch-sheet.ts";
import type { Sewn, StitchWork } from "../crafts/stitch/stitch-work.ts";
import { type PlanUse, threadUse } from "../crafts/stitch/thread-use.ts";
import { writePictureSvg } from "../formats/picture-svg.ts";
import { writeStitchRecord } from "../formats/stitch-record/write-stitch-record.ts";
import { writeStitchesSvg } from "../formats/stitches-svg.ts";
import { writeTransferSvg } from "../formats/transfer-svg.ts";
import type { StitchPlan } from "../output/stitches.ts";
import type { CraftJob, CraftKind, CraftRequest, MeasuredJob, PlannedFile, Progress } from "./craft.ts";
import { profileInWords } from "./profile.ts";
import { appliqueSettings, outlineSettings, satinSettings } from "./stitch-settings.ts";

export const STITCH_SATIN = stitchKind((request) => {
  const settings = satinSettings(request);
  return measured(satinWork(layOnCloth(request.woven, settings), settings), request, () => []);
});

export const STITCH_OUTLINE = stitchKind((request) => {
  const settings = outlineSettings(request);
  const work = outlineWork(layOnCloth(request.woven, settings), settings);
  return measured(work, request, () => transferFiles(work, request));
});

export const STITCH_APPLIQUE = stitchKind((request) => {
  const settings = appliqueSettings(request);
  return measured(appliqueWork(layOnCloth(request.woven, settings), settings), request, () => []);
});

function stitchKind(measure: (request: CraftRequest) => Result<MeasuredJob>): CraftKind {
  return { options: [], verb: "sew", mostCrossingsToProve: 400, measure };
}

function measured(
  work: StitchWork,
  request: CraftRequest,
  more: () => readonly PlannedFile[],
): Result<MeasuredJob> {
  return done({
    checks: work.checks,
    finish: (checks, progress) => finished(work, checks, request, { more, progress }),
  });
}

interface Finishing {
  readonly more: () => readonly PlannedFile[];
  readonly progress: Progress;
}

function finished(
  work: StitchWork,
  checks: readonly CheckResult[],
  request: CraftRequest,
  { more, progress }: Finishing,
): CraftJob {
  progress("laying the stitches", 0.1);
  // Ribbons that could not be drawn can't be sewn either.
  const sewn = work.cloth.ribbons.troubles.length > 0 ? undefined : work.sew();
  progress("counting thread", 0.9);
  const use = sewn && threadUse(sewn.blocks, work.settings);
  return craftJob(work, [...checks, ...(sewn?.checks ?? [])], request, { sewn, use, more });
}

interface SewnJob {
  readonly sewn: Sewn | undefined;
  readonly use: PlanUse | undefined;
  readonly more: () => readonly PlannedFile[];
}

function craftJob(
  { cloth, settings }: StitchWork,
  checks: readonly CheckResult[],
  request: CraftRequest,
  { sewn, use, more }: SewnJob,
): CraftJob {
  const { title, corner } = request;
  const profile = { ...request.profile, choices: { ...request.profile.choices, corner } };
  const picture = stitchPicture(title, cloth, settings, checks);
  const plan = (head: readonly string[]): StitchPlan => ({
    title,
    notes: [...head, profile.title, ...profile.cautions, profile.standingLine],
    bounds: cloth.bounds,
    blocks: sewn?.blocks ?? [],
  });
  return {
    size: cloth.size,
    checks,
    counts: {
      crossings: cloth.diagram.x.length,
      strands: cloth.strands.count,
      pieces: cloth.ribbons.pieces.length,
      threads: new Set(sewn?.blocks.map(({ thread }) => thread.colour)).size,
      blocks: sewn?.blocks.length ?? 0,
      stitches: use?.stitches ?? 0,
    },
    made: `${cloth.ribbons.pieces.length} ribbon pieces`,
    facts: sewn && use ? [...sewn.facts, useFact(use)] : [],
    profile,
    settings: {},
    work: use ? { ...sewn?.figures, ...useFigures(use) } : {},
    layers: [],
    machineFiles: (head) =>
      sewn
        ? [
            {
              path: "design.dst",
              kind: "stitch-record",
              purpose: "the trade's stitch record, for the machine; it holds no colours: the chart does",
              content: () => writeStitchRecord(plan(head)),
            },
            ...more(),
          ]
        : [],
    pictures: [
      {
        path: "preview.svg",
        kind: "picture",
        purpose: "the piece as planned, with its sizes",
        content: () => writePictureSvg(picture),
      },
      ...(sewn
        ? [
            {
              path: "stitches.svg",
              kind: "picture",
              purpose: "every stitch as thread, a group for each thread in sewing order",
              content: () => writeStitchesSvg(plan([])),
            },
          ]
        : []),
    ],
    sheet: (files, footer) =>
      stitchSheet(cloth, settings, {
        title,
        words: profileInWords(profile),
        checks,
        picture,
        figures: [],
        sewn,
        use,
        files,
        footer,
      }),
  };
}

function useFact(use: PlanUse): string {
  const metres = (mm: number) => formatNumber(mm / 1000, 1);
  return `${use.stitches} stitches, ${metres(use.upperMm)} m of thread and ${metres(use.bobbinMm)} m from ${use.bobbins === 1 ? "one bobbin" : `${use.bobbins} bobbins`}, about ${Math.max(1, Math.round(use.minutes))} min`;
}

function useFigures({
  stitches,
  jumps,
  trims,
  upperMm,
  bobbinMm,
  minutes,
  bobbins,
}: PlanUse): Record<string, number> {
  return { stitches, recordJumps: jumps, recordTrims: trims, upperMm, bobbinMm, minutes, bobbins };
}

/** For hand work: the lines at true size, as they are and mirrored. */
function transferFiles({ cloth, lines }: OutlineWork, { title, profile }: CraftRequest): PlannedFile[] {
  const notes = [profile.title, ...profile.cautions.slice(0, 1), profile.standingLine];
  const sheet = { title, notes, bounds: cloth.bounds, lines };
  return [
    { path: "transfer.svg", mirrored: false, purpose: "the lines at true size, for a light box" },
    {
      path: "transfer-mirrored.svg",
      mirrored: true,
      purpose: "the lines mirrored at true size, for an iron-on pen",
    },
  ].map(({ path, mirrored, purpose }) => ({
    path,
    kind: "transfer",
    purpose,
    content: () => writeTransferSvg(sheet, { mirrored }),
  }));
}
