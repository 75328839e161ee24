/**
 * The toolpaths of a relief: roughing by the largest end mill, by smaller ones and by the ball
 * where that pays, then finishing by the ball.
 */
import type { HeightField } from "../../output/height-field.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import { MotionMaker } from "./motion-maker.ts";
import { finish } from "./relief-finish.ts";
import { rough } from "./relief-rough.ts";
import { makeStock } from "./relief-stock.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

/** A second end mill is worth its change where it takes this share of all that the relief takes; common practice, no source. */
const WORTH_SHARE = 0.05;
const LARGER_THAN_BALL = 1.5;

/** The ball that finishes: the largest in the list. */
export function finishingBall({ cutters }: ReliefSettings): LoadedCutter | undefined {
  return largestFirst(cutters, "ball")[0];
}

/**
 * The runs in working order. Without a ball in the list there is only roughing: the checks say so.
 * `field` is the surface of `reliefField`.
 */
export function reliefRuns(field: HeightField, settings: ReliefSettings): ToolRun[] {
  const mills = roughingMills(settings);
  const ball = finishingBall(settings);
  const used = ball ? [...mills, ball] : mills;
  const stock = makeStock(field, used);
  const runs: ToolRun[] = [];
  for (const cutter of used) {
    // Every run begins over the corner that the machine is set to.
    const maker = new MotionMaker(0, 0, { clearanceZ: settings.clearanceMm, approachZ: settings.approachMm });
    const roughed = rough(stock, {
      maker,
      cutter,
      settings,
      levelMm: levelSpacing(cutter, ball, settings),
      deepMm: (ball ?? cutter).stepDownMm,
      // What the last cutter does not rough it would have to plunge into when it finishes.
      worthShare: cutter === ball ? 0 : WORTH_SHARE,
    });
    if (cutter === ball) finish({ maker, ball, settings, field, stock: stock.standing });
    else maker.retract();
    if (!roughed && cutter !== ball) continue;
    runs.push({
      purpose: purposeOf(cutter === ball, roughed),
      cutter,
      spindleRpm: cutter.spindleRpm,
      start: maker.start,
      motions: maker.motions,
    });
  }
  return runs;
}

/**
 * End mills, largest first. A smaller one must be clearly larger than the ball: the ball has to go
 * where it fits, and follows the domes better.
 */
export function roughingMills(settings: ReliefSettings): LoadedCutter[] {
  const ballMm = finishingBall(settings)?.shape.diameterMm ?? 0;
  return largestFirst(settings.cutters, "end-mill").filter(
    ({ shape }, i) => i === 0 || shape.diameterMm >= LARGER_THAN_BALL * ballMm,
  );
}

/** As deep as the cutter may go, and so that the ball can take a step between levels, and the allowance, at once. */
function levelSpacing(
  cutter: LoadedCutter,
  ball: LoadedCutter | undefined,
  { roughAllowanceMm }: ReliefSettings,
): number {
  if (!ball) return cutter.stepDownMm;
  return Math.min(cutter.stepDownMm, Math.max(ball.stepDownMm - roughAllowanceMm, ball.stepDownMm / 2));
}

function purposeOf(finishes: boolean, roughed: boolean): string {
  if (!finishes) return "rough the relief by levels";
  return roughed ? "rough what is left, then finish the relief" : "finish the relief";
}

function largestFirst(cutters: readonly LoadedCutter[], kind: LoadedCutter["shape"]["kind"]): LoadedCutter[] {
  return cutters
    .filter(({ shape }) => shape.kind === kind)
    .toSorted((a, b) => b.shape.diameterMm - a.shape.diameterMm || a.number - b.number);
}
