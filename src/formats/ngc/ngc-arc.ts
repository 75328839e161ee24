/** The rules that an arc by its centre must keep in RS-274/NGC (NISTIR 6556, section 3.5.3.2), and ours on top. */
import type { Place3 } from "../../output/toolpath.ts";
import type { NgcBlock } from "./ngc-block.ts";

export interface NgcArc {
  readonly from: Place3;
  readonly to: Place3;
  readonly centreX: number;
  readonly centreY: number;
  readonly clockwise: boolean;
}

/** "An error if the radii differ by more than 0.002 mm". */
const RADII_APART_MM = 0.002;

/** A common interpreter refuses arcs of less than about 0.0013 mm, as of no radius. */
const LEAST_RADIUS_MM = 0.0015;

/** A half turn whose numbers were rounded may end a hair past half: up to this much of its circle's rim. */
const PAST_HALF_TURN_MM = 0.005;

/** Why a reader would not draw this arc, or not as one of at most half a turn. */
export function refuseArc(arc: NgcArc, block: NgcBlock): string | undefined {
  if (!block.has("X") && !block.has("Y")) return "an arc without X and Y";
  if (!block.has("I") || !block.has("J")) return "an arc without both I and J";
  const { from, to, centreX, centreY, clockwise } = arc;
  const first = { x: from.x - centreX, y: from.y - centreY };
  const last = { x: to.x - centreX, y: to.y - centreY };
  const radius = Math.sqrt(first.x * first.x + first.y * first.y);
  const lastRadius = Math.sqrt(last.x * last.x + last.y * last.y);
  if (Math.abs(radius - lastRadius) > RADII_APART_MM)
    return `an arc that begins ${radius.toFixed(4)} mm and ends ${lastRadius.toFixed(4)} mm from its centre`;
  if (Math.min(radius, lastRadius) < LEAST_RADIUS_MM) return "an arc without a radius";
  if (from.x === to.x && from.y === to.y) return "a full circle, more than half a turn";
  const angle = Math.atan2(last.y, last.x) - Math.atan2(first.y, first.x);
  const turned = clockwise ? -angle : angle;
  const sweep = turned <= 0 ? turned + 2 * Math.PI : turned;
  const pastHalf = ((sweep > 2 * Math.PI ? sweep - 2 * Math.PI : sweep) - Math.PI) * radius;
  return pastHalf > PAST_HALF_TURN_MM ? "an arc of more than half a turn" : undefined;
}
