/**
 * Roughing of a relief with one cutter, level by level from the top: at each level the areas where
 * its tip may come that low and something is left to cut. In each area the cutter ramps down along
 * the area's edges, goes round them, and clears the rest in rows whose ends lie in that groove, so
 * that it never enters solid material straight down. Areas too small to ramp in are left to the
 * next cutter.
 */
import type { Point } from "../../geometry/point.ts";
import { distance } from "../../geometry/point.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { MotionMaker } from "./motion-maker.ts";
import { scallopHeight } from "./rates.ts";
import { highestWithin, lowestWithin } from "./relief-discs.ts";
import { type MaskArea, maskAreas, type PixelRun } from "./relief-mask.ts";
import { afterCutting, cutAway, type ReliefStock, roughingTips, touchTips } from "./relief-stock.ts";
import type { LoadedCutter, ReliefSettings } from "./settings.ts";

export interface Roughing {
  readonly maker: MotionMaker;
  readonly cutter: LoadedCutter;
  readonly settings: ReliefSettings;
  /** Most that it goes deeper from level to level, mm. */
  readonly levelMm: number;
  /** Where cutters before left no more than this to take off, it is left to finishing: mm. */
  readonly deepMm: number;
  /** A cutter after the first roughs only when it takes more than this share of what the relief takes in all. */
  readonly worthShare: number;
}

/** Strips narrower than twice this are left to finishing: mm. */
const NARROW_MM = 0.5;

/** Edges of areas lose corners within this share of a pixel; see PATH_STRAY of relief-stock.ts. */
const EDGE_STRAY = 0.25;

/** Rows of an end mill lie its own stepover apart, those of a ball this share of its diameter: clearing, common practice (CHECKS 5). */
const BALL_ROWS = 0.4;

/** Links between rows are at most this many rows wide; further away the cutter is lifted. */
const MOST_LINK_ROWS = 3;

/** Where this cutter's tip should come, or nothing where it would not pay; the first cutter always pays. */
function planRoughing(
  stock: ReliefStock,
  { cutter, settings, deepMm, worthShare }: Omit<Roughing, "maker">,
): { readonly tips: HeightField; readonly touch: HeightField; readonly wanted: Uint8Array } | undefined {
  const tips = roughingTips(stock, cutter, settings);
  const touch = touchTips(stock, cutter);
  if (stock.standing.z.every((z) => z === 0))
    return { tips, touch, wanted: new Uint8Array(tips.z.length).fill(1) };
  const after = afterCutting(stock, tips, cutter);
  const gain = after.z.map((z, i) => ((stock.standing.z[i] ?? 0) - z > deepMm ? 1 : 0));
  // Thin strips along walls go: shrunk, then grown again as far as the cutter reaches.
  const thick = lowestWithin({ ...after, z: gain }, NARROW_MM);
  let volume = 0;
  let whole = 0;
  for (const [i, z] of after.z.entries()) {
    if ((thick.z[i] ?? 0) > 0) volume += (stock.standing.z[i] ?? 0) - z;
    whole -= stock.surface.z[i] ?? 0;
  }
  if (volume <= worthShare * whole) return undefined;
  const near = highestWithin(thick, NARROW_MM + cutter.shape.diameterMm / 2);
  return { tips, touch, wanted: Uint8Array.from(near.z) };
}

/** Adds the motions of one cutter and takes what they cut from the stock; whether there were any. */
export function rough(stock: ReliefStock, roughing: Roughing): boolean {
  const { cutter, levelMm, maker } = roughing;
  const plan = planRoughing(stock, roughing);
  if (!plan) return false;
  const { tips, touch, wanted } = plan;
  const bottom = tips.z.reduce((least, z, i) => (wanted[i] ? Math.min(least, z) : least), 0);
  const levels = Math.ceil(-bottom / levelMm - 1e-6);
  const done: HeightField = { ...tips, z: new Float32Array(tips.z.length) };
  const mask = new Uint8Array(tips.z.length);
  const ridge =
    cutter.shape.kind === "ball"
      ? scallopHeight(cutter.shape.diameterMm / 2, rowsApart(cutter, tips) * tips.stepMm)
      : 0;
  const before = maker.motions.length;
  for (let level = 1; level <= levels; level++) {
    const z = (bottom * level) / levels;
    for (let i = 0; i < mask.length; i++)
      mask[i] =
        wanted[i] && (tips.z[i] ?? 0) <= z + LEVEL_SLACK_MM && (touch.z[i] ?? 0) > z + LEVEL_SLACK_MM ? 1 : 0;
    for (const area of nearestFirst(maskAreas(mask, tips, EDGE_STRAY * tips.stepMm), maker)) {
      if (!clearArea(area, { ...roughing, z, touch, mask, grid: tips })) continue;
      for (const { row, from, to } of area.runs) {
        const start = row * tips.columns;
        touch.z.fill(z, start + from, start + to + 1);
        done.z.fill(Math.min(0, z + ridge), start + from, start + to + 1);
      }
    }
  }
  cutAway(stock, done, cutter);
  return maker.motions.length > before;
}

