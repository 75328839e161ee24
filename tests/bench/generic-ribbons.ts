/**
 * The same ribbons by generic means, to compare with: each centreline widened as a polygon, and
 * the widened over-strands at its two ends subtracted (clipper-lib). Local to each piece, so
 * that the comparison is kind to it.
 */
import ClipperLib from "clipper-lib";
import { CHORD_ERROR_MM } from "../../src/base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../../src/geometry/arc-chain.ts";
import { arcOf, segmentPoint } from "../../src/geometry/segment.ts";
import type { Ribbons } from "../../src/ribbon/ribbon.ts";

const SCALE = 1e4;

/** How many polygons came out. */
export function genericRibbons({ pieces, widthMm, gapMm }: Ribbons): number {
  const overAt = new Map<number, number>();
  for (const [i, piece] of pieces.entries()) for (const crossing of piece.over) overAt.set(crossing, i);
  let count = 0;
  for (const piece of pieces) {
    const body = widened([chorded(piece.centreline)], widthMm / 2);
    const cutters = piece.ends.flatMap((crossing) => {
      const over = pieces[overAt.get(crossing) ?? -1];
      return over ? [chorded(over.centreline)] : [];
    });
    count += difference(body, widened(cutters, widthMm / 2 + gapMm)).length;
  }
  return count;
}

function chorded(chain: ArcChain): ClipperLib.Path {
  const path: ClipperLib.Path = [];
  const push = ({ x, y }: { x: number; y: number }) =>
    path.push({ X: Math.round(x * SCALE), Y: Math.round(y * SCALE) });
  for (const segment of segmentsOf(chain)) {
    push(segment.from);
    if (segment.bulge === 0) continue;
    const { radius, sweep } = arcOf(segment);
    const steps = Math.ceil(Math.abs(sweep) / (2 * Math.acos(1 - CHORD_ERROR_MM / radius)));
    for (let step = 1; step < steps; step++) push(segmentPoint(segment, step / steps));
  }
  const last = segmentsOf(chain).at(-1);
  if (last) push(last.to);
  return path;
}

function widened(paths: ClipperLib.Paths, by: number): ClipperLib.Paths {
  const offset = new ClipperLib.ClipperOffset(20, (CHORD_ERROR_MM * SCALE) / 2.25);
  for (const path of paths) offset.AddPath(path, ClipperLib.JoinType.jtMiter, ClipperLib.EndType.etOpenButt);
  const solution: ClipperLib.Paths = [];
  offset.Execute(solution, by * SCALE);
  return solution;
}

function difference(subject: ClipperLib.Paths, clip: ClipperLib.Paths): ClipperLib.Paths {
  const clipper = new ClipperLib.Clipper();
  clipper.AddPaths(subject, ClipperLib.PolyType.ptSubject, true);
  clipper.AddPaths(clip, ClipperLib.PolyType.ptClip, true);
  const solution: ClipperLib.Paths = [];
  const nonZero = ClipperLib.PolyFillType.pftNonZero;
  clipper.Execute(ClipperLib.ClipType.ctDifference, solution, nonZero, nonZero);
  return solution;
}
