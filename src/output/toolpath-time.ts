/**
 * How long a router is at work, by the rules that motion controllers go by.
 *
 * Speed along the path rises and falls with one acceleration, in trapezoid profiles (triangles
 * where a motion is too short to reach its speed), from standstill to standstill. Along an arc
 * the same acceleration bounds the pull to the centre, v^2/r. At a corner the machine may pass
 * as if on the circle that touches both legs and stays `CORNER_DEVIATION_MM` from the corner:
 * with a change of direction t its radius is d cos(t/2)/(1 - cos(t/2)), so it slows a little
 * where chords follow a curve, and stops where it turns back. Two passes over all motions, one
 * backward for braking and one forward for gaining speed, find the speeds at the corners.
 *
 * An estimate: jerk, the axes' own limits and the time of cutter changes and spindle starts are
 * left out. Profiles and look-ahead are those of textbooks on machine tool control; how far a
 * machine cuts its corners is its own, and the number here is common practice without a source.
 */
import { InternalError } from "../base/internal-error.ts";
import { CHORD_ERROR_MM, SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcMotion, arcSweep } from "./motion-arc.ts";
import type { Motion, Place3, ToolRun } from "./toolpath.ts";

/** As a chord may stray from its arc: so a curve takes as long in chords as in arcs. */
const CORNER_DEVIATION_MM = CHORD_ERROR_MM;

export interface MachinePace {
  readonly rapidMmPerMin: number;
  readonly accelerationMmPerS2: number;
}

export interface TimeEstimate {
  readonly seconds: number;
  /** Lengths of the way at a feed and of the way at rapid speed. */
  readonly cutMm: number;
  readonly rapidMm: number;
}

/** One motion as its speed sees it: directions are unit vectors, speeds mm per second. */
interface Leg {
  readonly lengthMm: number;
  readonly topSpeed: number;
  readonly enters: Place3;
  readonly leaves: Place3;
}

/**
 * Seconds and lengths of one cutter's motions, in time linear in their number.
 *
 * @throws InternalError for a pace, feed or coordinate that is no positive or finite number.
 */
export function estimateTime(run: Pick<ToolRun, "start" | "motions">, machine: MachinePace): TimeEstimate {
  const acceleration = machine.accelerationMmPerS2;
  if (!(acceleration > 0 && machine.rapidMmPerMin > 0))
    throw new InternalError(`no machine moves at ${machine.rapidMmPerMin} mm/min, ${acceleration} mm/s2`);
  const way = new Way(run.motions.length);
  let cutMm = 0;
  let rapidMm = 0;
  let from = run.start;
  let before: Leg | undefined;
  for (const motion of run.motions) {
    const leg = legOf(from, motion, machine);
    from = motion;
    if (leg.lengthMm <= SAME_POINT_MM) continue;
    if (motion.kind === "rapid") rapidMm += leg.lengthMm;
    else cutMm += leg.lengthMm;
    way.add(leg, before ? cornerSpeed(before, leg, acceleration) : 0);
    before = leg;
  }
  return { seconds: way.seconds(acceleration), cutMm, rapidMm };
}

/** Lengths and speeds of many legs, in typed arrays: a relief has millions. */
class Way {
  #count = 0;
  readonly #lengths: Float64Array;
  readonly #topSpeeds: Float64Array;
  /** Before each leg, and 0 after the last. */
  readonly #corners: Float64Array;

  constructor(most: number) {
    this.#lengths = new Float64Array(most);
    this.#topSpeeds = new Float64Array(most);
    this.#corners = new Float64Array(most + 1);
  }

  /** The next leg, entered no faster than `entry`. */
  add({ lengthMm, topSpeed }: Leg, entry: number): void {
    const i = this.#count++;
    this.#lengths[i] = lengthMm;
    this.#topSpeeds[i] = topSpeed;
    this.#corners[i] = Math.min(entry, topSpeed, this.#topSpeeds[i - 1] ?? 0);
  }

