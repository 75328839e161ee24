/**
 * Proof that nothing shows but cover, from the stitches alone: whatever planned them is not
 * asked. Lines of thread from end to end of a rung tell when each rung of each column was sewn.
 * All other stitches must lie within the quadrangles between neighbouring rungs that are sewn
 * later; and the ends of columns within such quadrangles of the columns that pass over them.
 */
import { OUTPUT_GRID_MM } from "../../base/tolerance.ts";
import { boundsOf } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { squaredToLine } from "../../geometry/meet.ts";
import { along, between, distance, leftOf, minus, type Point, turned, unit } from "../../geometry/point.ts";
import { sideOf } from "../../geometry/side.ts";
import { ROLES, STITCH, type StitchRole, type ThreadBlock } from "../../output/stitches.ts";
import type { Rung, SatinColumn } from "./column.ts";

export interface HiddenProof {
  /** Stitches that no later cover hides, all of it or in part, and a place where they show. */
  readonly shown: readonly ShownStitch[];
  /** Rungs, as column and number, that were sewn never or more than once. */
  readonly notOnce: readonly { readonly column: number; readonly rung: number; readonly times: number }[];
  /** Ends of columns, 0 or 1, that no later cover hides. */
  readonly bareEnds: readonly { readonly column: number; readonly end: number; readonly at: Point }[];
  /** How many stitches lie hidden. */
  readonly hidden: number;
}

export interface ShownStitch {
  /** Counted over all blocks. */
  readonly sequence: number;
  readonly role: StitchRole;
  readonly at: Point;
}

/** Stitches and ends are looked at in places at most so far apart. */
const LOOK_MM = 0.1;

export function provedHidden(blocks: readonly ThreadBlock[], columns: readonly SatinColumn[]): HiddenProof {
  const stitches = readStitches(blocks);
  const cloth = new Cloth(columns, timesSewn(stitches, columns));
  const shown: ShownStitch[] = [];
  let hidden = 0;
  for (const stitch of stitches.filter(({ isCover }) => !isCover)) {
    const { from, to, sequence, since, role } = stitch;
    // The knots at a thread's end have no cover to come: they lie within the cover just sewn.
    const at = cloth.bareAt(from, to, role === "tie" ? since : sequence);
    if (at) shown.push({ sequence, role, at });
    else hidden++;
  }
  return { shown, hidden, notOnce: cloth.notOnce(), bareEnds: cloth.bareEnds() };
}

interface ReadStitch {
  readonly sequence: number;
  readonly role: StitchRole;
  readonly from: Point;
  readonly to: Point;
  /** When the run of cover stitches before it began. */
  readonly since: number;
  /** Part of a line from rung end to rung end. */
  isCover: boolean;
}

