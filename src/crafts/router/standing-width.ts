/**
 * How wide a ribbon must be to stand in wood that is weak across its grain. A strip that runs at
 * the angle t to the grain has a strength between those along and across by Hankinson's formula,
 * N = P Q / (P sin^2 t + Q cos^2 t) (Hankinson, Investigation of crushing strength of spruce at
 * varying angles of grain, 1921; the Wood Handbook gives it in its chapter on mechanical
 * properties; both from memory). Widths that are in inverse proportion to strength then mix as
 * along cos^2 t + across sin^2 t.
 */
import type { Finding, Measured } from "../../checks/judge.ts";
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import { type Segment, segmentPoint, startDirection } from "../../geometry/segment.ts";
import type { RouterSettings } from "./settings.ts";

export type GrainRule = Pick<RouterSettings, "grain" | "leastAlongGrainMm" | "leastAcrossGrainMm">;

/** The greatest width that any place of the centrelines asks for, and the ribbons that have less. */
export function measureStanding(
  centrelines: readonly ArcChain[],
  widthMm: number,
  rule: GrainRule,
): { readonly limitMm: number; readonly finding: Finding } {
  const short: Measured[] = [];
  let limitMm = 0;
  for (const centreline of centrelines) {
    const worst = weakestPlace(centreline, rule);
    if (!worst) continue;
    limitMm = Math.max(limitMm, worst.needMm);
    if (worst.needMm > widthMm) short.push({ at: worst.at, value: widthMm });
  }
  return { limitMm, finding: { worst: centrelines.length > 0 ? widthMm : null, short } };
}

function weakestPlace(centreline: ArcChain, rule: GrainRule): { at: Point; needMm: number } | undefined {
  let worst: { at: Point; needMm: number } | undefined;
  for (const segment of segmentsOf(centreline)) {
    const needMm = widthNeeded(segment, rule);
    if (!worst || needMm > worst.needMm) worst = { at: segmentPoint(segment, 0.5), needMm };
  }
  return worst;
}

function widthNeeded(segment: Segment, { grain, leastAlongGrainMm, leastAcrossGrainMm }: GrainRule): number {
  if (grain === "none") return leastAlongGrainMm;
  const across = mostAcross(segment, grain === "across" ? Math.PI / 2 : 0);
  return leastAlongGrainMm + (leastAcrossGrainMm - leastAlongGrainMm) * across;
}

/** The greatest squared sine of the angle to the grain, along a line or an arc. */
function mostAcross(segment: Segment, acrossRad: number): number {
  const { x, y } = startDirection(segment);
  // From the way straight across, which is as good backwards: whole half turns away it is the same.
  const start = Math.atan2(y, x) - acrossRad;
  const end = start + 4 * Math.atan(segment.bulge);
  if (Math.floor(start / Math.PI) !== Math.floor(end / Math.PI)) return 1;
  return Math.max(Math.cos(start) ** 2, Math.cos(end) ** 2);
}
