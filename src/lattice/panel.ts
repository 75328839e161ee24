/**
 * Panel text: rows of characters on a grid of places, row and column from 0 at the top left.
 *
 * Places whose row and column are both even are dots `+`, both odd dots `o`, or blank; a unit
 * square between four places belongs to the panel when its two dots are there. The other
 * places are sites: a crossing `x`, or a breakline `-` or `|` off which both strands turn.
 * A site on the boundary is the breakline along it. (The strands of such a panel are mirror
 * curves: Gerdes, "Geometry from Africa", 1999; Jablan & Sazdanovic, "LinKnot", 2007; both
 * from memory.)
 */
import { done, type Fault, type Result, refused } from "../base/fault.ts";

/** What stands at a place. */
export const BLANK = 0;
export const DOT = 1;
export const CROSSING = 2;
/** A breakline `-`: turns strands back up or down. */
export const LEVEL_BREAK = 3;
/** A breakline `|`: turns strands back left or right. */
export const UPRIGHT_BREAK = 4;

export interface Panel {
  readonly rows: number;
  readonly columns: number;
  /** Row by row: what stands at each place. */
  readonly places: Uint8Array;
  /** Present when the ends are glued: the last column's right neighbour is the first. */
  readonly glued?: true;
}

/** Whether a panel's left and right ends are edges of it or one seam. */
export type PanelEnds = "open" | "glued";

/** What stands at a place; blank outside. */
export function placeAt(panel: Panel, row: number, column: number): number {
  if (row < 0 || row >= panel.rows) return BLANK;
  if (panel.glued) return panel.places[row * panel.columns + wrappedColumn(panel, column)] ?? BLANK;
  if (column < 0 || column >= panel.columns) return BLANK;
  return panel.places[row * panel.columns + column] ?? BLANK;
}

/** The column as it is numbered in the panel: round a glued one, columns go on past the last. */
export function wrappedColumn({ columns, glued }: Panel, column: number): number {
  if (!glued) return column;
  const rest = column % columns;
  return rest < 0 ? rest + columns : rest;
}

/** Whether the unit square whose top left place is (row, column) belongs to the panel. */
export function hasSquare(panel: Panel, row: number, column: number): boolean {
  return (row + column) % 2 === 0
    ? placeAt(panel, row, column) === DOT && placeAt(panel, row + 1, column + 1) === DOT
    : placeAt(panel, row, column + 1) === DOT && placeAt(panel, row + 1, column) === DOT;
}

/** At most this many faults are told at once: one slip can upset many places. */
const MOST_FAULTS = 5;

/**
 * Reads panel text. Blanks at the ends of rows do not matter; all else is checked, each fault
 * with its row and column.
 *
 * A panel with glued ends is an even number of columns round. Its seam may be written once, as
 * the first column, or again as the last one, which closes the picture; what is written twice
 * must agree.
 */
export function parsePanel(
  text: readonly string[],
  path: readonly (string | number)[],
  ends: PanelEnds = "open",
): Result<Panel> {
  const written = text.map((row) => row.replace(/ +$/, ""));
  const width = written.reduce((most, line) => Math.max(most, line.length), 0);
  const isRepeated = ends === "glued" && width % 2 === 1;
  const columns = isRepeated ? width - 1 : width;
  const lines = isRepeated ? written.map((line) => withoutSeam(line, columns)) : written;
  const places = new Uint8Array(lines.length * columns);
  const panel: Panel = { rows: lines.length, columns, places, ...(ends === "glued" && { glued: true }) };
  const steps = [
    foreignCharacters(written),
    ...(isRepeated ? [seamFaults(written, columns)] : []),
    readDots(panel, lines),
    readSites(panel, lines),
  ];
  for (const step of steps) {
    const faults: Fault[] = [];
    for (const fault of step) {
      if (faults.length === MOST_FAULTS) break;
      faults.push({ ...fault, path });
    }
    if (faults.length > 0) return refused(...faults);
  }
  return panel.places.includes(DOT) ? done(panel) : refused({ code: "panel-empty", path });
}

/** A row whose last column repeats its first, without the last; where one of them is blank the other counts. */
function withoutSeam(line: string, last: number): string {
  const first = (line[0] ?? " ") === " " ? (line[last] ?? " ") : line[0];
  return `${first}${line.slice(1, last)}`;
}

function* seamFaults(lines: readonly string[], last: number): Iterable<Fault> {
  for (const [row, line] of lines.entries()) {
    const wanted = line[0] ?? " ";
    const found = line[last] ?? " ";
    if (found !== wanted && found !== " " && wanted !== " ")
      yield { code: "panel-seam", row, placeColumn: last, found, wanted };
  }
}

