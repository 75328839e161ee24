/**
 * Plane regions bounded by polygons, for what really is a boolean: ground between ribbons, the
 * part that a cutter reaches. The one place that knows clipper-lib, which counts in whole units
 * (coordinates are rounded to 1e-4 mm), reports some errors by alert() and overruns its arc
 * tolerance up to 2.2 times; all three are met here.
 *
 * Arcs become inscribed chords on the way in. The error is an argument, in mm.
 */
import ClipperLib from "clipper-lib";
import { InternalError } from "../base/internal-error.ts";
import { type ArcChain, signedArea } from "./arc-chain.ts";
import { type Bounds, boundsOf, mergeBounds } from "./bounds.ts";
import { chordPoints } from "./chords.ts";
import type { Point } from "./point.ts";

/** A closed polygon; the last point is joined to the first. */
export type Ring = readonly Point[];

/** Outer rings run counter-clockwise, holes clockwise; no ring crosses another. */
export interface Region {
  readonly rings: readonly Ring[];
}

export const EMPTY_REGION: Region = { rings: [] };

/** Above 47 million units (4.7 m) the library goes over to long numbers; finer units keep more needless points. */
const UNITS_PER_MM = 1e4;
/** The library's round corners stray up to 2.2 times as far as it is told. */
const ARC_OVERRUN = 2.25;
/** Rings smaller than this (mm2) are rounding noise. */
const NOISE_MM2 = 1e-6;

Object.assign(ClipperLib, {
  Error: (message: string) => {
    throw new InternalError(`polygon boolean: ${message}`);
  },
});

/** All points inside an odd or positive number of the chains, by their winding: outlines counter-clockwise, holes clockwise. */
export function regionOf(chains: Iterable<ArcChain>, chordErrorMm: number): Region {
  const rings: Point[][] = [];
  for (const chain of chains) if (chain.closed) rings.push(chordPoints(chain, chordErrorMm));
  return combine(ClipperLib.ClipType.ctUnion, { rings }, EMPTY_REGION);
}

/** The region enclosed by a closed chain, whichever way it runs. */
export function insideOf(chain: ArcChain, chordErrorMm: number): Region {
  const points = chordPoints(chain, chordErrorMm);
  return { rings: [signedArea(chain) < 0 ? points.reverse() : points] };
}

export function unite(a: Region, b: Region): Region {
  return combine(ClipperLib.ClipType.ctUnion, a, b);
}

export function subtract(a: Region, b: Region): Region {
  return combine(ClipperLib.ClipType.ctDifference, a, b);
}

export function intersect(a: Region, b: Region): Region {
  return combine(ClipperLib.ClipType.ctIntersection, a, b);
}

/**
 * All points within `byMm` of the region; for a negative number those that far inside it. New
 * corners are round, their chords within `arcErrorMm`. Opening and closing are two of these.
 */
export function grow(region: Region, byMm: number, arcErrorMm: number): Region {
  if (region.rings.length === 0 || byMm === 0) return region;
  const offset = new ClipperLib.ClipperOffset(2, (arcErrorMm / ARC_OVERRUN) * UNITS_PER_MM);
  offset.AddPaths(toPaths(region.rings), ClipperLib.JoinType.jtRound, ClipperLib.EndType.etClosedPolygon);
  const grown: ClipperLib.Paths = [];
  offset.Execute(grown, byMm * UNITS_PER_MM);
  return fromPaths(grown);
}

/** What a disc of this radius covers while it stays inside the region. */
export function opening(region: Region, radiusMm: number, arcErrorMm: number): Region {
  return grow(grow(region, -radiusMm, arcErrorMm), radiusMm, arcErrorMm);
}

/** What a disc of this radius covers on its way along open lines; its round ends are chords within `arcErrorMm`. */
export function discAlong(
  lines: readonly (readonly Point[])[],
  radiusMm: number,
  arcErrorMm: number,
): Region {
  if (lines.length === 0) return EMPTY_REGION;
  const offset = new ClipperLib.ClipperOffset(2, (arcErrorMm / ARC_OVERRUN) * UNITS_PER_MM);
  offset.AddPaths(toPaths(lines), ClipperLib.JoinType.jtRound, ClipperLib.EndType.etOpenRound);
  const covered: ClipperLib.Paths = [];
  offset.Execute(covered, radiusMm * UNITS_PER_MM);
  return fromPaths(covered);
}

