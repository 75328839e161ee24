/** The rules of leather carved with a knife; numbers are common practice (CHECKS.md 7). */
import { formatMm } from "../../base/format-number.ts";
import { measureBends } from "../../checks/bends.ts";
import type { CheckResult } from "../../checks/check.ts";
import { atLeast, LeastFinder } from "../../checks/judge.ts";
import { growPitch, narrowRibbon, setNumber, widenRibbon } from "../../checks/remedy.ts";
import { crossingPoint } from "../../diagram/knot-diagram.ts";
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { type Bounds, mergeBounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { type Segment, segmentBounds } from "../../geometry/segment.ts";
import { checkRibbonRoom, knotCurves } from "./knot-checks.ts";
import { type PaperKnot, somewhereOn } from "./paper-knot.ts";
import type { LeatherSettings } from "./settings.ts";
import { slopeCrossing, slopeRun, slopesOf } from "./slopes.ts";

export interface LeatherGeometry {
  readonly knot: PaperKnot;
  readonly knifeLines: readonly ArcChain[];
}

export function checkLeather(geometry: LeatherGeometry, settings: LeatherSettings): CheckResult[] {
  return [
    checkRibbonRoom(geometry.knot, settings),
    checkThickness(geometry, settings),
    checkStrap(geometry, settings),
    checkStops(geometry, settings),
    checkBevels(geometry, settings),
    checkTurns(geometry, settings),
  ];
}

function checkThickness({ knot }: LeatherGeometry, settings: LeatherSettings): CheckResult {
  const { thicknessMm, leastThicknessMm: limit } = settings;
  return atLeast(
    {
      rule: "leather-thickness",
      title: "Thickness of the leather",
      limit,
      unit: "mm",
      note: "In thinner leather half the thickness is no depth to bevel.",
    },
    { worst: thicknessMm, short: thicknessMm < limit ? [{ at: somewhereOn(knot), value: thicknessMm }] : [] },
    () => [setNumber("thicknessMm", limit, `leather of ${formatMm(limit)}`)],
  );
}

function checkStrap({ knot }: LeatherGeometry, settings: LeatherSettings): CheckResult {
  const { ribbon, leastStrapMm, thicknessMm } = settings;
  const limit = Math.max(leastStrapMm, thicknessMm);
  const { widthMm } = ribbon;
  return atLeast(
    {
      rule: "strap-width",
      title: "Width of the ribbon between its two cuts",
      limit,
      unit: "mm",
      note: "Between cuts that run closer than this, or closer than the leather is thick, the strap lifts.",
    },
    { worst: widthMm, short: widthMm < limit ? [{ at: somewhereOn(knot), value: widthMm }] : [] },
    () => [...widenRibbon(limit), ...(ribbon.widthFixed ? [] : growPitch(ribbon, limit / widthMm))],
  );
}

/** How near the end of any knife line comes to another line, or the same one further on. */
function checkStops({ knifeLines }: LeatherGeometry, { stopShortMm }: LeatherSettings): CheckResult {
  const found = new LeastFinder(stopShortMm);
  const segments = knifeLines.flatMap(segmentsOf);
  const index = new BoxIndex(segments.map(segmentBounds));
  for (const line of knifeLines) {
    if (line.closed) continue;
    for (const { own, tip } of lineEnds(line)) {
      const nearest = nearestOther(segments, index.near(pointBox(tip), 2 * stopShortMm), own, tip);
      if (nearest !== undefined) found.add(nearest, tip);
    }
  }
  return atLeast(
    {
      rule: "stop-short",
      title: "Leather left between the end of a cut and the cut that it runs up to",
      limit: stopShortMm,
      unit: "mm",
      note: "Cuts that meet at full depth open up and let the corner lift.",
    },
    found.finding,
    () => [],
  );
}

/** The ends of an open line, each with the segment that it belongs to. */
function lineEnds(line: ArcChain): { readonly own: Segment; readonly tip: Point }[] {
  const segments = segmentsOf(line);
  const first = segments[0];
  const last = segments.at(-1);
  return first && last
    ? [
        { own: first, tip: first.from },
        { own: last, tip: last.to },
      ]
    : [];
}

function nearestOther(
  segments: readonly Segment[],
  near: readonly number[],
  own: Segment,
  tip: Point,
): number | undefined {
  let least: number | undefined;
  for (const i of near) {
    const other = segments[i];
    if (!other || touches(other, own)) continue;
    const apart = distance(nearestOn(other, tip), tip);
    if (least === undefined || apart < least) least = apart;
  }
  return least;
}

/** Whether two segments are one, or neighbours along a line: their ends are the same to the last digit. */
function touches(a: Segment, b: Segment): boolean {
  const same = (p: Point, q: Point) => p.x === q.x && p.y === q.y;
  return same(a.from, b.from) || same(a.to, b.to) || same(a.from, b.to) || same(a.to, b.from);
}

function pointBox(point: Point): Bounds {
  return mergeBounds([{ minX: point.x, minY: point.y, maxX: point.x, maxY: point.y }]);
}

function checkBevels({ knot }: LeatherGeometry, { ribbon, bevelRunMm: limit }: LeatherSettings): CheckResult {
  const found = new LeastFinder(limit);
  for (const slope of slopesOf(knot.diagram, ribbon.widthMm, limit)) {
    found.add(slopeRun(slope), crossingPoint(knot.diagram, slopeCrossing(slope)));
  }
  const hidden = ribbon.widthMm;
  return atLeast(
    {
      rule: "bevel-room",
      title: "Room for a bevel to run out between two crossings",
      limit,
      unit: "mm",
      note: "A bevel that has no room to run out eats into the strand where it is to lie over.",
    },
    found.finding,
    (worst) => [
      ...narrowRibbon(hidden - (limit - worst)),
      ...growPitch(ribbon, ribbon.widthFixed ? (limit + hidden) / (worst + hidden) : limit / worst),
    ],
  );
}

function checkTurns({ knot }: LeatherGeometry, settings: LeatherSettings): CheckResult {
  const { ribbon, leastInnerRadiusMm: limit } = settings;
  return atLeast(
    {
      rule: "bend-radius",
      title: "Radius of the inner edge at bends",
      limit,
      unit: "mm",
      note: "The blade cannot be swivelled round a tighter bend without tearing the grain.",
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
