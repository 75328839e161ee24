/**
 * Plane graph -> medial knot diagram: a crossing at the middle of each line, and an edge
 * through each corner, from the middle of its one line to that of the other. Every alternating
 * link has such a diagram (Gross and Tucker, A Celtic framework for knots and links, Discrete
 * Comput. Geom. 46, 2011; medial graphs: Godsil and Royle, Algebraic Graph Theory, 2001, ch. 17).
 *
 * Slots of a crossing, with the line's own direction to the east: 0 north-east, 1 north-west,
 * 2 south-west, 3 south-east; so strands cross at right angles, evenly about the line. A point
 * without lines gives a closed strand round it.
 */
import { done, type Result, refused } from "../base/fault.ts";
import { InternalError } from "../base/internal-error.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import type { ArcChain } from "../geometry/arc-chain.ts";
import { type Bounds, mergeBounds } from "../geometry/bounds.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { nearestOn } from "../geometry/meet.ts";
import { distance, type Point } from "../geometry/point.ts";
import { type Segment, segmentBounds, segmentLength } from "../geometry/segment.ts";
import { freeCurve, type TipStyle } from "./corner-curve.ts";
import { type Arm, type Corner, type Corners, findCorners } from "./corners.ts";
import { hugCurve } from "./hug-curve.ts";
import { lineSegment, type PlaneGraph, planeGraphFaults } from "./plane-graph.ts";
import { type ForeignLine, Room, SIGHT_SHARE } from "./room.ts";
import { tangledCurves } from "./tangles.ts";

export interface GraphOptions {
  /** How curves run round the convex tips of the graph at its outside. */
  readonly corner: TipStyle;
  /** mm that count as one step of the design: the strand round a lone point is half of it wide. */
  readonly pitchMm: number;
}

/**
 * The medial diagram, in mm. Over and under are not set (all 0): weave it.
 */
export function graphDiagram(graph: PlaneGraph, options: GraphOptions): Result<KnotDiagram> {
  const faults = planeGraphFaults(graph);
  if (faults.length > 0) return refused(...faults);
  const corners = findCorners(graph);
  const curves = new Curves(graph, corners, options).untangled();
  const crossings = graph.lines.map((_, line): Point => corners.arms[2 * line]?.half.to ?? NOWHERE);
  const twin = new Int32Array(4 * crossings.length);
  const bent = new Map<number, ArcChain>();
  for (const [i, { first, second }] of corners.corners.entries()) {
    const from = slotAfter(first);
    const to = slotBefore(second);
    twin[from] = to;
    twin[to] = from;
    const curve = curves[i];
    if (curve && !isLine(curve)) bent.set(from, curve);
  }
  return done({
    x: Float64Array.from(crossings, ({ x }) => x),
    y: Float64Array.from(crossings, ({ y }) => y),
    twin,
    over: new Uint8Array(crossings.length),
    curves: bent,
    loops: curves.slice(corners.corners.length),
  });
}

const NOWHERE: Point = { x: Number.NaN, y: Number.NaN };

/** The half-edge at an arm's crossing towards the corner counter-clockwise of it. */
function slotAfter({ id }: Arm): number {
  return 4 * (id >> 1) + ((id & 1) === 0 ? 1 : 3);
}

/** The half-edge at an arm's crossing towards the corner clockwise of it. */
function slotBefore({ id }: Arm): number {
  return 4 * (id >> 1) + ((id & 1) === 0 ? 2 : 0);
}

function isLine({ closed, vertices }: ArcChain): boolean {
  return !closed && vertices.length === 2 && vertices[0]?.bulge === 0;
}

/** A lone point's strand keeps 2.25 times its radius from the next line (room.ts), and that radius is on top. */
const LOOP_ROOM = 3.25;

/** Rounds of drawing tangled curves tighter; each takes a quarter of their distance from the lines. */
const MOST_ROUNDS = 60;

/** The curves of all corners, and after them of all lone points. */
class Curves {
  readonly #graph: PlaneGraph;
  readonly #corners: Corners;
  readonly #options: GraphOptions;
  readonly #lines: readonly Segment[];
  readonly #lineIndex: BoxIndex;
  readonly #lonePoints: readonly Point[];
  readonly #loneIndex: BoxIndex;

