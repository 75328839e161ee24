/** What a check says: data only; the words are the job sheet's and the command line's. */
import type { Point } from "../geometry/point.ts";

export type Verdict = "pass" | "warning" | "fail";

/** A change that would make the check pass, with its number. */
export interface Remedy {
  /** The option of the command line or the number of the profile to change. */
  readonly change: string;
  /** Its new value: mm or degrees, two numbers for [across, down]. */
  readonly value: number | readonly [number, number] | string;
  /** One plain sentence, e.g. "pitch 14.4 mm (the whole design grows with it)". */
  readonly text: string;
}

export interface CheckResult {
  /** Kebab-case name of the rule, e.g. "least-web". */
  readonly rule: string;
  /** What is asked, in plain words. */
  readonly title: string;
  readonly verdict: Verdict;
  /** The worst value found; null where nothing was there to measure. */
  readonly measured: number | null;
  readonly limit: number | null;
  /** Whether the limit is the least or the greatest that passes. */
  readonly sense: "least" | "greatest";
  readonly unit: "mm" | "mm2" | "degrees" | "count" | "percent" | "per-mm2" | "yes-no";
  /** How many places fall short. */
  readonly count: number;
  /** Some of them (the worst first), mm from the lower left corner of the finished piece. */
  readonly places: readonly Point[];
  readonly remedies: readonly Remedy[];
  /** What passing or failing means at the bench. */
  readonly note: string;
}
