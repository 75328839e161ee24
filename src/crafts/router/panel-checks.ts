/** The rules that hold for every panel on a router: what the ribbons, the board, the cutters and the machine allow. */
import { formatMm, formatNumber, roundDown, roundUp } from "../../base/format-number.ts";
import type { CheckResult, Remedy } from "../../checks/check.ts";
import { atLeast, atMost } from "../../checks/judge.ts";
import { growPitch, narrowGap, narrowRibbon, setNumber, widenRibbon } from "../../checks/remedy.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { LoadedCutter, RouterSettings } from "./settings.ts";
import { measureStanding } from "./standing-width.ts";

/** What is to be cut, as far as these rules ask. */
export interface PlannedCut {
  /** The cutters that carve the panel's face. */
  readonly used: readonly LoadedCutter[];
  /** How deep they go. */
  readonly depthMm: number;
  /** The profile's number that says so. */
  readonly depthKey: string;
}

export function checkPanel(panel: RouterPanel, settings: RouterSettings, cut: PlannedCut): CheckResult[] {
  return [
    checkRoom(panel, settings),
    checkStanding(panel, settings),
    checkFloor(settings, cut),
    ...(cut.used.length > 0 ? [checkFlutes(cut), checkSlender(cut), checkSteps(cut)] : []),
    checkTravel(panel, settings, cut),
    checkHeight(settings, cut),
  ];
}

function checkRoom({ ribbons: { troubles } }: RouterPanel, { ribbon }: RouterSettings): CheckResult {
  return atMost(
    {
      rule: "ribbon-room",
      title: "Ribbon pieces that have no room, or bend too tightly",
      limit: 0,
      unit: "count",
      note: "Where a ribbon is too wide for the room it has, its edges run into each other and there is nothing to carve.",
    },
    { worst: troubles.length, short: troubles.map(({ at }) => ({ at, value: 1 })) },
    // How much room is wanted can't be measured where nothing could be drawn: steps, which proving takes further.
    () => [
      ...narrowRibbon(ribbon.widthMm * 0.8),
      ...narrowGap(ribbon.gapMm * 0.7),
      ...(ribbon.widthFixed || ribbon.gapFixed ? growPitch(ribbon, 1.25) : []),
    ],
  );
}

function checkStanding({ ribbons: { pieces } }: RouterPanel, settings: RouterSettings): CheckResult {
  const { ribbon, grain, leastAlongGrainMm, leastAcrossGrainMm } = settings;
  const centrelines = pieces.map(({ centreline }) => centreline);
  const { limitMm, finding } = measureStanding(centrelines, ribbon.widthMm, settings);
  return atLeast(
    {
      rule: "standing-width",
      title: "Width of the standing ribbon, for the grain",
      limit: limitMm,
      unit: "mm",
      note:
        grain === "none"
          ? "Narrower ribbons break out under the cutter."
          : `Where a ribbon runs across the grain its fibres are short and it breaks out: ${formatMm(leastAcrossGrainMm)} there, ${formatMm(leastAlongGrainMm)} along the grain, and between them by Hankinson's formula.`,
    },
    finding,
    () => [
      ...widenRibbon(limitMm),
      ...(ribbon.widthFixed ? [] : growPitch(ribbon, limitMm / ribbon.widthMm)),
    ],
  );
}

function checkFloor(
  { stockThicknessMm, keepBelowMm }: RouterSettings,
  { depthMm, depthKey }: PlannedCut,
): CheckResult {
  return atLeast(
    {
      rule: "floor-left",
      title: "Solid wood left below the ground",
      limit: keepBelowMm,
      unit: "mm",
      note: "A board that is left thinner warps, breaks, or is cut through.",
    },
    { worst: stockThicknessMm - depthMm, short: [] },
    () => [
      ...shallower(depthKey, stockThicknessMm - keepBelowMm),
      setNumber(
        "stockThicknessMm",
        roundUp(depthMm + keepBelowMm, 1),
        `a board ${formatMm(roundUp(depthMm + keepBelowMm, 1))} thick`,
      ),
    ],
  );
}

function shallower(key: string, depthMm: number): Remedy[] {
  const value = roundDown(depthMm, 2);
  return value > 0 ? [setNumber(key, value, `a depth of ${formatMm(value)}`)] : [];
}

function checkFlutes({ used, depthMm, depthKey }: PlannedCut): CheckResult {
  const shortest = used.reduce((a, b) => (b.cuttingLengthMm < a.cuttingLengthMm ? b : a));
  return atLeast(
    {
      rule: "flute-length",
      title: `Height of the cutting edges, least of the cutters used (${shortest.name})`,
      limit: depthMm,
      unit: "mm",
      note: "Above its cutting edges the shank rubs on the walls and burns them.",
    },
    { worst: shortest.cuttingLengthMm, short: [] },
    (worst) => shallower(depthKey, worst),
  );
}

