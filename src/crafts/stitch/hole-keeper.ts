/**
 * Keeps needle holes apart: where holes would crowd along the inner edge of a bend, stitches
 * between are shortened from that side, step by step, and left out where no step is free.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { between, distance, type Point } from "../../geometry/point.ts";

/** Bends that crowd more holes than this within the least distance fold back on themselves. */
const LOOK_BACK = 48;

export interface ShorteningRule {
  readonly leastHoleSpacingMm: number;
  /** One step of shortening, as a share of the rung. */
  readonly share: number;
  readonly leastLengthMm: number;
}

/** A shortened stitch still covers more than the outer third. */
const MOST_SHORTENED = 0.6;

/** The holes of one column so far, left and right. */
export class HoleKeeper {
  readonly #rule: ShorteningRule;
  readonly #left: Point[] = [];
  readonly #right: Point[] = [];
  readonly #closed: boolean;

  /** @param closed whether the last holes come to lie beside the first */
  constructor(rule: ShorteningRule, closed: boolean) {
    this.#rule = rule;
    this.#closed = closed;
  }

  /**
   * The rung as it can be sewn without crowding, its holes now kept; undefined where there is no room for it.
   * Along a mitre holes give way to each other by a hair only: a stitch shortened more would leave the join open.
   */
  place(
    left: Point,
    right: Point,
    atMitre: boolean,
  ): { readonly left: Point; readonly right: Point } | undefined {
    for (const [fromLeft, fromRight] of this.#steps(distance(left, right), atMitre)) {
      const placed = { left: between(left, right, fromLeft), right: between(right, left, fromRight) };
      if (!this.#isFree(this.#left, placed.left) || !this.#isFree(this.#right, placed.right)) continue;
      this.#left.push(placed.left);
      this.#right.push(placed.right);
      return placed;
    }
    return undefined;
  }

  /** Shares taken off the left and right ends, the least first. */
  *#steps(length: number, atMitre: boolean): Iterable<readonly [number, number]> {
    yield [0, 0];
    const { share, leastLengthMm, leastHoleSpacingMm } = this.#rule;
    const step = atMitre ? leastHoleSpacingMm / 2 / length : share;
    if (step <= 0) return;
    const most = Math.min(MOST_SHORTENED, 1 - leastLengthMm / length);
    for (let taken = step; taken <= most; taken += step) {
      yield [taken, 0];
      yield [0, taken];
    }
  }

  #isFree(holes: readonly Point[], hole: Point): boolean {
    const least = this.#rule.leastHoleSpacingMm;
    for (let i = Math.max(0, holes.length - LOOK_BACK); i < holes.length; i++) {
      const other = holes[i];
      if (other && distance(other, hole) < least - SAME_POINT_MM) return false;
    }
    if (!this.#closed) return true;
    for (let i = 0; i < Math.min(LOOK_BACK, holes.length); i++) {
      const other = holes[i];
      if (other && distance(other, hole) < least - SAME_POINT_MM) return false;
    }
    return true;
  }
}