function* readDots(panel: Panel, lines: readonly string[]): Iterable<Fault> {
  for (const [row, line] of lines.entries()) {
    const wanted = row % 2 === 0 ? "+" : "o";
    for (let column = row % 2; column < line.length; column += 2) {
      const found = line[column] ?? " ";
      if (found === wanted) panel.places[row * panel.columns + column] = DOT;
      else if (found !== " ") yield { code: "panel-dot", row, placeColumn: column, found, wanted };
    }
  }
}

function* readSites(panel: Panel, lines: readonly string[]): Iterable<Fault> {
  for (const [row, line] of lines.entries()) {
    for (let column = 0; column < panel.columns; column++) {
      const found = line[column] ?? " ";
      if ((row + column) % 2 === 0) {
        if (found !== " " && !touchesSquare(panel, row, column))
          yield { code: "panel-stray", row, placeColumn: column, found };
        continue;
      }
      const site = readSite(panel, row, column, found);
      if (typeof site === "number") panel.places[row * panel.columns + column] = site;
      else yield site;
    }
  }
}

/** The breakline or crossing at a site, or what is wrong with it. */
function readSite(panel: Panel, row: number, column: number, found: string): number | Fault {
  const above = placeAt(panel, row - 1, column) === DOT;
  const below = placeAt(panel, row + 1, column) === DOT;
  const before = placeAt(panel, row, column - 1) === DOT;
  const behind = placeAt(panel, row, column + 1) === DOT;
  const level = above || below;
  const upright = before || behind;
  // A square lies in each quarter whose two dots are there.
  if (!level || !upright)
    return found === " " ? BLANK : { code: "panel-stray", row, placeColumn: column, found };
  if (above && below && before && behind) {
    if (found === "x") return CROSSING;
    if (found === "-") return LEVEL_BREAK;
    if (found === "|") return UPRIGHT_BREAK;
    return { code: "panel-open-site", row, placeColumn: column, found };
  }
  if (above !== below && before !== behind)
    return cornerSite(panel, row, column, { above, below, before, behind });
  // Three of the four dots: two squares side by side, the boundary runs between the paired dots.
  const wanted = before && behind ? "-" : "|";
  if (found !== " " && found !== wanted)
    return { code: "panel-edge-site", row, placeColumn: column, found, wanted };
  return wanted === "-" ? LEVEL_BREAK : UPRIGHT_BREAK;
}

/** One square only: the panel's corner falls on the site. */
function cornerSite(
  panel: Panel,
  row: number,
  column: number,
  has: {
    readonly above: boolean;
    readonly below: boolean;
    readonly before: boolean;
    readonly behind: boolean;
  },
): Fault {
  const around = [
    { there: has.above, row: row - 1, placeColumn: column },
    { there: has.below, row: row + 1, placeColumn: column },
    { there: has.before, row, placeColumn: column - 1 },
    { there: has.behind, row, placeColumn: column + 1 },
  ];
  const places = (there: boolean) =>
    around
      .map((dot) => ({ ...dot, placeColumn: wrappedColumn(panel, dot.placeColumn) }))
      .filter((dot) => dot.there === there && dot.row >= 0 && dot.placeColumn >= 0)
      .map((dot) => ({ row: dot.row, placeColumn: dot.placeColumn }));
  return { code: "panel-corner-site", row, placeColumn: column, add: places(false), remove: places(true) };
}

function touchesSquare(panel: Panel, row: number, column: number): boolean {
  return (
    hasSquare(panel, row, column) ||
    hasSquare(panel, row - 1, column) ||
    hasSquare(panel, row, column - 1) ||
    hasSquare(panel, row - 1, column - 1)
  );
}

function* foreignCharacters(lines: readonly string[]): Iterable<Fault> {
  for (const [row, line] of lines.entries()) {
    let column = 0;
    // Whole characters, so that a message never shows half of one.
    for (const found of line) {
      if (!"+ox-| ".includes(found)) {
        const lookalike = LOOKALIKES[found];
        yield {
          code: "panel-character",
          row,
          placeColumn: column,
          found,
          ...(lookalike ? { lookalike } : {}),
        };
      }
      column++;
    }
  }
}

/** Characters that are easily typed or pasted for the right ones. */
const LOOKALIKES: Readonly<Record<string, string>> = {
  X: "x",
  "×": "x",
  х: "x",
  Х: "x",
  "✕": "x",
  O: "o",
  "0": "o",
  о: "o",
  О: "o",
  "°": "o",
  "•": "o",
  "∘": "o",
  "○": "o",
  "＋": "+",
  "†": "+",
  "┼": "+",
  "–": "-",
  "—": "-",
  "−": "-",
  "‐": "-",
  "─": "-",
  _: "-",
  l: "|",
  I: "|",
  "1": "|",
  "!": "|",
  "¦": "|",
  "│": "|",
  "｜": "|",
  "\t": " ",
  "\u00a0": " ",
  "\u3000": " ",
  ".": "+",
};
