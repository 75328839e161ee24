/** Option values read strictly: a number is wholly a number, or the message says what is wanted. */
import { InvalidArgumentError } from "commander";
import type { Pitch } from "../documents/job-settings.ts";

/** A length in mm above 0, at most 10 m. */
export function lengthMm(text: string): number {
  return numberBetween(text, 0.01, 10_000, "mm");
}

/** A kerf in mm: 0 for a knife, else as wide as a beam can be. */
export function kerfMm(text: string): number {
  return numberBetween(text, 0, 2, "mm");
}

/** One pitch for both ways, or ACROSSxDOWN. */
export function pitchMm(text: string): Pitch {
  const [across = "", down, ...more] = text.toLowerCase().split("x");
  if (more.length > 0) throw new InvalidArgumentError("Give one number, or two as 12x14 (mm).");
  const first = numberBetween(across, 0.5, 5000, "mm");
  return { across: first, down: down === undefined ? first : numberBetween(down, 0.5, 5000, "mm") };
}

/** WIDTHxHEIGHT in mm. */
export function sizeMm(text: string): { width: number; height: number } {
  const [width, height, ...more] = text.toLowerCase().split("x");
  if (width === undefined || height === undefined || more.length > 0)
    throw new InvalidArgumentError("Give width and height in mm as 300x200.");
  return { width: numberBetween(width, 1, 100_000, "mm"), height: numberBetween(height, 1, 100_000, "mm") };
}

/** COLUMNSxROWS of cells. */
export function cells(text: string): { across: number; down: number } {
  const [across, down, ...more] = text.toLowerCase().split("x");
  if (across === undefined || down === undefined || more.length > 0)
    throw new InvalidArgumentError("Give cells across and down as 6x4.");
  return { across: wholeBetween(across, 1, 10_000), down: wholeBetween(down, 1, 10_000) };
}

function wholeBetween(text: string, least: number, greatest: number): number {
  if (!/^\d+$/.test(text.trim())) throw new InvalidArgumentError(`“${text}” is not a whole number.`);
  return numberBetween(text, least, greatest, "");
}

function numberBetween(text: string, least: number, greatest: number, unit: string): number {
  const value = /^\s*[+-]?(\d+(\.\d*)?|\.\d+)\s*$/.test(text) ? Number(text) : Number.NaN;
  if (!Number.isFinite(value)) throw new InvalidArgumentError(`“${text}” is not a plain number.`);
  if (value < least || value > greatest)
    throw new InvalidArgumentError(`Allowed is ${least} to ${greatest}${unit === "" ? "" : ` ${unit}`}.`);
  return value;
}
