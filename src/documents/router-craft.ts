/**
 * Router work as a craft. The text of the machine files is written first and read back by our own
 * interpreter; what it says is tried out on the board, and only then a file may leave.
 */
import { done, refused } from "../base/fault.ts";
import { formatNumber } from "../base/format-number.ts";
import { InternalError } from "../base/internal-error.ts";
import type { CheckResult } from "../checks/check.ts";
import { carveDrawing } from "../crafts/router/carve-drawing.ts";
import { carvedPicture, deviationPicture, plainPicture } from "../crafts/router/carve-picture.ts";
import { carveSheet, type SheetRun, timeText, totalSeconds } from "../crafts/router/carve-sheet.ts";
import type { CarvePlan, Carving } from "../crafts/router/carve-work.ts";
import { grooveCarving } from "../crafts/router/groove-carving.ts";
import { groundCarving } from "../crafts/router/ground-carving.ts";
import { tabTrouble } from "../crafts/router/panel-cut.ts";
import { reliefCarving } from "../crafts/router/relief-carving.ts";
import { layPanel } from "../crafts/router/router-panel.ts";
import { busiestLine, sectionPicture } from "../crafts/router/section.ts";
import { toolProgram } from "../crafts/router/tool-program.ts";
import { type Trial, tryOut } from "../crafts/router/trial.ts";
import { readNgc } from "../formats/ngc/ngc-interpreter.ts";
import type { NgcRun } from "../formats/ngc/ngc-reading.ts";
import { writeNgc } from "../formats/ngc/write-ngc.ts";
import { writePictureSvg } from "../formats/picture-svg.ts";
import { writePng16 } from "../formats/png.ts";
import { writeStl } from "../formats/stl.ts";
import { chainBounds } from "../geometry/arc-chain.ts";
import { croppedField } from "../output/height-field.ts";
import { heightMesh } from "../output/height-mesh.ts";
import type { JobSheet } from "../output/job-sheet.ts";
import type { ToolProgram, ToolRun } from "../output/toolpath.ts";
import { estimateTime } from "../output/toolpath-time.ts";
import type { CraftJob, CraftKind, CraftRequest, PlannedFile, Progress } from "./craft.ts";
import { choicesOf } from "./craft-rules.ts";
import { drawingFiles } from "./drawing-files.ts";
import { profileInWords } from "./profile.ts";
import { ROUTER_CHOICES } from "./router-rules.ts";
import { grooveSettings, groundSettings, reliefSettings } from "./router-settings.ts";

export const ROUTER_GROUND = routerKind((request) => {
  const settings = groundSettings(request);
  return groundCarving(layPanel(request.woven.diagram, request.woven.strands, settings), settings);
});

export const ROUTER_GROOVE = routerKind((request) => {
  const settings = grooveSettings(request);
  return grooveCarving(layPanel(request.woven.diagram, request.woven.strands, settings), settings);
});

export const ROUTER_RELIEF = routerKind((request) => {
  const settings = reliefSettings(request);
  return reliefCarving(layPanel(request.woven.diagram, request.woven.strands, settings), settings);
});

function routerKind(carve: (request: CraftRequest) => Carving): CraftKind {
  return {
    options: [],
    verb: "carve",
    mostCrossingsToProve: 100,
    measure: (request) => {
      const carving = carve(request);
      const trouble = tabTrouble(carving.panel, carving.settings);
      if (trouble !== undefined)
        return refused({ code: "numbers-clash", reason: trouble, path: ["numbers", "tabCount"] });
      return done({
        checks: carving.checks,
        finish: (checks, progress) => finished(carving, checks, request, progress),
      });
    },
  };
}

/** A file for the machine: the runs of one cutter, or all of them. */
interface MachineFile {
  readonly name: string;
  readonly runs: readonly ToolRun[];
}

interface TriedWork {
  readonly plan: CarvePlan;
  readonly trial: Trial;
  readonly files: readonly MachineFile[];
  readonly runs: readonly SheetRun[];
}

function finished(
  carving: Carving,
  checks: readonly CheckResult[],
  request: CraftRequest,
  progress: Progress,
): CraftJob {
  const hopeless = checks.some(({ rule, verdict }) => rule === "ribbon-room" && verdict === "fail");
  const work = hopeless ? undefined : triedWork(carving, request, progress);
  return craftJob(carving, [...checks, ...(work?.trial.checks ?? [])], request, work);
}

