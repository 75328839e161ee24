/** Corners rounded by tangent arcs: of straight lines by given radii, of any chain by one radius. */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, chainOf, segmentsOf, type Vertex } from "./arc-chain.ts";
import { meet, nearestOn } from "./meet.ts";
import { offsetWhole } from "./offset.ts";
import { along, distance, minus, type Point, turnBetween, unit } from "./point.ts";
import {
  endDirection,
  parallelSegment,
  type Segment,
  segmentPart,
  shareAt,
  startDirection,
} from "./segment.ts";

/**
 * The line through `points` with each corner rounded by its radius (0 keeps it sharp): the
 * tangent points lie r tan(turn/2) from the corner, and the bulge is tan(turn/4). The caller
 * sees to it that the lines are long enough.
 */
export function filletPoints(points: readonly Point[], radii: readonly number[], closed: boolean): ArcChain {
  const vertices: Vertex[] = [];
  const push = (vertex: Vertex) => {
    const last = vertices.at(-1);
    // Two fillets that use up a line meet in one point: the second one's bulge counts.
    if (last && last.bulge === 0 && distance(last, vertex) <= SAME_POINT_MM) vertices.pop();
    vertices.push(vertex);
  };
  for (const [i, corner] of points.entries()) {
    const before = points[i - 1] ?? (closed ? points.at(-1) : undefined);
    const after = points[i + 1] ?? (closed ? points[0] : undefined);
    const radius = radii[i] ?? 0;
    if (!before || !after || radius === 0) {
      push({ x: corner.x, y: corner.y, bulge: 0 });
      continue;
    }
    const incoming = unit(minus(corner, before));
    const outgoing = unit(minus(after, corner));
    const turn = turnBetween(incoming, outgoing);
    const reach = radius * Math.tan(Math.abs(turn) / 2);
    const start = along(corner, incoming, -reach);
    const end = along(corner, outgoing, reach);
    push({ x: start.x, y: start.y, bulge: Math.tan(turn / 4) });
    vertices.push({ x: end.x, y: end.y, bulge: 0 });
  }
  const first = vertices[0];
  const last = vertices.at(-1);
  if (closed && first && last && last.bulge === 0 && distance(first, last) <= SAME_POINT_MM) vertices.pop();
  return { closed, vertices };
}

/** A chain whose corners are rounded, and the corners that had no room for it. */
export interface EasedChain {
  readonly chain: ArcChain;
  readonly sharp: readonly Point[];
}

/**
 * Every corner of a closed chain rounded by `radius`, mm. Where the sides at a corner are shorter
 * than the rounding, a circle of that radius is rolled along both sides of the whole chain
 * instead; corners that it can't round either stay and are told.
 */
export function easeCorners(chain: ArcChain, radius: number): EasedChain {
  const eased = filletCorners(chain, radius) ?? rollCorners(chain, radius);
  return eased ? { chain: eased, sharp: sharpCorners(eased) } : { chain, sharp: sharpCorners(chain) };
}

/** A tangent arc at each corner, or undefined where one finds no room. */
function filletCorners(chain: ArcChain, radius: number): ArcChain | undefined {
  const segments = segmentsOf(chain);
  const fillets = segments.map((segment, i) => {
    const next = segments[i + 1] ?? segments[0];
    return next ? filletBetween(segment, next, radius) : undefined;
  });
  const eased: Segment[] = [];
  for (const [i, segment] of segments.entries()) {
    const before = fillets.at(i - 1);
    const after = fillets[i];
    if (after?.kind === "no-room") return undefined;
    const from = before?.kind === "arc" ? shareAt(segment, before.arc.to) : 0;
    const to = after?.kind === "arc" ? shareAt(segment, after.arc.from) : 1;
    if (from > to) return undefined;
    const part = segmentPart(segment, from, to);
    const start = before?.kind === "arc" ? before.arc.to : part.from;
    const end = after?.kind === "arc" ? after.arc.from : part.to;
    if (distance(start, end) > SAME_POINT_MM) eased.push({ from: start, to: end, bulge: part.bulge });
    if (after?.kind === "arc") eased.push(after.arc);
  }
  return chainOf(eased, true);
}

/** Offset in, out past where it was, and back: each inner side of an offset is rounded (opening and closing by a disc). */
function rollCorners(chain: ArcChain, radius: number): ArcChain | undefined {
  const inside = offsetWhole(chain, radius, "round");
  const outside = inside && offsetWhole(inside, -2 * radius, "round");
  return outside && offsetWhole(outside, radius, "round");
}

function sharpCorners(chain: ArcChain): Point[] {
  const segments = segmentsOf(chain);
  return segments.flatMap((segment, i) => {
    const next = segments[i + 1] ?? segments[0];
    if (!next) return [];
    const turn = turnBetween(endDirection(segment), startDirection(next));
    return Math.abs(turn) > SMOOTH_ENOUGH_RAD ? [segment.to] : [];
  });
}

/** A kink this small is rounding's: it moves no cut by a micrometre. */
const SMOOTH_ENOUGH_RAD = 1e-3;

type Fillet =
  | { readonly kind: "smooth" }
  | { readonly kind: "arc"; readonly arc: Segment }
  | { readonly kind: "no-room" };

function filletBetween(a: Segment, b: Segment, radius: number): Fillet {
  const turn = turnBetween(endDirection(a), startDirection(b));
  if (Math.abs(turn) <= SMOOTH_ENOUGH_RAD) return { kind: "smooth" };
  const left = turn > 0 ? radius : -radius;
  const movedA = parallelSegment(a, left);
  const movedB = parallelSegment(b, left);
  if (!movedA || !movedB) return { kind: "no-room" };
  const found = meet(movedA, movedB);
  if (found.kind === "none") return { kind: "no-room" };
  const centre = found.at.reduce((best, point) =>
    distance(point.point, a.to) < distance(best.point, a.to) ? point : best,
  ).point;
  const from = nearestOn(a, centre);
  const to = nearestOn(b, centre);
  const sweep = turnBetween(minus(from, centre), minus(to, centre));
  if (sweep > 0 !== turn > 0) return { kind: "no-room" };
  return { kind: "arc", arc: { from, to, bulge: Math.tan(sweep / 4) } };
}
