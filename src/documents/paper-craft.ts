/** Templates for work by hand as crafts: drawn in true size, laid on sheets, with a key. */
import { done, type Result } from "../base/fault.ts";
import { formatMm } from "../base/format-number.ts";
import type { CheckResult } from "../checks/check.ts";
import { sheetCheck, verdictOf } from "../crafts/check-words.ts";
import { wordsOnSheet } from "../crafts/craft-words.ts";
import { carvingJob, carvingTemplate } from "../crafts/paper/carving-template.ts";
import { withKey } from "../crafts/paper/key-page.ts";
import { leatherJob, leatherTemplate } from "../crafts/paper/leather-template.ts";
import { lineJob, linePattern } from "../crafts/paper/line-pattern.ts";
import type { PaperKnot } from "../crafts/paper/paper-knot.ts";
import { piercedDrawing, piercedJob, piercedTemplate } from "../crafts/paper/pierced-template.ts";
import type { Template } from "../crafts/paper/template.ts";
import { templatePicture } from "../crafts/paper/template-picture.ts";
import { type TiledDrawing, tileDrawing } from "../crafts/paper/tiles.ts";
import { writePdf } from "../formats/pdf/write-pdf.ts";
import { writePictureSvg } from "../formats/picture-svg.ts";
import type { Drawing } from "../output/drawing.ts";
import type { JobSheet } from "../output/job-sheet.ts";
import type { Picture } from "../output/picture.ts";
import type { CraftJob, CraftKind, CraftRequest, MeasuredJob, PlannedFile } from "./craft.ts";
import { drawingFiles } from "./drawing-files.ts";
import {
  carvingSettings,
  knifeSettings,
  patternSettings,
  piercedSettings,
  sheetSettings,
} from "./paper-settings.ts";
import { profileInWords } from "./profile.ts";

/** What the four templates have in common. */
interface PaperWork {
  readonly knot: PaperKnot;
  readonly checks: readonly CheckResult[];
  readonly template: (title: string) => Template;
  /** For a machine that cuts the same. */
  readonly drawing?: (title: string) => Drawing;
  readonly counts?: Readonly<Record<string, number>>;
}

export const TEMPLATE_CARVING = paperKind("carve", (request) => {
  const settings = carvingSettings(request);
  const job = carvingJob(request.woven, settings);
  return { ...job, template: (title) => carvingTemplate(title, job, settings) };
});

export const TEMPLATE_LEATHER = paperKind("cut", (request) => {
  const settings = knifeSettings(request);
  const job = leatherJob(request.woven, settings);
  return { ...job, template: (title) => leatherTemplate(title, job, settings) };
});

export const TEMPLATE_PIERCED = paperKind("cut", (request) => {
  const settings = piercedSettings(request);
  const job = piercedJob(request.woven, settings);
  return {
    ...job,
    template: (title) => piercedTemplate(title, job, settings),
    drawing: (title) => piercedDrawing(title, job, settings),
    counts: { bridges: job.piece.bridges.length },
  };
});

export const PATTERN_LINE = paperKind("print", (request) => {
  const settings = patternSettings(request);
  const job = lineJob(request.woven, settings);
  return { ...job, template: (title) => linePattern(title, job, settings) };
});

function paperKind(verb: string, measure: (request: CraftRequest) => PaperWork): CraftKind {
  return {
    options: [],
    verb,
    mostCrossingsToProve: 200,
    measure: (request) => {
      const work = measure(request);
      const template = work.template(request.title);
      const sheets = tiled(template, request);
      if (!sheets.ok) return sheets;
      return measured(work, template, sheets.value, request);
    },
  };
}

/** As it lies, and mirrored if that is wanted. */
type Sheets = readonly { readonly name: string; readonly purpose: string; readonly tiles: TiledDrawing }[];

function tiled(template: Template, { profile }: CraftRequest): Result<Sheets> {
  const { tiles: options, mirrored } = sheetSettings(profile);
  const { title, description, bounds, groups } = template;
  const content = { title, description, bounds, items: groups.flatMap(({ items }) => items) };
  const plain = tileDrawing(content, options);
  if (!plain.ok) return plain;
  const sheets = [{ name: "template.pdf", purpose: "the template in true size", tiles: plain.value }];
  if (!mirrored) return done(sheets);
  const turned = tileDrawing(content, { ...options, mirrored: true });
  if (!turned.ok) return turned;
  const purpose = "the template mirrored, for a transfer face down";
  return done([...sheets, { name: "template-mirrored.pdf", purpose, tiles: turned.value }]);
}

