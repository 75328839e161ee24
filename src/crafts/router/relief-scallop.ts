/** Ridges that a ball leaves between parallel lines: h = r - sqrt(r^2 - (s/2)^2), s = 2 sqrt(2 r h - h^2) (CHECKS 5; handbook formula). */
import type { LoadedCutter } from "./settings.ts";

/** Height of the ridges between lines `apartMm` apart on a flat, mm. */
export function ridgeBetween(radiusMm: number, apartMm: number): number {
  return radiusMm - Math.sqrt(Math.max(0, radiusMm * radiusMm - (apartMm * apartMm) / 4));
}

/** How far apart lines may lie on a flat for ridges of this height, mm. */
export function apartForRidge(radiusMm: number, ridgeMm: number): number {
  const height = Math.min(ridgeMm, radiusMm);
  return 2 * Math.sqrt(2 * radiusMm * height - height * height);
}

/**
 * Between the finishing lines of a ball, mm: what the ridge's height allows, and never over the
 * cutter's own stepover. On a face that slopes by an angle a across the lines they lie 1/cos a as
 * far apart, measured along it, and the ridges are higher by about the square of that.
 */
export function finishApart({ shape, stepOverMm }: LoadedCutter, scallopMm: number): number {
  return Math.min(stepOverMm, apartForRidge(shape.diameterMm / 2, scallopMm));
}
