/** What the kinds of needle work have in common: rules first, then the sewing. */
import type { CheckResult } from "../../checks/check.ts";
import type { SheetTable } from "../../output/job-sheet.ts";
import type { ThreadBlock } from "../../output/stitches.ts";
import type { LaidCloth } from "./cloth.ts";
import type { AnyStitchSettings } from "./settings.ts";

export interface StitchWork {
  readonly cloth: LaidCloth;
  readonly settings: AnyStitchSettings;
  /** Measured without sewing. */
  readonly checks: readonly CheckResult[];
  readonly sew: () => Sewn;
}

export interface Sewn {
  readonly blocks: readonly ThreadBlock[];
  /** What each block is for, as the chart says. */
  readonly purposes: readonly string[];
  readonly checks: readonly CheckResult[];
  /** Facts of the order, a line each. */
  readonly facts: readonly string[];
  /** Figures for the manifest. */
  readonly figures: Readonly<Record<string, number>>;
  /** Further tables for the sheet. */
  readonly tables: readonly SheetTable[];
}
