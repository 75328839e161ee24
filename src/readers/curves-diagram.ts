/** Drawn curves -> knot diagram: strands closed, fitted by arcs, and cut where they cross. */
import { done, type Fault, type Result } from "../base/fault.ts";
import { findFaces } from "../diagram/faces.ts";
import { halfEdge, type KnotDiagram } from "../diagram/knot-diagram.ts";
import { type ArcChain, chainOf, chainStart, mergeStraights } from "../geometry/arc-chain.ts";
import { distance, type Point } from "../geometry/point.ts";
import { type Segment, segmentPart } from "../geometry/segment.ts";
import { type DrawnStrand, drawnStrands, SLIVER_MM } from "./drawn-strands.ts";
import { type DrawnCrossing, findCrossings, type Passage } from "./strand-crossings.ts";
import type { SvgCurves } from "./svg-curves.ts";

/** So many faults are listed one by one; the rest are counted. */
const MOST_LISTED = 8;

/**
 * The diagram of drawn centrelines, mm, y up, the lower left corner of the box round them at 0, 0.
 * Corners stay pointed. Over and under are not set (all 0): weave it.
 *
 * Faults: `strand-open`, `strand-branch`, `strands-touch`, `strands-overlap`, `crossing-flat`,
 * `crossings-crowd`, at most eight and then `more-places`; `drawing-empty`, `drawing-too-rich`, `strands-unclear`.
 */
export function curvesDiagram({ file, curves }: SvgCurves): Result<KnotDiagram> {
  const strands = drawnStrands(curves);
  if (!strands.ok) return listed(strands.faults, file);
  const crossings = findCrossings(strands.value);
  if (!crossings.ok) return listed(crossings.faults, file);
  const diagram = cutStrands(strands.value, crossings.value);
  // Closed curves of the plane cross an even number of times: anything else was a matter of rounding.
  if (!diagram || !findFaces(diagram).planar) return listed([{ code: "strands-unclear" }], file);
  return done(diagram);
}

function listed<T>(faults: readonly Fault[], file: string): Result<T> {
  const shown = faults.slice(0, MOST_LISTED);
  const count = faults.length - shown.length;
  const rest: readonly Fault[] = count > 0 ? [{ code: "more-places", count }] : [];
  return { ok: false, faults: [...shown, ...rest].map((fault) => ({ ...fault, file })) };
}

/** A passage with the half-edges by which its strand arrives and leaves, numbered as found. */
interface Stop extends Passage {
  readonly found: number;
  readonly arrives: number;
  readonly leaves: number;
}

function cutStrands(
  strands: readonly DrawnStrand[],
  found: readonly DrawnCrossing[],
): KnotDiagram | undefined {
  const stops = stopsAlong(strands, found);
  const numbers = numberAlongStrands(stops, found.length);
  const order = Array.from(found);
  for (const [i, crossing] of found.entries()) order[numbers[i] ?? 0] = crossing;
  const twin = new Int32Array(4 * found.length).fill(-1);
  const curves = new Map<number, ArcChain>();
  for (const { parts, start, end } of runsBetween(strands, stops)) {
    const from = found[start.found]?.at;
    const to = found[end.found]?.at;
    const curve = from && to && curveBetween(parts, start, end, { from, to });
    if (!curve) return undefined;
    const half = halfEdge(numbers[start.found] ?? 0, start.leaves);
    const other = halfEdge(numbers[end.found] ?? 0, end.arrives);
    twin[half] = other;
    twin[other] = half;
    if (curve.vertices.length > 2 || chainStart(curve).bulge !== 0) curves.set(half, curve);
  }
  if (twin.includes(-1)) return undefined;
  return {
    x: Float64Array.from(order, ({ at }) => at.x),
    y: Float64Array.from(order, ({ at }) => at.y),
    twin,
    over: new Uint8Array(found.length),
    curves,
    loops: strands.flatMap((parts, strand) =>
      stops[strand]?.length === 0 ? [mergeStraights(chainOf(parts, true))] : [],
    ),
  };
}

/** The passages of each strand in the order in which it comes by them. */
function stopsAlong(strands: readonly DrawnStrand[], found: readonly DrawnCrossing[]): Stop[][] {
  const stops = strands.map((): Stop[] => []);
  for (const [number, { passages, rays }] of found.entries()) {
    for (const which of [0, 1] as const) {
      const slot = (leaves: boolean) =>
        rays.findIndex((ray) => ray.passage === which && ray.leaves === leaves);
      const stop = { ...passages[which], found: number, arrives: slot(false), leaves: slot(true) };
      stops[stop.strand]?.push(stop);
    }
  }
  for (const list of stops) list.sort((a, b) => a.segment - b.segment || a.share - b.share);
  return stops;
}

/** Each stretch of a strand from one passage to the next. */
function runsBetween(strands: readonly DrawnStrand[], stops: readonly (readonly Stop[])[]) {
  return strands.flatMap((parts, strand) => {
    const list = stops[strand] ?? [];
    return list.map((start, i) => ({ parts, start, end: list[(i + 1) % list.length] ?? start }));
  });
}

/** Crossings are numbered as one comes by them, strand after strand. */
function numberAlongStrands(stops: readonly (readonly Stop[])[], count: number): Int32Array {
  const numbers = new Int32Array(count).fill(-1);
  let next = 0;
  for (const { found } of stops.flat()) if (numbers[found] === -1) numbers[found] = next++;
  return numbers;
}

/** The strand from one passage on to the next, from crossing point to crossing point; undefined where nothing is left. */
function curveBetween(
  parts: DrawnStrand,
  start: Passage,
  end: Passage,
  ends: { readonly from: Point; readonly to: Point },
): ArcChain | undefined {
  const isAhead = end.segment > start.segment || (end.segment === start.segment && end.share > start.share);
  const steps = end.segment - start.segment + (isAhead ? 0 : parts.length);
  const kept: Segment[] = [];
  for (let step = 0; step <= steps; step++) {
    const part = parts[(start.segment + step) % parts.length];
    if (!part) return undefined;
    const t0 = step === 0 ? start.share : 0;
    const t1 = step === steps ? end.share : 1;
    const piece = t0 === 0 && t1 === 1 ? part : segmentPart(part, t0, t1);
    if (distance(piece.from, piece.to) > SLIVER_MM) kept.push(piece);
  }
  const last = kept.length - 1;
  if (last < 0) return undefined;
  const joined = kept.map(({ from, to, bulge }, i) => ({
    from: i === 0 ? ends.from : from,
    to: i === last ? ends.to : to,
    bulge,
  }));
  return mergeStraights(chainOf(joined, false));
}
