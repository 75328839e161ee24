/** From what was measured to a verdict. */
import { LIMIT_SLACK_MM, OUTPUT_GRID_MM } from "../base/tolerance.ts";
import type { Point } from "../geometry/point.ts";
import type { CheckResult, Remedy } from "./check.ts";

/** A place and the value measured there. */
export interface Measured {
  readonly at: Point;
  readonly value: number;
}

/** What a rule found: its worst value, and every place that falls short. */
export interface Finding {
  readonly worst: number | null;
  readonly short: readonly Measured[];
}

export interface Rule {
  readonly rule: string;
  readonly title: string;
  readonly limit: number;
  readonly unit: CheckResult["unit"];
  readonly note: string;
}

/** At most this many places are named; the count tells of all. */
const MOST_PLACES = 12;

/** Passes when everything measured is at least the limit. Remedies are asked for only on failure. */
export function atLeast(
  rule: Rule,
  found: Finding,
  remedies: (worst: number) => readonly Remedy[],
): CheckResult {
  return result(
    rule,
    "least",
    found,
    found.worst !== null && found.worst < rule.limit - LIMIT_SLACK_MM,
    remedies,
  );
}

/** Passes when everything measured is at most the limit. */
export function atMost(
  rule: Rule,
  found: Finding,
  remedies: (worst: number) => readonly Remedy[],
): CheckResult {
  return result(
    rule,
    "greatest",
    found,
    found.worst !== null && found.worst > rule.limit + LIMIT_SLACK_MM,
    remedies,
  );
}

function result(
  { rule, title, limit, unit, note }: Rule,
  sense: CheckResult["sense"],
  found: Finding,
  fails: boolean,
  remedies: (worst: number) => readonly Remedy[],
): CheckResult {
  const towards = sense === "least" ? 1 : -1;
  const worstFirst = found.short.toSorted(
    (a, b) =>
      towards * (steps(a.value) - steps(b.value)) ||
      steps(a.at.x) - steps(b.at.x) ||
      steps(a.at.y) - steps(b.at.y),
  );
  return {
    rule,
    title,
    verdict: fails ? "fail" : "pass",
    measured: found.worst,
    limit,
    sense,
    unit,
    count: fails ? found.short.length : 0,
    places: fails ? worstFirst.slice(0, MOST_PLACES).map(({ at }) => at) : [],
    remedies: fails ? remedies(found.worst ?? 0) : [],
    note,
  };
}

/** Values that differ by rounding noise count as equal, so that places come in a steady order. */
function steps(value: number): number {
  return Math.round(value / OUTPUT_GRID_MM);
}

/** Collects measured values for a rule whose limit is a least. */
export class LeastFinder {
  #worst: number | null = null;
  readonly #short: Measured[] = [];
  readonly #limit: number;

  constructor(limit: number) {
    this.#limit = limit;
  }

  add(value: number, at: Point): void {
    if (this.#worst === null || value < this.#worst) this.#worst = value;
    if (value < this.#limit - LIMIT_SLACK_MM) this.#short.push({ at, value });
  }

  get finding(): Finding {
    return { worst: this.#worst, short: this.#short };
  }
}
