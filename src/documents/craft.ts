/**
 * What a craft is to the documents: from a woven design and a profile to a job that can be
 * looked at, and, when it is wanted, finished and written. Each craft closes over its own
 * settings and geometry; nobody else sees them.
 */
import type { Result } from "../base/fault.ts";
import type { CheckResult } from "../checks/check.ts";
import type { RibbonSetting } from "../checks/remedy.ts";
import type { PaperFonts } from "../formats/pdf/faces.ts";
import type { DrawingLayer } from "../output/drawing.ts";
import type { JobSheet } from "../output/job-sheet.ts";
import type { Corner } from "./design.ts";
import type { Overrides } from "./job-settings.ts";
import type { Profile } from "./profile.ts";
import type { Woven } from "./woven-design.ts";

/** Options of the command line that only some crafts know. */
export type CraftOption = "kerf" | "way";

/** Kinds of file that are written only when asked for. */
export type ExtraFormat = "dxf-r12" | "maker-model";

export interface CraftRequest {
  readonly title: string;
  readonly profile: Profile;
  readonly overrides: Overrides;
  readonly ribbon: RibbonSetting;
  readonly corner: Corner;
  readonly woven: Woven;
}

export interface PlannedFile {
  readonly path: string;
  readonly kind: string;
  readonly purpose: string;
  /** Its bytes; what is printed asks for typefaces. */
  readonly content: (fonts: () => PaperFonts) => string | Uint8Array;
}

/** Told while long work goes on: what is being done, and how much of it is done, 0 to 1. */
export type Progress = (stage: string, share: number) => void;

/** A job as far as its rules can be measured without doing the work itself. */
export interface MeasuredJob {
  readonly checks: readonly CheckResult[];
  /**
   * The work itself: paths, files, and the checks that only it can give.
   *
   * @param checks those measured before, with their remedies proven
   */
  readonly finish: (checks: readonly CheckResult[], progress: Progress) => CraftJob;
}

export interface CraftJob {
  /** The finished piece, mm. */
  readonly size: { readonly width: number; readonly height: number };
  readonly checks: readonly CheckResult[];
  readonly counts: Readonly<Record<string, number>>;
  /** What there is to make, in a word or two: "84 parts". */
  readonly made: string;
  /** Facts of the work, a line each: length of cut, time. */
  readonly facts: readonly string[];
  /** The profile with what the options changed in it. */
  readonly profile: Profile;
  /** For the manifest. */
  readonly settings: Readonly<Record<string, number>>;
  readonly work: Readonly<Record<string, number>>;
  readonly layers: readonly Pick<DrawingLayer, "name" | "purpose" | "paths">[];
  /** Files for a machine; `head` is said first in each of them. */
  readonly machineFiles: (head: readonly string[], extras: readonly ExtraFormat[]) => readonly PlannedFile[];
  /** Pictures and other files that are written whatever the checks say. */
  readonly pictures: readonly PlannedFile[];
  readonly sheet: (files: JobSheet["files"], footer: string) => JobSheet;
}

export interface CraftKind {
  readonly options: readonly CraftOption[];
  /** "cut": "Ready to cut", "Do not cut". */
  readonly verb: string;
  /** A larger job takes too long to be measured over and over: its remedies stay as computed. */
  readonly mostCrossingsToProve: number;
  /** Faults: of settings that cannot be had. */
  readonly measure: (request: CraftRequest) => Result<MeasuredJob>;
}