function measured(
  work: PaperWork,
  template: Template,
  sheets: Sheets,
  request: CraftRequest,
): Result<MeasuredJob> {
  return done({
    checks: work.checks,
    finish: (checks) => craftJob(work, { checks, template, sheets }, request),
  });
}

interface MadeTemplate {
  readonly checks: readonly CheckResult[];
  readonly template: Template;
  readonly sheets: Sheets;
}

function craftJob(work: PaperWork, made: MadeTemplate, request: CraftRequest): CraftJob {
  const { title, corner } = request;
  const { checks, template, sheets } = made;
  const profile = { ...request.profile, choices: { ...request.profile.choices, corner } };
  const picture = templatePicture(template, checks);
  const drawing = work.drawing?.(title);
  return {
    size: template.size,
    checks,
    counts: {
      crossings: work.knot.diagram.x.length,
      strands: work.knot.strands.count,
      sheets: sheets[0]?.tiles.grid.tiles.length ?? 0,
      ...work.counts,
    },
    made:
      sheets[0]?.tiles.grid.tiles.length === 1 ? "1 sheet" : `${sheets[0]?.tiles.grid.tiles.length} sheets`,
    facts: sheets.map(({ name, tiles }) => `${name}: ${tiles.summary}`),
    profile,
    settings: {},
    work: {},
    layers: drawing?.layers ?? [],
    machineFiles: (head, extras) =>
      drawing
        ? drawingFiles("pierced", { ...drawing, notes: [...head, ...drawing.notes] }, "the openings", extras)
        : [],
    pictures: [
      ...sheets.map(
        ({ name, purpose, tiles }): PlannedFile => ({
          path: name,
          kind: "template",
          purpose: `${purpose}: ${tiles.summary}`,
          content: (fonts) => templatePdf(template, tiles, request, fonts()),
        }),
      ),
      {
        path: "preview.svg",
        kind: "picture",
        purpose: "the template in little",
        content: () => writePictureSvg(picture),
      },
    ],
    sheet: (files, footer) => sheetOf(request, { ...made, picture, files, footer, profile }),
  };
}

function templatePdf(
  template: Template,
  { document, grid }: TiledDrawing,
  { profile }: CraftRequest,
  fonts: Parameters<typeof writePdf>[1],
): Uint8Array {
  const words = [...profile.cautions, profile.standingLine];
  const size = { widthMm: grid.mapWidthMm, heightMm: Math.max(grid.mapHeightMm, LEAST_KEY_MM) };
  return writePdf(withKey(document, template, words, size), fonts);
}

/** A strip of a roll is too low for a key. */
const LEAST_KEY_MM = 200;

interface SheetFacts extends MadeTemplate {
  readonly picture: Picture;
  readonly files: JobSheet["files"];
  readonly footer: string;
  readonly profile: CraftRequest["profile"];
}

function sheetOf({ title, ribbon, profile: own }: CraftRequest, facts: SheetFacts): JobSheet {
  const { checks, template, sheets, picture, files, footer, profile } = facts;
  const common = wordsOnSheet(profileInWords(profile));
  const { across, down } = ribbon.pitchMm;
  return {
    ...common,
    title,
    verdict: verdictOf(checks, VERBS[own.craft] ?? "print"),
    picture,
    figures: [],
    sizes: [
      {
        name: "Finished piece",
        value: `${formatMm(template.size.width)} × ${formatMm(template.size.height)}`,
      },
      {
        name: "Pitch",
        value: across === down ? formatMm(across) : `${formatMm(across)} across, ${formatMm(down)} down`,
      },
      { name: "Ribbon", value: formatMm(ribbon.widthMm) },
      ...sheets.map(({ name, tiles }) => ({ name, value: tiles.summary })),
    ],
    tables: template.tables.map(({ title: of, columns, rows }) => ({
      title: of,
      columns: columns.map((column) => ({ title: column })),
      rows,
    })),
    steps: [...template.notes, ...common.steps],
    checks: checks.map(sheetCheck),
    files,
    footer,
  };
}

const VERBS: Readonly<Record<string, string>> = { "template-carving": "carve", "pattern-line": "print" };
