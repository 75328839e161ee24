/** Will the cutters get in there, and if not, what is to change? The rules of a cleared ground. */
import { formatMm, formatNumber, roundDown, roundUp } from "../../base/format-number.ts";
import type { CheckResult, Remedy } from "../../checks/check.ts";
import { atLeast, atMost, type Finding, type Measured } from "../../checks/judge.ts";
import { growPitch, narrowRibbon, setNumber, widenGap } from "../../checks/remedy.ts";
import { measureSpacing, type Spacing } from "../../checks/spacing.ts";
import { crossingPoint } from "../../diagram/knot-diagram.ts";
import type { Point } from "../../geometry/point.ts";
import { regionArea } from "../../geometry/region.ts";
import type { Leftover } from "./leftover.ts";
import { checkPanel } from "./panel-checks.ts";
import { largestReaching, type ReachPlan } from "./reach.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { GroundSettings, LoadedCutter } from "./settings.ts";

/** `plan` is that of planReach over the panel's ground. */
export function checkGround(panel: RouterPanel, plan: ReachPlan, settings: GroundSettings): CheckResult[] {
  return [
    ...checkCutters(panel, plan, settings),
    ...checkPanel(panel, settings, {
      used: plan.steps.map(({ cutter }) => cutter),
      depthMm: settings.groundDepthMm,
      depthKey: "groundDepthMm",
    }),
  ];
}

function checkCutters(panel: RouterPanel, plan: ReachPlan, settings: GroundSettings): CheckResult[] {
  const smallest = plan.mills.at(-1);
  if (!smallest) return [checkMills()];
  const { troubles } = panel.ribbons;
  // Where ribbons are missing there is room enough, but not for the ribbons: no remedy may pass by that.
  if (troubles.length > 0)
    return [
      checkMissing(
        plan,
        troubles.map(({ at }) => at),
      ),
    ];
  return [
    checkReach(plan, settings, smallest),
    ...checkChannels(panel, settings, smallest),
    checkCorners(plan, settings),
  ];
}

function checkMissing({ ground }: ReachPlan, places: readonly Point[]): CheckResult {
  const value = regionArea(ground);
  return atMost(
    {
      rule: "cutter-reach",
      title: "Ground that no cutter reaches",
      limit: 0,
      unit: "mm2",
      note: "Ribbon pieces are missing, so it is not known where cutters reach.",
    },
    { worst: value, short: places.map((at) => ({ at, value })) },
    () => [],
  );
}

function checkMills(): CheckResult {
  return atLeast(
    {
      rule: "end-mill",
      title: "End mills in the list of cutters",
      limit: 1,
      unit: "count",
      note: "A flat ground is cleared with end mills.",
    },
    { worst: 0, short: [] },
    () => [],
  );
}

/** How wide a channel must be for a cutter that may stray by the tolerance on both sides (CHECKS 5). */
function channelFor({ shape }: LoadedCutter, { toleranceMm }: GroundSettings): number {
  return shape.diameterMm + 2 * toleranceMm;
}

/** Cutters thinner than this break before they carve anything. */
const THINNEST_MM = 0.3;

function checkReach(plan: ReachPlan, settings: GroundSettings, smallest: LoadedCutter): CheckResult {
  const missed = plan.missed.filter(({ kind }) => kind !== "deep-corner");
  const short: Measured[] = missed.map(({ at, areaMm2 }) => ({ at, value: areaMm2 }));
  const uncut = short.reduce((sum, { value }) => sum + value, 0);
  return atMost(
    {
      rule: "cutter-reach",
      title: `Ground that no cutter reaches (smallest: ${smallest.name})`,
      limit: 0,
      unit: "mm2",
      note: reachNote(missed, plan),
    },
    { worst: uncut, short },
    () => reachRemedies(plan, settings, smallest),
  );
}

function reachNote(missed: readonly Leftover[], { ground, mills }: ReachPlan): string {
  const channels = missed.filter(({ kind }) => kind === "channel").length;
  const pockets = missed.length - channels;
  const all = `${formatNumber(regionArea(ground), 0)} mm²`;
  if (missed.length === 0) return `All ${all} of the ground are reached, but for small rests in corners.`;
  return `Of ${all} of ground. ${countOf(channels, "channel is", "channels are")} narrower than the smallest of ${countOf(mills.length, "end mill", "end mills")}, ${countOf(pockets, "pocket has", "pockets have")} no entrance for it.`;
}

