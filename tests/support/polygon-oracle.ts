/**
 * Polygon offsets and booleans by clipper-lib, as an independent check of the exact curves.
 * It counts in whole units, so mm are scaled; its arc tolerance is no bound (the last chord of
 * a corner may stray 2.2 times as far), so it is given less.
 */
import ClipperLib from "clipper-lib";
import type { ArcChain } from "../../src/geometry/arc-chain.ts";
import type { Point } from "../../src/geometry/point.ts";
import { chorded } from "./chorded.ts";

const UNITS_PER_MM = 1e5;
/** Chords stray from their arcs by at most this, mm. */
export const ORACLE_CHORD_MM = 2e-4;
const ARC_TOLERANCE = (ORACLE_CHORD_MM / 2.25) * UNITS_PER_MM;
/** Large enough to keep every point that offsetChain keeps (turns under 160 degrees: 1/cos 80). */
const MITER_LIMIT = 6;

export type Polygons = readonly (readonly Point[])[];

/** Whole units; what the library is given and gives. */
type Paths = ClipperLib.Paths;

function inside(): void {
  // Without this an error calls alert(), which Node lacks.
  Object.assign(ClipperLib, {
    Error: (message: string) => {
      throw new Error(message);
    },
  });
}

function toPaths(polygons: Polygons): Paths {
  inside();
  return polygons.map((polygon) =>
    polygon.map(({ x, y }) => {
      if (!Number.isFinite(x) || !Number.isFinite(y)) throw new Error("a point is not finite");
      return { X: Math.round(x * UNITS_PER_MM), Y: Math.round(y * UNITS_PER_MM) };
    }),
  );
}

function toPolygons(paths: Paths): Polygons {
  return paths.map((path) => path.map(({ X, Y }) => ({ x: X / UNITS_PER_MM, y: Y / UNITS_PER_MM })));
}

export function polygonOf(chain: ArcChain): readonly Point[] {
  return chorded(chain, ORACLE_CHORD_MM);
}

/** Closed polygons grown by `by` mm (shrunk when negative); the first runs counter-clockwise. */
export function grow(polygons: Polygons, by: number, join: "round" | "pointed"): Polygons {
  const offset = new ClipperLib.ClipperOffset(MITER_LIMIT, ARC_TOLERANCE);
  const type = join === "round" ? ClipperLib.JoinType.jtRound : ClipperLib.JoinType.jtMiter;
  offset.AddPaths(toPaths(polygons), type, ClipperLib.EndType.etClosedPolygon);
  const result: Paths = [];
  offset.Execute(result, by * UNITS_PER_MM);
  return toPolygons(result);
}

/** The band `width` mm wide about an open line, cut square at its ends. */
export function band(line: readonly Point[], width: number, join: "round" | "pointed"): Polygons {
  const offset = new ClipperLib.ClipperOffset(MITER_LIMIT, ARC_TOLERANCE);
  const type = join === "round" ? ClipperLib.JoinType.jtRound : ClipperLib.JoinType.jtMiter;
  offset.AddPaths(toPaths([line]), type, ClipperLib.EndType.etOpenButt);
  const result: Paths = [];
  offset.Execute(result, (width / 2) * UNITS_PER_MM);
  return toPolygons(result);
}

function combine(how: ClipperLib.ClipType, a: Polygons, b: Polygons): Polygons {
  // The library calls nothing at all a failure.
  if (a.length + b.length === 0) return [];
  const clipper = new ClipperLib.Clipper();
  if (a.length > 0) clipper.AddPaths(toPaths(a), ClipperLib.PolyType.ptSubject, true);
  if (b.length > 0) clipper.AddPaths(toPaths(b), ClipperLib.PolyType.ptClip, true);
  const result: Paths = [];
  const fill = ClipperLib.PolyFillType.pftNonZero;
  if (!clipper.Execute(how, result, fill, fill)) throw new Error("the polygons could not be combined");
  return toPolygons(result);
}

export function without(a: Polygons, b: Polygons): Polygons {
  return combine(ClipperLib.ClipType.ctDifference, a, b);
}

/** Area of what lies in one of the two but not in both, mm2. */
export function differenceArea(a: Polygons, b: Polygons): number {
  return areaOf(combine(ClipperLib.ClipType.ctXor, a, b));
}

export function areaOf(polygons: Polygons): number {
  let area = 0;
  for (const polygon of polygons) {
    for (const [i, p] of polygon.entries()) {
      const q = polygon[i + 1] ?? polygon[0] ?? p;
      area += (p.x * q.y - p.y * q.x) / 2;
    }
  }
  return area;
}
