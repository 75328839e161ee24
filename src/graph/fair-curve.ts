/**
 * Fair curves between two places with given headings: at most two arcs, with lines before,
 * between and after them where that is fairer or narrower.
 *
 * Each curve is the filleted line (fillet-legs.ts) from the start along its heading to a
 * first knee, on to a second knee, and along the last heading to the end. Knees at which the
 * legs are used up by the two fillets make a biarc; there is one for each ratio of the first
 * leg to the last (Bolton, Biarc curves, Computer-Aided Design 7, 1975). Nearer knees make a
 * line between the arcs, and in the limit the chord.
 *
 * Curves are compared by length x integral of curvature squared: no matter of scale, and least
 * for an even bend (bending energy, e.g. Horn, "The curve of least energy", 1983).
 */
import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import { along, cross, distance, dot, minus, type Point, turnBetween, type Vec } from "../geometry/point.ts";

/** A place and the direction of travel there, length 1. */
export interface Pose {
  readonly at: Point;
  readonly heading: Vec;
}

/** The corners of a line that becomes a curve when they are filleted. */
export interface FairCurve {
  readonly legs: readonly Point[];
  /** Length x integral of curvature squared: 0 for a line, the square of the turn for an arc. */
  readonly strain: number;
}

/** First leg to last leg: as many each way, so that a curve run backwards is the same curve. */
const LEG_RATIOS = [1, 1.4, 2, 3, 5, 9].flatMap((ratio) => (ratio === 1 ? [1] : [ratio, 1 / ratio]));

/** The biarc's legs are taken at these shares of their length. */
const LEG_SHARES = [1, 0.75, 0.5, 0.3, 0.15, 0.07];

/** No knee turns further than this: its fillet would have no radius to speak of. */
const GREATEST_KNEE_RAD = (165 / 180) * Math.PI;

/**
 * Curves from one pose to another that turn by `turn` radians in all, the fairest first.
 */
export function fairCurves(from: Pose, to: Pose, turn: number): readonly FairCurve[] {
  const found: FairCurve[] = [];
  const add = (legs: readonly Point[]) => {
    const strain = strainOf(legs, turn);
    if (strain !== undefined) found.push({ legs, strain });
  };
  if (isAhead(from, to)) add([from.at, to.at]);
  const knee = singleKnee(from, to);
  if (knee) add([from.at, knee, to.at]);
  for (const ratio of LEG_RATIOS) {
    const last = lastLeg(from, to, ratio);
    if (last === undefined) continue;
    for (const share of LEG_SHARES) {
      const first = along(from.at, from.heading, share * last * ratio);
      const second = along(to.at, to.heading, -share * last);
      add([from.at, first, second, to.at]);
    }
  }
  // Mirrored curves strain alike but for rounding, which must not choose between them.
  return found.sort((a, b) => Math.round((a.strain - b.strain) / SAME_STRAIN));
}

const SAME_STRAIN = 1e-8;

/** Whether the straight line has both headings. */
function isAhead(from: Pose, to: Pose): boolean {
  const chord = minus(to.at, from.at);
  const off = Math.abs(turnBetween(from.heading, chord)) + Math.abs(turnBetween(chord, to.heading));
  return off <= SAME_DIRECTION_RAD;
}

/** Where the two headings' lines meet ahead of the start and behind the end. */
function singleKnee(from: Pose, to: Pose): Point | undefined {
  const sine = cross(from.heading, to.heading);
  if (Math.abs(sine) <= SAME_DIRECTION_RAD) return undefined;
  const chord = minus(to.at, from.at);
  const first = cross(chord, to.heading) / sine;
  const last = cross(from.heading, chord) / sine;
  return first > 0 && last > 0 ? along(from.at, from.heading, first) : undefined;
}

/**
 * The last leg of the biarc whose first leg is `ratio` times as long. With u = ratio x heading
 * and w = heading at the end, the knees lie as far apart as both legs are long:
 * |chord - s (u + w)| = s (ratio + 1).
 */
function lastLeg(from: Pose, to: Pose, ratio: number): number | undefined {
  const chord = minus(to.at, from.at);
  const sum = {
    x: ratio * from.heading.x + to.heading.x,
    y: ratio * from.heading.y + to.heading.y,
  };
  const half = dot(chord, sum);
  const square = dot(chord, chord);
  const last =
    square / (half + Math.sqrt(half * half + 2 * ratio * (1 - dot(from.heading, to.heading)) * square));
  return last > 0 && Number.isFinite(last) ? last : undefined;
}

/** The strain of the filleted line, or undefined where it turns otherwise than by `turn`. */
function strainOf(legs: readonly Point[], turn: number): number | undefined {
  let length = 0;
  let turned = 0;
  const knees: { readonly turn: number; readonly take: number; readonly before: number }[] = [];
  let before = 0;
  for (const [i, point] of legs.entries()) {
    const last = legs[i - 1];
    const next = legs[i + 1];
    if (last) before = distance(last, point);
    length += before;
    if (!last || !next) continue;
    const own = turnBetween(minus(point, last), minus(next, point));
    if (Math.abs(own) > GREATEST_KNEE_RAD) return undefined;
    turned += own;
    knees.push({ turn: Math.abs(own), take: Math.tan(Math.abs(own) / 2), before });
  }
  if (Math.abs(turned - turn) > SAME_TURN_RAD) return undefined;
  let bending = 0;
  for (const [i, { turn: own, take, before: leg }] of knees.entries()) {
    if (take < NO_TURN) continue;
    const next = knees[i + 1];
    const radius = Math.min(
      leg / ((knees[i - 1]?.take ?? 0) + take),
      (next?.before ?? before) / (take + (next?.take ?? 0)),
    );
    length += radius * (own - 2 * take);
    bending += own / radius;
  }
  return length * bending;
}

/** Turns are the same up to whole turns; this tells those apart. */
const SAME_TURN_RAD = 1e-6;
const NO_TURN = 1e-12;

/** No curve that turns by `turn` radians strains less: an even bend does (Cauchy and Schwarz). */
export function leastStrain(turn: number): number {
  return turn * turn;
}
