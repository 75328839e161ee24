/** `sheet`: pages to print for teachers: a lattice step by step, exercises, empty dots. */
import { done, type Result } from "../base/fault.ts";
import { dotSheet, exerciseSheet, latticeSheet } from "../documents/practice.ts";
import { writePdf } from "../formats/pdf/write-pdf.ts";
import type { PaperDocument } from "../output/paper.ts";
import { sheetNamed } from "../output/paper-size.ts";
import { readFonts } from "./read-fonts.ts";
import { readDesign } from "./read-input.ts";
import { EXIT, print, printJson, tellFaults } from "./report.ts";
import { writeWholeFile } from "./write-file.ts";

export const SHEET_PAPERS = ["A4", "A3", "Letter"];

/** What all kinds of sheets share. */
export interface SheetOptions {
  readonly out: string;
  readonly paper: string;
  readonly json?: boolean;
}

export interface ExerciseOptions extends SheetOptions {
  readonly cells: { readonly across: number; readonly down: number };
  readonly count: number;
  readonly strands?: number;
  readonly difficulty: number;
  readonly seed: number;
  readonly pitch: number;
}

export interface DotOptions extends SheetOptions {
  readonly pitch: number;
  readonly around?: number;
  readonly rows: number;
  readonly inner: number;
}

/** White on every side of a sheet of dots, mm. */
const DOT_MARGIN_MM = 12;

/** Answers the exit code. */
export function runLatticeSheet(file: string, options: SheetOptions): number {
  const loaded = readDesign(file);
  if (!loaded.ok) return tellFaults(loaded.faults, options.json ?? false);
  const { design, title } = loaded.value;
  const made = latticeSheet(design, title, pageSize(options));
  const placed = made.ok ? made : { ...made, faults: made.faults.map((fault) => ({ ...fault, file })) };
  return writeSheet(placed, options);
}

/** Answers the exit code. */
export function runExerciseSheet(options: ExerciseOptions): number {
  const { cells, count, strands, difficulty, seed, pitch } = options;
  const wish = { cells, count, difficulty, seed, pitchMm: pitch };
  return writeSheet(
    exerciseSheet(strands === undefined ? wish : { ...wish, strands }, pageSize(options)),
    options,
  );
}

/** Answers the exit code. */
export function runDotSheet(options: DotOptions): number {
  const { pitch, around, rows, inner } = options;
  const size = pageSize(options);
  const paper =
    around === undefined
      ? {
          kind: "square" as const,
          across: pitch,
          down: pitch,
          widthMm: size.widthMm - 2 * DOT_MARGIN_MM,
          heightMm: size.heightMm - 2 * DOT_MARGIN_MM,
        }
      : { kind: "ring" as const, around, rows, innerMm: inner, pitchMm: pitch };
  return writeSheet(done(dotSheet(paper, size)), options);
}

function pageSize({ paper }: SheetOptions): { widthMm: number; heightMm: number } {
  const { widthMm, heightMm } = sheetNamed(paper) ?? { widthMm: 210, heightMm: 297 };
  return { widthMm, heightMm };
}

function writeSheet(made: Result<PaperDocument>, { out, json = false }: SheetOptions): number {
  if (!made.ok) return tellFaults(made.faults, json);
  const { pages } = made.value;
  const written = writeWholeFile(out, writePdf(made.value, readFonts()));
  if (!written.ok) return tellFaults(written.faults, json);
  if (json) printJson({ out, pages: pages.length });
  else
    print(
      `wrote ${out}, ${pages.length} ${pages.length === 1 ? "page" : "pages"}: print at 100 percent, no scaling`,
    );
  return EXIT.done;
}