function triedWork(carving: Carving, request: CraftRequest, progress: Progress): TriedWork {
  const { panel, settings } = carving;
  progress("planning the cuts", 0);
  const plan = carving.plan();
  const files = machineFiles(plan.runs, request);
  progress("writing and reading back", 0.4);
  // The cautions at the head do not move a cutter: the trial goes without them.
  const program = toolProgram(panel, plan.runs, settings, wordsOf(request, []));
  const read = files.flatMap((file) => readBack(program, file));
  progress("trying the cuts out", 0.5);
  const trial = tryOut(read, plan, panel, settings);
  progress("drawing", 0.9);
  const fileOf = new Map(files.flatMap(({ name, runs }) => runs.map((run) => [run, name] as const)));
  const runs = plan.runs.map((run, i): SheetRun => {
    const cutter = settings.cutters.find(({ number }) => number === run.cutter.number);
    const measures = trial.perRun[i];
    if (!cutter || !measures) throw new InternalError("a run of no known cutter");
    const time = estimateTime(run, settings.machine);
    return { file: fileOf.get(run) ?? "", purpose: run.purpose, cutter, time, measures };
  });
  return { plan, trial, files, runs };
}

function machineFiles(runs: readonly ToolRun[], { profile }: CraftRequest): MachineFile[] {
  if (runs.length === 0) return [];
  if (choicesOf(profile, ROUTER_CHOICES).files === "one") return [{ name: "carve.ngc", runs }];
  return runs.map((run, i) => ({ name: `${i + 1}-${fileWord(run)}.ngc`, runs: [run] }));
}

/** "clear-6mm": what stands on the cutter's box, as a file may be called. */
function fileWord({ cutter, purpose }: ToolRun): string {
  const [verb = "cut"] = purpose.toLowerCase().split(/[^a-z]+/);
  const { kind, diameterMm } = cutter.shape;
  const size = formatNumber(diameterMm, 2).replace(".", "-");
  return `${verb}-${kind === "end-mill" ? "mill" : kind}-${size}mm`;
}

/** The file's own words as motions, in the panel's coordinates. */
function readBack(
  program: ToolProgram,
  { name, runs }: MachineFile,
): Pick<ToolRun, "cutter" | "start" | "motions">[] {
  const { runs: read, refusals } = readNgc(writeNgc(program, runs));
  const [refusal] = refusals;
  if (refusal || read.length !== runs.length)
    throw new InternalError(
      `${name} does not read back: line ${refusal?.line ?? 0}, ${refusal?.reason ?? "runs are missing"}`,
    );
  return runs.map(({ cutter }, i) => {
    const own = read[i];
    if (!own || own.toolNumber !== cutter.number) throw new InternalError(`${name} names another cutter`);
    return { cutter, ...movedBy(own, program.originAt) };
  });
}

function movedBy(
  { start, motions }: NgcRun,
  { x, y }: ToolProgram["originAt"],
): Pick<ToolRun, "start" | "motions"> {
  if (x === 0 && y === 0) return { start, motions };
  return {
    start: { ...start, x: start.x + x, y: start.y + y },
    motions: motions.map((motion) =>
      motion.kind === "arc"
        ? {
            ...motion,
            x: motion.x + x,
            y: motion.y + y,
            centreX: motion.centreX + x,
            centreY: motion.centreY + y,
          }
        : { ...motion, x: motion.x + x, y: motion.y + y },
    ),
  };
}

function wordsOf({ title, profile }: CraftRequest, head: readonly string[]) {
  const { cautions, standingLine } = profile;
  return { title, head, craft: profile.title, cautions, standingLine };
}

