/**
 * Satin columns cut into what is sewn in one go. A column alone has no place in an order: in an
 * alternating weave each covers the end of another, all the way round. So its rungs are dealt out
 * to *patches*, the stretches that lie over a crossing strand, and *sections*, what is left
 * between them. A seam between two units of one column does not show: the rungs are the column's,
 * only sewn at another time. What remains to be kept is that both sections that end beneath a
 * patch are sewn before it.
 *
 * Units meet at ports. 0 and 1 are the first and the last rung of a unit; 2 and up are a patch's
 * alone, one for each section that ends beneath it. Two units that meet can be sewn through
 * from one to the other, unseen while neither has its cover.
 */
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { chainLength } from "../../geometry/arc-chain.ts";
import { withBeanRungs } from "./bean-rungs.ts";
import type { SatinColumn } from "./column.ts";
import type { SatinSettings } from "./settings.ts";

export type Port = number;

/** The other unit at a port, and the port there. */
export interface Joint {
  readonly unit: number;
  readonly port: Port;
}

export interface SewUnit {
  /** A ring is a whole closed column that crosses nothing. */
  readonly kind: "section" | "patch" | "ring";
  readonly column: number;
  readonly strand: number;
  /** Its rungs, both in it, by number in the column; past the last rung of a closed one they go on at its first. */
  readonly first: number;
  readonly last: number;
  /** For each port the unit that meets it there; a ring has none. */
  readonly joints: readonly Joint[];
}

export interface SewUnits {
  /** Those given; bean lines with rungs. */
  readonly columns: readonly SatinColumn[];
  readonly list: readonly SewUnit[];
}

/** A patch's own ends come before it, the sections beneath from it on. */
const FIRST_UNDER_PORT = 2;

interface Draft extends Omit<SewUnit, "joints"> {
  readonly joints: Joint[];
}

interface End {
  readonly unit: number;
  readonly port: Port;
  readonly crossing: number;
}

/** All columns as units; every rung is in one of them. */
export function sewUnits(
  given: readonly SatinColumn[],
  settings: Pick<SatinSettings, "runStitchMm" | "leastStitchMm">,
): SewUnits {
  const columns = given.map((column) => withBeanRungs(column, settings));
  const list: Draft[] = [];
  const patchAt = new Map<number, number>();
  const beneath: End[] = [];
  for (const [number, column] of columns.entries()) {
    const from = list.length;
    list.push(...cutColumn(column, number));
    for (const [i, { crossing }] of column.over.entries())
      patchAt.set(crossing, from + (isClosed(column) ? 2 * i : 2 * i + 1));
    for (const [end, crossing] of column.ends.entries())
      beneath.push({ unit: end === 0 ? from : list.length - 1, port: end, crossing });
    joinSeams(list, from, isClosed(column));
  }
  for (const { unit, port, crossing } of beneath) {
    const patch = patchAt.get(crossing) ?? -1;
    const joints = list[patch]?.joints;
    if (!joints) throw new InternalError(`no satin column passes over crossing ${crossing}`);
    // Every patch has its two seams by now.
    setJoint(list, unit, port, { unit: patch, port: joints.length });
    joints.push({ unit, port });
  }
  return { columns, list };
}

function isClosed({ ends }: SatinColumn): boolean {
  return ends.length === 0;
}

/** Section, patch, section … section; a closed column begins with its first patch. */
function cutColumn(column: SatinColumn, number: number): Draft[] {
  const rungs = column.rungs.length;
  const unit = (kind: Draft["kind"], first: number, last: number): Draft => ({
    kind,
    column: number,
    strand: column.strand,
    first,
    last,
    joints: [],
  });
  if (rungs === 0) throw new InternalError("a satin column without rungs");
  if (isClosed(column) && column.over.length === 0) return [unit("ring", 0, rungs - 1)];
  const starts = unitStarts(column);
  return starts.slice(0, -1).map((first, i) => {
    const isPatch = i % 2 === (isClosed(column) ? 0 : 1);
    return unit(isPatch ? "patch" : "section", first, (starts[i + 1] ?? first) - 1);
  });
}

/**
 * The first rung of each unit, and one past the last. A patch reaches from the last rung before its
 * stretch to the first one behind it, for what lies between two rungs is covered when both are
 * sewn. Every unit keeps a rung at least: where strands lie so close that none is left for a
 * section, its neighbour gives one.
 */
function unitStarts(column: SatinColumn): number[] {
  const bounds = column.over.flatMap(({ fromMm, toMm }) => [
    rungsBefore(column, fromMm + SAME_POINT_MM) - 1,
    rungsBefore(column, toMm - SAME_POINT_MM) + 1,
  ]);
  const total = column.rungs.length;
  const starts = isClosed(column) ? [...bounds, (bounds[0] ?? 0) + total] : [0, ...bounds, total];
  if (total < starts.length - 1)
    throw new InternalError(`a satin column of ${total} rungs for ${starts.length - 1} units`);
  for (let i = 1; i < starts.length - 1; i++) starts[i] = Math.max(starts[i] ?? 0, (starts[i - 1] ?? 0) + 1);
  for (let i = starts.length - 2; i > 0; i--) starts[i] = Math.min(starts[i] ?? 0, (starts[i + 1] ?? 0) - 1);
  return starts;
}

/** How many rungs lie before a place along the column; round a closed one they are counted on. */
function rungsBefore(column: SatinColumn, mm: number): number {
  const { rungs } = column;
  const length = isClosed(column) ? chainLength(column.centreline) : Number.POSITIVE_INFINITY;
  const rounds = Math.floor(mm / length);
  const place = isClosed(column) ? mm - rounds * length : mm;
  let low = 0;
  let high = rungs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rungs[middle]?.alongMm ?? Number.POSITIVE_INFINITY) < place) low = middle + 1;
    else high = middle;
  }
  return isClosed(column) ? low + rounds * rungs.length : low;
}

/** Seams between the units of one column; the ends beneath a crossing are joined later. */
function joinSeams(list: readonly Draft[], from: number, closed: boolean): void {
  const count = list.length - from;
  if (count === 1) return;
  for (let i = 0; i < (closed ? count : count - 1); i++) {
    const here = from + i;
    const next = from + ((i + 1) % count);
    setJoint(list, here, 1, { unit: next, port: 0 });
    setJoint(list, next, 0, { unit: here, port: 1 });
  }
}

function setJoint(list: readonly Draft[], unit: number, port: Port, joint: Joint): void {
  const joints = list[unit]?.joints;
  if (joints) joints[port] = joint;
}

/** The unit of that number; asking for one that is not there is a fault of ours. */
export function unitAt(units: SewUnits, number: number): SewUnit {
  const unit = units.list[number];
  if (!unit) throw new InternalError(`no unit ${number} among ${units.list.length}`);
  return unit;
}

/** The sections that end beneath a patch. */
export function sectionsBeneath(unit: SewUnit): readonly Joint[] {
  return unit.kind === "patch" ? unit.joints.slice(FIRST_UNDER_PORT) : [];
}

/** Whether what is met at a section's joint is the patch that lies over that end. */
export function isBeneath(joint: Joint): boolean {
  return joint.port >= FIRST_UNDER_PORT;
}

/** The port at the other end of a unit. */
export function farPort(port: Port): Port {
  return port === 0 ? 1 : 0;
}
