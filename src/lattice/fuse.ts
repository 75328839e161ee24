/**
 * Panels laid side by side on one lattice become one panel. Where two of them share an edge it
 * stays a breakline, except at the places that are opened to a crossing: one opening makes a
 * neck between two fields.
 *
 * The lattice is its own dual, so a panel may also lie half a cell off both across and down;
 * its dots `+` and `o` then change places.
 */
import { done, type Fault, type PanelPlace, type Result, refused } from "../base/fault.ts";
import { BLANK, CROSSING, DOT, LEVEL_BREAK, type Panel, placeAt, UPRIGHT_BREAK } from "./panel.ts";

export interface FusedPart {
  readonly name: string;
  readonly panel: Panel;
  /** Where its top left place lands, in places (two to a cell): both even, or both odd. */
  readonly row: number;
  readonly column: number;
}

/** Which places of shared edges open: all, the middle one of each edge, or those listed. */
export type Openings = "all" | "middle" | readonly PanelPlace[];

/**
 * The rows of the fused panel.
 *
 * Faults, with path `path` and the place in the fused panel: `fuse-overlap`, `fuse-not-shared`;
 * `too-long` where the box round all parts is too large.
 */
export function fusePanels(
  parts: readonly FusedPart[],
  openings: Openings,
  path: readonly (string | number)[],
): Result<string[]> {
  const height = parts.reduce((most, { row, panel }) => Math.max(most, row + panel.rows), 0);
  const width = parts.reduce((most, { column, panel }) => Math.max(most, column + panel.columns), 0);
  const cells = Math.round((height * width) / 4);
  if (cells > MOST_CELLS)
    return refused({ code: "too-long", length: cells, most: MOST_CELLS, of: "cells", path });
  const fused = new FusedPanel(parts, height, width);
  const faults: Fault[] = fused.conflicts.map((conflict) => ({ code: "fuse-overlap", ...conflict, path }));
  if (faults.length > 0) return refused(...faults);
  for (const place of typeof openings === "string" ? fused.openings(openings) : openings) {
    if (!fused.open(place))
      faults.push({
        code: "fuse-not-shared",
        ...place,
        shared: fused.openings("all").slice(0, MOST_TOLD),
        path,
      });
  }
  return faults.length > 0 ? refused(...faults.slice(0, MOST_FAULTS)) : done(fused.rows());
}

/** Parts may lie far from each other; this many cells are far more than can be made. */
const MOST_CELLS = 4_000_000;

/** Places told that could open. */
const MOST_TOLD = 12;

/** One slip can upset many places. */
const MOST_FAULTS = 3;

/** A place on an edge that two parts share, by their numbers. */
interface SharedPlace extends PanelPlace {
  readonly first: number;
  readonly second: number;
}

class FusedPanel {
  readonly conflicts: (PanelPlace & { readonly part: string })[] = [];
  readonly #height: number;
  readonly #width: number;
  readonly #places: Uint8Array;
  /** The part that wrote each place first, counted from 1. */
  readonly #writers: Uint16Array;
  readonly #shared = new Map<number, SharedPlace>();

  constructor(parts: readonly FusedPart[], height: number, width: number) {
    this.#height = height;
    this.#width = width;
    this.#places = new Uint8Array(this.#height * this.#width);
    this.#writers = new Uint16Array(this.#places.length);
    for (const [number, part] of parts.entries()) {
      for (let row = 0; row < part.panel.rows; row++)
        for (let column = 0; column < part.panel.columns; column++) this.#write(part, number, row, column);
    }
  }

  #write(part: FusedPart, number: number, partRow: number, partColumn: number): void {
    const found = placeAt(part.panel, partRow, partColumn);
    if (found === BLANK) return;
    const row = part.row + partRow;
    const placeColumn = part.column + partColumn;
    const index = row * this.#width + placeColumn;
    const there = this.#places[index] ?? BLANK;
    if (there === BLANK) {
      this.#places[index] = found;
      this.#writers[index] = number + 1;
    } else if (there !== found) {
      if (this.conflicts.length < MOST_FAULTS) this.conflicts.push({ row, placeColumn, part: part.name });
    } else if (found === LEVEL_BREAK || found === UPRIGHT_BREAK) {
      this.#shared.set(index, { row, placeColumn, first: (this.#writers[index] ?? 0) - 1, second: number });
    }
  }

  /** Places that can open: all of them, or of each edge the middle one (the upper or left of two). */
  openings(which: "all" | "middle"): PanelPlace[] {
    const shared = [...this.#shared.values()];
    if (which === "all") return shared.map(({ row, placeColumn }) => ({ row, placeColumn }));
    const edges = new Map<string, SharedPlace[]>();
    for (const place of shared) {
      // A shared breakline runs along the edge: level ones follow each other along a row.
      const isLevel = this.#places[place.row * this.#width + place.placeColumn] === LEVEL_BREAK;
      const line = isLevel ? `row ${place.row}` : `column ${place.placeColumn}`;
      const key = `${place.first} ${place.second} ${line}`;
      const edge = edges.get(key);
      if (edge) edge.push(place);
      else edges.set(key, [place]);
    }
    return [...edges.values()].flatMap(runsOf).flatMap((run) => {
      const middle = run[Math.floor((run.length - 1) / 2)];
      return middle ? [{ row: middle.row, placeColumn: middle.placeColumn }] : [];
    });
  }

  /** Makes a crossing of a shared place; false where there is none. */
  open({ row, placeColumn }: PanelPlace): boolean {
    const index = row * this.#width + placeColumn;
    if (placeColumn >= this.#width || !this.#shared.has(index)) return false;
    this.#places[index] = CROSSING;
    return true;
  }

  rows(): string[] {
    return Array.from({ length: this.#height }, (_, row) => {
      let line = "";
      for (let column = 0; column < this.#width; column++)
        line += characterOf(this.#places[row * this.#width + column] ?? BLANK, row);
      return line.trimEnd();
    });
  }
}

/** Places two steps apart along one line, in order, cut where the line has a hole. */
function runsOf(edge: readonly SharedPlace[]): SharedPlace[][] {
  const sorted = edge.toSorted((a, b) => a.row - b.row || a.placeColumn - b.placeColumn);
  const runs: SharedPlace[][] = [];
  for (const place of sorted) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const step = last ? place.row - last.row + place.placeColumn - last.placeColumn : 0;
    if (run && step === 2) run.push(place);
    else runs.push([place]);
  }
  return runs;
}

function characterOf(place: number, row: number): string {
  switch (place) {
    case DOT:
      return row % 2 === 0 ? "+" : "o";
    case CROSSING:
      return "x";
    case LEVEL_BREAK:
      return "-";
    case UPRIGHT_BREAK:
      return "|";
    default:
      return " ";
  }
}
