/** The rules of a relief: do the ribbons rise, dip and clear one another, and does the ball get in there? */
import { formatMm, formatNumber, roundDown, roundUp } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { atLeast, atMost, type Measured } from "../../checks/judge.ts";
import { growPitch, narrowRibbon, setNumber } from "../../checks/remedy.ts";
import type { HeightField } from "../../output/height-field.ts";
import { checkPanel } from "./panel-checks.ts";
import { coarsened, lowestWithin } from "./relief-discs.ts";
import { domeOf, domeRadius } from "./relief-dome.ts";
import { maskAreas } from "./relief-mask.ts";
import { finishingBall, roughingMills } from "./relief-paths.ts";
import { edgeClearances, ridgeSlopes } from "./relief-ridges.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

/** Steeper, and a ribbon looks broken rather than bent, and its short fibres chip: common practice, no source. */
const MOST_SLOPE_DEG = 45;

/** A lower wall over the ribbon beneath is lost under sandpaper: common practice, no source. */
const LEAST_WALL_MM = 0.3;

/** A valley that the ball fills by more than this share no longer parts two ridges: common practice, no source. */
const MOST_FILLED = 0.5;

/** `field` is that of reliefField. */
export function checkRelief(panel: RouterPanel, field: HeightField, settings: ReliefSettings): CheckResult[] {
  const ball = finishingBall(settings);
  return [
    checkSlope(panel, settings),
    checkEdge(panel, settings),
    checkDome(settings),
    checkGroundLevel(settings),
    checkBall(ball),
    ...(ball ? [checkNarrow(field, settings, ball)] : []),
    ...(ball && settings.dome === "two-ridged" ? [checkValley(settings, ball)] : []),
    checkPixel(settings, ball),
    checkMesh(settings),
    ...checkPanel(panel, settings, {
      used: ball ? [...roughingMills(settings), ball] : roughingMills(settings),
      ...deepest(settings),
    }),
  ];
}

function deepest({ groundDepthMm, borderDepthMm, frameMm }: ReliefSettings): {
  readonly depthMm: number;
  readonly depthKey: string;
} {
  return frameMm > 0 && borderDepthMm > groundDepthMm
    ? { depthMm: borderDepthMm, depthKey: "borderDepthMm" }
    : { depthMm: groundDepthMm, depthKey: "groundDepthMm" };
}

function checkSlope(panel: RouterPanel, settings: ReliefSettings): CheckResult {
  const slopes = ridgeSlopes(panel, settings);
  const { overDepthMm, underDepthMm, ribbon } = settings;
  return atMost(
    {
      rule: "ridge-slope",
      title: "Steepest place along a ribbon's ridge",
      limit: MOST_SLOPE_DEG,
      unit: "degrees",
      note: "Steeper, a ribbon looks broken rather than bent, and its short fibres chip.",
    },
    {
      worst: slopes.reduce((most, { value }) => Math.max(most, value), 0),
      short: slopes.filter(({ value }) => value > MOST_SLOPE_DEG),
    },
    (worst) => {
      const share = Math.tan((MOST_SLOPE_DEG * Math.PI) / 180) / Math.tan((worst * Math.PI) / 180);
      const under = roundDown(overDepthMm + (underDepthMm - overDepthMm) * share, 2);
      return [
        setNumber("underDepthMm", under, `ribbons that dip to ${formatMm(under)} only`),
        ...narrowRibbon(ribbon.widthMm * share),
        ...growPitch(ribbon, 1 / share),
      ];
    },
  );
}

function checkEdge(panel: RouterPanel, settings: ReliefSettings): CheckResult {
  const clearances = edgeClearances(panel, settings);
  const { underDepthMm, domeHeightMm } = settings;
  return atLeast(
    {
      rule: "over-edge",
      title: "How far the edge of the ribbon on top stands above the one beneath",
      limit: LEAST_WALL_MM,
      unit: "mm",
      note: "Only that wall shows which ribbon passes over.",
    },
    {
      worst: clearances.reduce<number | null>((least, { value }) => Math.min(least ?? value, value), null),
      short: clearances.filter(({ value }) => value < LEAST_WALL_MM),
    },
    (worst) => {
      const under = roundUp(underDepthMm + LEAST_WALL_MM - worst, 2);
      const dome = roundDown(domeHeightMm - LEAST_WALL_MM + worst, 2);
      return [
        setNumber("underDepthMm", under, `ribbons that dip to ${formatMm(under)}`),
        ...(dome > 0 ? [setNumber("domeHeightMm", dome, `domes ${formatMm(dome)} high`)] : []),
      ];
    },
  );
}

function checkDome({ dome, domeHeightMm, ribbon }: ReliefSettings): CheckResult {
  const limit = ribbon.widthMm / (dome === "two-ridged" ? 4 : 2);
  const value = roundDown(limit, 2);
  return atMost(
    {
      rule: "dome-height",
      title: "Height of the dome",
      limit,
      unit: "mm",
      note: "A dome higher than half its width is more than half a round rod: its sides would lean in.",
    },
    { worst: domeHeightMm, short: [] },
    () => [setNumber("domeHeightMm", value, `domes ${formatMm(value)} high`)],
  );
}

function checkGroundLevel(settings: ReliefSettings): CheckResult {
  const { groundDepthMm, underDepthMm } = settings;
  const { edgeMm } = domeOf(settings);
  const deep = roundUp(underDepthMm + edgeMm, 2);
  return atLeast(
    {
      rule: "edge-above-ground",
      title: "How far the lowest ribbon edge lies above the ground",
      limit: 0,
      unit: "mm",
      note: "Below the ground a ribbon's edge is lost: it gets narrower where it dips.",
    },
    { worst: groundDepthMm - underDepthMm - edgeMm, short: [] },
    () => [setNumber("groundDepthMm", deep, `a ground ${formatMm(deep)} deep`)],
  );
}

