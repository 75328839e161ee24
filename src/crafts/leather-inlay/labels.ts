/** Labels along a part, marked only where they lie wholly inside it. */
import { type ArcChain, chainLength, placeAtLength, polyline } from "../../geometry/arc-chain.ts";
import { boxChain, chainNearness } from "../../geometry/distance.ts";
import { along, leftOf, type Point, type Vec } from "../../geometry/point.ts";
import { directionAt, segmentPoint } from "../../geometry/segment.ts";
import { letterChains, textWidth } from "../../output/lettering.ts";
import type { Shape } from "../../ribbon/ribbon.ts";

/** mm between a label and the nearest cut. */
export const LABEL_CLEAR_MM = 0.3;

/** Letters lower than this can't be read on leather (common practice, no source). */
const LEAST_LETTER_MM = 1.2;

/**
 * The label along the centreline, its middle as near to the centreline's as it fits, in the
 * greatest height up to `heightMm`; undefined where it would come too near to a cut.
 */
export function labelAlong(
  text: string,
  shape: Shape,
  centreline: ArcChain,
  heightMm: number,
): ArcChain[] | undefined {
  const bounds = [shape.outline, ...shape.holes].map(boxChain);
  const length = chainLength(centreline);
  for (const height of [heightMm, Math.max(LEAST_LETTER_MM, heightMm * 0.7)]) {
    for (const share of [0.5, 0.35, 0.65, 0.2, 0.8]) {
      const place = placeAtLength(centreline, length * share);
      const at = segmentPoint(place.segment, place.t);
      const direction = upright(directionAt(place.segment, place.t));
      const frame = boxChain(textFrame(at, direction, textWidth(text, height), height));
      if (bounds.some((outline) => chainNearness(frame, outline, LABEL_CLEAR_MM))) continue;
      return letterChains(text, {
        at,
        heightMm: height,
        turnRad: Math.atan2(direction.y, direction.x),
        anchor: "centre",
      });
    }
  }
  return undefined;
}

/** Text is never upside down. */
function upright(direction: Vec): Vec {
  return direction.x < 0 || (direction.x === 0 && direction.y < 0)
    ? { x: -direction.x, y: -direction.y }
    : direction;
}

function textFrame(centre: Point, direction: Vec, width: number, height: number): ArcChain {
  const up = leftOf(direction);
  const corner = (x: number, y: number) =>
    along(along(centre, direction, (x * width) / 2), up, (y * height) / 2);
  return polyline([corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)], true);
}