/**
 * At three diameters of depth the chip load is to be halved (CHECKS 5, a chart that many suppliers
 * repeat); common practice goes no deeper with a plain cutter, for it bends and the walls lean.
 */
const MOST_DIAMETERS_DEEP = 3;

function checkSlender({ used, depthMm, depthKey }: PlannedCut): CheckResult {
  const diameter = ({ shape }: LoadedCutter) => shape.diameterMm;
  const thinnest = used.reduce((a, b) => (diameter(b) < diameter(a) ? b : a));
  const limit = MOST_DIAMETERS_DEEP * diameter(thinnest);
  const result = atMost(
    {
      rule: "slender-cutter",
      title: `Depth for the thinnest cutter used (${thinnest.name})`,
      limit,
      unit: "mm",
      note: `Deeper than ${MOST_DIAMETERS_DEEP} diameters a cutter bends in narrow channels: the walls lean, and it breaks soon. Halve its feed, or take a shallower ground.`,
    },
    { worst: depthMm, short: [] },
    () => shallower(depthKey, limit),
  );
  return result.verdict === "fail" ? { ...result, verdict: "warning" } : result;
}

/** A pass of up to one diameter at the usual chip load (CHECKS 5). */
const MOST_DIAMETERS_A_PASS = 1;

function checkSteps({ used }: PlannedCut): CheckResult {
  const share = ({ stepDownMm, shape }: LoadedCutter) => stepDownMm / shape.diameterMm;
  const greatest = used.reduce((a, b) => (share(b) > share(a) ? b : a));
  const result = atMost(
    {
      rule: "step-down",
      title: `Depth of a pass (${greatest.name})`,
      limit: MOST_DIAMETERS_A_PASS * greatest.shape.diameterMm,
      unit: "mm",
      note: "A pass deeper than the cutter's diameter loads it beyond what its chip load is meant for; light machines take half of it.",
    },
    { worst: greatest.stepDownMm, short: [] },
    () => [
      setNumber(
        "stepDownPerDiameter",
        MOST_DIAMETERS_A_PASS,
        `passes of no more than ${formatNumber(MOST_DIAMETERS_A_PASS, 1)} diameter`,
      ),
    ],
  );
  return result.verdict === "fail" ? { ...result, verdict: "warning" } : result;
}

function checkTravel(
  { size }: RouterPanel,
  { machine, cutOut }: RouterSettings,
  { used }: PlannedCut,
): CheckResult {
  // Cutting out, the largest cutter's middle goes round outside.
  const round = cutOut ? Math.max(0, ...used.map(({ shape }) => shape.diameterMm)) : 0;
  const { x, y } = machine.travelMm;
  const over = Math.max(0, size.width + round - x, size.height + round - y);
  const fitted = [x - round, y - round].map((room, i) =>
    formatNumber(roundDown(Math.min(room, i === 0 ? size.width : size.height), 1), 1),
  );
  return atMost(
    {
      rule: "machine-travel",
      title: `How far the cuts reach over the machine's travel of ${formatNumber(x, 1)} x ${formatNumber(y, 1)} mm`,
      limit: 0,
      unit: "mm",
      note:
        round > 0
          ? "Cutting out, the cutter goes round outside the panel."
          : "The whole panel must lie within the machine's travel.",
    },
    { worst: over, short: [{ at: { x: Math.min(size.width, x), y: 0 }, value: over }] },
    () =>
      Math.min(x, y) - round >= 1
        ? [
            {
              change: "size",
              value: fitted.join("x"),
              text: `finished size ${fitted.join("x")} mm or less (--size ${fitted.join("x")})`,
            },
          ]
        : [],
  );
}

function checkHeight(settings: RouterSettings, { depthMm }: PlannedCut): CheckResult {
  const { machine, clearanceMm, cutOut, stockThicknessMm } = settings;
  const lowest = cutOut ? stockThicknessMm : depthMm;
  return atMost(
    {
      rule: "machine-height",
      title: "Way from the clearance height down to the deepest cut",
      limit: machine.travelMm.z,
      unit: "mm",
      note: "The machine's travel up and down must hold it, and the cutter's length above the board as well.",
    },
    { worst: clearanceMm + lowest, short: [] },
    () => {
      const value = roundDown(machine.travelMm.z - lowest, 1);
      return value > 0
        ? [setNumber("clearanceMm", value, `rapid moves ${formatMm(value)} above the board`)]
        : [];
    },
  );
}