function checkBall(ball: LoadedCutter | undefined): CheckResult {
  return atLeast(
    {
      rule: "ball-cutter",
      title: "Ball cutters in the list of cutters",
      limit: 1,
      unit: "count",
      note: "Domes and slopes are shaped by a ball cutter.",
    },
    { worst: ball ? 1 : 0, short: [] },
    () => [],
  );
}

/** Pixels for looking at the width of the ground: so many to the ball's diameter. */
const PIXELS_PER_BALL = 15;

/** Less ground than this many pixels is rounding where ribbons meet. */
const LEAST_PIXELS = 4;

/** Parts of the ground so narrow that the ball rests on both sides and nowhere comes down. The remedies are first steps, which proving takes further. */
function checkNarrow(field: HeightField, settings: ReliefSettings, ball: LoadedCutter): CheckResult {
  const { ribbon, groundDepthMm } = settings;
  const times = Math.max(1, Math.floor(ball.shape.diameterMm / PIXELS_PER_BALL / field.stepMm + 1e-9));
  const grid = coarsened(field, times);
  // 1 where the whole pixel is ground.
  const ground = { ...grid, z: grid.z.map((z) => (z === Math.fround(-groundDepthMm) ? 1 : 0)) };
  // Half a pixel less than the radius, for those pixels that are not ground as a whole.
  const free = lowestWithin(ground, ball.shape.diameterMm / 2 - grid.stepMm / 2);
  const short: Measured[] = [];
  for (const { runs, outer } of maskAreas(Uint8Array.from(ground.z), grid, grid.stepMm)) {
    let pixels = 0;
    let room = false;
    for (const { row, from, to } of runs) {
      pixels += to - from + 1;
      for (let column = from; column <= to && !room; column++)
        room = (free.z[row * grid.columns + column] ?? 0) > 0;
    }
    const [at] = outer;
    if (!room && at && pixels >= LEAST_PIXELS) short.push({ at, value: 1 });
  }
  return atMost(
    {
      rule: "ball-room",
      title: `Parts of the ground that are too narrow for the ball (${ball.name})`,
      limit: 0,
      unit: "count",
      note: "There the ball rests on the ribbons on both sides and leaves a ridge instead of a ground.",
    },
    { worst: short.length, short },
    () => [...narrowRibbon(ribbon.widthMm * 0.8), ...growPitch(ribbon, 1.25)],
  );
}

/**
 * A ball of radius r rests on two rolls of radius R, whose middles lie 2b apart: its tip stops
 * sqrt((R + r)^2 - b^2) - r over the line of their middles, the valley lies at sqrt(R^2 - b^2).
 */
function checkValley(settings: ReliefSettings, ball: LoadedCutter): CheckResult {
  const { halfWidthMm, edgeMm } = domeOf(settings);
  const b = halfWidthMm / 2;
  const roll = edgeMm > 0 ? domeRadius(b, edgeMm) : Number.POSITIVE_INFINITY;
  const r = ball.shape.diameterMm / 2;
  const filled =
    edgeMm > 0 ? Math.sqrt((roll + r) ** 2 - b * b) - r - Math.sqrt(Math.max(0, roll * roll - b * b)) : 0;
  const limit = MOST_FILLED * edgeMm;
  return atMost(
    {
      rule: "ridge-valley",
      title: `How much the ball leaves in the valley between the ridges (${ball.name})`,
      limit,
      unit: "mm",
      note: `The valley is ${formatMm(edgeMm)} deep; a ball that fills more than ${formatNumber(100 * MOST_FILLED, 0)} % of it leaves one ridge with a dent.`,
    },
    { worst: filled, short: [] },
    () => growPitch(settings.ribbon, 1.25),
  );
}

/** Between pixels p apart a curve of radius R bends by p^2 / (8 R). */
function checkPixel(settings: ReliefSettings, ball: LoadedCutter | undefined): CheckResult {
  const { reliefPixelMm, toleranceMm } = settings;
  const { halfWidthMm, edgeMm } = domeOf(settings);
  const dome =
    settings.dome === "eased"
      ? edgeMm
      : domeRadius(settings.dome === "round" ? halfWidthMm : halfWidthMm / 2, edgeMm);
  const radius = Math.min(edgeMm > 0 ? dome : Number.POSITIVE_INFINITY, (ball?.shape.diameterMm ?? 1e6) / 2);
  const value = roundDown(Math.sqrt(8 * radius * toleranceMm), 3);
  return atMost(
    {
      rule: "relief-pixel",
      title: "How far the surface bends between two pixels of the height map",
      limit: toleranceMm,
      unit: "mm",
      note: "The paths know the surface only at its pixels.",
    },
    { worst: (reliefPixelMm * reliefPixelMm) / (8 * radius), short: [] },
    () => [setNumber("reliefPixelMm", value, `pixels of ${formatNumber(value, 3)} mm`)],
  );
}

function checkMesh({ meshDeviationMm, toleranceMm }: ReliefSettings): CheckResult {
  return atMost(
    {
      rule: "mesh-deviation",
      title: "How far the mesh may stray from the height map",
      limit: toleranceMm,
      unit: "mm",
      note: "A mesh coarser than the piece's own tolerance shows facets.",
    },
    { worst: meshDeviationMm, short: [] },
    () => [setNumber("meshDeviationMm", toleranceMm, `a mesh within ${formatNumber(toleranceMm, 3)} mm`)],
  );
}
