/**
 * Lines put between two finishing lines: beside walls that run with them, where the lines alone
 * would leave a wall as thick as they lie apart, and in hollows that both pass by.
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

/** A hollow may be deeper than what both lines leave in it by this share of the tolerance: it need not be deepest half way. */
const HOLLOW_SHARE = 0.5;

/** Lines put between two others: an even number, so that the last one leads on. */
const LINES_BETWEEN = 2;

/** Lines between a line and the next; each from left to right. */
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
  readonly toleranceMm: number;
}

/** The first and the last of a row of the field's columns. */
type Span = readonly [first: number, last: number];

export function detoursBetween(between: Between): Detour[] {
  const { lines, field, from, to, y, apart } = between;
  const here = columnHeights(from, field);
  const there = columnHeights(to, field);
  const middle = lines.probe(y + apart / 2, PROBE_COLUMNS);
  const spans = joined(
    [...wallSpans(here, there, middle, between), ...hollowSpans(here, there, middle, between)],
    Math.floor(apart / field.stepMm),
  );
  const ys = Array.from({ length: LINES_BETWEEN }, (_, i) => y + ((i + 1) * apart) / (LINES_BETWEEN + 1));
  const heights = ys.map((at) => spans.map(([first, last]) => lines.heightsAt(at, first, last)));
  return spans.map(([first, last], i) => ({
    from: field.minX + (first + 0.5) * field.stepMm,
    to: field.minX + (last + 0.5) * field.stepMm,
    lines: ys.map((at, j) => ({ y: at, heights: heights[j]?.[i] ?? [] })),
  }));
}

/** Where the way from one line to the other is steep. */
function wallSpans(
  here: Float64Array,
  there: Float64Array,
  middle: Float64Array,
  { apart, field }: Between,
): Span[] {
  const steep: Span[] = [];
  for (let column = 0; column < field.columns; column++) {
    const a = here[column] ?? 0;
    const b = there[column] ?? 0;
    const pit = (a + b) / 2 - (middle[Math.floor(column / PROBE_COLUMNS)] ?? a);
    if (Math.abs(a - b) >= STEEP_ACROSS * apart || pit >= (STEEP_ACROSS * apart) / 2)
      steep.push([column, column]);
  }
  return joined(steep, apart / field.stepMm).filter(
    ([first, last]) => (last - first) * field.stepMm >= SLANTING * apart,
  );
}

/** Where it is deeper half way than either line gets anywhere near: as far along as they lie apart. */
function hollowSpans(
  here: Float64Array,
  there: Float64Array,
  middle: Float64Array,
  { apart, field, toleranceMm }: Between,
): Span[] {
  const { columns, stepMm } = field;
  const near = Math.ceil(apart / stepMm);
  const spans: Span[] = [];
  for (const [i, deep] of middle.entries()) {
    const column = i * PROBE_COLUMNS;
    const below = deep + HOLLOW_SHARE * toleranceMm;
    const first = Math.max(0, column - near);
    const last = Math.min(columns - 1, column + near);
    let passed = true;
    for (let at = first; at <= last && passed; at++)
      passed = (here[at] ?? 0) > below && (there[at] ?? 0) > below;
    if (passed) spans.push([first, last]);
  }
  return spans;
}

/** The spans from left to right, those that lie within so many columns of one another as one. */
function joined(spans: readonly Span[], within: number): Span[] {
  const all: [first: number, last: number][] = [];
  for (const [first, last] of spans.toSorted((a, b) => a[0] - b[0])) {
    const before = all.at(-1);
    if (before && first - before[1] <= within) before[1] = Math.max(before[1], last);
    else all.push([first, last]);
  }
  return all;
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
