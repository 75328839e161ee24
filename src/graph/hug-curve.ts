/**
 * Curves through a corner where there is no room for a fair one: along the corner's own two
 * lines and round their point, as near to them as need be. There is always room for those.
 */
import { InternalError } from "../base/internal-error.ts";
import { SAME_DIRECTION_RAD } from "../base/tolerance.ts";
import {
  type ArcChain,
  chainLength,
  chainOf,
  chainPart,
  joinChains,
  segmentsOf,
} from "../geometry/arc-chain.ts";
import { filletLegs } from "../geometry/fillet-legs.ts";
import { offsetWhole } from "../geometry/offset.ts";
import { along, minus, type Point, turnBetween, turned } from "../geometry/point.ts";
import {
  endDirection,
  parallelSegment,
  reverseSegment,
  type Segment,
  segmentLength,
  startDirection,
} from "../geometry/segment.ts";
import { arriving, leaving } from "./corner-curve.ts";
import type { Corner } from "./corners.ts";
import { fairCurves, type Pose } from "./fair-curve.ts";
import type { Room } from "./room.ts";

/** The widest lane beside the lines, as a share of the shorter half. */
const WIDEST_LANE = 0.2;

/** Lanes that do not fit are narrowed by this share, */
const LANE_STEP = 0.75;

/** for looks down to this one, */
const NARROWEST_FOR_LOOKS = 0.02;

/** and so that there is one at all, as often as this: to some millionths of the half. */
const MOST_STEPS = 40;

/** The widest such curve that has room enough, or one of `share` times its distance from the lines. */
export function hugCurve(corner: Corner, room: Room, share: number): ArcChain {
  const half = Math.min(segmentLength(corner.first.half), segmentLength(corner.second.half));
  let lane = WIDEST_LANE;
  for (let step = 0; step < MOST_STEPS; step++) {
    const curve = laneCurve(corner, lane * share * half);
    if (curve && (lane < NARROWEST_FOR_LOOKS || room.crowding(segmentsOf(curve)) === 1)) return curve;
    lane *= LANE_STEP;
  }
  throw new InternalError("no lane beside two lines");
}

/** The curve `apart` mm from the lines, with a ramp at each end; undefined where it is too wide for them. */
function laneCurve(corner: Corner, apart: number): ArcChain | undefined {
  const lane = laneAlong(corner, apart);
  if (!lane) return undefined;
  const length = chainLength(lane);
  const ramp = 3 * apart;
  if (length < 2.5 * ramp) return undefined;
  const middle = chainPart(lane, ramp, length - ramp);
  const on = segmentsOf(middle)[0];
  const off = segmentsOf(middle).at(-1);
  if (!on || !off) return undefined;
  const before = rampBetween(leaving(corner), { at: on.from, heading: startDirection(on) });
  const after = rampBetween({ at: off.to, heading: endDirection(off) }, arriving(corner));
  return before && after && joinChains([before, middle, after], false);
}

function rampBetween(from: Pose, to: Pose): ArcChain | undefined {
  const best = fairCurves(from, to, turnBetween(from.heading, to.heading))[0];
  return best && filletLegs(best.legs);
}

/** The parallel of the two halves, `apart` mm from them on the corner's side, its inner bends rounded. */
function laneAlong({ first, second, angle }: Corner, apart: number): ArcChain | undefined {
  const inwards = reverseSegment(first.half);
  const outwards = second.half;
  if (angle > Math.PI + SAME_DIRECTION_RAD) {
    const before = parallelSegment(inwards, -apart);
    const after = parallelSegment(outwards, -apart);
    if (!before || !after) return undefined;
    return chainOf([before, ...roundPoint(before.to, outwards.from, angle - Math.PI), after], false);
  }
  // Out past where it is to be, and back: so inner bends are rounded.
  const wide = offsetWhole(chainOf([inwards, outwards], false), -2 * apart, "round");
  return wide && offsetWhole(wide, apart, "round");
}

/** Arcs counter-clockwise about `centre` from a place. */
function roundPoint(from: Point, centre: Point, sweep: number): Segment[] {
  const parts = sweep > Math.PI / 2 ? 2 : 1;
  const radius = minus(from, centre);
  const at = (i: number) => along(centre, turned(radius, (sweep * i) / parts));
  return Array.from({ length: parts }, (_, i) => ({
    from: at(i),
    to: at(i + 1),
    bulge: Math.tan(sweep / parts / 4),
  }));
}