function craftJob(
  carving: Carving,
  checks: readonly CheckResult[],
  request: CraftRequest,
  work: TriedWork | undefined,
): CraftJob {
  const { panel, settings } = carving;
  const { title, corner } = request;
  const profile = { ...request.profile, choices: { ...request.profile.choices, corner } };
  const look = { title, look: choicesOf(profile, ROUTER_CHOICES).look, checks };
  const picture = work
    ? carvedPicture(panel, work.plan, work.trial, settings, look)
    : plainPicture(panel, look);
  const figures = work ? figuresOf(carving, work) : [];
  const drawing = work && carveDrawing(title, panel, work.plan, []);
  const seconds = work ? totalSeconds(work.runs) : 0;
  return {
    size: panel.size,
    checks,
    counts: {
      crossings: panel.diagram.x.length,
      strands: panel.strands.count,
      pieces: panel.ribbons.pieces.length,
      cutters: new Set(work?.runs.map(({ cutter }) => cutter.number)).size,
      files: work?.files.length ?? 0,
    },
    made: `${panel.ribbons.pieces.length} ribbon pieces`,
    facts: work
      ? [
          ...work.runs.map(
            ({ file, purpose, time }) =>
              `${file}: ${purpose}, ${formatNumber(time.cutMm / 1000, 1)} m, about ${timeText(time.seconds)}`,
          ),
          `at the cutter about ${timeText(seconds)} in all, changes of cutter not counted`,
          ...work.plan.facts,
        ]
      : [],
    profile,
    settings: { stockThicknessMm: settings.stockThicknessMm },
    work: work ? workFigures(work, seconds) : {},
    layers: drawing?.layers ?? [],
    machineFiles: (head, extras) => {
      if (!work || !drawing) return [];
      const program = toolProgram(panel, work.plan.runs, settings, wordsOf(request, head));
      return [
        ...work.files.map(
          ({ name, runs }): PlannedFile => ({
            path: name,
            kind: "g-code",
            purpose: runs.map(({ cutter, purpose }) => `${purpose} with ${cutter.name}`).join("; "),
            content: () => writeNgc(program, runs),
          }),
        ),
        ...drawingFiles(
          "carve",
          { ...drawing, notes: program.notes },
          "the outlines to carve, true size",
          extras,
        ),
        ...surfaceFiles(carving, work, title),
      ];
    },
    pictures: [
      {
        path: "preview.svg",
        kind: "picture",
        purpose: "what the carved panel looks like, as simulated, with its sizes",
        content: () => writePictureSvg(picture),
      },
      ...figures.map(
        ({ file, caption, picture: figure }): PlannedFile => ({
          path: file,
          kind: "picture",
          purpose: caption,
          content: () => writePictureSvg(figure),
        }),
      ),
    ],
    sheet: (files, footer) =>
      carveSheet(panel, settings, {
        title,
        words: profileInWords(profile),
        checks,
        picture,
        figures,
        runs: work?.runs ?? [],
        facts: work?.plan.facts ?? [],
        files,
        footer,
      }),
  };
}

function workFigures({ trial, runs }: TriedWork, seconds: number): Record<string, number> {
  const { compared, perRun } = trial;
  return {
    seconds,
    cutMm: runs.reduce((sum, { time }) => sum + time.cutMm, 0),
    rapidMm: runs.reduce((sum, { time }) => sum + time.rapidMm, 0),
    removedMm3: perRun.reduce((sum, { removedMm3 }) => sum + removedMm3, 0),
    tooLowMm: compared.below.worst,
    tooHighMm: compared.above.worst,
  };
}

interface NamedFigure {
  readonly file: string;
  readonly caption: string;
  readonly picture: JobSheet["picture"];
}

function figuresOf({ panel, settings }: Carving, { trial }: TriedWork): NamedFigure[] {
  const line = busiestLine(panel.diagram, panel.size, settings.ribbon.widthMm / 2);
  const { below, above } = trial.compared;
  const figures: NamedFigure[] = [
    {
      file: "section.svg",
      caption: "the panel cut through, with its depths",
      // Without the slot round the panel, whose tabs would pass for the deepest cut.
      picture: sectionPicture(croppedField(trial.field, chainBounds(panel.outline)), line, settings),
    },
  ];
  if (below.worst > 0 || above.worst > 0)
    figures.push({
      file: "deviation.svg",
      caption: "where the carved surface lies off the intended one beyond the tolerance",
      picture: deviationPicture(panel, trial, settings),
    });
  return figures;
}

/** Height map and mesh, where the work has a surface of its own. */
function surfaceFiles({ settings }: Carving, { plan }: TriedWork, title: string): PlannedFile[] {
  const { surface } = plan;
  if (!surface || settings.work !== "relief") return [];
  const lowZMm = -settings.stockThicknessMm;
  return [
    {
      path: "relief.png",
      kind: "height-map",
      purpose: "the relief as heights, 16 bits; black is the board's underside, white its upper face",
      content: () => writePng16(surface, { title, lowZMm, highZMm: 0 }),
    },
    {
      path: "relief.stl",
      kind: "mesh",
      purpose: "the relief as a solid, lengths in mm",
      content: () =>
        writeStl(heightMesh(surface, { bottomZMm: lowZMm, deviationMm: settings.meshDeviationMm })),
    },
  ];
}
