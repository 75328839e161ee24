/** New designs to begin with, as the text of a design file. */
import type { Hand } from "./design.ts";

export interface DraftHead {
  readonly pitchMm: number;
  readonly title: string;
  readonly hand: Hand;
}

/** A design of one panel, one row of text to a line. */
export function draftPanelDesign(head: DraftHead, rows: readonly string[]): string {
  return draftText(head, `"panel": ${rowsText(rows, "  ")}`);
}

/** A design of one ring: a panel whose ends are glued, round an inner radius. */
export function draftRingDesign(head: DraftHead, rows: readonly string[], innerMm: number): string {
  return draftText(
    head,
    `"ring": {
    "inner": ${innerMm},
    "panel": ${rowsText(rows, "    ")}
  }`,
  );
}

/** The rows of a plain panel: boundary breaklines all round, crossings within. */
export function plainPanel(across: number, down: number): string[] {
  const boundary = `+${"-+".repeat(across)}`;
  const cellRow = `|${Array(across).fill("o").join("x")}|`;
  const dotRow = `+${"x+".repeat(across)}`;
  return Array.from({ length: 2 * down + 1 }, (_, row) => {
    if (row === 0 || row === 2 * down) return boundary;
    return row % 2 === 1 ? cellRow : dotRow;
  });
}

function draftText({ pitchMm, title, hand }: DraftHead, drawn: string): string {
  return `{
  "plaitwright": 1,
  "title": ${JSON.stringify(title)},
  "pitch": ${pitchMm},
  "hand": ${JSON.stringify(hand)},
  ${drawn}
}
`;
}

function rowsText(rows: readonly string[], indent: string): string {
  const lines = rows.map((row) => `${indent}  ${JSON.stringify(row)}`);
  return `[\n${lines.join(",\n")}\n${indent}]`;
}
