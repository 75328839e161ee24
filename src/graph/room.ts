/** Where the curve of a corner may run: well nearer to the corner's own lines than to any other. */

import { SAME_POINT_MM } from "../base/tolerance.ts";
import { segmentNearness } from "../geometry/distance.ts";
import { meet, nearestOn } from "../geometry/meet.ts";
import { distance, type Point } from "../geometry/point.ts";
import { type Segment, segmentPoint } from "../geometry/segment.ts";

/**
 * A place of a curve had best be this many times as far from foreign lines as from its own. With
 * 3, curves on both sides of a line and on both sides of a face lie evenly spaced; a little
 * less lets small faces of three sides have their even bends.
 */
const ENOUGH = 2.25;

/** Lines of another connected part count as nearer by this share: all curves beside them are their own. */
const STRANGER_SHARE = 0.5;

/** Less than this is no room at all. */
const LEAST = 0.4;

/** Places looked at along each segment, besides its start. */
const SAMPLES = 4;

/** A line, or a point alone, that a corner's curve keeps away from. */
export interface ForeignLine {
  readonly segment: Segment;
  /** Whether it belongs to another connected part of the graph. */
  readonly stranger: boolean;
}

/** Nothing further from a corner's lines than this many of their halves matters to its {@link Room}. */
export const SIGHT_SHARE = 3;

export class Room {
  readonly #own: readonly Segment[];
  readonly #whole: readonly Segment[];
  /** The nearest first. */
  readonly #foreign: readonly (ForeignLine & { readonly away: number })[];
  readonly #ends: readonly Point[];

  /**
   * @param own the halves of the two lines, from the corner's point to their middles
   * @param whole the two lines, which a curve meets at their middles only
   * @param foreign other lines that the corner can see
   * @param sight mm from its own lines beyond which others are left out
   */
  constructor(
    own: readonly Segment[],
    whole: readonly Segment[],
    foreign: readonly ForeignLine[],
    sight: number,
  ) {
    this.#own = own;
    this.#whole = whole;
    this.#foreign = foreign
      .map((line) => ({
        ...line,
        away: Math.min(...own.map((half) => segmentNearness(half, line.segment).distance)),
      }))
      .filter(({ away: apart }) => apart <= sight)
      .sort((a, b) => a.away - b.away);
    this.#ends = own.map(({ to }) => to);
  }

  /**
   * How crowded a curve is at its narrowest place: 1 where it has room enough, more where
   * foreign lines are near, infinite where it runs into them or across its own.
   */
  crowding(segments: readonly Segment[]): number {
    let least = ENOUGH;
    for (const segment of segments) {
      for (let i = 0; i <= SAMPLES; i++) {
        least = this.#roomAt(segmentPoint(segment, i / SAMPLES), least);
        if (least < LEAST) return Number.POSITIVE_INFINITY;
      }
    }
    const crosses = segments.some((segment) =>
      this.#whole.some((line) => meetsInside(segment, line, this.#ends)),
    );
    return crosses ? Number.POSITIVE_INFINITY : ENOUGH / least;
  }

  /** How many times as far from foreign lines as from its own a place is, if less than `most`; else that. */
  #roomAt(place: Point, most: number): number {
    const own = away(place, this.#own);
    let least = most;
    for (const { segment, stranger, away: apart } of this.#foreign) {
      // Neither this line nor any further one comes near enough to matter.
      if (STRANGER_SHARE * (apart - own) >= least * own) break;
      const foreign = distance(nearestOn(segment, place), place) * (stranger ? STRANGER_SHARE : 1);
      if (foreign < least * own) least = foreign / own;
    }
    return least;
  }
}

function away(place: Point, lines: readonly Segment[]): number {
  return Math.min(...lines.map((line) => distance(nearestOn(line, place), place)));
}

function meetsInside(segment: Segment, line: Segment, ends: readonly Point[]): boolean {
  const found = meet(segment, line);
  if (found.kind === "none") return false;
  return found.at.some(({ point }) => !ends.some((end) => distance(end, point) <= 10 * SAME_POINT_MM));
}
