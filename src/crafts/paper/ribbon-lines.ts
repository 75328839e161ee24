/**
 * The edges of ribbons as lines to cut or draw: each runs through where its strand passes over
 * and ends a little before the edge of a strand that passes over it.
 */
import { groupBy } from "../../base/group-by.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import {
  type ArcChain,
  chainEnd,
  chainLength,
  chainPart,
  chainStart,
  joinChains,
  mergeStraights,
  pointAtLength,
  restartChain,
  reverseChain,
  segmentsOf,
} from "../../geometry/arc-chain.ts";
import { boundsOf } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { cross, distance, dot, type Point, type Vec } from "../../geometry/point.ts";
import { endDirection, startDirection } from "../../geometry/segment.ts";
import type { Laced, LacedBody } from "../../ribbon/laced.ts";

/** Corners come from one place on two curves, each good to a point. */
const SAME_CORNER_MM = 10 * SAME_POINT_MM;

/**
 * The edges of every ribbon, each from where it goes under to where it goes under again; closed
 * for those that never do.
 *
 * @param stopShortMm how far from the over-strand's edge the lines of the under-strand end
 */
export function ribbonLines({ bodies }: Pick<Laced, "bodies">, stopShortMm: number): ArcChain[] {
  return bodies.flatMap((body) => bodyLines(body, stopShortMm));
}

/** A part of an edge between two crossings, or across one; ends are 0 (its start) and 1. */
interface Stretch {
  readonly chain: ArcChain;
  /** What goes on from each end; undefined where it stops. */
  readonly on: [End | undefined, End | undefined];
}

interface End {
  readonly stretch: Stretch;
  readonly end: 0 | 1;
}

function bodyLines({ outline, holes, crossingLines }: LacedBody, stopShortMm: number): ArcChain[] {
  const lines = crossingLines.map(stretchOf);
  const lineEnds = lines.flatMap(endsOf);
  const index = new BoxIndex(lineEnds.map((at) => boundsOf([endPoint(at)])));
  const cornerOf = (point: Point) => index.near(boundsOf([point]), SAME_CORNER_MM)[0];
  const whole: ArcChain[] = [];
  const sides: Stretch[] = [];
  for (const edge of [outline, ...holes]) {
    const parts = cutAtCorners(edge, (point) => cornerOf(point) !== undefined);
    if (parts.length === 0) whole.push(edge);
    sides.push(...parts.map(stretchOf));
  }
  const sideEnds = sides.flatMap(endsOf);
  const trims = new Map<Stretch, [number, number]>();
  for (const [corner, met] of groupBy(sideEnds, (end) => cornerOf(endPoint(end)))) {
    const across = lineEnds[corner ?? -1];
    if (across) joinAtCorner(across, met, { trims, stopShortMm });
  }
  return [...whole, ...chainsOf([...sides, ...lines], trims)];
}

/** The over-strand's edge goes on along its side of the corner; the other side is cut back. */
function joinAtCorner(
  across: End,
  met: readonly End[],
  { trims, stopShortMm }: { readonly trims: Map<Stretch, [number, number]>; readonly stopShortMm: number },
): void {
  const ahead = outward(across);
  const [over, ...under] = met.toSorted((a, b) => dot(outward(a), ahead) - dot(outward(b), ahead));
  if (over) {
    across.stretch.on[across.end] = over;
    over.stretch.on[over.end] = across;
  }
  for (const end of under) {
    const trim = trims.get(end.stretch) ?? [0, 0];
    trim[end.end] = trimTo(end, over ? [across.stretch.chain, over.stretch.chain] : [across.stretch.chain], {
      apartMm: stopShortMm,
      sine: Math.abs(cross(outward(end), ahead)),
    });
    trims.set(end.stretch, trim);
  }
}

/** Tries enough for arcs, of which one step already is nearly right. */
const MOST_STEPS = 12;

/** How much must go at an end so that what is left lies so far from the lines that it ran up to. */
function trimTo(
  { stretch: { chain }, end }: End,
  lines: readonly ArcChain[],
  { apartMm, sine }: { readonly apartMm: number; readonly sine: number },
): number {
  const inward = end === 0 ? chain : reverseChain(chain);
  const segments = lines.flatMap(segmentsOf);
  let trim = apartMm / sine;
  for (let i = 0; apartMm > 0 && i < MOST_STEPS; i++) {
    const tip = pointAtLength(inward, trim);
    const apart = Math.min(...segments.map((segment) => distance(nearestOn(segment, tip), tip)));
    if (Math.abs(apart - apartMm) < SAME_POINT_MM) break;
    trim += (apartMm - apart) / sine;
  }
  return trim;
}

function stretchOf(chain: ArcChain): Stretch {
  return { chain, on: [undefined, undefined] };
}

function endsOf(stretch: Stretch): End[] {
  return [
    { stretch, end: 0 },
    { stretch, end: 1 },
  ];
}

function endPoint({ stretch, end }: End): Point {
  return end === 0 ? chainStart(stretch.chain) : chainEnd(stretch.chain);
}

/** The direction in which a stretch leaves itself at an end. */
function outward({ stretch, end }: End): Vec {
  const segments = segmentsOf(stretch.chain);
  const last = segments.at(-1);
  const first = segments[0];
  if (end === 1) return last ? endDirection(last) : { x: 0, y: 0 };
  const inward = first ? startDirection(first) : { x: 0, y: 0 };
  return { x: -inward.x, y: -inward.y };
}

function cutAtCorners(edge: ArcChain, isCorner: (point: Point) => boolean): ArcChain[] {
  const first = edge.vertices.findIndex(isCorner);
  if (first < 0) return [];
  const { vertices } = restartChain(edge, first);
  const parts: ArcChain[] = [];
  let part = vertices.slice(0, 1);
  for (const vertex of [...vertices.slice(1), ...vertices.slice(0, 1)]) {
    part.push(vertex);
    if (!isCorner(vertex)) continue;
    parts.push({
      closed: false,
      vertices: part.map((at, i) => (i === part.length - 1 ? { ...at, bulge: 0 } : at)),
    });
    part = [vertex];
  }
  return parts;
}

/** Stretches run together wherever one goes on as another, their free ends cut back. */
function chainsOf(
  stretches: readonly Stretch[],
  trims: ReadonlyMap<Stretch, readonly [number, number]>,
): ArcChain[] {
  const used = new Set<Stretch>();
  const chains: ArcChain[] = [];
  const run = (start: End) => {
    const parts: ArcChain[] = [];
    let at: End | undefined = start;
    while (at && !used.has(at.stretch)) {
      const { stretch, end }: End = at;
      used.add(stretch);
      const part = trimmed(stretch.chain, trims.get(stretch));
      if (part) parts.push(end === 0 ? part : reverseChain(part));
      at = stretch.on[end === 0 ? 1 : 0];
    }
    if (parts.length > 0) chains.push(mergeStraights(joinChains(parts, at !== undefined)));
  };
  for (const stretch of stretches) {
    for (const end of [0, 1] as const) {
      if (!used.has(stretch) && stretch.on[end] === undefined) run({ stretch, end });
    }
  }
  for (const stretch of stretches) if (!used.has(stretch)) run({ stretch, end: 0 });
  return chains;
}

function trimmed(chain: ArcChain, trim: readonly [number, number] | undefined): ArcChain | undefined {
  const [before, after] = trim ?? [0, 0];
  if (before === 0 && after === 0) return chain;
  const length = chainLength(chain);
  return length - before - after > SAME_POINT_MM ? chainPart(chain, before, length - after) : undefined;
}
