/** The rules of a relief carved by hand; numbers are common practice (CHECKS.md 5). */
import { formatMm, formatNumber, roundDown } from "../../base/format-number.ts";
import { measureBends } from "../../checks/bends.ts";
import type { CheckResult } from "../../checks/check.ts";
import { atLeast, atMost, LeastFinder } from "../../checks/judge.ts";
import { growPitch, narrowRibbon, setNumber, widenRibbon } from "../../checks/remedy.ts";
import { crossingPoint } from "../../diagram/knot-diagram.ts";
import { segmentsOf } from "../../geometry/arc-chain.ts";
import { segmentPoint, startDirection } from "../../geometry/segment.ts";
import { checkRibbonRoom, knotCurves } from "./knot-checks.ts";
import { type PaperKnot, somewhereOn } from "./paper-knot.ts";
import type { CarvingSettings } from "./settings.ts";
import { type Slope, slopeCrossing, slopeRun } from "./slopes.ts";

export interface CarvingGeometry {
  readonly knot: PaperKnot;
  readonly slopes: readonly Slope[];
}

/** Never more than this share of the board is taken away. */
const DEEPEST_SHARE = 0.5;

export function checkCarving(geometry: CarvingGeometry, settings: CarvingSettings): CheckResult[] {
  return [
    checkRibbonRoom(geometry.knot, settings),
    checkBoard(geometry, settings),
    checkDepth(geometry, settings),
    checkSlopes(geometry, settings),
    checkGouges(geometry, settings),
    checkFibres(geometry, settings),
  ];
}

function checkBoard({ knot }: CarvingGeometry, settings: CarvingSettings): CheckResult {
  const { stockThicknessMm, groundDepthMm, keepBelowMm } = settings;
  const below = stockThicknessMm - groundDepthMm;
  const deepest = roundDown(stockThicknessMm - keepBelowMm, 1);
  return atLeast(
    {
      rule: "wood-below",
      title: "Solid wood below the ground",
      limit: keepBelowMm,
      unit: "mm",
      note: "A thinner ground moves, splits along the grain and shows the clamps.",
    },
    { worst: below, short: below < keepBelowMm ? [{ at: somewhereOn(knot), value: below }] : [] },
    () =>
      deepest > 0
        ? [setNumber("groundDepthMm", deepest, `ground ${formatMm(deepest)} deep`)]
        : [
            setNumber(
              "stockThicknessMm",
              groundDepthMm + keepBelowMm,
              `a board of ${formatMm(groundDepthMm + keepBelowMm)}`,
            ),
          ],
  );
}

function checkDepth(
  { knot }: CarvingGeometry,
  { stockThicknessMm, groundDepthMm }: CarvingSettings,
): CheckResult {
  const most = stockThicknessMm * DEEPEST_SHARE;
  return atMost(
    {
      rule: "ground-depth",
      title: "Depth of the ground",
      limit: most,
      unit: "mm",
      note: "With more than half of the board taken from one face, the board bends.",
    },
    {
      worst: groundDepthMm,
      short: groundDepthMm > most ? [{ at: somewhereOn(knot), value: groundDepthMm }] : [],
    },
    () => [setNumber("groundDepthMm", roundDown(most, 1), `ground ${formatMm(roundDown(most, 1))} deep`)],
  );
}

function checkSlopes({ knot, slopes }: CarvingGeometry, settings: CarvingSettings): CheckResult {
  const { ribbon, leastSlopeWidths } = settings;
  const limit = leastSlopeWidths * ribbon.widthMm;
  const found = new LeastFinder(limit);
  for (const slope of slopes) found.add(slopeRun(slope), crossingPoint(knot.diagram, slopeCrossing(slope)));
  return atLeast(
    {
      rule: "slope-run",
      title: "Length of the slope down to a crossing",
      limit,
      unit: "mm",
      note: "A shorter slope looks broken, not woven, and its wood splits off at the stop cut.",
    },
    found.finding,
    // From crossing to crossing there is one width hidden, and the slope: what is too much comes off both.
    (worst) => [
      ...narrowRibbon((worst + ribbon.widthMm) / (1 + leastSlopeWidths)),
      ...growPitch(
        ribbon,
        ribbon.widthFixed ? (limit + ribbon.widthMm) / (worst + ribbon.widthMm) : Number.POSITIVE_INFINITY,
      ),
    ],
  );
}

function checkGouges({ knot }: CarvingGeometry, settings: CarvingSettings): CheckResult {
  const { ribbon, leastGougeRadiusMm: limit } = settings;
  return atLeast(
    {
      rule: "bend-radius",
      title: "Radius of the inner edge at bends",
      limit,
      unit: "mm",
      note: "No gouge at hand fits a tighter bend; it would have to be cut in steps with a knife.",
    },
    measureBends(knotCurves(knot), ribbon.widthMm, limit),
    (worst) => {
      const radius = worst + ribbon.widthMm / 2;
      return [
        ...narrowRibbon(2 * (radius - limit)),
        ...growPitch(ribbon, ribbon.widthFixed ? (limit + ribbon.widthMm / 2) / radius : limit / worst),
      ];
    },
  );
}

/**
 * How long the fibres are in the ribbon that stays standing: its width over the sine of its angle
 * to the grain.
 */
function checkFibres({ knot }: CarvingGeometry, settings: CarvingSettings): CheckResult {
  const { ribbon, grain, leastAcrossGrainMm: limit } = settings;
  const found = new LeastFinder(limit);
  if (grain !== "none") {
    for (const curve of knotCurves(knot)) {
      for (const segment of segmentsOf(curve)) {
        // An arc turns through its chord's direction in its middle.
        const { x, y } = startDirection({ ...segment, bulge: 0 });
        const sine = Math.abs(grain === "across" ? y : x);
        if (sine > 0) found.add(ribbon.widthMm / sine, segmentPoint(segment, 0.5));
      }
    }
  }
  return atLeast(
    {
      rule: "short-grain",
      title: "Length of the fibres across the ribbon",
      limit,
      unit: "mm",
      note: `Where a ribbon runs across the grain its fibres are as short as it is wide; under ${formatNumber(limit, 1)} mm they break off.`,
    },
    found.finding,
    (worst) => [
      ...widenRibbon((ribbon.widthMm * limit) / worst),
      ...(ribbon.widthFixed ? [] : growPitch(ribbon, limit / worst)),
    ],
  );
}
