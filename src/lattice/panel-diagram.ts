/**
 * Panel -> knot diagram: every strand walked from site to site, its curve made of straight
 * legs and tangent fillets.
 *
 * Between two sites of which one is a crossing the leg is the diagonal; each breakline adds a
 * lane leg, parallel to it and half a step away. Legs meet at the middles of unit squares, the
 * quarter points, so the curve's corners are the quarter points that a breakline is next to.
 */

import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import type { Strands } from "../diagram/strands.ts";
import type { ArcChain } from "../geometry/arc-chain.ts";
import { filletPoints } from "../geometry/fillet.ts";
import { distance, minus, type Point, turnBetween } from "../geometry/point.ts";
import { CROSSING, hasSquare, LEVEL_BREAK, type Panel, placeAt } from "./panel.ts";

export interface LatticeOptions {
  /** mm between neighbouring cell centres. */
  readonly pitchMm: { readonly across: number; readonly down: number };
  readonly corner: "pointed" | "round";
}

/** Row and column steps towards each slot: north-east, north-west, south-west, south-east. */
const TOWARDS = [
  { down: -1, right: 1 },
  { down: -1, right: -1 },
  { down: 1, right: -1 },
  { down: 1, right: 1 },
] as const;

/**
 * The diagram of a panel, in mm, y up, the lowest row and the first column of places at 0.
 * Over and under are not set (all 0): weave it.
 */
export function panelDiagram(panel: Panel, options: LatticeOptions): KnotDiagram {
  const crossings = numberCrossings(panel);
  const lattice = new Lattice(panel, options);
  const count = crossings.rows.length;
  const twin = new Int32Array(4 * count).fill(-1);
  const curves = new Map<number, ArcChain>();
  const walked = new Uint8Array(panel.rows * panel.columns);
  for (let half = 0; half < twin.length; half++) {
    if (twin[half] !== -1) continue;
    const row = crossings.rows[half >> 2] ?? 0;
    const column = crossings.columns[half >> 2] ?? 0;
    const run = walk(panel, row, column, half & 3, walked);
    const other = 4 * (crossings.numbers[run.row * panel.columns + run.column] ?? 0) + ((run.slot + 2) & 3);
    twin[half] = other;
    twin[other] = half;
    if (run.quarters.length > 1) curves.set(half, lattice.edge({ row, column }, run.quarters, run));
  }
  return {
    x: Float64Array.from(crossings.columns, (column) => lattice.x(column)),
    y: Float64Array.from(crossings.rows, (row) => lattice.y(row)),
    twin,
    over: new Uint8Array(count),
    curves,
    loops: findLoops(panel, walked).map((quarters) => lattice.loop(quarters)),
  };
}

/** A place between places: quarter points have halves. */
interface LatticePlace {
  readonly row: number;
  readonly column: number;
}

interface Run extends LatticePlace {
  /** The slot whose direction the strand arrives in. */
  readonly slot: number;
  readonly quarters: readonly LatticePlace[];
}

