/**
 * A stock cut by brute force: every motion taken in small steps, at each the cutter's own height
 * over every pixel that it covers. Slow, and knows nothing of how paths or the simulation are made.
 */
import type { Point } from "../../../src/geometry/point.ts";
import type { Region } from "../../../src/geometry/region.ts";
import {
  type CutterShape,
  cutterHeight,
  type Motion,
  type Place3,
  type ToolRun,
} from "../../../src/output/toolpath.ts";

export interface Block {
  readonly columns: number;
  readonly rows: number;
  readonly stepMm: number;
  readonly minX: number;
  readonly minY: number;
  readonly z: Float64Array;
}

/** The surface over a box after all runs; places are `everyMm` apart at the most. */
export function carveBlock(
  runs: readonly ToolRun[],
  box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number },
  { stepMm, everyMm }: { readonly stepMm: number; readonly everyMm: number },
): Block {
  const columns = Math.round((box.maxX - box.minX) / stepMm);
  const rows = Math.round((box.maxY - box.minY) / stepMm);
  const block = {
    columns,
    rows,
    stepMm,
    minX: box.minX,
    minY: box.minY,
    z: new Float64Array(columns * rows),
  };
  for (const { cutter, start, motions } of runs) {
    let at: Place3 = start;
    for (const motion of motions) {
      for (const place of placesAlong(at, motion, everyMm)) stamp(block, cutter.shape, place);
      at = motion;
    }
  }
  return block;
}

function placesAlong(from: Place3, motion: Motion, everyMm: number): Place3[] {
  if (from.z >= 0 && motion.z >= 0) return [];
  if (motion.kind !== "arc") {
    const length = Math.hypot(motion.x - from.x, motion.y - from.y, motion.z - from.z);
    const count = Math.max(1, Math.ceil(length / everyMm));
    return shares(count).map((t) => mix(from, motion, t));
  }
  const { centreX, centreY, clockwise } = motion;
  const radius = Math.hypot(from.x - centreX, from.y - centreY);
  const first = Math.atan2(from.y - centreY, from.x - centreX);
  const last = Math.atan2(motion.y - centreY, motion.x - centreX);
  const turn = 2 * Math.PI;
  const sweep = clockwise ? -((first - last + turn) % turn) : (last - first + turn) % turn;
  const count = Math.max(1, Math.ceil((Math.abs(sweep) * radius) / everyMm));
  return shares(count).map((t) => ({
    x: centreX + radius * Math.cos(first + sweep * t),
    y: centreY + radius * Math.sin(first + sweep * t),
    z: from.z + (motion.z - from.z) * t,
  }));
}

function shares(count: number): number[] {
  return Array.from({ length: count + 1 }, (_, i) => i / count);
}

function mix(a: Place3, b: Place3, t: number): Place3 {
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t, z: a.z + (b.z - a.z) * t };
}

function stamp({ columns, rows, stepMm, minX, minY, z }: Block, shape: CutterShape, at: Place3): void {
  if (at.z >= 0) return;
  const radius = reach(shape, -at.z);
  const first = Math.max(0, Math.ceil((at.y - radius - minY) / stepMm - 0.5));
  const last = Math.min(rows - 1, Math.floor((at.y + radius - minY) / stepMm - 0.5));
  const left = Math.max(0, Math.ceil((at.x - radius - minX) / stepMm - 0.5));
  const right = Math.min(columns - 1, Math.floor((at.x + radius - minX) / stepMm - 0.5));
  for (let row = first; row <= last; row++) {
    const dy = minY + (row + 0.5) * stepMm - at.y;
    for (let column = left; column <= right; column++) {
      const dx = minX + (column + 0.5) * stepMm - at.x;
      const height = at.z + cutterHeight(shape, Math.sqrt(dx * dx + dy * dy));
      const i = row * columns + column;
      if (height < (z[i] ?? 0)) z[i] = height;
    }
  }
}

/** How far from its axis the cutter is below the upper face. */
function reach(shape: CutterShape, depth: number): number {
  const radius = shape.diameterMm / 2;
  if (shape.kind !== "v") return radius;
  return Math.min(radius, shape.tipMm / 2 + depth * Math.tan((shape.angleDeg * Math.PI) / 360));
}

/** Calls `visit` with every pixel's middle and height. */
export function eachPixel(block: Block, visit: (at: Point, z: number) => void): void {
  for (let i = 0; i < block.z.length; i++) {
    const x = block.minX + ((i % block.columns) + 0.5) * block.stepMm;
    const y = block.minY + (Math.floor(i / block.columns) + 0.5) * block.stepMm;
    visit({ x, y }, block.z[i] ?? 0);
  }
}

/** Distance to all edges of the region, one after another. */
export function edgeDistance({ rings }: Region, { x, y }: Point): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    let a = ring.at(-1);
    for (const b of ring) {
      if (a) {
        const dx = b.x - a.x;
        const dy = b.y - a.y;
        const squared = dx * dx + dy * dy;
        const along = squared === 0 ? 0 : ((x - a.x) * dx + (y - a.y) * dy) / squared;
        const t = Math.min(1, Math.max(0, along));
        const offX = x - a.x - dx * t;
        const offY = y - a.y - dy * t;
        least = Math.min(least, offX * offX + offY * offY);
      }
      a = b;
    }
  }
  return Math.sqrt(least);
}
