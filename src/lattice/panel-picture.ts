/**
 * A panel as text to look at: the plan with its breaklines, the lean of the strand on top at
 * every crossing, and in each unit square the letter of the strand that passes it. The quickest
 * way to see a misplaced breakline.
 */
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { type Strands, strandName } from "../diagram/strands.ts";
import { BLANK, CROSSING, DOT, hasSquare, LEVEL_BREAK, type Panel, placeAt, UPRIGHT_BREAK } from "./panel.ts";
import { squaresOfStrands } from "./panel-diagram.ts";

/** One character of the picture, and the strand (by number) that it shows, if any. */
export interface PictureMark {
  readonly text: string;
  readonly strand?: number;
}

const SPACE: PictureMark = { text: " " };

/** Rows of marks: place rows and square rows in turn, two marks for each step across. */
export function panelPicture(panel: Panel, diagram: KnotDiagram, strands: Strands): PictureMark[][] {
  const strandOfSquare = squaresOfStrands(panel, strands);
  const lines: PictureMark[][] = [];
  let crossing = 0;
  for (let row = 0; row < panel.rows; row++) {
    const places: PictureMark[] = [];
    const squares: PictureMark[] = [];
    for (let column = 0; column < panel.columns; column++) {
      const place = placeAt(panel, row, column);
      if (place === CROSSING) {
        const over = 4 * crossing + (diagram.over[crossing] ?? 0);
        places.push({ text: diagram.over[crossing] === 0 ? "/" : "\\", strand: strands.strandOf[over] ?? 0 });
        crossing++;
      } else {
        places.push(placeMark(place, row));
      }
      const level = place === LEVEL_BREAK || placeAt(panel, row, column + 1) === LEVEL_BREAK;
      places.push(level ? { text: "-" } : SPACE);
      squares.push(place === UPRIGHT_BREAK ? { text: "|" } : SPACE);
      const strand = strandOfSquare[row * panel.columns + column] ?? -1;
      squares.push(hasSquare(panel, row, column) ? { text: squareLetter(strand), strand } : SPACE);
    }
    lines.push(places, squares);
  }
  return lines.slice(0, -1).map(trimmedEnd);
}

function placeMark(place: number, row: number): PictureMark {
  if (place === DOT) return { text: row % 2 === 0 ? "+" : "." };
  if (place === LEVEL_BREAK) return { text: "-" };
  return place === BLANK ? SPACE : { text: "|" };
}

/** One letter for each strand; those past Z have none of their own. */
function squareLetter(strand: number): string {
  return strand < 26 ? strandName(strand) : "*";
}

function trimmedEnd(line: readonly PictureMark[]): PictureMark[] {
  const last = line.findLastIndex((mark) => mark.text !== " ");
  return line.slice(0, last + 1);
}
