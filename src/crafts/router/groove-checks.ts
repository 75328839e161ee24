/** The rules of V carving, measured on what was planned. */
import { formatMm, formatNumber, roundDown, roundUp } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { atLeast, atMost, type Finding, type Measured } from "../../checks/judge.ts";
import { setNumber, widenGap } from "../../checks/remedy.ts";
import type { MedialAxis } from "../../geometry/medial-axis.ts";
import type { AxisPoint } from "../../geometry/medial-refine.ts";
import { regionArea } from "../../geometry/region.ts";
import { deepestOf, depthAt, radiusAt, vCutterOf } from "./groove-cutter.ts";
import { FLOOR_RIDGE_MM } from "./groove-floor.ts";
import { AXIS_OVERLAP_MM } from "./groove-ground.ts";
import type { GroovePlan } from "./groove-plan.ts";
import { keptParts, mixAxis } from "./line-parts.ts";
import type { GrooveSettings } from "./settings.ts";

/** `plan` is that of planGroove: undefined where there is no V cutter. */
export function checkGroove(settings: GrooveSettings, plan: GroovePlan | undefined): CheckResult[] {
  const present = checkCutter(settings);
  if (!plan) return [present];
  const outlines = settings.fill === "outlines";
  return [
    present,
    checkDepth(plan, settings),
    ...(outlines
      ? [checkTip(plan, settings), checkWidth(plan, settings), checkOnPanel(settings)]
      : [checkFloor(plan)]),
    checkBelow(plan, settings),
  ];
}

function checkCutter(settings: GrooveSettings): CheckResult {
  return atLeast(
    {
      rule: "v-cutter",
      title: "V cutters in the list",
      limit: 1,
      unit: "count",
      note: "Grooves whose width goes over into depth are cut with a cone.",
    },
    { worst: vCutterOf(settings) ? 1 : 0, short: [] },
    () => [],
  );
}

/** What is asked for against what the cutter can do. Filling the ground is held to that by itself. */
function checkDepth(
  { cutter, limitDepthMm }: GroovePlan,
  { fill, grooveWidthMm }: GrooveSettings,
): CheckResult {
  const asked = fill === "outlines" ? depthAt(cutter.shape, grooveWidthMm / 2) : limitDepthMm;
  const most = deepestOf(cutter);
  return atMost(
    {
      rule: "groove-depth",
      title: `Depth of the groove, for ${cutter.name}`,
      limit: most,
      unit: "mm",
      note: `A cut as wide as w goes w / (2 tan(A/2)) deep, A the cutter's full angle (${formatNumber(cutter.shape.angleDeg, 1)} degrees); above its cone and its cutting edges the cutter rubs.`,
    },
    { worst: asked, short: [] },
    () => {
      const width = roundDown(2 * radiusAt(cutter.shape, most), 2);
      return [setNumber("grooveWidthMm", width, `groove width ${formatMm(width)}`)];
    },
  );
}

/** Along outlines: a groove no wider than the cutter's flat tip has no depth. */
function checkTip({ cutter }: GroovePlan, { grooveWidthMm }: GrooveSettings): CheckResult {
  const least = cutter.shape.tipMm + LEAST_OVER_TIP_MM;
  return atLeast(
    {
      rule: "groove-tip",
      title: `Width of the groove, against the tip of ${cutter.name}`,
      limit: least,
      unit: "mm",
      note: "The flat of a cutter's tip takes its own width off the groove before it has any depth.",
    },
    { worst: grooveWidthMm, short: [] },
    () => [setNumber("grooveWidthMm", roundUp(least, 2), `groove width ${formatMm(roundUp(least, 2))}`)],
  );
}

/** A groove wider than the tip by less than this is a scratch. */
const LEAST_OVER_TIP_MM = 0.1;

/** Along outlines: where ribbons come so close that no whole groove fits between them. */
function checkWidth(
  { axis, limitRadiusMm }: GroovePlan,
  { grooveWidthMm, ribbon }: GrooveSettings,
): CheckResult {
  const narrow = narrowPlaces(
    axis.branches.flatMap(({ points }) => narrowest(points)),
    grooveWidthMm,
  );
  const result = atLeast(
    {
      rule: "groove-width",
      title: "Width of the groove",
      limit: grooveWidthMm,
      unit: "mm",
      note: "Where ribbons lie closer together there is one groove between them, as wide as the room and shallower.",
    },
    narrow.worst === null ? { worst: 2 * limitRadiusMm, short: [] } : narrow,
    () =>
      [...widenGap(grooveWidthMm), ...narrowGroove(narrow.worst ?? 0)].filter(
        ({ value }) => value !== ribbon.gapMm,
      ),
  );
  return softened(result);
}

/** The middle of a branch that is narrowest between two wider ends: a narrow place, not a corner that runs out. */
function narrowest(points: readonly AxisPoint[]): AxisPoint[] {
  const least = points.reduce<AxisPoint | undefined>(
    (a, b) => (a && a.radius <= b.radius ? a : b),
    undefined,
  );
  return least && least.radius > 0 ? [least] : [];
}

