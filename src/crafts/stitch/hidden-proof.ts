/**
 * Proof that nothing shows but cover, from the stitches alone: whatever planned them is not
 * asked. Lines of thread from end to end of a rung tell when each rung of each column was sewn.
 * All other stitches must lie within the quadrangles between neighbouring rungs that are sewn
 * later; and so must the ends of columns.
 */
import { OUTPUT_GRID_MM } from "../../base/tolerance.ts";
import { boundsOf } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { squaredToLine } from "../../geometry/meet.ts";
import { along, between, distance, leftOf, minus, type Point, turned, unit } from "../../geometry/point.ts";
import { sideOf } from "../../geometry/side.ts";
import type { StitchRole, ThreadBlock } from "../../output/stitches.ts";
import type { Rung, SatinColumn } from "./column.ts";
import { readStitches, type SewnTimes, timesSewn } from "./sewn-times.ts";

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
  const { times, cover } = timesSewn(stitches, columns);
  const cloth = new Cloth(columns, times);
  const shown: ShownStitch[] = [];
  let hidden = 0;
  for (const stitch of stitches) {
    if (cover.has(stitch)) continue;
    const { from, to, sequence, since, role } = stitch;
    // The knots at a thread's end have no cover to come: they lie within the cover just sewn.
    const at = cloth.bareAt(from, to, role === "tie" ? since : sequence);
    if (at) shown.push({ sequence, role, at });
    else hidden++;
  }
  return { shown, hidden, notOnce: cloth.notOnce(), bareEnds: cloth.bareEnds() };
}

interface Quad {
  readonly corners: readonly Point[];
  /** When the first of its rungs was sewn. */
  readonly sewn: number;
}

/** What was sewn when, and where. */
class Cloth {
  readonly #columns: readonly SatinColumn[];
  readonly #times: SewnTimes;
  readonly #quads: readonly Quad[];
  readonly #index: BoxIndex;

  constructor(columns: readonly SatinColumn[], times: SewnTimes) {
    this.#columns = columns;
    this.#times = times;
    this.#quads = columns.flatMap((column, number) => quadsOf(column, times[number] ?? []));
    this.#index = new BoxIndex(this.#quads.map(({ corners }) => boundsOf(corners)));
  }

  /** A place on the line that nothing sewn at `time` or later lies over. */
  bareAt(from: Point, to: Point, time: number): Point | undefined {
    const near = this.#index
      .near(boundsOf([from, to]), OUTPUT_GRID_MM)
      .flatMap((number) => this.#quads[number] ?? [])
      .filter(({ sewn }) => sewn >= time);
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
        // Later than itself: its own column may pass over it too.
        const at = this.bareAt(rung.left, rung.right, sewn + 1);
        return at ? [{ column, end, at }] : [];
      }),
    );
  }
}

/** Between two rungs that reach the inner edge of a bend so many may be shortened; the edge is covered there too. */
const MOST_SHORTENED = 8;

function quadsOf(
  { rungs: holes, ends, line, widthMm }: SatinColumn,
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
      quads.push({ corners: [rung.left, rung.right, other.right, other.left], sewn });
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
