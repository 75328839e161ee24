/** What the interpreter of RS-274/NGC makes of a text. */
import type { Motion, Place3 } from "../../output/toolpath.ts";

/** All that is done with one cutter, in the file's coordinates. */
export interface NgcRun {
  readonly toolNumber: number;
  readonly spindleRpm: number;
  /** Where the cutter is brought first; its way there is no motion of the run. */
  readonly start: Place3;
  readonly motions: readonly Motion[];
  /** The line of the file, from 1, that each motion stands in. */
  readonly lines: readonly number[];
}

export interface NgcRefusal {
  /** From 1. */
  readonly line: number;
  readonly reason: string;
}

/** What was read up to any refusals; a file with refusals is not to be trusted. */
export interface NgcReading {
  readonly runs: readonly NgcRun[];
  readonly refusals: readonly NgcRefusal[];
}
