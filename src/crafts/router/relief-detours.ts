/**
 * Lines put between two finishing lines beside walls that run with them: there the lines alone
 * would leave a wall as thick as they lie apart.
 */
import type { HeightField } from "../../output/height-field.ts";
import type { FinishingLines } from "./relief-line.ts";
import type { Height } from "./relief-simplify.ts";

/** Steeper than this across the lines (rise over run), and it takes lines between. */
export const STEEP_ACROSS = 1.5;

/** A wall that slants more than this to the lines is cut closely enough by the lines themselves: stretches shorter than so many line distances. */
const SLANTING = 1.5;

/** Half way between two lines, narrow hollows that both pass by are looked for at every so many columns. */
const PROBE_COLUMNS = 3;

/** Lines put between two others beside a wall: an even number, so that the last one leads on. */
const LINES_BETWEEN = 2;

/** Lines between a line and the next, along a wall that runs with them; each from left to right. */
export interface Detour {
  readonly from: number;
  readonly to: number;
  readonly lines: readonly { readonly y: number; readonly heights: readonly Height[] }[];
}

export interface Between {
  readonly lines: FinishingLines;
  readonly field: HeightField;
  readonly from: readonly Height[];
  readonly to: readonly Height[];
  readonly y: number;
  readonly apart: number;
}

export function detoursBetween({ lines, field, from, to, y, apart }: Between): Detour[] {
  const here = columnHeights(from, field);
  const there = columnHeights(to, field);
  const spans: [first: number, last: number][] = [];
  const middle = lines.probe(y + apart / 2, PROBE_COLUMNS);
  for (let column = 0; column < field.columns; column++) {
    const a = here[column] ?? 0;
    const b = there[column] ?? 0;
    const pit = (a + b) / 2 - (middle[Math.floor(column / PROBE_COLUMNS)] ?? a);
    if (Math.abs(a - b) < STEEP_ACROSS * apart && pit < (STEEP_ACROSS * apart) / 2) continue;
    const last = spans.at(-1);
    if (last && column - last[1] <= apart / field.stepMm) last[1] = column;
    else spans.push([column, column]);
  }
  const long = spans.filter(([first, last]) => (last - first) * field.stepMm >= SLANTING * apart);
  const ys = Array.from({ length: LINES_BETWEEN }, (_, i) => y + ((i + 1) * apart) / (LINES_BETWEEN + 1));
  const between = ys.map((at) => long.map(([first, last]) => lines.heightsAt(at, first, last)));
  return long.map(([first, last], i) => ({
    from: field.minX + (first + 0.5) * field.stepMm,
    to: field.minX + (last + 0.5) * field.stepMm,
    lines: ys.map((at, j) => ({ y: at, heights: between[j]?.[i] ?? [] })),
  }));
}

/** The heights at the middles of the field's columns. */
function columnHeights(heights: readonly Height[], { columns, stepMm, minX }: HeightField): Float64Array {
  const z = new Float64Array(columns);
  let column = 0;
  for (const height of heights) {
    if (height.at < minX + (column + 0.5) * stepMm) continue;
    z[column] = height.z;
    column++;
  }
  return z;
}
