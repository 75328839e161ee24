/** New designs to start from, as the text of a design file. */
import type { Hand } from "./design.ts";

export interface PanelDraft {
  readonly across: number;
  readonly down: number;
  readonly pitchMm: number;
  readonly title: string;
  readonly hand: Hand;
}

/** A plain panel of cells with a crossing on every site, one row of text to a line. */
export function draftPanel({ across, down, pitchMm, title, hand }: PanelDraft): string {
  const rows = plainPanel(across, down).map((row) => `    ${JSON.stringify(row)}`);
  return `{
  "plaitwright": 1,
  "title": ${JSON.stringify(title)},
  "pitch": ${pitchMm},
  "hand": ${JSON.stringify(hand)},
  "panel": [
${rows.join(",\n")}
  ]
}
`;
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
