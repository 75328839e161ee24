/** The rules that a simulated program must keep before anything of it is written. */
import { formatMm, formatNumber, roundUp } from "../../base/format-number.ts";
import { LIMIT_SLACK_MM, OUTPUT_GRID_MM } from "../../base/tolerance.ts";
import type { CheckResult, Remedy } from "../../checks/check.ts";
import { atLeast, atMost, type Rule } from "../../checks/judge.ts";
import { setNumber } from "../../checks/remedy.ts";
import type { Breaches } from "./breaches.ts";
import type { Comparison, Deviations } from "./compare.ts";
import type { RouterSettings } from "./settings.ts";
import type { RunMeasures, Simulated } from "./simulate.ts";
import { TOUCH_MM } from "./workpiece.ts";

export interface SimulatedWork {
  readonly simulated: Simulated;
  /** Against the limits of the carved surface. */
  readonly compared: Comparison;
  /** Against what must stay solid below, cuts through the board left out. */
  readonly kept: Comparison;
}

export type SimulationRules = Pick<
  RouterSettings,
  "toleranceMm" | "stockThicknessMm" | "keepBelowMm" | "plungeAllowed" | "cutters"
>;

export function simulationChecks(work: SimulatedWork, settings: SimulationRules): CheckResult[] {
  const { breaches, perRun } = work.simulated;
  return [
    checkCarvedAway(work.compared, settings),
    checkLeftUncut(work.compared, settings),
    checkKeep(work.kept, settings),
    checkBreaches(breaches.rapidThroughStock, {
      rule: "rapid-clear",
      title: "Wood that a rapid motion runs into",
      limit: TOUCH_MM,
      unit: "mm",
      note: "Rapid motions run at full speed: in wood they break the cutter or tear the board loose.",
    }),
    ...(settings.plungeAllowed
      ? []
      : [
          checkBreaches(breaches.plungeIntoSolid, {
            rule: "no-plunge",
            title: "How deep a cutter goes straight down into solid wood",
            limit: TOUCH_MM,
            unit: "mm",
            note: "Most cutters do not cut at their middle: straight down they burn and push the board away. They go in down a ramp, or where the wood is gone already.",
          }),
        ]),
    checkPasses(breaches.tooDeepPass, perRun, settings),
    checkBreaches(breaches.outsideEnvelope, {
      rule: "in-envelope",
      title: "How far the cutter leaves the box that the file declares",
      limit: OUTPUT_GRID_MM,
      unit: "mm",
      note: "Clamps and the ends of the machine's travel are set up by that box.",
    }),
  ];
}

function checkCarvedAway({ below }: Comparison, { toleranceMm }: SimulationRules): CheckResult {
  return checkDeviations(below, {
    rule: "carved-away",
    title: `Depth that is cut from what should stand, beyond the tolerance of ${formatNumber(toleranceMm, 3)} mm`,
    limit: 0,
    unit: "mm",
    note: `Cut away wood does not come back. ${areaText(below)}`,
  });
}

function checkLeftUncut({ above }: Comparison, { toleranceMm }: SimulationRules): CheckResult {
  return checkDeviations(above, {
    rule: "left-uncut",
    title: `Height that is left where the cutters should have cleared, beyond the tolerance of ${formatNumber(toleranceMm, 3)} mm`,
    limit: 0,
    unit: "mm",
    note: `What is left has to be taken away by hand. ${areaText(above)}`,
  });
}

function areaText({ areaMm2 }: Deviations): string {
  return areaMm2 > 0 ? `In all ${formatNumber(areaMm2, 2)} mm² are concerned.` : "";
}

function checkDeviations({ worst, places }: Deviations, rule: Rule): CheckResult {
  return atMost({ ...rule, note: rule.note.trimEnd() }, { worst, short: places }, () => []);
}

function checkKeep({ below, lowestZ }: Comparison, settings: SimulationRules): CheckResult {
  const { stockThicknessMm, keepBelowMm } = settings;
  const left = (z: number) => stockThicknessMm + z;
  return atLeast(
    {
      rule: "keep-below",
      title: "Solid wood that stays below the deepest cut",
      limit: keepBelowMm,
      unit: "mm",
      note: "A board that is left thinner warps, breaks, or is cut through.",
    },
    {
      worst: lowestZ === null ? null : left(lowestZ),
      short: below.places.map(({ at, value }) => ({ at, value: keepBelowMm - value })),
    },
    (worst) => thickerStock(stockThicknessMm + keepBelowMm - worst),
  );
}

function thickerStock(thicknessMm: number): Remedy[] {
  // Heights have single precision: a board of 18.2 mm is not to become one of 18.3.
  const value = roundUp(thicknessMm - LIMIT_SLACK_MM, 1);
  return [setNumber("stockThicknessMm", value, `a board ${formatMm(value)} thick`)];
}

function checkPasses(
  tooDeep: Breaches,
  perRun: readonly RunMeasures[],
  { cutters }: SimulationRules,
): CheckResult {
  const deepest = cutters.flatMap(({ number, name, stepDownMm }) => {
    const passes = perRun.filter(({ cutter }) => cutter.number === number);
    const most = Math.max(0, ...passes.map(({ deepestPassMm }) => deepestPassMm));
    return passes.length === 0 ? [] : [`${name}: ${formatMm(most)} of ${formatMm(stepDownMm)} allowed.`];
  });
  return checkBreaches(tooDeep, {
    rule: "pass-depth",
    title: "How much deeper than its step a cutter goes in one pass",
    limit: TOUCH_MM,
    unit: "mm",
    note: ["Deeper passes overload a cutter: it bends, burns or breaks.", ...deepest].join(" "),
  });
}

/** Only the worst places are kept, the count tells of all. */
function checkBreaches({ worst, count, places }: Breaches, rule: Rule): CheckResult {
  const result = atMost(rule, { worst: worst ?? 0, short: places }, () => []);
  return result.verdict === "fail" ? { ...result, count } : result;
}