function numberCrossings(panel: Panel) {
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

/**
 * The strand that passes each unit square (by its top left place), -1 where there is none.
 * Numbers are those of the panel's own diagram.
 */
export function squaresOfStrands(panel: Panel, strands: Strands): Int32Array {
  const squares = new Int32Array(panel.rows * panel.columns).fill(-1);
  const crossings = numberCrossings(panel);
  const walked = new Uint8Array(squares.length);
  const mark = (quarters: readonly LatticePlace[], strand: number) => {
    for (const { row, column } of quarters)
      squares[Math.floor(row) * panel.columns + Math.floor(column)] = strand;
  };
  for (const [half, strand] of strands.strandOf.entries()) {
    const row = crossings.rows[half >> 2] ?? 0;
    const column = crossings.columns[half >> 2] ?? 0;
    mark(walk(panel, row, column, half & 3, walked).quarters, strand);
  }
  for (const [i, quarters] of findLoops(panel, walked).entries()) mark(quarters, strands.first.length + i);
  return squares;
}

/** From a crossing towards a slot, off every breakline, to the next crossing. */
function walk(panel: Panel, fromRow: number, fromColumn: number, towards: number, walked: Uint8Array): Run {
  const step = TOWARDS[towards as 0 | 1 | 2 | 3];
  let row = fromRow;
  let column = fromColumn;
  let { down, right }: { down: number; right: number } = step;
  const quarters: LatticePlace[] = [];
  while (true) {
    const quarter = { row: row + down / 2, column: column + right / 2 };
    quarters.push(quarter);
    walked[Math.floor(quarter.row) * panel.columns + Math.floor(quarter.column)] = 1;
    row += down;
    column += right;
    const place = placeAt(panel, row, column);
    if (place === CROSSING) break;
    if (place === LEVEL_BREAK) down = -down;
    else right = -right;
  }
  const slot = TOWARDS.findIndex((way) => way.down === down && way.right === right);
  return { row, column, slot, quarters };
}

/** Closed strands that cross nothing: squares that no walk from a crossing has passed. */
function findLoops(panel: Panel, walked: Uint8Array): LatticePlace[][] {
  const loops: LatticePlace[][] = [];
  for (let row = 0; row < panel.rows - 1; row++) {
    for (let column = 0; column < panel.columns - 1; column++) {
      if (walked[row * panel.columns + column] === 1 || !hasSquare(panel, row, column)) continue;
      loops.push(walkLoop(panel, row, column, walked));
    }
  }
  return loops;
}

function walkLoop(panel: Panel, squareRow: number, squareColumn: number, walked: Uint8Array): LatticePlace[] {
  const start = { row: squareRow + 0.5, column: squareColumn + 0.5 };
  // The strand runs between the square's two sites: from top left to bottom right, or the other diagonal.
  let down = 1;
  let right = (squareRow + squareColumn) % 2 === 0 ? -1 : 1;
  const quarters: LatticePlace[] = [];
  let quarter = start;
  do {
    quarters.push(quarter);
    walked[Math.floor(quarter.row) * panel.columns + Math.floor(quarter.column)] = 1;
    if (placeAt(panel, quarter.row + down / 2, quarter.column + right / 2) === LEVEL_BREAK) {
      quarter = { row: quarter.row, column: quarter.column + right };
      down = -down;
    } else {
      quarter = { row: quarter.row + down, column: quarter.column };
      right = -right;
    }
  } while (quarter.row !== start.row || quarter.column !== start.column);
  return quarters;
}

/** Places -> mm, and legs -> filleted curves. */
class Lattice {
  readonly #rows: number;
  readonly #stepX: number;
  readonly #stepY: number;
  readonly #corner: "pointed" | "round";

  constructor(panel: Panel, { pitchMm, corner }: LatticeOptions) {
    this.#rows = panel.rows;
    this.#stepX = pitchMm.across / 2;
    this.#stepY = pitchMm.down / 2;
    this.#corner = corner;
  }

  x(column: number): number {
    return column * this.#stepX;
  }

  y(row: number): number {
    return (this.#rows - 1 - row) * this.#stepY;
  }

  edge(from: LatticePlace, quarters: readonly LatticePlace[], to: LatticePlace): ArcChain {
    const places = withoutStraights([from, ...quarters, to], false);
    const lanes = places.map((_, i) => i > 0 && i < places.length - 2);
    return this.#curve(places, lanes, false);
  }

  loop(quarters: readonly LatticePlace[]): ArcChain {
    const places = withoutStraights(quarters, true);
    return this.#curve(
      places,
      places.map(() => true),
      true,
    );
  }

  /**
   * The fillets: each leg is shared between the corners at its ends in proportion to
   * tan(turn/2), so a corner's radius is the least of leg / (sum of both ends' tan(turn/2))
   * over its two legs. Pointed corners of two lanes take nothing of their legs.
   */
  #curve(places: readonly LatticePlace[], isLane: readonly boolean[], closed: boolean): ArcChain {
    const points = places.map(({ row, column }): Point => ({ x: this.x(column), y: this.y(row) }));
    const count = points.length;
    const wrap = (i: number) => (i + count) % count;
    const at = (i: number) => points[wrap(i)] ?? { x: 0, y: 0 };
    const isCorner = (i: number) => isLane[wrap(i - 1)] === true && isLane[wrap(i)] === true;
    const takes = points.map((point, i) => {
      if (!closed && (i === 0 || i === count - 1)) return 0;
      if (this.#corner === "pointed" && isCorner(i)) return 0;
      return Math.tan(Math.abs(turnBetween(minus(point, at(i - 1)), minus(at(i + 1), point))) / 2);
    });
    const take = (i: number) => takes[wrap(i)] ?? 0;
    const radii = points.map((point, i) => {
      if (take(i) === 0) return 0;
      const before = distance(at(i - 1), point) / (take(i - 1) + take(i));
      const after = distance(point, at(i + 1)) / (take(i) + take(i + 1));
      return Math.min(before, after, isCorner(i) ? this.#roundCorner : Number.POSITIVE_INFINITY);
    });
    return filletPoints(points, radii, closed);
  }

  /**
   * The radius of a round corner: that of a corner cell, whose lanes are one step long and end
   * in eighth turns. Longer lanes would allow more, but a wider sweep would leave the breakline
   * it turns along and run into the one opposite.
   */
  get #roundCorner(): number {
    return Math.min(this.#stepX, this.#stepY) / (1 + Math.tan(Math.PI / 8));
  }
}

/** Places at which the legs before and after run in one line are no corners. */
function withoutStraights(places: readonly LatticePlace[], closed: boolean): LatticePlace[] {
  return places.filter((place, i) => {
    const before = places[i - 1] ?? (closed ? places.at(-1) : undefined);
    const after = places[i + 1] ?? (closed ? places[0] : undefined);
    if (!before || !after) return true;
    // Half steps: these products are exact.
    const turn =
      (place.column - before.column) * (after.row - place.row) -
      (place.row - before.row) * (after.column - place.column);
    return Math.abs(turn) > SAME_DIRECTION_RAD;
  });
}
