/**
 * The grain of a board as lines that run through it from left to right: year rings cut along the
 * trunk, close together where the tree grew slowly, wandering a little together. By formula, the
 * same for the same board; cut to the pieces that show them.
 */
import { type ArcChain, chainBounds, polyline, segmentsOf } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsGap, boundsOf } from "../../geometry/bounds.ts";
import { insideChain } from "../../geometry/inside.ts";
import { meet } from "../../geometry/meet.ts";
import { between, type Point } from "../../geometry/point.ts";
import { type Segment, segmentBounds } from "../../geometry/segment.ts";
import { scatter } from "../../output/wood-look.ts";
import type { RibbonPiece } from "../../ribbon/ribbon.ts";

export interface GrainLines {
  readonly chains: readonly ArcChain[];
  readonly widthMm: number;
  readonly opacity: number;
  readonly tone: "late" | "early";
}

interface Board {
  /** Of the ribbons: the grain is as fine as suits them. */
  readonly widthMm: number;
  /** Boards of different numbers have different grain. */
  readonly board: number;
}

/** Between grain lines, of the ribbon's width. */
const SPACING = 0.085;
/** A year has so many lines, growing darker towards its end. */
const YEAR = 6;
const LINES = [
  { width: 0.05, opacity: 0.3, tone: "early" },
  { width: 0.022, opacity: 0.22, tone: "late" },
  { width: 0.026, opacity: 0.36, tone: "late" },
  { width: 0.036, opacity: 0.52, tone: "late" },
  { width: 0.056, opacity: 0.6, tone: "late" },
] as const;

/** The grain that pieces of one board show, lines of one look together. */
export function grainLines(pieces: readonly RibbonPiece[], board: Board): GrainLines[] {
  const chains: ArcChain[][] = LINES.map(() => []);
  for (const piece of pieces) {
    const shape = cutterOf(piece);
    for (const [line, at] of linesThrough(chainBounds(piece.outline), board))
      chains[lookOf(line, board)]?.push(...shape(at));
  }
  return LINES.map(({ width, opacity, tone }, look) => ({
    chains: chains[look] ?? [],
    widthMm: width * board.widthMm,
    opacity,
    tone,
  })).filter((lines) => lines.chains.length > 0);
}

/** Pale when a year begins, then mostly faint, late wood at its end: stronger in some years than in others. */
function lookOf(line: number, { board }: Board): number {
  const year = Math.floor(line / YEAR);
  const season = line - year * YEAR;
  if (season === YEAR - 1) return scatter(year, 3 + board) < 0.55 ? 4 : 3;
  if (season === YEAR - 2) return scatter(year, 5 + board) < 0.6 ? 3 : 2;
  if (season < 2) return 0;
  return scatter(line, 7 + board) < 0.3 ? 2 : 1;
}

/** Every grain line that may run through a box, by its number, as points a little past both its sides. */
function* linesThrough(
  { minX, maxX, minY, maxY }: Bounds,
  board: Board,
): Iterable<readonly [number, Point[]]> {
  const w = board.widthMm;
  const spacing = SPACING * w;
  const first = Math.floor((minY - WANDER * w) / spacing);
  const last = Math.ceil((maxY + WANDER * w) / spacing);
  // A fixed lattice of places along the board, so that all pieces see the same line.
  const [from, to] = [Math.floor(minX / w) - 1, Math.ceil(maxX / w) + 1];
  for (let line = first; line <= last; line++) {
    const points: Point[] = [];
    for (let i = from; i <= to; i++) points.push({ x: i * w, y: heightOf(line, i, board) });
    yield [line, points];
  }
}

/** The furthest that a line strays from its own height, in ribbon widths. */
const WANDER = 1.4;

/** y of a grain line `i` ribbon widths along the board. */
function heightOf(line: number, i: number, { widthMm, board }: Board): number {
  const phase = 2.1 * board;
  const uneven = 0.7 * (scatter(line, 11 + board) - 0.5) * SPACING;
  const slow = 0.9 * Math.sin(i / 11.3 + phase) + 0.25 * Math.sin(i / 4.7 + line / 23 + phase);
  const near = 0.012 * Math.sin(i / 1.9 + line * 0.9);
  return widthMm * (line * SPACING + uneven + slow + near);
}

/** Cuts lines to a piece. */
function cutterOf({ outline, holes }: RibbonPiece): (line: readonly Point[]) => ArcChain[] {
  const edges = [outline, ...holes].flatMap(segmentsOf);
  const boxes = edges.map(segmentBounds);
  const holds = (point: Point) =>
    insideChain(outline, point) && !holes.some((hole) => insideChain(hole, point));
  return (line) => {
    const runs: Point[][] = [];
    let open = false;
    for (const [from, to] of partsOf(line, edges, boxes)) {
      const holdsPart = holds(between(from, to, 0.5));
      if (holdsPart && open) runs.at(-1)?.push(to);
      else if (holdsPart) runs.push([from, to]);
      open = holdsPart;
    }
    return runs.map((run) => polyline(run, false));
  };
}

/** The line in straight parts, cut wherever it meets an edge. */
function* partsOf(
  line: readonly Point[],
  edges: readonly Segment[],
  boxes: readonly Bounds[],
): Iterable<readonly [Point, Point]> {
  for (const [i, to] of line.slice(1).entries()) {
    const from = line[i] ?? to;
    const shares = [0, ...cutsOf({ from, to, bulge: 0 }, edges, boxes), 1];
    for (const [k, end] of shares.slice(1).entries()) {
      const start = shares[k] ?? 0;
      if (end > start) yield [between(from, to, start), between(from, to, end)];
    }
  }
}

function cutsOf(line: Segment, edges: readonly Segment[], boxes: readonly Bounds[]): number[] {
  const box = boundsOf([line.from, line.to]);
  const cuts: number[] = [];
  for (const [i, edge] of edges.entries()) {
    const edgeBox = boxes[i];
    if (!edgeBox || boundsGap(box, edgeBox) > 0) continue;
    const found = meet(line, edge);
    if (found.kind !== "none") cuts.push(...found.at.map(({ onA }) => onA));
  }
  return cuts.sort((a, b) => a - b);
}
