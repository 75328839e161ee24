/**
 * The flat curves of a panel's strands: straight legs and tangent fillets.
 *
 * Between two sites of which one is a crossing the leg is the diagonal; each breakline adds a
 * lane leg, parallel to it and half a step away. Legs meet at the middles of unit squares, the
 * quarter points, so the curve's corners are the quarter points that a breakline is next to.
 */
import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import type { ArcChain } from "../geometry/arc-chain.ts";
import { filletPoints } from "../geometry/fillet.ts";
import { between, distance, minus, type Point, turnBetween } from "../geometry/point.ts";
import type { LatticePlace, Round, Run } from "./panel-walk.ts";

export type CornerStyle = "pointed" | "round";

/** What the legs of a panel are measured by. */
export interface LatticeSteps {
  /** The row of places that lies at y = 0. */
  readonly lowestRow: number;
  /** mm from one column, or row, of places to the next. */
  readonly stepXMm: number;
  readonly stepYMm: number;
  readonly corner: CornerStyle;
}

/** Places -> mm, and legs -> filleted curves. */
export class PanelCurves {
  readonly #steps: LatticeSteps;

  constructor(steps: LatticeSteps) {
    this.#steps = steps;
  }

  point({ row, column }: LatticePlace): Point {
    return { x: column * this.#steps.stepXMm, y: (this.#steps.lowestRow - row) * this.#steps.stepYMm };
  }

  /** The curve from crossing to crossing. */
  edge({ from, quarters, to }: Run): ArcChain {
    const places = withoutStraights([from, ...quarters, to], undefined);
    const lanes = places.map((_, i) => i > 0 && i < places.length - 2);
    return this.#fillet(new Legs(this.#points(places), lanes, undefined));
  }

  /**
   * The curve of a closed strand. One that goes on by some columns is cut open where a leg
   * changes from one fillet to the next, and ends that far from its start.
   */
  round({ quarters, advance }: Round): ArcChain {
    const places = withoutStraights(quarters, advance);
    const first = places[0] ?? quarters[0];
    if (!first) return { closed: false, vertices: [] };
    const after = { row: first.row, column: first.column + advance };
    if (places.length === 0) {
      const [a, b] = this.#points([first, after]);
      return filletPoints(a && b ? [a, b] : [], [], false);
    }
    const span = minus(this.point(after), this.point(first));
    const legs = new Legs(
      this.#points(places),
      places.map(() => true),
      span,
    );
    return this.#fillet(legs);
  }

  #points(places: readonly LatticePlace[]): Point[] {
    return places.map((place) => this.point(place));
  }

  /**
   * The fillets: each leg is shared between the corners at its ends in proportion to
   * tan(turn/2), so a corner's radius is the least of leg / (sum of both ends' tan(turn/2))
   * over its two legs. Pointed corners of two lanes take nothing of their legs.
   */
  #fillet(legs: Legs): ArcChain {
    const takes = legs.points.map((point, i) => {
      if (legs.isEnd(i)) return 0;
      if (this.#steps.corner === "pointed" && legs.isCorner(i)) return 0;
      return Math.tan(Math.abs(turnBetween(minus(point, legs.at(i - 1)), minus(legs.at(i + 1), point))) / 2);
    });
    const take = (i: number) => takes[legs.wrap(i)] ?? 0;
    const radii = legs.points.map((point, i) => {
      if (take(i) === 0) return 0;
      const before = distance(legs.at(i - 1), point) / (take(i - 1) + take(i));
      const after = distance(point, legs.at(i + 1)) / (take(i) + take(i + 1));
      return Math.min(before, after, legs.isCorner(i) ? this.#roundCorner : Number.POSITIVE_INFINITY);
    });
    if (!legs.goesOn) return filletPoints(legs.points, radii, legs.isClosed);
    const count = legs.points.length;
    const share = take(-1) + take(0) === 0 ? 0.5 : take(-1) / (take(-1) + take(0));
    const start = between(legs.at(-1), legs.at(0), share);
    const end = between(legs.at(count - 1), legs.at(count), share);
    return filletPoints([start, ...legs.points, end], [0, ...radii, 0], false);
  }

  /**
   * The radius of a round corner: that of a corner cell, whose lanes are one step long and end
   * in eighth turns. Longer lanes would allow more, but a wider sweep would leave the breakline
   * it turns along and run into the one opposite.
   */
  get #roundCorner(): number {
    return Math.min(this.#steps.stepXMm, this.#steps.stepYMm) / (1 + Math.tan(Math.PI / 8));
  }
}

/** The legs between points: of an open line, a closed one, or one that comes round some way on. */
class Legs {
  readonly points: readonly Point[];
  readonly #isLane: readonly boolean[];
  readonly #span: { readonly x: number; readonly y: number } | undefined;

  constructor(
    points: readonly Point[],
    isLane: readonly boolean[],
    span: { readonly x: number; readonly y: number } | undefined,
  ) {
    this.points = points;
    this.#isLane = isLane;
    this.#span = span;
  }

  get isClosed(): boolean {
    return this.#span !== undefined;
  }

  get goesOn(): boolean {
    return this.#span !== undefined && this.#span.x !== 0;
  }

  isEnd(i: number): boolean {
    return !this.isClosed && (i === 0 || i === this.points.length - 1);
  }

  wrap(i: number): number {
    const { length } = this.points;
    return ((i % length) + length) % length;
  }

  at(i: number): Point {
    const { x, y } = this.points[this.wrap(i)] ?? { x: 0, y: 0 };
    const times = Math.floor(i / this.points.length);
    if (!this.#span || times === 0) return { x, y };
    return { x: x + times * this.#span.x, y: y + times * this.#span.y };
  }

  /** Whether two lanes meet at the point. */
  isCorner(i: number): boolean {
    return this.#isLane[this.wrap(i - 1)] === true && this.#isLane[this.wrap(i)] === true;
  }
}

/**
 * Places at which the legs before and after run in one line are no corners. A line that comes
 * round goes on by `advance` columns; an open one has none.
 */
function withoutStraights(places: readonly LatticePlace[], advance: number | undefined): LatticePlace[] {
  const round = (place: LatticePlace | undefined, by: number | undefined) =>
    place && by !== undefined ? { row: place.row, column: place.column + by } : undefined;
  return places.filter((place, i) => {
    const before = places[i - 1] ?? round(places.at(-1), advance === undefined ? advance : -advance);
    const after = places[i + 1] ?? round(places[0], advance);
    if (!before || !after) return true;
    // Half steps: these products are exact.
    const turn =
      (place.column - before.column) * (after.row - place.row) -
      (place.row - before.row) * (after.column - place.column);
    return Math.abs(turn) > SAME_DIRECTION_RAD;
  });
}