/** Levels are held in single precision. */
const LEVEL_SLACK_MM = 1e-5;

/** Each area next that begins nearest to where the last one began. */
function nearestFirst(areas: readonly MaskArea[], { at }: MotionMaker): MaskArea[] {
  const left = [...areas];
  const order: MaskArea[] = [];
  let from: Point = { x: at.x, y: at.y };
  while (left.length > 0) {
    let nearest = 0;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, { outer }] of left.entries()) {
      const apart = outer[0] ? distance(outer[0], from) : 0;
      if (apart >= least) continue;
      least = apart;
      nearest = i;
    }
    const [next] = left.splice(nearest, 1);
    if (!next) break;
    order.push(next);
    from = next.outer[0] ?? from;
  }
  return order;
}

interface AreaWork extends Roughing {
  readonly z: number;
  readonly touch: HeightField;
  readonly mask: Uint8Array;
  readonly grid: HeightField;
}

function clearArea(area: MaskArea, work: AreaWork): boolean {
  const { cutter, settings } = work;
  // Round a smaller loop it would bore rather than ramp.
  if (!settings.plungeAllowed && ringLength(area.outer) < cutter.shape.diameterMm) return false;
  for (const ring of [area.outer, ...area.holes]) followRing(ring, work);
  clearRows(area, work);
  return true;
}

/** Down along the ring from what stands there, then once round at the level. */
function followRing(ring: readonly Point[], work: AreaWork): void {
  const { maker, cutter, settings, z } = work;
  const way = settings.climb ? ring : ring.toReversed();
  const first = nearestCorner(way, maker.at);
  const corners = [...way.slice(first), ...way.slice(0, first)];
  const [start] = corners;
  if (!start) return;
  const top = Math.max(z, highestAlong(work.touch, corners));
  maker.rapidOver(start.x, start.y, Math.min(top + settings.approachMm, settings.approachMm));
  const ramping = !settings.plungeAllowed;
  maker.lineTo(start.x, start.y, ramping ? top : z, cutter.plungeMmPerMin);
  const fall = Math.tan((settings.rampDeg * Math.PI) / 180);
  let at = start;
  const goTo = (to: Point) => {
    const falling = maker.at.z - z;
    const length = distance(at, to);
    const run = falling / fall;
    // Where the ramp ends within this side, it ends there.
    if (falling > 0 && run < length) {
      const t = run / length;
      maker.lineTo(at.x + (to.x - at.x) * t, at.y + (to.y - at.y) * t, z, cutter.plungeMmPerMin);
      maker.lineTo(to.x, to.y, z, cutter.feedMmPerMin);
    } else {
      maker.lineTo(
        to.x,
        to.y,
        maker.at.z - Math.min(falling, length * fall),
        falling > 0 ? cutter.plungeMmPerMin : cutter.feedMmPerMin,
      );
    }
    at = to;
  };
  const round = [...corners.slice(1), start];
  while (maker.at.z > z) for (const corner of round) goTo(corner);
  for (const corner of round) goTo(corner);
}

function rowsApart({ shape, stepOverMm }: LoadedCutter, { stepMm }: HeightField): number {
  const wanted = shape.kind === "ball" ? BALL_ROWS * shape.diameterMm : stepOverMm;
  return Math.max(1, Math.floor(wanted / stepMm + 1e-6));
}

interface Row {
  readonly run: PixelRun;
  readonly left: Point;
  readonly right: Point;
}

