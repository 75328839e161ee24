/** Where the rungs, ports and inner ways of units lie. */
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { squaredToLine } from "../../geometry/meet.ts";
import { distance, type Point } from "../../geometry/point.ts";
import type { Rung } from "./column.ts";
import { placeOn, ruleChain } from "./ruled-chain.ts";
import { type Port, type SewUnit, type SewUnits, unitAt } from "./units.ts";

/** A way is straight if it is longer than its chord by no more than this share: 0.02 mm aside in 3 mm. */
const STRAIGHT_SHARE = 1e-4;

export class UnitLines {
  readonly units: SewUnits;
  /** By column, for each rung the point of the centreline that it crosses. */
  readonly #centres: readonly (readonly Point[])[];

  constructor(units: SewUnits) {
    this.units = units;
    this.#centres = units.columns.map(({ centreline, rungs }) => {
      const ruled = ruleChain(centreline);
      return rungs.map(({ alongMm }) => placeOn(ruled, alongMm).point);
    });
  }

  /** The unit's rungs by number, from its first to its last or back. */
  rungNumbers(unit: SewUnit, from: Port): number[] {
    const numbers = Array.from({ length: unit.last - unit.first + 1 }, (_, i) => unit.first + i);
    return from === 0 ? numbers : numbers.reverse();
  }

  isBean({ column }: SewUnit): boolean {
    return this.units.columns[column]?.line === "bean";
  }

  rung({ column, strand }: SewUnit, number: number): Rung {
    const rungs = this.units.columns[column]?.rungs ?? [];
    const rung = rungs[wrap(number, rungs.length)];
    if (!rung) throw new InternalError(`no rung ${number} in a column of strand ${strand}`);
    return rung;
  }

  /** Where a rung crosses the centreline. */
  centre({ column }: SewUnit, number: number): Point {
    const centres = this.#centres[column] ?? [];
    return centres[wrap(number, centres.length)] ?? { x: Number.NaN, y: Number.NaN };
  }

  portPoint(number: number, port: Port): Point {
    const unit = unitAt(this.units, number);
    if (port === 0) return this.centre(unit, unit.first);
    if (port === 1) return this.centre(unit, unit.last);
    const below = unit.joints[port];
    if (!below) throw new InternalError(`no port ${port} at unit ${number}`);
    return this.portPoint(below.unit, below.port);
  }

  /** The rung of a unit that lies at one of its ports: of those above a section's end the nearest. */
  portRung(number: number, port: Port): number {
    const unit = unitAt(this.units, number);
    if (port === 0) return unit.first;
    if (port === 1) return unit.last;
    const point = this.portPoint(number, port);
    let best = unit.first;
    let least = Number.POSITIVE_INFINITY;
    for (let i = unit.first; i <= unit.last; i++) {
      const { left, right } = this.rung(unit, i);
      const apart = squaredToLine(point, left, right);
      if (apart < least) [best, least] = [i, apart];
    }
    return best;
  }

  /**
   * The way through a unit from port to port, as stretches that end at corners: along a rung to the
   * middle, along the centreline, along a rung to the other port; straight where the unit is.
   */
  passLines(number: number, from: Port, to: Port): readonly (readonly Point[])[] {
    const unit = unitAt(this.units, number);
    const [start, end] = [this.portPoint(number, from), this.portPoint(number, to)];
    const middle = this.centres(unit, this.portRung(number, from), this.portRung(number, to));
    const [first, last] = [middle[0] ?? start, middle.at(-1) ?? end];
    // Off the threads of a bean line it would show.
    if (this.isBean(unit)) return [[start, first], ...stepByStep(middle), [last, end]];
    if (pathLength(middle) <= distance(first, last) * (1 + STRAIGHT_SHARE)) return [[start, end]];
    return [[start, first], middle, [last, end]].filter((line) => pathLength(line) > SAME_POINT_MM);
  }

  passLength(number: number, from: Port, to: Port): number {
    return this.passLines(number, from, to).reduce((sum, line) => sum + pathLength(line), 0);
  }

  /** Points of the centreline at the rungs from one to another, either way. */
  centres(unit: SewUnit, from: number, to: number): Point[] {
    const step = from <= to ? 1 : -1;
    return Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => this.centre(unit, from + i * step));
  }
}

/** A line for each step from point to point. */
export function stepByStep(points: readonly Point[]): readonly (readonly Point[])[] {
  return points.slice(1).map((point, i) => [points[i] ?? point, point]);
}

function wrap(number: number, count: number): number {
  return ((number % count) + count) % count;
}

export function pathLength(points: readonly Point[]): number {
  let length = 0;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    if (a && b) length += distance(a, b);
  }
  return length;
}
