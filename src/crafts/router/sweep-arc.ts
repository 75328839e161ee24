/**
 * Stock under a cutter that moves along an arc about a vertical axis, at the middle of every pixel.
 *
 * Level arcs are exact: a profile rises outward, so the least height over a pixel is the one at its
 * distance from the arc, |rho - r| where the pixel's angle is passed over and the distance to an end
 * elsewhere. Helices of end mills are exact: a disc on the circle covers a pixel while their angles
 * differ by at most delta, cos delta = (rho^2 + r^2 - R^2) / (2 rho r), and the lowest place in that
 * part of the turn counts. Helices of balls and V cutters go along chords within CHORD_MM of the arc.
 *
 * As with lines, what the cutter takes where it starts is left out.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import type { Motion, Place3 } from "../../output/toolpath.ts";
import { stampCutter, sweepLine } from "./sweep-line.ts";
import { type CutterProfile, heightOver, reachAt, setBite, type Workpiece } from "./workpiece.ts";

export type ArcMotion = Extract<Motion, { readonly kind: "arc" }>;

/** How far the chords of a ball's or V cutter's helix may stray from it: what the written arcs may be off by. */
const CHORD_MM = 2e-3;

const FULL_TURN = 2 * Math.PI;

export interface Turn {
  readonly radius: number;
  /** Angle at the start, and how far it goes on from there: positive, in the arc's own direction; up to a full turn. */
  readonly from: number;
  readonly sweep: number;
  /** 1 counter-clockwise, -1 clockwise. */
  readonly sense: 1 | -1;
}

/**
 * The turn of an arc. Rounded centres lie a little nearer to one end: the radius is the mean. An
 * arc that ends where it starts is a full turn, as a machine takes it.
 */
export function turnOf(from: Place3, { x, y, centreX, centreY, clockwise }: ArcMotion): Turn {
  const first = Math.hypot(from.x - centreX, from.y - centreY);
  const last = Math.hypot(x - centreX, y - centreY);
  const start = Math.atan2(from.y - centreY, from.x - centreX);
  const sense = clockwise ? -1 : 1;
  const turned = onward(sense * (Math.atan2(y - centreY, x - centreX) - start));
  return {
    radius: (first + last) / 2,
    from: start,
    sweep: Math.hypot(x - from.x, y - from.y) <= SAME_POINT_MM ? FULL_TURN : turned,
    sense,
  };
}

/** The angle brought to 0 … a full turn. */
function onward(angle: number): number {
  const rest = angle % FULL_TURN;
  return rest < 0 ? rest + FULL_TURN : rest;
}

/** Sweeps along an arc; the cutter must have cut at `from` already. */
export function sweepArc(work: Workpiece, cutter: CutterProfile, from: Place3, arc: ArcMotion): void {
  const lowest = Math.min(from.z, arc.z);
  const reach = reachAt(cutter, lowest);
  if (reach <= 0) return;
  const turn = turnOf(from, arc);
  const { centreX, centreY } = arc;
  const ring: Ring = { work, cutter, x: centreX, y: centreY, turn, reach, lowest, from, to: arc };
  if (Math.abs(arc.z - from.z) <= SAME_POINT_MM) sweepRing(ring, cutLevelSpan);
  else if (cutter.kind === "end-mill") sweepRing(ring, cutHelixSpan);
  else sweepChords(ring);
  stampCutter(work, cutter, arc);
}

interface Ring {
  readonly work: Workpiece;
  readonly cutter: CutterProfile;
  /** The centre. */
  readonly x: number;
  readonly y: number;
  readonly turn: Turn;
  readonly reach: number;
  readonly lowest: number;
  readonly from: Place3;
  readonly to: Place3;
}

/** Columns of one row. */
interface Span {
  readonly row: number;
  readonly first: number;
  readonly last: number;
}

/** All pixels of the ring that the cutter's disc sweeps, in the box of the arc grown by its reach. */
function sweepRing(ring: Ring, cutSpan: (ring: Ring, span: Span) => void): void {
  const { work, x, y, turn, reach } = ring;
  const { columns, rows, stepMm, minX, minY } = work.field;
  const box = turnBox(ring);
  const outer = turn.radius + reach;
  const inner = Math.max(0, turn.radius - reach);
  const firstRow = Math.max(0, Math.floor((box.minY - reach - minY) / stepMm));
  const lastRow = Math.min(rows - 1, Math.floor((box.maxY + reach - minY) / stepMm));
  const column = (at: number) => Math.floor((at - minX) / stepMm);
  for (let row = firstRow; row <= lastRow; row++) {
    const up = minY + (row + 0.5) * stepMm - y;
    const far = outer * outer - up * up;
    if (far < 0) continue;
    const half = Math.sqrt(far);
    const first = Math.max(0, column(Math.max(x - half, box.minX - reach)));
    const last = Math.min(columns - 1, column(Math.min(x + half, box.maxX + reach)));
    const near = inner * inner - up * up;
    if (near <= 0) cutSpan(ring, { row, first, last });
    else {
      const hole = Math.sqrt(near);
      cutSpan(ring, { row, first, last: Math.min(last, column(x - hole)) });
      cutSpan(ring, { row, first: Math.max(first, column(x + hole)), last });
    }
  }
}

