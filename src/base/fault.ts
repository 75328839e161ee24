/**
 * Refusals are data: a code, a place and the facts. The words are made in one place
 * (explain.ts); tests assert codes and places.
 */

/** Where in the input a fault lies. */
export interface Where {
  /** The file as the person named it. */
  readonly file?: string;
  /** Path into the document, e.g. ["ribbon", "width"]. */
  readonly path?: readonly (string | number)[];
  /** Line and column of the text, from 1, as editors count. */
  readonly line?: number;
  readonly column?: number;
}

export type Fault = Where & FaultFacts;

export type FaultFacts =
  // Files
  | { readonly code: "file-unreadable"; readonly reason: string }
  | { readonly code: "file-too-large"; readonly megabytes: number; readonly most: number }
  | { readonly code: "not-utf8" }
  | { readonly code: "not-json"; readonly problem: JsonProblem; readonly found: string }
  | { readonly code: "nested-too-deep"; readonly most: number }
  | { readonly code: "cannot-write"; readonly reason: string }
  | { readonly code: "not-our-folder"; readonly reason: string }
  // Documents
  | { readonly code: "unknown-key"; readonly found: string; readonly known: readonly string[] }
  | { readonly code: "missing-key"; readonly key: string; readonly meaning?: string }
  | { readonly code: "doubled-key"; readonly found: string }
  | { readonly code: "wrong-kind"; readonly found: string; readonly wanted: string }
  | { readonly code: "unknown-word"; readonly found: string; readonly known: readonly string[] }
  | {
      readonly code: "number-out-of-range";
      readonly found: number;
      readonly least?: number;
      readonly greatest?: number;
      /** "mm", "degrees" … or "" for a plain number. */
      readonly unit: string;
    }
  | { readonly code: "wrong-version"; readonly found: string; readonly known: number }
  | { readonly code: "unsafe-name"; readonly found: string }
  | { readonly code: "control-character"; readonly found: string }
  | { readonly code: "too-long"; readonly length: number; readonly most: number; readonly of: Counted }
  | { readonly code: "too-short"; readonly length: number; readonly least: number; readonly of: Counted }
  | { readonly code: "no-piece"; readonly known: readonly string[] }
  | { readonly code: "several-pieces"; readonly found: readonly string[] }
  /** A part of the format that this version does not draw yet. */
  | { readonly code: "not-yet"; readonly feature: string }
  // Profiles
  | { readonly code: "profile-unknown"; readonly found: string; readonly known: readonly string[] }
  | { readonly code: "craft-unknown"; readonly found: string; readonly known: readonly string[] }
  | { readonly code: "range-reversed"; readonly least: number; readonly greatest: number }
  // Panels: row and column of the place, from 0 at the top left, as the panel text is read
  | { readonly code: "panel-empty" }
  | (PanelPlace & { readonly code: "panel-character"; readonly found: string; readonly lookalike?: string })
  | (PanelPlace & { readonly code: "panel-dot"; readonly found: string; readonly wanted: "+" | "o" })
  | (PanelPlace & { readonly code: "panel-open-site"; readonly found: string })
  | (PanelPlace & { readonly code: "panel-edge-site"; readonly found: string; readonly wanted: "-" | "|" })
  | (PanelPlace & { readonly code: "panel-stray"; readonly found: string })
  | (PanelPlace & {
      readonly code: "panel-corner-site";
      /** Dots that would mend it, each list one way to do so. */
      readonly add: readonly PanelPlace[];
      readonly remove: readonly PanelPlace[];
    })
  // Options
  | { readonly code: "bad-option"; readonly option: string; readonly found: string; readonly wanted: string }
  | { readonly code: "size-impossible"; readonly found: string; readonly reason: string }
  | {
      readonly code: "too-big-for-memory";
      readonly crossings: number;
      readonly needsMb: number;
      readonly hasMb: number;
    };

/** What the length of a text or a list is counted in. */
export type Counted = "characters" | "entries";

/** What keeps a text from being plain JSON (RFC 8259). */
export type JsonProblem =
  | "empty"
  | "ends-early"
  | "text-after-end"
  | "comment"
  | "comma-missing"
  | "comma-extra"
  | "colon-missing"
  | "value-missing"
  | "key-expected"
  | "bracket-wrong"
  | "unknown-word"
  | "number-wrong"
  | "string-open"
  | "string-character"
  | "escape-wrong"
  | "other";

export interface PanelPlace {
  readonly row: number;
  readonly placeColumn: number;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly Fault[] };

export function done<T>(value: T): Result<T> {
  return { ok: true, value };
}

export function refused<T>(...faults: readonly Fault[]): Result<T> {
  return { ok: false, faults };
}
