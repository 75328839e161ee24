/**
 * The same ribbons by generic means, to compare with (clipper-lib): each centreline widened as a
 * polygon, the widened over-strands at its two ends subtracted. Either the whole over-strands,
 * as a program without a diagram has them, or only the pieces next to each crossing, which is as
 * kind to it as can be: it then borrows our diagram to know its neighbours.
 */
import ClipperLib from "clipper-lib";
import { groupBy } from "../../src/base/group-by.ts";
import { CHORD_ERROR_MM } from "../../src/base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../../src/geometry/arc-chain.ts";
import { arcOf, segmentPoint } from "../../src/geometry/segment.ts";
import type { RibbonPiece, Ribbons } from "../../src/ribbon/ribbon.ts";

const SCALE = 1e4;

/** How many polygons came out. */
export function genericRibbons(ribbons: Ribbons, over: "whole-strands" | "next-pieces"): number {
  const { pieces, widthMm, gapMm } = ribbons;
  const overAt = new Map<number, RibbonPiece>();
  for (const piece of pieces) for (const crossing of piece.over) overAt.set(crossing, piece);
  const strands = over === "whole-strands" ? widenedStrands(ribbons) : new Map<number, ClipperLib.Paths>();
  let count = 0;
  for (const piece of pieces) {
    const body = widened([chorded(piece.centreline)], widthMm / 2, OPEN);
    const above = piece.ends.flatMap((crossing) => overAt.get(crossing) ?? []);
    const cutters =
      over === "whole-strands"
        ? above.flatMap(({ strand }) => strands.get(strand) ?? [])
        : widened(
            above.map(({ centreline }) => chorded(centreline)),
            widthMm / 2 + gapMm,
            OPEN,
          );
    count += difference(body, cutters).length;
  }
  return count;
}

function widenedStrands({ pieces, widthMm, gapMm }: Ribbons): Map<number, ClipperLib.Paths> {
  const widest = new Map<number, ClipperLib.Paths>();
  for (const [strand, own] of groupBy(pieces, (piece) => piece.strand)) {
    const centreline = own.flatMap((piece) => chorded(piece.centreline).slice(0, -1));
    widest.set(strand, widened([centreline], widthMm / 2 + gapMm, ClipperLib.EndType.etClosedLine));
  }
  return widest;
}

const OPEN = ClipperLib.EndType.etOpenButt;

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

function widened(paths: ClipperLib.Paths, by: number, ends: ClipperLib.EndType): ClipperLib.Paths {
  const offset = new ClipperLib.ClipperOffset(20, (CHORD_ERROR_MM * SCALE) / 2.25);
  for (const path of paths) offset.AddPath(path, ClipperLib.JoinType.jtMiter, ends);
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
