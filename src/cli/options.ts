/** Option values read strictly: a number is wholly a number, or the message says what is wanted. */
import { InvalidArgumentError } from "commander";
import { PITCH_MM } from "../documents/design.ts";
import type { Pitch } from "../documents/job-settings.ts";
import { MOST_EXERCISES } from "../documents/practice.ts";

/** The text of such a panel is as large as a design file may be. */
const MOST_CELLS = 12_000_000;

/** A length in mm above 0, at most 10 m. */
export function lengthMm(text: string): number {
  return numberBetween(text, 0.01, 10_000, "mm");
}

/** A kerf in mm: 0 for a knife, else as wide as a beam can be. */
export function kerfMm(text: string): number {
  return numberBetween(text, 0, 2, "mm");
}

/** A pitch in mm, within what a design may hold. */
export function squarePitchMm(text: string): number {
  return numberBetween(text, PITCH_MM.least, PITCH_MM.greatest, "mm");
}

/** One pitch for both ways, or ACROSSxDOWN. */
export function pitchMm(text: string): Pitch {
  if (!/x/i.test(text)) {
    const pitch = squarePitchMm(text);
    return { across: pitch, down: pitch };
  }
  const [across, down] = pairOf(text, "Give one number, or two as 12x14 (mm).");
  return { across: squarePitchMm(across), down: squarePitchMm(down) };
}

/** WIDTHxHEIGHT in mm. */
export function sizeMm(text: string): { width: number; height: number } {
  const [width, height] = pairOf(text, "Give width and height in mm as 300x200.");
  return { width: numberBetween(width, 1, 100_000, "mm"), height: numberBetween(height, 1, 100_000, "mm") };
}

/** COLUMNSxROWS of cells. */
export function cells(text: string): { across: number; down: number } {
  const [first, second] = pairOf(text, "Give cells across and down as 6x4.");
  const across = wholeBetween(first, 1, 10_000);
  const down = wholeBetween(second, 1, 10_000);
  if (across * down > MOST_CELLS)
    throw new InvalidArgumentError(`Allowed are ${MOST_CELLS} cells in all: larger designs are not read.`);
  return { across, down };
}

/** Strands side by side in a new frame, ring or strip. */
export function strandCount(text: string): number {
  return wholeBetween(text, 1, 100);
}

/** Cells in a row: round a ring, or along a strip. */
export function cellCount(text: string): number {
  return wholeBetween(text, 1, 10_000);
}

/** The longest side of a picture in pixels: more than any screen or printer of ours shows. */
export const MOST_PX = 20_000;

/** The width of a picture in pixels. */
export function pixels(text: string): number {
  return wholeBetween(text, 16, MOST_PX, "pixels");
}

/** Two numbers' texts on both sides of an x. */
function pairOf(text: string, wanted: string): readonly [string, string] {
  const [first, second, ...more] = text.split(/x/i);
  if (!first || !second || more.length > 0) throw new InvalidArgumentError(wanted);
  return [first, second];
}

function wholeBetween(text: string, least: number, greatest: number, unit = ""): number {
  if (!/^\d+$/.test(text.trim())) throw new InvalidArgumentError(`“${text}” is not a whole number.`);
  return numberBetween(text, least, greatest, unit);
}

function numberBetween(text: string, least: number, greatest: number, unit: string): number {
  const value = /^\s*[+-]?(\d+(\.\d*)?|\.\d+)\s*$/.test(text) ? Number(text) : Number.NaN;
  if (!Number.isFinite(value)) throw new InvalidArgumentError(`“${text}” is not a plain number.`);
  if (value < least || value > greatest)
    throw new InvalidArgumentError(`Allowed is ${least} to ${greatest}${unit === "" ? "" : ` ${unit}`}.`);
  return value;
}

/** Exercises on one set of sheets. */
export function exerciseCount(text: string): number {
  return wholeBetween(text, 1, MOST_EXERCISES);
}

/** Cells of a practice lattice, few enough to be drawn by hand. */
export function fewCells(text: string): { across: number; down: number } {
  const [first, second] = pairOf(text, "Give cells across and down as 5x4.");
  return { across: wholeBetween(first, 1, 20), down: wholeBetween(second, 1, 20) };
}

export function difficulty(text: string): number {
  return wholeBetween(text, 1, 5);
}

/** A number to draw lots with: the same one gives the same exercises again. */
export function seedNumber(text: string): number {
  return wholeBetween(text, 0, 2_147_483_647);
}
