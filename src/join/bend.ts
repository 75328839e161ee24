/**
 * Outer bends: places on the outer face of a part at which its strand turns back inward, so
 * that it can be snipped there and led on outward.
 *
 * Every curve here is run with the outside on its left, so a bend turns to the right.
 */
import { faceWalk } from "../diagram/faces.ts";
import { edgeCurve, type KnotDiagram } from "../diagram/knot-diagram.ts";
import {
  type ArcChain,
  type ChainPlace,
  chainLength,
  chainStart,
  joinChains,
  placeAtLength,
  reverseChain,
  segmentsOf,
  signedArea,
  splitChain,
} from "../geometry/arc-chain.ts";
import { nearestOn } from "../geometry/meet.ts";
import {
  along,
  between,
  distance,
  leftOf,
  minus,
  type Point,
  turnBetween,
  unit,
  type Vec,
} from "../geometry/point.ts";
import {
  directionAt,
  endDirection,
  type Segment,
  segmentLength,
  segmentPoint,
  shareAt,
  startDirection,
} from "../geometry/segment.ts";
import type { Cuttable } from "./wiring.ts";

export interface Bend {
  /** On the strand; of a lane, the middle between its corners, which fillets may have cut off. */
  readonly at: Point;
  /** Away from the part, length 1. */
  readonly outward: Vec;
  readonly cut: Cuttable;
  /** The strand, run with the outside on its left, and the bend's place on it. A loop starts opposite the bend. */
  readonly curve: ArcChain;
  readonly place: ChainPlace;
}

/** A connected part, by what is on its outside: a half-edge of its outer face, or a loop by its number. */
export type Outside = Cuttable;

/** Which of the strands on the outside of a part are asked for. */
export type Accepts = (cut: Cuttable) => boolean;

const ALL: Accepts = () => true;

/** All bends of a part: the middles of lanes, corners, and wherever else its edges turn back. */
export function* outerBends(diagram: KnotDiagram, outside: Outside, accepts = ALL): Iterable<Bend> {
  for (const edge of outerEdges(diagram, outside, accepts)) yield* bendsOn(edge);
}

/** Places spaced evenly round a loop, for strands that bend everywhere alike. */
export function* placesRound(diagram: KnotDiagram, loop: number, count: number): Iterable<Bend> {
  for (const edge of outerEdges(diagram, { loop }, ALL)) {
    const whole = chainLength(edge.curve);
    for (let i = 0; i < count; i++) yield bendAtLength(edge, (i * whole) / count);
  }
}

/**
 * The bend of the given parts nearest to a point. Where their outside is nearer than any bend by
 * more than `snap` mm, that very place on it (on a long curve every place is as good as another).
 */
export function bendNear(
  diagram: KnotDiagram,
  outsides: Iterable<Outside>,
  near: Point,
  snap: number,
  accepts = ALL,
): Bend | undefined {
  const edges = [...outsides].flatMap((outside) => [...outerEdges(diagram, outside, accepts)]);
  const places = edges.map((edge) => ({ edge, ...nearestLength(edge.curve, near) }));
  places.sort((p, q) => p.apart - q.apart);
  const [nearest] = places;
  let bend: Bend | undefined;
  for (const { edge, apart } of places) {
    // A bend is hardly nearer than the edge that it lies on: a fillet cuts off little of a lane.
    if (bend && apart > distance(bend.at, near) + snap) break;
    for (const own of bendsOn(edge)) {
      if (!bend || distance(own.at, near) < distance(bend.at, near)) bend = own;
    }
  }
  if (!nearest || (bend && distance(bend.at, near) <= nearest.apart + snap)) return bend;
  return bendAtLength(nearest.edge, nearest.length);
}

interface OuterEdge {
  readonly cut: Cuttable;
  /** Closed for a loop. */
  readonly curve: ArcChain;
}

function* outerEdges(diagram: KnotDiagram, outside: Outside, accepts: Accepts): Iterable<OuterEdge> {
  if ("half" in outside) {
    for (const half of faceWalk(diagram, outside.half))
      if (accepts({ half })) yield { cut: { half }, curve: edgeCurve(diagram, half) };
    return;
  }
  const loop = diagram.loops[outside.loop];
  if (loop && accepts(outside))
    yield { cut: outside, curve: signedArea(loop) < 0 ? loop : reverseChain(loop) };
}

/** A right turn of at least this much is a bend (60 degrees) … */
const BEND_RAD = Math.PI / 3;

/** … and a lane lies between two of at least this much (20 degrees). */
const LANE_RAD = Math.PI / 9;

/** Arcs that turn by more than this have their corner far away (150 degrees). */
const MOST_RAD = (5 * Math.PI) / 6;