  seconds(acceleration: number): number {
    this.#slow(acceleration);
    let seconds = 0;
    for (let i = 0; i < this.#count; i++)
      seconds += legSeconds({
        lengthMm: this.#lengths[i] ?? 0,
        topSpeed: this.#topSpeeds[i] ?? 0,
        enter: this.#corners[i] ?? 0,
        leave: this.#corners[i + 1] ?? 0,
        acceleration,
      });
    return seconds;
  }

  /** Brings the corners' speeds down to what can be braked to and reached. */
  #slow(acceleration: number): void {
    const corners = this.#corners;
    const reached = (leg: number, speed: number) =>
      Math.sqrt(speed * speed + 2 * acceleration * (this.#lengths[leg] ?? 0));
    for (let i = this.#count - 1; i >= 0; i--)
      corners[i] = Math.min(corners[i] ?? 0, reached(i, corners[i + 1] ?? 0));
    for (let i = 0; i < this.#count; i++)
      corners[i + 1] = Math.min(corners[i + 1] ?? 0, reached(i, corners[i] ?? 0));
  }
}

function legOf(from: Place3, motion: Motion, machine: MachinePace): Leg {
  const perMinute = motion.kind === "rapid" ? machine.rapidMmPerMin : motion.feedMmPerMin;
  const leg =
    motion.kind === "arc"
      ? arcLeg(from, motion, machine.accelerationMmPerS2)
      : straightLeg(from, motion, perMinute / 60);
  if (!(Number.isFinite(leg.lengthMm) && leg.topSpeed > 0))
    throw new InternalError(`a motion of ${leg.lengthMm} mm at ${perMinute} mm/min`);
  return leg;
}

function straightLeg(from: Place3, to: Place3, topSpeed: number): Leg {
  const way = { x: to.x - from.x, y: to.y - from.y, z: to.z - from.z };
  const lengthMm = Math.sqrt(way.x * way.x + way.y * way.y + way.z * way.z);
  const direction = { x: way.x / lengthMm, y: way.y / lengthMm, z: way.z / lengthMm };
  return { lengthMm, topSpeed, enters: direction, leaves: direction };
}

function arcLeg(from: Place3, arc: ArcMotion, acceleration: number): Leg {
  const { centreX, centreY, clockwise } = arc;
  const radius = Math.sqrt((from.x - centreX) ** 2 + (from.y - centreY) ** 2);
  const level = radius * arcSweep(from, arc);
  const feed = arc.feedMmPerMin / 60;
  if (level <= SAME_POINT_MM) return straightLeg(from, arc, feed);
  const rise = arc.z - from.z;
  const lengthMm = Math.sqrt(level * level + rise * rise);
  const turn = clockwise ? -1 : 1;
  const directionAt = (place: Place3): Place3 => ({
    x: ((-turn * (place.y - centreY)) / radius) * (level / lengthMm),
    y: ((turn * (place.x - centreX)) / radius) * (level / lengthMm),
    z: rise / lengthMm,
  });
  // Only the level share of a helix's speed is bent.
  const topSpeed = Math.min(feed, Math.sqrt(acceleration * radius) * (lengthMm / level));
  return { lengthMm, topSpeed, enters: directionAt(from), leaves: directionAt(arc) };
}

function cornerSpeed({ leaves }: Leg, { enters }: Leg, acceleration: number): number {
  // Of the half angle by the chord between the two directions: exact for small turns too.
  const sinHalf =
    Math.sqrt((enters.x - leaves.x) ** 2 + (enters.y - leaves.y) ** 2 + (enters.z - leaves.z) ** 2) / 2;
  if (sinHalf >= 1) return 0;
  const cosHalf = Math.sqrt(1 - sinHalf * sinHalf);
  // d cos/(1 - cos), with 1 - cos = sin^2/(1 + cos); infinite straight on.
  const radius = (CORNER_DEVIATION_MM * cosHalf * (1 + cosHalf)) / (sinHalf * sinHalf);
  return Math.sqrt(acceleration * radius);
}

interface LegPace {
  readonly lengthMm: number;
  readonly topSpeed: number;
  readonly enter: number;
  readonly leave: number;
  readonly acceleration: number;
}

function legSeconds({ lengthMm, topSpeed, enter, leave, acceleration }: LegPace): number {
  const squares = enter * enter + leave * leave;
  const peak = Math.sqrt(acceleration * lengthMm + squares / 2);
  if (peak <= topSpeed) return (2 * peak - enter - leave) / acceleration;
  const changingMm = (2 * topSpeed * topSpeed - squares) / (2 * acceleration);
  return (2 * topSpeed - enter - leave) / acceleration + (lengthMm - changingMm) / topSpeed;
}
