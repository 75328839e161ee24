/**
 * Evenweave cloth: stitches go from hole to hole of a square grid, counted from the middle of the
 * piece. Straight lines stay straight: one that runs along the threads, or diagonally, does so from
 * hole to hole, and every other one keeps to the holes nearest to it.
 */
import { type ArcChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { minus, type Point } from "../../geometry/point.ts";
import { type Segment, segmentLength, segmentPoint } from "../../geometry/segment.ts";

const MM_PER_INCH = 25.4;

export interface ClothGrid {
  readonly holeMm: number;
  /** A hole. */
  readonly middle: Point;
}

/** The holes of a cloth of so many an inch, or undefined where there is none to keep to. */
export function clothGrid(holesPerInch: number, middle: Point): ClothGrid | undefined {
  return holesPerInch > 0 ? { holeMm: MM_PER_INCH / holesPerInch, middle } : undefined;
}

interface Hole {
  readonly column: number;
  readonly row: number;
}

/**
 * The holes along a line, for stitches of `stitchMm` or so: that long, and at most a hole's width and
 * height more. Both ends of an open line are among them; a closed one does not repeat its first. No
 * two neighbours are the same hole; what would lie in a single hole is no line.
 */
export function holesAlong(chain: ArcChain, stitchMm: number, { holeMm, middle }: ClothGrid): Point[] {
  const nearest = ({ x, y }: Point): Hole => ({
    column: Math.round((x - middle.x) / holeMm),
    row: Math.round((y - middle.y) / holeMm),
  });
  const segments = segmentsOf(chain);
  const start = segments[0] && nearest(segments[0].from);
  if (!start) return [];
  const holes: Hole[] = [start];
  for (const [i, segment] of segments.entries()) {
    const isLast = chain.closed && i === segments.length - 1;
    for (const part of bendParts(segment, stitchMm)) {
      const from = holes.at(-1) ?? start;
      const wanted = isLast && part.to === segment.to ? start : nearest(part.to);
      const to = part.bulge === 0 && wanted !== start ? keptStraight(from, wanted, part) : wanted;
      holes.push(...stitchesTo(from, to, stitchMm / holeMm));
    }
  }
  if (chain.closed && holes.length > 1) holes.pop();
  if (holes.length < 2) return [];
  return holes.map(({ column, row }) => ({ x: middle.x + column * holeMm, y: middle.y + row * holeMm }));
}

/** A straight segment as it is, a bend as so many chords as it has stitches. */
function bendParts(segment: Segment, stitchMm: number): Segment[] {
  if (segment.bulge === 0) return [segment];
  const count = Math.max(1, Math.ceil(segmentLength(segment) / stitchMm));
  return Array.from({ length: count }, (_, i) => ({
    from: segmentPoint(segment, i / count),
    to: i === count - 1 ? segment.to : segmentPoint(segment, (i + 1) / count),
    bulge: 1,
  }));
}

/** Lines that stray less than this from the threads' direction, or from their diagonal, are meant to run along it: 3 degrees. */
const MEANT_RAD = Math.PI / 60;

/** The far hole of a straight line, moved so that a line along the threads or diagonal to them stays one. */
function keptStraight(from: Hole, wanted: Hole, { from: start, to: end }: Segment): Hole {
  const way = minus(end, start);
  const turn = Math.atan2(way.y, way.x);
  const eighths = Math.round(turn / (Math.PI / 4));
  if (Math.abs(turn - (eighths * Math.PI) / 4) > MEANT_RAD) return wanted;
  const across = Math.sign(Math.round(Math.cos((eighths * Math.PI) / 4) * Math.SQRT2));
  const up = Math.sign(Math.round(Math.sin((eighths * Math.PI) / 4) * Math.SQRT2));
  const columns = (wanted.column - from.column) * across;
  const rows = (wanted.row - from.row) * up;
  const steps = Math.max(0, Math.round((columns + rows) / (Math.abs(across) + Math.abs(up))));
  return { column: from.column + steps * across, row: from.row + steps * up };
}

/** The holes that a stretch is divided at, its end the last; none where it has no length. */
function stitchesTo(from: Hole, to: Hole, stitchHoles: number): Hole[] {
  const columns = to.column - from.column;
  const rows = to.row - from.row;
  const most = Math.max(Math.abs(columns), Math.abs(rows));
  const count = Math.min(most, Math.ceil(Math.hypot(columns, rows) / stitchHoles));
  return Array.from({ length: count }, (_, i) => ({
    column: from.column + wholeSteps((columns * (i + 1)) / count),
    row: from.row + wholeSteps((rows * (i + 1)) / count),
  }));
}

/** Halves are rounded away from 0, so that diagonals of both leans stay straight. */
function wholeSteps(value: number): number {
  return Math.sign(value) * Math.round(Math.abs(value));
}