function readStitches(blocks: readonly ThreadBlock[]): ReadStitch[] {
  const stitches: ReadStitch[] = [];
  let sequence = 0;
  for (const { x, y, kind, role } of blocks) {
    let since = sequence;
    let before: StitchRole | undefined;
    for (let i = 0; i < x.length; i++, sequence++) {
      const now = ROLES[role[i] ?? 0] ?? "tie";
      if (now === "cover" ? before !== "cover" : now !== "tie" || kind[i] !== STITCH) since = sequence;
      before = now;
      if (i === 0 || kind[i] !== STITCH) continue;
      stitches.push({
        sequence,
        role: now,
        since,
        from: { x: x[i - 1] ?? 0, y: y[i - 1] ?? 0 },
        to: { x: x[i] ?? 0, y: y[i] ?? 0 },
        isCover: false,
      });
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

/** By column and rung: when it was sewn from end to end. Marks the stitches that did it, and those between rungs. */
function timesSewn(stitches: readonly ReadStitch[], columns: readonly SatinColumn[]): number[][][] {
  const times = columns.map(({ rungs }) => rungs.map((): number[] => []));
  const holes = new Map<string, Hole[]>();
  for (const [column, { rungs }] of columns.entries()) {
    for (const [rung, ends] of rungs.entries()) {
      for (const side of ["left", "right"] as const) {
        const key = keyOf(ends[side]);
        holes.set(key, [...(holes.get(key) ?? []), { column, rung, side }]);
      }
    }
  }
  let begun = -1;
  let start: readonly Hole[] = [];
  for (const [i, stitch] of stitches.entries()) {
    const before = stitches[i - 1];
    if (stitch.role !== "cover" || before?.sequence !== stitch.sequence - 1) start = [];
    if (stitch.role !== "cover") continue;
    if (start.length === 0) [start, begun] = [holes.get(keyOf(stitch.from)) ?? [], i];
    const end = holes.get(keyOf(stitch.to));
    if (!end) continue;
    const line = lineBetween(start, end, columns);
    if (line) {
      for (let k = begun; k <= i; k++) {
        const part = stitches[k];
        if (part) part.isCover = true;
      }
      const sewn = times[line.to.column];
      const isBean = columns[line.to.column]?.line === "bean";
      if (line.isRung || isBean) sewn?.[line.to.rung]?.push(stitch.sequence);
      if (isBean) sewn?.[line.from.rung]?.push(stitch.sequence);
    }
    [start, begun] = [end, i + 1];
  }
  return times;
}

function keyOf({ x, y }: Point): string {
  return `${x} ${y}`;
}

/** A hole so near serves for the next rung too, where two begin at the tip of a mitre. */
const ONE_HOLE_MM = 1;

/**
 * A rung, or the way from one rung to the next on the other side; or a rung that is sewn from its
 * neighbour's hole instead of its own.
 */
function lineBetween(
  starts: readonly Hole[],
  ends: readonly Hole[],
  columns: readonly SatinColumn[],
): { readonly from: Hole; readonly to: Hole; readonly isRung: boolean } | undefined {
  for (const from of starts) {
    for (const to of ends) {
      if (from.column !== to.column) continue;
      const rungs = columns[from.column]?.rungs ?? [];
      const apart = Math.abs(from.rung - to.rung);
      if (apart > 1 && apart !== rungs.length - 1) continue;
      if (from.side !== to.side) return { from, to, isRung: apart === 0 };
      const own = rungs[to.rung]?.[to.side === "left" ? "right" : "left"];
      const hole = rungs[from.rung]?.[from.side];
      if (own && hole && distance(own, hole) < ONE_HOLE_MM) return { from, to, isRung: true };
    }
  }
  return undefined;
}

interface Quad {
  readonly corners: readonly Point[];
  /** When the first of its rungs was sewn. */
  readonly sewn: number;
  readonly column: number;
}

/** What was sewn when, and where. */
class Cloth {
  readonly #columns: readonly SatinColumn[];
  readonly #times: readonly (readonly (readonly number[])[])[];
  readonly #quads: readonly Quad[];
  readonly #index: BoxIndex;

  constructor(columns: readonly SatinColumn[], times: readonly (readonly (readonly number[])[])[]) {
    this.#columns = columns;
    this.#times = times;
    this.#quads = columns.flatMap((column, number) => quadsOf(column, number, times[number] ?? []));
    this.#index = new BoxIndex(this.#quads.map(({ corners }) => boundsOf(corners)));
  }

  /** A place on the line that nothing sewn after `time` lies over. */
  bareAt(from: Point, to: Point, time: number, exceptColumn = -1): Point | undefined {
    const near = this.#index
      .near(boundsOf([from, to]), OUTPUT_GRID_MM)
      .flatMap((number) => this.#quads[number] ?? [])
      .filter(({ sewn, column }) => sewn >= time && column !== exceptColumn);
    const steps = Math.max(1, Math.ceil(distance(from, to) / LOOK_MM));
    for (let i = 0; i <= steps; i++) {
      const point = between(from, to, i / steps);
      if (!near.some((quad) => isWithin(quad, point))) return point;
    }
    return undefined;
  }

  notOnce(): HiddenProof["notOnce"] {
    return this.#times.flatMap((rungs, column) =>
      rungs.flatMap(({ length: times }, rung) => {
        const isRight = this.#columns[column]?.line === "bean" ? times > 0 : times === 1;
        return isRight ? [] : [{ column, rung, times }];
      }),
    );
  }

  bareEnds(): HiddenProof["bareEnds"] {
    return this.#columns.flatMap(({ ends, rungs }, column) =>
      ends.flatMap((_, end) => {
        const number = end === 0 ? 0 : rungs.length - 1;
        const rung = rungs[number];
        const sewn = this.#times[column]?.[number]?.[0];
        if (!rung || sewn === undefined) return [];
        const at = this.bareAt(rung.left, rung.right, sewn, column);
        return at ? [{ column, end, at }] : [];
      }),
    );
  }
}

/** Between two rungs that reach the inner edge of a bend so many may be shortened; the edge is covered there too. */
const MOST_SHORTENED = 3;

function quadsOf(
  { rungs: holes, ends, line, widthMm }: SatinColumn,
  column: number,
  times: readonly (readonly number[])[],
): Quad[] {
  const quads: Quad[] = [];
  const rungs = line === "bean" ? widened(holes, widthMm) : holes;
  const at = (i: number) => (ends.length === 0 ? i % rungs.length : i);
  for (const [i, rung] of rungs.entries()) {
    let sewn = times[i]?.[0] ?? -1;
    for (let next = i + 1; next <= i + MOST_SHORTENED + 1; next++) {
      const other = rungs[at(next)];
      if (!other || at(next) === i) break;
      sewn = Math.min(sewn, times[at(next)]?.[0] ?? -1);
      quads.push({ corners: [rung.left, rung.right, other.right, other.left], sewn, column });
    }
  }
  return quads;
}

/** A bean line hides what lies within the width that its column was meant to have. */
function widened(rungs: readonly Rung[], widthMm: number): Rung[] {
  return rungs.map(({ left: hole, alongMm }, i) => {
    const other = rungs.find(({ left }, k) => Math.abs(k - i) <= 2 && distance(left, hole) > OUTPUT_GRID_MM);
    const ahead = other ? unit(minus(other.left, hole)) : { x: 1, y: 0 };
    const aside = leftOf(other && other.alongMm < alongMm ? turned(ahead, Math.PI) : ahead);
    return { left: along(hole, aside, widthMm / 2), right: along(hole, aside, -widthMm / 2), alongMm };
  });
}

/** Inside, or on the edge as nearly as a machine file can tell. */
function isWithin({ corners }: Quad, point: Point): boolean {
  let inside = false;
  for (const [i, from] of corners.entries()) {
    const to = corners[(i + 1) % corners.length] ?? from;
    if (squaredToLine(point, from, to) <= OUTPUT_GRID_MM ** 2) return true;
    if (from.y > point.y === to.y > point.y) continue;
    const side = sideOf(from, to, point);
    if (to.y > from.y ? side > 0 : side < 0) inside = !inside;
  }
  return inside;
}
