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
  // Profiles
  | { readonly code: "profile-unknown"; readonly found: string; readonly known: readonly string[] }
  | { readonly code: "craft-unknown"; readonly found: string; readonly known: readonly string[] }
  | { readonly code: "range-reversed"; readonly least: number; readonly greatest: number }
  | { readonly code: "numbers-clash"; readonly reason: string }
  | { readonly code: "option-not-for-craft"; readonly option: string; readonly craft: string }
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
  // Rings
  | (PanelPlace & { readonly code: "panel-seam"; readonly found: string; readonly wanted: string })
  /** A dot is missing along the edge that a hub joins on to. */
  | (PanelPlace & { readonly code: "ring-hub-dot"; readonly wanted: "+" | "o" })
  | { readonly code: "ring-repeats"; readonly found: number; readonly least: number }
  /** The least radius that would do; without it none does. */
  | { readonly code: "bend-too-small"; readonly innerMm: number; readonly leastMm?: number }
  | { readonly code: "bend-too-large"; readonly outerMm: number; readonly mostMm: number }
  // Composing
  | (PanelPlace & { readonly code: "fuse-overlap"; readonly part: string })
  | (PanelPlace & { readonly code: "fuse-not-shared"; readonly shared: readonly PanelPlace[] })
  | { readonly code: "fuse-not-panel"; readonly found: string }
  /** Where a part lies, in cells. */
  | { readonly code: "fuse-off-lattice"; readonly part: string; readonly at: readonly [number, number] }
  | { readonly code: "piece-unknown"; readonly found: string; readonly known: readonly string[] }
  | { readonly code: "name-twice"; readonly found: string }
  /** A file name that leads out of the document's own folder, or is of another kind. */
  | { readonly code: "not-beside"; readonly found: string; readonly ending: string }
  // Included designs: the fault lies in the file that includes
  | { readonly code: "include-unreadable"; readonly included: string; readonly reason: string }
  | { readonly code: "include-cycle"; readonly included: string }
  | { readonly code: "include-too-many"; readonly most: number }
  | { readonly code: "include-same-name"; readonly found: string; readonly included: string }
  | {
      readonly code: "include-no-piece";
      readonly found: string;
      readonly included: string;
      readonly known: readonly string[];
    }
  // Sets
  | { readonly code: "design-twice"; readonly found: string; readonly folder: string }
  | (PlaceMm & { readonly code: "pieces-overlap"; readonly a: string; readonly b: string })
  | { readonly code: "no-outer-bend"; readonly piece: string }
  | { readonly code: "same-part"; readonly a: string; readonly b: string }
  /** Without `b`: past the middle of all that are tied around it. */
  | (OtherBends & {
      readonly code: "bends-not-facing";
      readonly a: string;
      readonly b?: string;
      readonly angleDeg: number;
    })
  | (OtherBends & PlaceMm & { readonly code: "bend-no-legs" })
  | (OtherBends & {
      readonly code: "bends-too-near";
      readonly a: string;
      readonly b?: string;
      readonly haveMm: number;
      readonly needMm: number;
    })
  /** Without a piece: an earlier join is in the way. */
  | (OtherBends & PlaceMm & { readonly code: "tie-in-the-way"; readonly piece?: string })
  | {
      readonly code: "hands-differ";
      readonly a: string;
      readonly b: string;
      readonly handA: string;
      readonly handB: string;
    }
  | { readonly code: "stretch-composed" }
  // Drawn centrelines: the file
  | { readonly code: "not-xml"; readonly found: string }
  | { readonly code: "not-svg"; readonly found: string }
  | { readonly code: "svg-entities" }
  | { readonly code: "svg-too-deep"; readonly most: number }
  | { readonly code: "svg-element"; readonly element: string }
  | {
      readonly code: "svg-attribute";
      readonly element: string;
      readonly attribute: string;
      readonly found: string;
      readonly wanted: string;
    }
  | { readonly code: "drawing-too-large"; readonly reachMm: number; readonly mostMm: number }
  | { readonly code: "drawing-too-rich"; readonly most: number; readonly of: "curves" | "crossings" }
  // Drawn centrelines: the strands
  | { readonly code: "drawing-empty" }
  | (DrawnPlace & { readonly code: "strand-open"; readonly joinMm: number })
  | (DrawnPlace & { readonly code: "strand-branch" })
  | (DrawnPlace & { readonly code: "strands-touch" })
  | (DrawnPlace & { readonly code: "strands-overlap" })
  | (DrawnPlace & { readonly code: "crossing-flat"; readonly angleDeg: number; readonly leastDeg: number })
  | (DrawnPlace & { readonly code: "crossings-crowd"; readonly leastMm: number })
  /** Places of the same kinds that are not listed one by one. */
  | { readonly code: "more-places"; readonly count: number }
  | { readonly code: "strands-unclear" }
  // Plane graphs: points and lines by their numbers, from 0
  | { readonly code: "graph-empty" }
  | { readonly code: "graph-no-point"; readonly found: number; readonly points: number }
  | { readonly code: "graph-loop-line"; readonly graphLine: number; readonly point: number }
  | (PlaceMm & { readonly code: "graph-coincident-points"; readonly first: number; readonly second: number })
  | (PlaceMm & { readonly code: "graph-point-on-line"; readonly point: number; readonly graphLine: number })
  | (PlaceMm & { readonly code: "graph-crossing-lines"; readonly first: number; readonly second: number })
  | { readonly code: "graph-double-line"; readonly first: number; readonly second: number }
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
export type Counted = "characters" | "entries" | "cells";

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

/** A place on a drawing, from the lower left corner of the box round all its centrelines. */
export interface DrawnPlace {
  readonly xMm: number;
  readonly yMm: number;
  /** The line of the other element, where two are concerned and they differ. */
  readonly otherLine?: number;
}

export interface PlaceMm {
  readonly atMm: { readonly x: number; readonly y: number };
}

/** Bends that a join could take instead. */
export interface OtherBends {
  /** Each by itself beside the others as they are. */
  readonly wouldDo?: readonly WouldDo[];
  /** One of each partner, all together. */
  readonly wouldDoTogether?: readonly WouldDo[];
}

export interface WouldDo extends PlaceMm {
  readonly piece: string;
  /** The same place in cells of the layout, as `near` is written. */
  readonly near: readonly [number, number];
}

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
