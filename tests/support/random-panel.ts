/**
 * Random panels: plain ones with breaklines put on crossings and with dots taken away at the
 * edge and inside, so that there are steps, necks, holes on whole and half cells, several
 * areas, and loops without a crossing.
 */
import fc from "fast-check";
import { parsePanel } from "../../src/lattice/panel.ts";

export interface PanelRecipe {
  readonly across: number;
  readonly down: number;
  /** Crossings, by number modulo how many there are, that become breaklines. */
  readonly breaks: readonly { readonly site: number; readonly kind: "-" | "|" }[];
  /** Dots, likewise, that go. */
  readonly gone: readonly { readonly dot: number; readonly kind: "o" | "+" }[];
  /** Whether the edge's breaklines are written down. */
  readonly edge: boolean;
}

export function panelText({ across, down, breaks, gone, edge }: PanelRecipe): string[] {
  const rows = Array.from({ length: 2 * down + 1 }, (_, row) =>
    Array.from({ length: 2 * across + 1 }, (_, column): string =>
      row % 2 !== column % 2 ? "?" : row % 2 === 0 ? "+" : "o",
    ),
  );
  const at = (row: number, column: number) => rows[row]?.[column] ?? " ";
  const put = (row: number, column: number, what: string) => {
    const line = rows[row];
    if (line && column in line) line[column] = what;
  };
  const all = (what: string) =>
    rows.flatMap((line, row) => line.flatMap((found, column) => (found === what ? [{ row, column }] : [])));
  const pick = (what: string, number: number, then: (row: number, column: number) => void) => {
    const places = all(what);
    const place = places[number % Math.max(1, places.length)];
    if (place) then(place.row, place.column);
  };
  for (const { dot, kind } of gone) pick(kind, dot, (row, column) => put(row, column, " "));
  const isDot = (row: number, column: number) => "+o".includes(at(row, column)) && at(row, column) !== " ";
  for (const { row, column } of [...all("+"), ...all("o")]) {
    const partners = [
      [-1, -1],
      [-1, 1],
      [1, -1],
      [1, 1],
    ] as const;
    if (!partners.some(([r, c]) => isDot(row + r, column + c))) put(row, column, " ");
  }
  for (const { row, column } of all("?")) {
    const level = [isDot(row - 1, column), isDot(row + 1, column)];
    const upright = [isDot(row, column - 1), isDot(row, column + 1)];
    const inside = [...level, ...upright].every(Boolean);
    const onEdge = level.some(Boolean) && upright.some(Boolean) && edge;
    put(row, column, inside ? "x" : onEdge ? (upright.every(Boolean) ? "-" : "|") : " ");
  }
  for (const { site, kind } of breaks) pick("x", site, (row, column) => put(row, column, kind));
  return rows.map((line) => line.join(""));
}

export function panelRecipe(most = 6): fc.Arbitrary<PanelRecipe> {
  return fc.record({
    across: fc.integer({ min: 1, max: most }),
    down: fc.integer({ min: 1, max: most }),
    breaks: fc.array(fc.record({ site: fc.nat(999), kind: fc.constantFrom("-" as const, "|" as const) }), {
      maxLength: 8,
    }),
    gone: fc.array(fc.record({ dot: fc.nat(999), kind: fc.constantFrom("o" as const, "+" as const) }), {
      maxLength: 6,
    }),
    edge: fc.boolean(),
  });
}

/** The text of a valid panel. */
export function randomPanel(most = 6): fc.Arbitrary<string[]> {
  return panelRecipe(most)
    .map(panelText)
    .filter((rows) => parsePanel(rows, []).ok);
}

/** The text as seen in a mirror that exchanges left and right. */
export function mirroredText(rows: readonly string[]): string[] {
  const width = Math.max(...rows.map((row) => row.length));
  return rows.map((row) => [...row.padEnd(width)].reverse().join(""));
}

/** The text turned by a quarter, counter-clockwise. */
export function turnedText(rows: readonly string[]): string[] {
  const width = Math.max(...rows.map((row) => row.length));
  const padded = rows.map((row) => [...row.padEnd(width)]);
  const exchange: Readonly<Record<string, string>> = { "-": "|", "|": "-" };
  return Array.from({ length: width }, (_, i) =>
    padded
      .map((row) => row[width - 1 - i] ?? " ")
      .map((found) => exchange[found] ?? found)
      .join(""),
  );
}