  constructor(graph: PlaneGraph, corners: Corners, options: GraphOptions) {
    this.#graph = graph;
    this.#corners = corners;
    this.#options = options;
    this.#lines = graph.lines.map((line) => lineSegment(graph, line));
    this.#lineIndex = new BoxIndex(this.#lines.map(segmentBounds));
    this.#lonePoints = corners.lone.map((point) => graph.points[point] ?? NOWHERE);
    this.#loneIndex = new BoxIndex(this.#lonePoints.map(boxOf));
  }

  /** Fair curves; those that meet another where they should not are drawn tighter until none does. */
  untangled(): ArcChain[] {
    const { corners } = this.#corners;
    const ends = [
      ...corners.map(({ first, second }) => [first.half.to, second.half.to]),
      ...this.#lonePoints.map(() => []),
    ];
    const tightness = new Int32Array(ends.length);
    const curves = ends.map((_, i) => this.#curve(i, 0));
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const tangled = tangledCurves(
        curves.map((chain, i) => ({ chain, ends: ends[i] ?? [] })),
        this.#lines,
      );
      if (tangled.size === 0) return curves;
      for (const i of tangled) {
        tightness[i] = (tightness[i] ?? 0) + 1;
        curves[i] = this.#curve(i, tightness[i] ?? 0);
      }
    }
    throw new InternalError("curves that cannot be drawn apart");
  }

  /** The curve of a corner, or of the lone point after the last corner; nearer to its lines the tighter. */
  #curve(i: number, tightness: number): ArcChain {
    const corner = this.#corners.corners[i];
    if (corner) return this.#cornerCurve(corner, tightness);
    return this.#loop(this.#lonePoints[i - this.#corners.corners.length] ?? NOWHERE, tightness);
  }

  #cornerCurve(corner: Corner, tightness: number): ArcChain {
    const room = this.#roomOf(corner);
    if (tightness === 0) {
      const free = freeCurve(corner, this.#options.corner, room);
      if (free) return free;
    }
    return hugCurve(corner, room, 0.75 ** Math.max(0, tightness - 1));
  }

  #roomOf(corner: Corner): Room {
    const { point, first, second, walk } = corner;
    const { corners, partOfPoint } = this.#corners;
    const own = [first.half, second.half];
    const sight = SIGHT_SHARE * Math.max(...own.map(segmentLength));
    const bounds = mergeBounds(own.map(segmentBounds));
    const foreign: ForeignLine[] = [];
    for (const line of this.#lineIndex.near(bounds, sight)) {
      const ends = this.#graph.lines[line];
      const segment = this.#lines[line];
      // Lines from the corner's own point lie behind its first and second.
      if (!ends || !segment || ends.from === point || ends.to === point) continue;
      const stranger = partOfPoint[ends.from] !== partOfPoint[point];
      const inFace = corners[2 * line]?.walk === walk || corners[2 * line + 1]?.walk === walk;
      if (stranger || inFace) foreign.push({ segment, stranger });
    }
    for (const i of this.#loneIndex.near(bounds, sight)) {
      const lone = this.#lonePoints[i];
      if (lone) foreign.push({ segment: { from: lone, to: lone, bulge: 0 }, stranger: true });
    }
    const whole = [first, second].flatMap(({ id }) => this.#lines[id >> 1] ?? []);
    return new Room(own, whole, foreign, sight);
  }

  /** A circle round a lone point, half a step wide, or smaller where lines are near. */
  #loop(point: Point, tightness: number): ArcChain {
    const wanted = this.#options.pitchMm / 4;
    const box = boxOf(point);
    let free = LOOP_ROOM * wanted;
    for (const line of this.#lineIndex.near(box, free)) {
      const segment = this.#lines[line];
      if (segment) free = Math.min(free, distance(nearestOn(segment, point), point));
    }
    for (const i of this.#loneIndex.near(box, free)) {
      const other = this.#lonePoints[i];
      if (other && other !== point) free = Math.min(free, distance(other, point));
    }
    const radius = free / LOOP_ROOM / 2 ** tightness;
    return {
      closed: true,
      vertices: [
        { x: point.x + radius, y: point.y, bulge: 1 },
        { x: point.x - radius, y: point.y, bulge: 1 },
      ],
    };
  }
}

function boxOf({ x, y }: Point): Bounds {
  return { minX: x, minY: y, maxX: x, maxY: y };
}
