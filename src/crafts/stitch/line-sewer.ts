/**
 * Sews divided lines one after another: the thread is tied in where a line begins and tied off where
 * it ends, and cut before the next unless that is near; a line that begins where the last one ended
 * is sewn on.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { along, distance, minus, type Point, unit, type Vec } from "../../geometry/point.ts";
import { JUMP, STITCH, type StitchMaker, type StitchRole, TRIM } from "../../output/stitches.ts";

export interface TieRule {
  readonly tieStitchMm: number;
  /** None by hand on counted cloth: ends are woven in at the back. */
  readonly tieStitches: number;
}

/** A shorter loose thread is snipped by hand: the machine would take longer over its cut (common practice, no source). */
const LONGEST_LOOSE_MM = 3;

export class LineSewer {
  readonly #maker: StitchMaker;
  readonly #rule: TieRule;
  /** Where the needle went in last, and the hole before. */
  #at: Point | undefined;
  #before: Point | undefined;

  constructor(maker: StitchMaker, rule: TieRule) {
    this.#maker = maker;
    this.#rule = rule;
  }

  /** Every hole in order, the first come to without sewing. */
  sew(holes: readonly Point[], role: StitchRole): void {
    const [first, second] = holes;
    if (!first || !second) return;
    if (!this.#at || distance(this.#at, first) > SAME_POINT_MM) this.#begin(first, second);
    for (const hole of holes.slice(1)) this.#stitchTo(hole, role);
  }

  /** Ties the thread off; what comes next begins anew. */
  finish(): void {
    if (this.#at && this.#before) {
      const at = this.#at;
      const back = this.#tieEnd(at, this.#before);
      for (let i = 0; i < this.#rule.tieStitches; i++) this.#stitchTo(i % 2 === 0 ? back : at, "tie");
    }
    this.#before = undefined;
  }

  /** The ties end on the first hole, so that the first stitch has its full length. */
  #begin(first: Point, second: Point): void {
    const from = this.#at;
    this.finish();
    const inward = this.#tieEnd(first, second);
    const { tieStitches } = this.#rule;
    const { x, y } = tieStitches % 2 === 0 ? first : inward;
    const isNear = from && distance(from, first) <= LONGEST_LOOSE_MM;
    this.#maker.add(x, y, !from || isNear ? JUMP : TRIM, "tie");
    this.#at = { x, y };
    for (let i = tieStitches - 1; i >= 0; i--) this.#stitchTo(i % 2 === 0 ? first : inward, "tie");
  }

  #tieEnd(hole: Point, towards: Point): Point {
    const way: Vec = minus(towards, hole);
    // Inside the next stitch, and off its far hole.
    const reach = Math.min(this.#rule.tieStitchMm, distance(hole, towards) / 2);
    return along(hole, unit(way), reach);
  }

  #stitchTo(hole: Point, role: StitchRole): void {
    this.#maker.add(hole.x, hole.y, STITCH, role);
    this.#before = this.#at;
    this.#at = hole;
  }
}

/** A divided line as the needle runs along it, a closed one back to its start. */
export function runningOrder(holes: readonly Point[], closed: boolean): Point[] {
  const first = holes[0];
  return closed && first ? [...holes, first] : [...holes];
}

/**
 * Back stitch as machines sew it: two stitches on and one back, so that each stitch of the line is
 * sewn three times. (By hand the needle comes up a stitch ahead and goes back to where the last
 * one ended: the line looks the same, with the thread twice on the back and once on the front.)
 */
export function backOrder(holes: readonly Point[], closed: boolean): Point[] {
  const line = runningOrder(holes, closed);
  return line.flatMap((hole, i) => {
    const before = line[i - 1];
    return before ? [hole, before, hole] : [hole];
  });
}