/** The box of the axis's way. */
export function turnBox({ turn, x, y, from, to }: Pick<Ring, "turn" | "x" | "y" | "from" | "to">) {
  const { radius, sense, sweep } = turn;
  const passes = (angle: number) => onward(sense * (angle - turn.from)) <= sweep;
  return {
    minX: passes(Math.PI) ? x - radius : Math.min(from.x, to.x),
    maxX: passes(0) ? x + radius : Math.max(from.x, to.x),
    minY: passes(-Math.PI / 2) ? y - radius : Math.min(from.y, to.y),
    maxY: passes(Math.PI / 2) ? y + radius : Math.max(from.y, to.y),
  };
}

function cutLevelSpan({ work, cutter, x, y, turn, lowest }: Ring, { row, first, last }: Span): void {
  const { z, stepMm, minX, minY, columns } = work.field;
  const { radius, from, sense, sweep } = turn;
  const startX = Math.cos(from);
  const startY = Math.sin(from);
  const endX = Math.cos(from + sense * sweep);
  const endY = Math.sin(from + sense * sweep);
  const wide = sweep > Math.PI;
  const up = minY + (row + 0.5) * stepMm - y;
  for (let column = first; column <= last; column++) {
    const pixel = row * columns + column;
    const before = z[pixel] ?? 0;
    if (before <= lowest) continue;
    const right = minX + (column + 0.5) * stepMm - x;
    const afterStart = sense * (startX * up - startY * right) >= 0;
    const beforeEnd = sense * (right * endY - up * endX) >= 0;
    if (wide ? !afterStart && !beforeEnd : !afterStart || !beforeEnd) continue;
    const away = Math.abs(Math.sqrt(right * right + up * up) - radius);
    if (away > cutter.radius) continue;
    const after = lowest + heightOver(cutter, away);
    if (after >= before) continue;
    z[pixel] = after;
    if (before - after > work.bite && away * away <= cutter.touchSquared)
      setBite(work, pixel, before - after);
  }
}

function cutHelixSpan(
  { work, cutter, x, y, turn, lowest, from, to }: Ring,
  { row, first, last }: Span,
): void {
  const { z, stepMm, minX, minY, columns } = work.field;
  const { radius, sweep } = turn;
  // Angles are counted up from the lower end.
  const falls = to.z < from.z;
  const sense = falls ? -turn.sense : turn.sense;
  const lowEnd = falls ? turn.from + turn.sense * sweep : turn.from;
  const climb = Math.abs(to.z - from.z) / sweep;
  const up = minY + (row + 0.5) * stepMm - y;
  for (let column = first; column <= last; column++) {
    const pixel = row * columns + column;
    const before = z[pixel] ?? 0;
    if (before <= lowest) continue;
    const right = minX + (column + 0.5) * stepMm - x;
    const rho = Math.sqrt(right * right + up * up);
    const away = Math.abs(rho - radius);
    if (away > cutter.radius) continue;
    const angle = firstCovered(cutter.radius, {
      rho,
      radius,
      angle: sense * (Math.atan2(up, right) - lowEnd),
    });
    if (angle > sweep) continue;
    const after = lowest + climb * angle;
    if (after >= before) continue;
    z[pixel] = after;
    if (before - after > work.bite && away * away <= cutter.touchSquared)
      setBite(work, pixel, before - after);
  }
}

/**
 * How far on the circle about the centre, from where angles count, a disc first covers a point that
 * it covers at all. A point behind the beginning, which the disc covers there too, is cut by the
 * disc at that end.
 */
function firstCovered(
  discRadius: number,
  { rho, radius, angle }: { readonly rho: number; readonly radius: number; readonly angle: number },
): number {
  if (rho + radius <= discRadius) return 0;
  const cosine = (rho * rho + radius * radius - discRadius * discRadius) / (2 * rho * radius);
  return Math.max(0, onward(angle) - Math.acos(Math.min(1, cosine)));
}

function sweepChords({ work, cutter, x, y, turn, from, to }: Ring): void {
  const { radius, sweep, sense } = turn;
  const widest = 2 * Math.acos(Math.max(0, 1 - CHORD_MM / radius));
  const parts = Math.max(1, Math.ceil(sweep / widest));
  let at = from;
  for (let part = 1; part <= parts; part++) {
    const angle = turn.from + (sense * sweep * part) / parts;
    const next =
      part === parts
        ? to
        : {
            x: x + radius * Math.cos(angle),
            y: y + radius * Math.sin(angle),
            z: from.z + ((to.z - from.z) * part) / parts,
          };
    sweepLine(work, cutter, at, next);
    at = next;
  }
}
