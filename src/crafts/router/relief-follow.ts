/**
 * The ball's way along a finishing line: never faster down than it may plunge, and never straight
 * down into solid material, where a profile does not allow that.
 */
import { OUTPUT_GRID_MM } from "../../base/tolerance.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { MotionMaker } from "./motion-maker.ts";
import type { Height } from "./relief-simplify.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

export interface Finishing {
  readonly maker: MotionMaker;
  readonly ball: LoadedCutter;
  readonly settings: ReliefSettings;
  readonly field: HeightField;
  /** What roughing left, nowhere lower than it is; carved away line by line. */
  readonly stock: HeightField;
}

/** Sideways by less than this for each mm down is straight down: a little more than simulation takes for a plunge. */
const UPRIGHT = 0.12;

/**
 * Along the line. Straight down into solid material it ramps, to and fro over what comes next; a
 * hollow too narrow for that (less than SHORTEST_RAMP_MM) is passed over.
 */
export function goAlong(finishing: Finishing, heights: readonly Height[], y: number): void {
  const plunges = (height: Height) =>
    !finishing.settings.plungeAllowed && isUpright(finishing, height) && isSolid(finishing, height, y);
  for (const [i, height] of heights.entries()) {
    if (plunges(height)) {
      rampDown(finishing, heights.slice(i), y);
      if (plunges(height)) continue;
    }
    goTo(finishing, height, y);
  }
}

function isUpright({ maker }: Finishing, { at, z }: Height): boolean {
  const down = maker.at.z - z;
  return down > OUTPUT_GRID_MM && Math.abs(at - maker.at.x) < UPRIGHT * down;
}

/** Downwards never faster than the cutter may plunge. */
function goTo({ maker, ball }: Finishing, { at, z }: Height, y: number): void {
  const { x, z: from } = maker.at;
  const down = from - z;
  const length = Math.hypot(at - x, down);
  if (length < OUTPUT_GRID_MM) return;
  const feed =
    down > 0 ? Math.min(ball.feedMmPerMin, (ball.plungeMmPerMin * length) / down) : ball.feedMmPerMin;
  maker.lineTo(at, y, z, Math.floor(feed));
}

/** From this share of the ball's disc on, what lies under it counts as solid: a little less than simulation allows. */
const SOLID_SHARE = 0.75;

/** Whether roughing left material under most of the ball. */
function isSolid({ stock, ball }: Finishing, { at, z }: Height, y: number): boolean {
  const { columns, rows, stepMm, minX, minY } = stock;
  const r = ball.shape.diameterMm / 2;
  const across = (at - minX) / stepMm - 0.5;
  const up = (y - minY) / stepMm - 0.5;
  const reach = r / stepMm;
  let under = 0;
  let solid = 0;
  for (let row = Math.max(0, Math.ceil(up - reach)); row <= Math.min(rows - 1, up + reach); row++) {
    const chord = Math.sqrt(reach * reach - (row - up) ** 2);
    const last = Math.min(columns - 1, Math.floor(across + chord));
    for (let column = Math.max(0, Math.ceil(across - chord)); column <= last; column++) {
      const square = ((row - up) ** 2 + (column - across) ** 2) * stepMm * stepMm;
      under++;
      if ((stock.z[row * columns + column] ?? 0) > z + r - Math.sqrt(Math.max(0, r * r - square))) solid++;
    }
  }
  return solid > SOLID_SHARE * under;
}

/** Ramps are at most so many ball diameters long; in a hollow shorter than this (mm) there is no ramp to speak of. */
const LONGEST_RAMP = 2;
const SHORTEST_RAMP_MM = 0.03;

/** To the first of the heights, by going to and fro over those that follow, as far as they lie no higher than where it is; ever lower but never below them. */
function rampDown(finishing: Finishing, heights: readonly Height[], y: number): void {
  const { maker, ball, settings } = finishing;
  const run = rampRun(heights, maker.at.z, LONGEST_RAMP * ball.shape.diameterMm);
  const [first] = run;
  if (!first || Math.abs((run.at(-1) ?? first).at - first.at) < SHORTEST_RAMP_MM) return;
  const fall = Math.tan((settings.rampDeg * Math.PI) / 180);
  const round = [...run.slice(1), ...run.toReversed().slice(1)];
  let low = maker.at.z;
  for (let before = Number.POSITIVE_INFINITY; low > first.z && low < before; ) {
    before = low;
    for (const { at, z } of round) {
      low -= Math.abs(at - maker.at.x) * fall;
      const next = { at, z: Math.max(z, low) };
      if (!isUpright(finishing, next)) goTo(finishing, next, y);
    }
  }
}

/** The heights from the first one on that lie under `topZ`, at most `roomMm` of them; the last one where the line comes up to it. */
function rampRun(heights: readonly Height[], topZ: number, roomMm: number): Height[] {
  const run: Height[] = [];
  for (const next of heights) {
    const last = run.at(-1);
    if (last && next.z > topZ) {
      const t = (topZ - last.z) / (next.z - last.z);
      run.push({ at: last.at + (next.at - last.at) * t, z: topZ });
      return run;
    }
    run.push(next);
    if (Math.abs(next.at - (run[0]?.at ?? next.at)) >= roomMm) return run;
  }
  return run;
}
