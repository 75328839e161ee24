/** How far apart a ball's finishing lines lie. */
import { scallopStepOver } from "./rates.ts";
import type { LoadedCutter } from "./settings.ts";

/**
 * Between the finishing lines of a ball, mm: what the ridge's height allows, and never over the
 * cutter's own stepover. On a face that slopes by an angle a across the lines they lie 1/cos a as
 * far apart, measured along it, and the ridges are higher by about the square of that.
 */
export function finishApart({ shape, stepOverMm }: LoadedCutter, scallopMm: number): number {
  return Math.min(stepOverMm, scallopStepOver(shape.diameterMm / 2, scallopMm));
}
