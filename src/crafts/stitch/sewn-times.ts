/**
 * Stitches read back from thread blocks, and when each rung of each column was sewn, as seen from
 * the holes alone: a rung is sewn by a line of thread from its one end to its other, which may be
 * several stitches.
 */
import { distance, type Point } from "../../geometry/point.ts";
import { ROLES, STITCH, type StitchRole, type ThreadBlock } from "../../output/stitches.ts";
import type { SatinColumn } from "./column.ts";

export interface ReadStitch {
  /** Counted over all blocks, moves without sewing included. */
  readonly sequence: number;
  readonly role: StitchRole;
  readonly from: Point;
  readonly to: Point;
  /** When the cover that was sewn before it began. */
  readonly since: number;
}

/** By column and rung: when it was sewn. */
export type SewnTimes = readonly (readonly (readonly number[])[])[];

export function readStitches(blocks: readonly ThreadBlock[]): ReadStitch[] {
  const stitches: ReadStitch[] = [];
  let sequence = 0;
  for (const block of blocks) {
    let since = sequence;
    let before: StitchRole = "tie";
    let from: Point | undefined;
    for (const [i, x] of block.x.entries()) {
      const to = { x, y: block.y[i] ?? 0 };
      const role = ROLES[block.role[i] ?? 0] ?? "tie";
      const isSewn = block.kind[i] === STITCH;
      if (role === "cover" ? before !== "cover" : role !== "tie" || !isSewn) since = sequence;
      if (from && isSewn) stitches.push({ sequence, role, from, to, since });
      [before, from] = [role, to];
      sequence++;
    }
  }
  return stitches;
}

/** An end of a rung. */
interface Hole {
  readonly column: number;
  readonly rung: number;
  readonly side: "left" | "right";
}

/** When each rung was sewn, and which of the stitches are parts of rungs or of ways from one to the next. */
export function timesSewn(
  stitches: readonly ReadStitch[],
  columns: readonly SatinColumn[],
): { readonly times: SewnTimes; readonly cover: ReadonlySet<ReadStitch> } {
  const times = columns.map(({ rungs }) => rungs.map((): number[] => []));
  const cover = new Set<ReadStitch>();
  const holes = holesByPlace(columns);
  for (const line of linesOf(stitches, holes)) {
    const found = lineBetween(line.from, line.to, columns);
    if (!found) continue;
    for (const stitch of line.stitches) cover.add(stitch);
    const { from, to, isRung } = found;
    const isBean = columns[to.column]?.line === "bean";
    const sequence = line.stitches.at(-1)?.sequence ?? 0;
    const rung = times[to.column]?.[to.rung];
    // There and straight back, where the way to the first rung led through its own other hole.
    const isBack = rung?.at(-1) === (line.stitches[0]?.sequence ?? 0) - 1;
    if ((isRung && !isBack) || isBean) rung?.push(sequence);
    if (isBean) times[from.column]?.[from.rung]?.push(sequence);
  }
  return { times, cover };
}

function holesByPlace(columns: readonly SatinColumn[]): ReadonlyMap<string, readonly Hole[]> {
  const holes = new Map<string, Hole[]>();
  const add = (point: Point, hole: Hole) => {
    const there = holes.get(keyOf(point));
    if (there) there.push(hole);
    else holes.set(keyOf(point), [hole]);
  };
  for (const [column, { rungs }] of columns.entries()) {
    for (const [rung, { left, right }] of rungs.entries()) {
      add(left, { column, rung, side: "left" });
      add(right, { column, rung, side: "right" });
    }
  }
  return holes;
}

/** Stitches go in at the rungs' own points: nothing is computed between. */
function keyOf({ x, y }: Point): string {
  return `${x} ${y}`;
}

interface Line {
  readonly from: readonly Hole[];
  readonly to: readonly Hole[];
  readonly stitches: readonly ReadStitch[];
}

/** Cover stitches, gathered from one end of a rung to the next. */
function* linesOf(
  stitches: readonly ReadStitch[],
  holes: ReadonlyMap<string, readonly Hole[]>,
): Generator<Line> {
  let open: ReadStitch[] = [];
  for (const stitch of stitches) {
    if (stitch.role !== "cover" || open.at(-1)?.sequence !== stitch.sequence - 1) open = [];
    if (stitch.role !== "cover") continue;
    open.push(stitch);
    const to = holes.get(keyOf(stitch.to));
    if (!to) continue;
    yield { from: holes.get(keyOf(open[0]?.from ?? stitch.from)) ?? [], to, stitches: open };
    open = [];
  }
}

/** A hole so near serves for the next rung too, where two begin at the tip of a mitre. */
const ONE_HOLE_MM = 1;

interface FoundLine {
  readonly from: Hole;
  readonly to: Hole;
  readonly isRung: boolean;
}

/**
 * A rung, or the way from one rung to the next on the other side; or a rung that is sewn from its
 * neighbour's hole instead of its own.
 */
function lineBetween(
  starts: readonly Hole[],
  ends: readonly Hole[],
  columns: readonly SatinColumn[],
): FoundLine | undefined {
  for (const from of starts) {
    for (const to of ends) {
      const found = from.column === to.column && asLine(from, to, columns[from.column]);
      if (found) return found;
    }
  }
  return undefined;
}

function asLine(from: Hole, to: Hole, column: SatinColumn | undefined): FoundLine | undefined {
  const rungs = column?.rungs ?? [];
  const apart = Math.abs(from.rung - to.rung);
  if (apart > 1 && apart !== rungs.length - 1) return undefined;
  if (from.side !== to.side) return { from, to, isRung: apart === 0 };
  const own = rungs[to.rung]?.[to.side === "left" ? "right" : "left"];
  const hole = rungs[from.rung]?.[from.side];
  return own && hole && distance(own, hole) < ONE_HOLE_MM ? { from, to, isRung: true } : undefined;
}