function countOf(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** The cutter that would reach all, and what would let the smallest one in. */
function reachRemedies(plan: ReachPlan, settings: GroundSettings, smallest: LoadedCutter): Remedy[] {
  const { ribbon, cornerLeftMm, toleranceMm } = settings;
  const wanted = channelFor(smallest, settings);
  const barely = largestReaching(plan.ground, cornerLeftMm, {
    leastMm: THINNEST_MM,
    mostMm: smallest.shape.diameterMm,
  });
  // With the tolerance on both sides, so that the channels' own checks pass with it too.
  const fits = barely === undefined ? undefined : roundDown(barely - 2 * toleranceMm, 2);
  const grows = fits !== undefined && !ribbon.widthFixed && !ribbon.gapFixed;
  return [
    ...(fits === undefined ? [] : [cutterOf(fits, "reaches all of it")]),
    // Channels at crossings are as wide as the gap; those beside ribbons grow where ribbons get narrower.
    ...(ribbon.gapMm < wanted ? widenGap(wanted) : narrowRibbon(ribbon.widthMm - (wanted - (fits ?? 0)))),
    ...growPitch(ribbon, grows ? wanted / fits : 1.25),
  ];
}

/** A change in the profile's list of cutters. */
function cutterOf(diameterMm: number, what: string): Remedy {
  return setNumber("cutter", diameterMm, `an end mill of ${formatMm(diameterMm)} or less ${what}`);
}

function checkChannels(panel: RouterPanel, settings: GroundSettings, smallest: LoadedCutter): CheckResult[] {
  const { ribbon, toleranceMm } = settings;
  const limit = channelFor(smallest, settings);
  const { atCrossings, beside } = spacingOf(panel, settings, limit);
  const note = `The smallest end mill, ${smallest.name}, and the tolerance on both sides of it.`;
  const thinner = (worst: number): Remedy[] => {
    const value = roundDown(worst - 2 * toleranceMm, 2);
    return value >= THINNEST_MM ? [cutterOf(value, "goes through")] : [];
  };
  const grown = (worst: number, fixed: boolean) =>
    fixed || worst <= 0 ? [] : growPitch(ribbon, limit / worst);
  return [
    atLeast(
      { rule: "channel-at-crossings", title: "Channel where a ribbon passes under", limit, unit: "mm", note },
      atCrossings,
      (worst) => [
        ...widenGap(ribbon.gapMm + limit - worst),
        ...grown(worst, ribbon.gapFixed),
        ...thinner(worst),
      ],
    ),
    atLeast(
      {
        rule: "channel-beside",
        title: "Channel between ribbons that run beside each other",
        limit,
        unit: "mm",
        note,
      },
      beside,
      (worst) => [
        ...narrowRibbon(ribbon.widthMm - (limit - worst)),
        ...(ribbon.widthFixed
          ? growPitch(ribbon, (limit + ribbon.widthMm) / (worst + ribbon.widthMm))
          : grown(worst, false)),
        ...thinner(worst),
      ],
    ),
  ];
}

function spacingOf({ ribbons, diagram }: RouterPanel, { ribbon }: GroundSettings, limitMm: number): Spacing {
  return measureSpacing(
    ribbons.pieces.map(({ outline, holes, ends, over }) => ({ outlines: [outline, ...holes], ends, over })),
    {
      limitMm,
      takenMm: 0,
      crossingReachMm: ribbon.widthMm + 2 * ribbon.gapMm,
      crossingAt: (crossing) => crossingPoint(diagram, crossing),
    },
  );
}

function checkCorners(plan: ReachPlan, settings: GroundSettings): CheckResult {
  const { cornerLeftMm } = settings;
  const deep = plan.missed.filter(({ kind }) => kind === "deep-corner");
  const worst = deepest([...deep, ...plan.rounded]);
  const smallest = plan.mills.at(-1);
  return atMost(
    {
      rule: "corner-left",
      title: "How far a rest in an inner corner lies from where cutters come",
      limit: cornerLeftMm,
      unit: "mm",
      note: `A round cutter leaves r(1/sin a - 1) in a corner of half-angle a. ${countOf(plan.rounded.length + deep.length, "corner keeps", "corners keep")} a rest, ${formatNumber(regionArea(plan.corners), 1)} mm² in small ones: to be taken out with a knife or chisel where they are to be sharp.`,
    },
    worst === null ? { worst, short: [] } : cornerFinding(worst, deep),
    (found) => [
      // What is left in a corner is in proportion to the radius.
      ...(smallest ? cornerCutter(smallest, cornerLeftMm / found) : []),
      setNumber(
        "cornerLeftMm",
        roundUp(found, 2),
        `rests of up to ${formatMm(roundUp(found, 2))} allowed in corners, to be taken out by hand`,
      ),
    ],
  );
}

function deepest(leftovers: readonly Leftover[]): number | null {
  return leftovers.reduce<number | null>((most, { depthMm }) => Math.max(most ?? 0, depthMm), null);
}

function cornerFinding(worst: number, deep: readonly Leftover[]): Finding {
  return { worst, short: deep.map(({ at, depthMm }) => ({ at, value: depthMm })) };
}

function cornerCutter({ shape }: LoadedCutter, share: number): Remedy[] {
  const value = roundDown(shape.diameterMm * share, 2);
  return value >= THINNEST_MM ? [cutterOf(value, "leaves little enough in every corner")] : [];
}
