/** Practice sheets for teachers: a design's lattice step by step, sets of exercises, empty dots. */
import { done, type Result, refused } from "../base/fault.ts";
import { InternalError } from "../base/internal-error.ts";
import type { RingPaper, SquarePaper } from "../crafts/paper/dot-lattice.ts";
import { type Exercise, makeExercises } from "../crafts/paper/exercises.ts";
import { type PageSize, practiceDocument } from "../crafts/paper/practice-pages.ts";
import {
  answerDrawing,
  dotPaperItems,
  latticeDrawing,
  type PracticePanel,
  practiceStages,
  type StageDrawing,
} from "../crafts/paper/practice-sheet.ts";
import { moveBy } from "../geometry/transform.ts";
import { parsePanel } from "../lattice/panel.ts";
import { panelDiagram } from "../lattice/panel-diagram.ts";
import type { PaperDocument } from "../output/paper.ts";
import type { Design } from "./design.ts";
import { weavePanel } from "./woven-design.ts";

/** Nobody draws more in a lesson. */
export const MOST_EXERCISES = 100;

/** A design of one panel as a lattice to solve, its stages and the answer. Faults: `paper-impossible`. */
export function latticeSheet(design: Design, title: string, size: PageSize): Result<PaperDocument> {
  if (design.composition)
    return refused({
      code: "paper-impossible",
      reason: "a practice sheet is made of one panel, and this design is composed of pieces",
    });
  const panel = practicePanel(design.panel, design.pitchMm);
  if (!panel.ok) return panel;
  const [lattice, ...stages] = practiceStages(panel.value);
  const whole = { across: 1, down: 1, mostScale: 1.5 };
  return done(
    practiceDocument(
      title,
      [
        { title, ...whole, drawings: lattice ? [lattice] : [] },
        {
          title: `${title}: step by step`,
          across: 2,
          down: 3,
          mostScale: 1,
          isNumbered: true,
          drawings: stages,
        },
        { title: `${title}: answer`, ...whole, drawings: [answerDrawing(panel.value)] },
      ],
      size,
    ),
  );
}

export interface ExerciseRequest {
  readonly cells: { readonly across: number; readonly down: number };
  readonly count: number;
  readonly difficulty: number;
  readonly strands?: number;
  readonly seed: number;
  readonly pitchMm: number;
}

/** Lattices to solve, all different, and their answers at the end. Faults: `paper-impossible` where so many can't be had. */
export function exerciseSheet(request: ExerciseRequest, size: PageSize): Result<PaperDocument> {
  const { cells, count, difficulty, strands, seed, pitchMm } = request;
  const pitch = { across: pitchMm, down: pitchMm };
  const found = makeExercises(
    { size: cells, count, difficulty, seed, ...(strands === undefined ? {} : { strands }) },
    (rows) => drawn(rows, pitch),
  );
  if (found.length < count)
    return refused({
      code: "paper-impossible",
      reason: `only ${found.length} different exercises of ${cells.across} x ${cells.down} cells were found${strands === undefined ? "" : ` with ${strands} strands`} at difficulty ${difficulty}: take more cells, fewer exercises, or another number of strands`,
    });
  const panels = found.map((exercise) => panelOf(exercise, pitch));
  const titled = (drawing: StageDrawing, i: number): StageDrawing => ({
    ...drawing,
    title: `Exercise ${i + 1}`,
  });
  return done(
    practiceDocument(
      "Exercises",
      [
        {
          title: "Exercises",
          across: 1,
          down: 2,
          mostScale: 2,
          drawings: panels.map((panel, i) => titled(latticeDrawing(panel), i)),
        },
        {
          title: "Answers",
          across: 2,
          down: 3,
          mostScale: 1,
          drawings: panels.map((panel, i) => titled(answerDrawing(panel), i)),
        },
      ],
      size,
    ),
  );
}

/** Empty dots, as large as drawn. */
export function dotSheet(paper: SquarePaper | RingPaper, size: PageSize): PaperDocument {
  const middle = { x: size.widthMm / 2, y: size.heightMm / 2 };
  const from =
    paper.kind === "ring" ? middle : { x: middle.x - paper.widthMm / 2, y: middle.y - paper.heightMm / 2 };
  const items = [
    {
      kind: "group" as const,
      transform: moveBy(from.x, from.y),
      items: dotPaperItems(paper),
    },
  ];
  return { title: "Dot paper", language: "en", pages: [{ ...size, items }], structure: [] };
}

function practicePanel(rows: readonly string[], pitchMm: PracticePanel["pitchMm"]): Result<PracticePanel> {
  const panel = parsePanel(rows, ["panel"]);
  if (!panel.ok) return panel;
  return done({ rows, pitchMm, ...weavePanel(panel.value, "Z", { pitchMm, corner: "pointed" }) });
}

function panelOf({ rows }: Exercise, pitchMm: PracticePanel["pitchMm"]): PracticePanel {
  const panel = practicePanel(rows, pitchMm);
  if (!panel.ok) throw new InternalError("an exercise that does not read");
  return panel.value;
}

function drawn(rows: readonly string[], pitchMm: PracticePanel["pitchMm"]) {
  const panel = parsePanel(rows, []);
  if (!panel.ok) throw new InternalError("an exercise that does not read");
  return panelDiagram(panel.value, { pitchMm, corner: "pointed" });
}