function clearRows(area: MaskArea, work: AreaWork): void {
  const { maker, cutter, settings, grid, z } = work;
  const apart = rowsApart(cutter, grid);
  const flat = cutter.shape.kind === "end-mill";
  // A row this short lies within the groove round the area; a ball's groove is narrower further up.
  const short = flat ? cutter.shape.diameterMm - apart * grid.stepMm : apart * grid.stepMm;
  const left: Row[] = area.runs
    .filter(({ row, from, to }) => row % apart === 0 && (to - from) * grid.stepMm > short)
    .map((run) => ({ run, left: middleOf(grid, run.from, run.row), right: middleOf(grid, run.to, run.row) }));
  let last: Row | undefined;
  while (left.length > 0) {
    const next = nextRow(left, last, work, apart);
    const [row] = left.splice(next.index, 1);
    if (!row) break;
    const [from, to] = next.fromLeft ? [row.left, row.right] : [row.right, row.left];
    if (next.linked) maker.lineTo(from.x, from.y, z, cutter.feedMmPerMin);
    else {
      // The groove leaves slivers at its rim: rapid only down to what stood before this level.
      const top = heightNear(work.touch, from);
      maker.rapidOver(from.x, from.y, Math.min(settings.approachMm, top + settings.approachMm));
      maker.lineTo(from.x, from.y, z, cutter.plungeMmPerMin);
    }
    maker.lineTo(to.x, to.y, z, cutter.feedMmPerMin);
    last = row;
  }
}

/** The neighbour of the last row that the cutter can go over to without leaving the area; else whichever begins nearest. */
function nextRow(
  left: readonly Row[],
  last: Row | undefined,
  { maker, mask, grid }: AreaWork,
  apart: number,
): { readonly index: number; readonly fromLeft: boolean; readonly linked: boolean } {
  const { at } = maker;
  let best = { index: 0, fromLeft: true, linked: false };
  let least = Number.POSITIVE_INFINITY;
  for (const [index, row] of left.entries()) {
    for (const fromLeft of [true, false]) {
      const to = fromLeft ? row.left : row.right;
      const length = Math.hypot(to.x - at.x, to.y - at.y);
      if (length >= least && best.linked) continue;
      const near = last !== undefined && length <= MOST_LINK_ROWS * apart * grid.stepMm;
      const linked = near && staysInside(mask, grid, at, to);
      if (linked === best.linked ? length >= least : best.linked) continue;
      least = length;
      best = { index, fromLeft, linked };
    }
  }
  return best;
}

/** Whether the straight way keeps to the area, looked at twice in each pixel. */
function staysInside(mask: Uint8Array, grid: HeightField, from: Point, to: Point): boolean {
  const steps = Math.ceil((2 * Math.hypot(to.x - from.x, to.y - from.y)) / grid.stepMm);
  for (let i = 0; i <= steps; i++) {
    const t = steps === 0 ? 0 : i / steps;
    const at = pixelAt(grid, { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t });
    if (mask[at] === 0) return false;
  }
  return true;
}

/** The highest of the pixels along a ring. */
function highestAlong(field: HeightField, ring: readonly Point[]): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (const [i, from] of ring.entries()) {
    const to = ring[(i + 1) % ring.length] ?? from;
    const steps = Math.ceil(distance(from, to) / field.stepMm);
    for (let j = 0; j < steps; j++) {
      const t = j / steps;
      const place = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
      highest = Math.max(highest, heightNear(field, place));
    }
  }
  return highest;
}

function heightNear(field: HeightField, { x, y }: Point): number {
  const half = field.stepMm / 2;
  let highest = Number.NEGATIVE_INFINITY;
  for (const dx of [-half, half])
    for (const dy of [-half, half])
      highest = Math.max(highest, field.z[pixelAt(field, { x: x + dx, y: y + dy })] ?? highest);
  return highest;
}

function pixelAt({ minX, minY, stepMm, columns, rows }: HeightField, { x, y }: Point): number {
  const column = Math.min(columns - 1, Math.max(0, Math.floor((x - minX) / stepMm)));
  const row = Math.min(rows - 1, Math.max(0, Math.floor((y - minY) / stepMm)));
  return row * columns + column;
}

function middleOf({ minX, minY, stepMm }: HeightField, column: number, row: number): Point {
  return { x: minX + (column + 0.5) * stepMm, y: minY + (row + 0.5) * stepMm };
}

function nearestCorner(ring: readonly Point[], to: Point): number {
  let nearest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const [i, { x, y }] of ring.entries()) {
    const apart = (x - to.x) ** 2 + (y - to.y) ** 2;
    if (apart >= least) continue;
    least = apart;
    nearest = i;
  }
  return nearest;
}

function ringLength(ring: readonly Point[]): number {
  return ring.reduce((sum, point, i) => sum + distance(point, ring[(i + 1) % ring.length] ?? point), 0);
}