function narrowPlaces(points: readonly AxisPoint[], widthMm: number): Finding {
  const short: Measured[] = points
    .filter(({ radius }) => 2 * (radius + AXIS_OVERLAP_MM) < widthMm)
    .map(({ x, y, radius }) => ({ at: { x, y }, value: 2 * radius }));
  const worst = short.reduce<number | null>((least, { value }) => Math.min(least ?? value, value), null);
  return { worst, short };
}

function narrowGroove(widthMm: number) {
  const value = roundDown(widthMm, 2);
  return value > 0 ? [setNumber("grooveWidthMm", value, `groove width ${formatMm(value)}`)] : [];
}

/** Along outlines: the groove round the knot's outside stays on the panel. */
function checkOnPanel({ borderMm, grooveWidthMm }: GrooveSettings): CheckResult {
  return atLeast(
    {
      rule: "groove-on-panel",
      title: "Border round the knot, for the groove",
      limit: grooveWidthMm,
      unit: "mm",
      note: "On a narrower border the outermost groove runs out over the panel's edge.",
    },
    { worst: borderMm, short: [] },
    () => [setNumber("borderMm", roundUp(grooveWidthMm, 2), `border ${formatMm(roundUp(grooveWidthMm, 2))}`)],
  );
}

/** Filling the ground: where its width asks for more depth than there may be. */
function checkFloor({ axis, cutter, rest, mill, limitDepthMm, limitRadiusMm }: GroovePlan): CheckResult {
  const short: Measured[] = widestPlaces(axis, limitRadiusMm).map(({ x, y, radius }) => ({
    at: { x, y },
    value: depthAt(cutter.shape, radius),
  }));
  const worst = short.reduce((most, { value }) => Math.max(most, value), limitDepthMm);
  const byV = regionArea(rest);
  const how = mill
    ? `${mill.name} clears it${byV > 0 ? `, but for ${formatNumber(byV, 1)} mm2 in its corners` : ""}`
    : "No end mill of the list fits in";
  const ridges =
    byV > 0 ? `; there the V cutter leaves ridges of up to ${formatNumber(FLOOR_RIDGE_MM, 2)} mm` : "";
  const result = atMost(
    {
      rule: "flat-floor",
      title: "Depth that the width of the ground asks for",
      limit: limitDepthMm,
      unit: "mm",
      note: `Where the ground is wider than the cut at its deepest it gets a flat floor. ${how}${ridges}.`,
    },
    { worst: short.length > 0 ? worst : null, short },
    () => [],
  );
  return softened(result);
}

/** The middle of the largest disc of each connected place that is wider than the limit. */
function widestPlaces({ nodes, branches }: MedialAxis, limitRadiusMm: number): AxisPoint[] {
  const room = ({ radius }: AxisPoint) => radius - limitRadiusMm - AXIS_OVERLAP_MM;
  const group = nodes.map((_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    while (group[root] !== undefined && group[root] !== root) root = group[root] ?? root;
    return root;
  };
  const widest = new Map<number, AxisPoint>();
  const note = (root: number, point: AxisPoint) => {
    if (room(point) > 0 && point.radius > (widest.get(root)?.radius ?? 0)) widest.set(root, point);
  };
  const parts = branches.flatMap(({ from, to, points }) =>
    keptParts(points, room, mixAxis).map((part) => ({ ...part, from, to })),
  );
  for (const { startsWhole, endsWhole, from, to } of parts)
    if (startsWhole && endsWhole) group[rootOf(from)] = rootOf(to);
  for (const [i, node] of nodes.entries()) note(rootOf(i), node);
  // A wide place in the middle of a branch is one of its own.
  for (const [i, { points, startsWhole, endsWhole, from, to }] of parts.entries()) {
    const root = startsWhole ? rootOf(from) : endsWhole ? rootOf(to) : -1 - i;
    for (const point of points) note(root, point);
  }
  return [...widest.values()];
}

function checkBelow(
  { limitDepthMm }: GroovePlan,
  { stockThicknessMm, keepBelowMm }: GrooveSettings,
): CheckResult {
  return atLeast(
    {
      rule: "groove-keep",
      title: "Solid wood below the deepest groove",
      limit: keepBelowMm,
      unit: "mm",
      note: "Less wood than that breaks along the groove.",
    },
    { worst: stockThicknessMm - limitDepthMm, short: [] },
    () => {
      const thickness = roundUp(keepBelowMm + limitDepthMm, 1);
      const depth = roundDown(stockThicknessMm - keepBelowMm, 2);
      return [
        setNumber("stockThicknessMm", thickness, `stock ${formatMm(thickness)} thick`),
        ...(depth > 0 ? [setNumber("deepestMm", depth, `no deeper than ${formatMm(depth)}`)] : []),
      ];
    },
  );
}

/** Something to know, not a reason to write no file. */
function softened(result: CheckResult): CheckResult {
  return result.verdict === "fail" ? { ...result, verdict: "warning" } : result;
}
