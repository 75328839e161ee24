/**
 * The plane bent round a centre: what lies level becomes a circle about it, what stands upright
 * a ray from it, and up is outward. Both maps keep counter-clockwise as it is, so that the slots
 * of crossings stay in order.
 *
 * The conformal map is the complex exponential: radii grow in proportion, so that every crossing
 * keeps its angle and cells keep their shape, larger outside. Straight diagonals become
 * logarithmic spirals, and with equal radial steps Archimedes' spirals.
 */
import type { Point, Vec } from "../geometry/point.ts";
import { unit } from "../geometry/point.ts";

export type Spacing = "conformal" | "equal";

export interface BendSize {
  readonly spacing: Spacing;
  /** For equal spacing: mm between neighbouring circles of cell centres. Without it the panel ends up as wide as a conformal one. */
  readonly pitchMm?: number | undefined;
  /** Radius of the circle that y = 0 becomes, mm. */
  readonly innerMm: number;
  /** Steps from column to column of the panel, and from row to row. */
  readonly steps: { readonly across: number; readonly down: number };
  /** The angle that all columns take up, radians, at most a full turn. */
  readonly angleRad: number;
  /** Where x = 0 comes to lie, radians counter-clockwise from the x axis; columns follow clockwise. */
  readonly startRad: number;
}

/** A bend, and the flat steps that it takes to their places with the least stretch. */
export class Bend {
  readonly innerMm: number;
  readonly outerMm: number;
  /** Flat steps, mm. */
  readonly stepXMm: number;
  readonly stepYMm: number;
  /** The angle of one step, radians. */
  readonly stepRad: number;
  readonly #startRad: number;
  readonly #spacing: Spacing;

  constructor({ spacing, pitchMm, innerMm, steps, angleRad, startRad }: BendSize) {
    this.#spacing = spacing;
    this.#startRad = startRad;
    this.stepRad = angleRad / steps.across;
    this.innerMm = innerMm;
    const isEqual = spacing === "equal";
    this.outerMm =
      isEqual && pitchMm !== undefined
        ? innerMm + (steps.down * pitchMm) / 2
        : innerMm * Math.exp(this.stepRad * steps.down);
    this.stepYMm = isEqual
      ? (this.outerMm - innerMm) / steps.down
      : this.stepRad * Math.sqrt(innerMm * this.outerMm);
    this.stepXMm = isEqual ? (this.stepRad * (innerMm + this.outerMm)) / 2 : this.stepYMm;
  }

  /** Where a flat point comes to lie; the centre is at 0, 0. */
  point(flat: Point): Point {
    const radius = this.radius(flat.y);
    const angle = this.angle(flat.x);
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  }

  /** The direction, length 1, that a flat direction takes at a flat point. */
  direction(flat: Point, way: Vec): Vec {
    const angle = this.angle(flat.x);
    const radius = this.radius(flat.y);
    const outward = way.y * (this.#spacing === "conformal" ? (radius * this.stepRad) / this.stepYMm : 1);
    const clockwise = (way.x * radius * this.stepRad) / this.stepXMm;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    return unit({ x: outward * cos + clockwise * sin, y: outward * sin - clockwise * cos });
  }

  angle(x: number): number {
    return this.#startRad - (x / this.stepXMm) * this.stepRad;
  }

  radius(y: number): number {
    return this.#spacing === "conformal"
      ? this.innerMm * Math.exp((y / this.stepYMm) * this.stepRad)
      : this.innerMm + y;
  }
}
