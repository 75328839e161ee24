/** The sheet that goes to the bench with a job: facts and words, ready to be laid out. */
import type { Picture } from "./picture.ts";

export interface JobSheet {
  readonly title: string;
  /** The craft, e.g. "Leather inlay, laser cut". */
  readonly craft: string;
  /** One sentence: ready to cut, or what stands in the way. */
  readonly verdict: { readonly ready: boolean; readonly text: string };
  readonly picture: Picture;
  readonly sizes: readonly SheetFact[];
  readonly materials: readonly {
    readonly part: string;
    readonly material: string;
    readonly amount: string;
    readonly note: string;
  }[];
  readonly numbers: readonly {
    readonly name: string;
    readonly value: string;
    readonly meaning: string;
    readonly source: string;
  }[];
  /** Further pictures: a section, what cutters leave. */
  readonly figures: readonly { readonly caption: string; readonly picture: Picture }[];
  /** What there is to make or to take in hand: parts, cutters, threads. */
  readonly tables: readonly SheetTable[];
  readonly steps: readonly string[];
  readonly checks: readonly SheetCheck[];
  readonly files: readonly { readonly name: string; readonly purpose: string }[];
  readonly cautions: readonly string[];
  readonly standingLine: string;
  /** Small print, e.g. the tool's name and version, the design's checksum. */
  readonly footer: string;
}

export interface SheetTable {
  readonly title: string;
  readonly columns: readonly { readonly title: string; readonly isFigure?: boolean }[];
  /** The first cell names its row. */
  readonly rows: readonly (readonly string[])[];
}

export interface SheetFact {
  readonly name: string;
  readonly value: string;
}

export interface SheetCheck {
  readonly title: string;
  readonly verdict: "pass" | "warning" | "fail";
  readonly measured: string;
  readonly limit: string;
  readonly places: string;
  readonly note: string;
  readonly remedies: readonly string[];
}