/** Where the legs of a strand meet: a corner, or what an arc has rounded. */
interface Corner {
  readonly at: Point;
  /** Radians, to the left. */
  readonly turn: number;
  /** How far along the strand its middle lies, mm. */
  readonly length: number;
}

function cornersOf(curve: ArcChain): Corner[] {
  const segments = segmentsOf(curve);
  const corners: Corner[] = [];
  let before = 0;
  for (const [i, segment] of segments.entries()) {
    const own = segmentLength(segment);
    const turn = 4 * Math.atan(segment.bulge);
    if (turn !== 0) {
      const reach = distance(segment.from, segment.to) / (2 * Math.cos(turn / 2));
      const at =
        Math.abs(turn) > MOST_RAD
          ? segmentPoint(segment, 0.5)
          : along(segment.from, startDirection(segment), reach);
      corners.push({ at, turn, length: before + own / 2 });
    }
    before += own;
    const next = segments[i + 1] ?? (curve.closed ? segments[0] : undefined);
    const kink = next ? turnBetween(endDirection(segment), startDirection(next)) : 0;
    if (Math.abs(kink) > SMOOTH_RAD) corners.push({ at: segment.to, turn: kink, length: before });
  }
  return corners;
}

/** Joints of fitted curves are smooth up to rounding. */
const SMOOTH_RAD = 1e-3;

function* bendsOn(edge: OuterEdge): Iterable<Bend> {
  const corners = cornersOf(edge.curve);
  let isBent = false;
  for (const [i, corner] of corners.entries()) {
    // A loop of arcs bends everywhere alike.
    if (corner.turn < -BEND_RAD && !edge.curve.closed) {
      isBent = true;
      yield bendAtLength(edge, corner.length);
    }
    const next = corners[i + 1] ?? (edge.curve.closed ? corners[0] : undefined);
    if (!next || corner.turn > -LANE_RAD || next.turn > -LANE_RAD) continue;
    if (Math.abs(corner.turn) > MOST_RAD || Math.abs(next.turn) > MOST_RAD) continue;
    isBent = true;
    yield laneBend(edge, corner, next);
  }
  if (isBent || edge.curve.closed) return;
  // An edge that turns little by little, as on a ring, bends in its middle.
  const turned = corners.reduce((sum, { turn }) => sum + turn, 0);
  if (turned < -BEND_RAD) yield bendAtLength(edge, chainLength(edge.curve) / 2);
}

/** The middle of the lane between two corners. */
function laneBend(edge: OuterEdge, from: Corner, to: Corner): Bend {
  const round = to.length < from.length ? chainLength(edge.curve) : 0;
  return {
    ...bendAtLength(edge, (from.length + to.length + round) / 2),
    at: between(from.at, to.at, 0.5),
    outward: leftOf(unit(minus(to.at, from.at))),
  };
}

function bendAtLength({ cut, curve }: OuterEdge, length: number): Bend {
  if (!curve.closed) return bendAt(cut, curve, placeAtLength(curve, length));
  const whole = chainLength(curve);
  const open = { closed: false, vertices: [...curve.vertices, { ...chainStart(curve), bulge: 0 }] };
  const [first, second] = splitChain(open, (length + whole / 2) % whole);
  const turned = joinChains([second, first], false);
  return bendAt(cut, turned, placeAtLength(turned, whole / 2));
}

function bendAt(cut: Cuttable, curve: ArcChain, { index, t }: ChainPlace): Bend {
  const segments = segmentsOf(curve);
  const segment = segments[index] ?? NOWHERE;
  return {
    at: segmentPoint(segment, t),
    outward: outwardAt(segments, index, t),
    cut,
    curve,
    place: { index, t },
  };
}

const NOWHERE: Segment = { from: { x: 0, y: 0 }, to: { x: 0, y: 0 }, bulge: 0 };

/** A place within this share of a segment's end is at the corner there. */
const AT_CORNER = 1e-6;

/** The left normal; at a pointed corner the middle between those of its two sides. */
function outwardAt(segments: readonly Segment[], index: number, t: number): Vec {
  const segment = segments[index] ?? NOWHERE;
  const after = t > 1 - AT_CORNER ? segments[index + 1] : undefined;
  const before = t < AT_CORNER ? segments[index - 1] : undefined;
  const own = directionAt(segment, t);
  const other = after ? startDirection(after) : before ? endDirection(before) : own;
  return leftOf(unit({ x: own.x + other.x, y: own.y + other.y }));
}

function nearestLength(curve: ArcChain, near: Point): { length: number; apart: number } {
  let before = 0;
  let best = { length: 0, apart: Number.POSITIVE_INFINITY };
  for (const segment of segmentsOf(curve)) {
    const point = nearestOn(segment, near);
    const apart = distance(point, near);
    const own = segmentLength(segment);
    if (apart < best.apart) best = { apart, length: before + own * shareAt(segment, point) };
    before += own;
  }
  return best;
}
