/** The side of a cut that is bevelled down, shown by short ticks that stand on the cut. */
import { type ArcChain, chainLength, placeAtLength, polyline } from "../../geometry/arc-chain.ts";
import { along, leftOf } from "../../geometry/point.ts";
import { directionAt, segmentPoint } from "../../geometry/segment.ts";

export interface TickOptions {
  readonly spacingMm: number;
  readonly lengthMm: number;
  readonly side: "left" | "right";
}

/** Ticks along a line, the first and the last half a spacing from its ends. */
export function ticksAlong(line: ArcChain, { spacingMm, lengthMm, side }: TickOptions): ArcChain[] {
  const length = chainLength(line);
  const count = Math.max(1, Math.round(length / spacingMm));
  const left = side === "left" ? lengthMm : -lengthMm;
  return Array.from({ length: count }, (_, i) => {
    const { segment, t } = placeAtLength(line, (length * (i + 0.5)) / count);
    const foot = segmentPoint(segment, t);
    return polyline([foot, along(foot, leftOf(directionAt(segment, t)), left)], false);
  });
}