/** The connected parts, each its outer ring first, then its holes. */
export function partsOf(region: Region): Region[] {
  if (region.rings.length === 0) return [];
  const clipper = new ClipperLib.Clipper();
  clipper.AddPaths(toPaths(region.rings), ClipperLib.PolyType.ptSubject, true);
  const tree = new ClipperLib.PolyTree();
  run(clipper, ClipperLib.ClipType.ctUnion, tree);
  const parts: Region[] = [];
  const visit = (outer: ClipperLib.PolyNode) => {
    const holes = outer.Childs();
    parts.push(fromPaths([outer.Contour(), ...holes.map((hole) => hole.Contour())]));
    for (const hole of holes) for (const island of hole.Childs()) visit(island);
  };
  for (const outer of tree.Childs()) visit(outer);
  return parts.filter(({ rings }) => rings.length > 0);
}

/** Signed area of a ring, mm2: positive when it runs counter-clockwise. */
export function ringArea(ring: Ring): number {
  let twice = 0;
  let before = ring.at(-1);
  for (const point of ring) {
    if (before) twice += before.x * point.y - point.x * before.y;
    before = point;
  }
  return twice / 2;
}

export function regionArea({ rings }: Region): number {
  return rings.reduce((sum, ring) => sum + ringArea(ring), 0);
}

export function regionBounds({ rings }: Region): Bounds {
  return mergeBounds(rings.map((ring) => boundsOf(ring)));
}

/** Whether a point lies inside (by the crossings of a ray; for a point on an edge either answer). */
export function regionHolds({ rings }: Region, { x, y }: Point): boolean {
  let inside = false;
  for (const ring of rings) {
    let before = ring.at(-1);
    for (const point of ring) {
      if (before && before.y > y !== point.y > y) {
        const t = (y - before.y) / (point.y - before.y);
        if (before.x + t * (point.x - before.x) > x) inside = !inside;
      }
      before = point;
    }
  }
  return inside;
}

function combine(how: ClipperLib.ClipType, a: Region, b: Region): Region {
  // The library calls nothing at all a failure.
  if (a.rings.length + b.rings.length === 0) return EMPTY_REGION;
  const clipper = new ClipperLib.Clipper();
  clipper.AddPaths(toPaths(a.rings), ClipperLib.PolyType.ptSubject, true);
  clipper.AddPaths(toPaths(b.rings), ClipperLib.PolyType.ptClip, true);
  const result: ClipperLib.Paths = [];
  run(clipper, how, result);
  return fromPaths(result);
}

function run(
  clipper: ClipperLib.Clipper,
  how: ClipperLib.ClipType,
  into: ClipperLib.Paths | ClipperLib.PolyTree,
): void {
  const fill = ClipperLib.PolyFillType.pftNonZero;
  const done =
    into instanceof ClipperLib.PolyTree
      ? clipper.Execute(how, into, fill, fill)
      : clipper.Execute(how, into, fill, fill);
  if (!done) throw new InternalError("the polygons could not be combined");
}

function toPaths(rings: readonly Ring[]): ClipperLib.Paths {
  return rings.map((ring) =>
    ring.map(({ x, y }) => {
      if (!Number.isFinite(x) || !Number.isFinite(y)) throw new InternalError("a point is not finite");
      return { X: Math.round(x * UNITS_PER_MM), Y: Math.round(y * UNITS_PER_MM) };
    }),
  );
}

function fromPaths(paths: ClipperLib.Paths): Region {
  return {
    rings: paths
      .map((path) => path.map(({ X, Y }) => ({ x: X / UNITS_PER_MM, y: Y / UNITS_PER_MM })))
      .filter((ring) => Math.abs(ringArea(ring)) > NOISE_MM2),
  };
}
