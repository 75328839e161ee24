/**
 * Strands walked from site to site: straight on through crossings, off every breakline. What
 * is walked are places only; curves are made of them elsewhere (panel-curves.ts), flat or bent.
 *
 * Round a glued panel columns go on past the last one, so that neighbours along a strand are
 * always half a step apart.
 */
import { CROSSING, hasSquare, LEVEL_BREAK, type Panel, placeAt, wrappedColumn } from "./panel.ts";

/** A place between places: quarter points have halves. */
export interface LatticePlace {
  readonly row: number;
  readonly column: number;
}

export interface Crossings {
  /** The number of the crossing at each place, -1 where there is none. */
  readonly numbers: Int32Array;
  /** The row and the column of each crossing. */
  readonly rows: readonly number[];
  readonly columns: readonly number[];
}

export function numberCrossings(panel: Panel): Crossings {
  const numbers = new Int32Array(panel.rows * panel.columns).fill(-1);
  const rows: number[] = [];
  const columns: number[] = [];
  for (let place = 0; place < numbers.length; place++) {
    if (panel.places[place] !== CROSSING) continue;
    numbers[place] = rows.length;
    rows.push(Math.floor(place / panel.columns));
    columns.push(place % panel.columns);
  }
  return { numbers, rows, columns };
}

/** From crossing to crossing. */
export interface Run {
  readonly from: LatticePlace;
  readonly to: LatticePlace;
  /** The slot whose direction the strand arrives in. */
  readonly slot: number;
  readonly quarters: readonly LatticePlace[];
}

/** A closed strand that crosses nothing. */
export interface Round {
  readonly quarters: readonly LatticePlace[];
  /** The columns that it goes on by until it comes round: 0, or once round a glued panel. */
  readonly advance: number;
}

/** Row and column steps towards each slot: north-east, north-west, south-west, south-east. */
const TOWARDS = [
  { down: -1, right: 1 },
  { down: -1, right: -1 },
  { down: 1, right: -1 },
  { down: 1, right: 1 },
] as const;

/** Walks the strands of one panel and remembers which squares they have passed. */
export class PanelWalk {
  readonly #panel: Panel;
  readonly #walked: Uint8Array;

  constructor(panel: Panel) {
    this.#panel = panel;
    this.#walked = new Uint8Array(panel.rows * panel.columns);
  }

  /** From a crossing towards a slot, off every breakline, to the next crossing. */
  run(from: LatticePlace, towards: number): Run {
    let { row, column } = from;
    let { down, right }: { down: number; right: number } = TOWARDS[towards as 0 | 1 | 2 | 3];
    const quarters: LatticePlace[] = [];
    while (true) {
      const quarter = { row: row + down / 2, column: column + right / 2 };
      quarters.push(quarter);
      this.#walked[placeNumber(this.#panel, quarter)] = 1;
      row += down;
      column += right;
      const place = placeAt(this.#panel, row, column);
      if (place === CROSSING) break;
      if (place === LEVEL_BREAK) down = -down;
      else right = -right;
    }
    const slot = TOWARDS.findIndex((way) => way.down === down && way.right === right);
    return { from, to: { row, column }, slot, quarters };
  }

  /** Closed strands that cross nothing: the squares that no run from a crossing has passed. Ask last. */
  rounds(): Round[] {
    const rounds: Round[] = [];
    for (let row = 0; row < this.#panel.rows - 1; row++) {
      for (let column = 0; column < this.#panel.columns; column++) {
        if (this.#walked[row * this.#panel.columns + column] === 1) continue;
        if (hasSquare(this.#panel, row, column)) rounds.push(this.#round(row, column));
      }
    }
    return rounds;
  }

  #round(squareRow: number, squareColumn: number): Round {
    const start = { row: squareRow + 0.5, column: squareColumn + 0.5 };
    const square = placeNumber(this.#panel, start);
    // The strand runs between the square's two sites: from top left to bottom right, or the other diagonal.
    let down = 1;
    let right = (squareRow + squareColumn) % 2 === 0 ? -1 : 1;
    const quarters: LatticePlace[] = [];
    let quarter = start;
    do {
      quarters.push(quarter);
      this.#walked[placeNumber(this.#panel, quarter)] = 1;
      if (placeAt(this.#panel, quarter.row + down / 2, quarter.column + right / 2) === LEVEL_BREAK) {
        quarter = { row: quarter.row, column: quarter.column + right };
        down = -down;
      } else {
        quarter = { row: quarter.row + down, column: quarter.column };
        right = -right;
      }
      // Each square is passed by one strand, once: back in it, the strand has come round.
    } while (placeNumber(this.#panel, quarter) !== square);
    return { quarters, advance: quarter.column - start.column };
  }
}

/** The number of a place, or of the top left place of the unit square that a quarter point is the middle of. */
export function placeNumber(panel: Panel, { row, column }: LatticePlace): number {
  return Math.floor(row) * panel.columns + wrappedColumn(panel, Math.floor(column));
}
