/**
 * A toolpath followed by brute force: a grid of columns of wood, every motion as close-set discs.
 * Knows nothing of how paths are made.
 */
import type { Region } from "../../../src/geometry/region.ts";
import type { Motion, Place3, ToolRun } from "../../../src/output/toolpath.ts";

export interface PathAudit {
  /** Sideways rapid moves. */
  readonly retracts: number;
  /** The most that a rapid move took off, mm. */
  readonly rapidBite: number;
  /** The most that a move straight down took off, mm. */
  readonly plungeBite: number;
  /** The most that one place of the way took off, mm. */
  readonly bite: number;
  /** Steepest way down among moves that also go sideways and cut, degrees. */
  readonly steepestDeg: number;
  /** Highest column over the places asked for. */
  readonly highest: (places: Region) => number;
  /** Lowest column over the places asked for. */
  readonly lowest: (places: Region) => number;
}

export interface AuditBox {
  readonly width: number;
  readonly height: number;
  readonly cellMm: number;
  /** The grid begins this far left of and below the origin. */
  readonly marginMm?: number;
}

/** Columns this near to the rim are left out: steps of the way and rounding. */
const RIM_MM = 0.03;

export function auditPath(runs: readonly ToolRun[], box: AuditBox): PathAudit {
  const wood = new WoodGrid(box);
  const found = { retracts: 0, rapidBite: 0, plungeBite: 0, bite: 0, steepestDeg: 0 };
  for (const { cutter, start, motions } of runs) {
    const radius = cutter.shape.diameterMm / 2 - RIM_MM;
    let from = start;
    for (const motion of motions) {
      const aside = wayLength(from, motion);
      const bite = wood.cut(from, motion, radius);
      if (motion.kind === "rapid") {
        found.rapidBite = Math.max(found.rapidBite, bite);
        if (aside > 0) found.retracts++;
      } else if (aside === 0) {
        found.plungeBite = Math.max(found.plungeBite, bite);
      } else if (motion.z < from.z && bite > 0) {
        const slopeDeg = (Math.atan2(from.z - motion.z, aside) * 180) / Math.PI;
        found.steepestDeg = Math.max(found.steepestDeg, slopeDeg);
      }
      found.bite = Math.max(found.bite, bite);
      from = motion;
    }
  }
  return {
    ...found,
    highest: (places) => Math.max(...wood.heights(places)),
    lowest: (places) => Math.min(...wood.heights(places)),
  };
}

class WoodGrid {
  readonly #cellMm: number;
  readonly #marginMm: number;
  readonly #columns: number;
  readonly #rows: number;
  readonly #z: Float64Array;

  constructor({ width, height, cellMm, marginMm = 0 }: AuditBox) {
    this.#cellMm = cellMm;
    this.#marginMm = marginMm;
    this.#columns = Math.ceil((width + 2 * marginMm) / cellMm);
    this.#rows = Math.ceil((height + 2 * marginMm) / cellMm);
    this.#z = new Float64Array(this.#columns * this.#rows);
  }

  /** Takes off what a flat disc meets on its way, and answers the most that one place of it took. */
  cut(from: Place3, motion: Motion, radius: number): number {
    // Straight down all that is taken off is taken off at the end.
    const straight = wayLength(from, motion) === 0;
    const places = straight ? [motion] : placesAlong(from, motion, this.#cellMm / 2);
    return places.reduce((bite, place) => Math.max(bite, this.#stamp(place, radius)), 0);
  }

  #stamp({ x, y, z }: Place3, radius: number): number {
    let bite = 0;
    for (let row = this.#first(y - radius, this.#rows); row < this.#rows; row++) {
      const dy = this.#middle(row) - y;
      if (dy > radius) break;
      const half = Math.sqrt(radius * radius - dy * dy);
      for (let column = this.#first(x - half, this.#columns); column < this.#columns; column++) {
        if (this.#middle(column) > x + half) break;
        const i = row * this.#columns + column;
        const height = this.#z[i] ?? 0;
        if (height <= z) continue;
        bite = Math.max(bite, height - z);
        this.#z[i] = z;
      }
    }
    return bite;
  }

  /** The lowest and the highest column of each row's stretches inside the region. */
  heights({ rings }: Region): number[] {
    const found: number[] = [];
    for (let row = 0; row < this.#rows; row++) {
      const edges = crossingsAt(rings, this.#middle(row));
      for (let i = 0; i + 1 < edges.length; i += 2) {
        let least = Number.POSITIVE_INFINITY;
        let most = Number.NEGATIVE_INFINITY;
        for (let column = this.#first(edges[i] ?? 0, this.#columns); column < this.#columns; column++) {
          if (this.#middle(column) > (edges[i + 1] ?? 0)) break;
          const z = this.#z[row * this.#columns + column] ?? 0;
          least = Math.min(least, z);
          most = Math.max(most, z);
        }
        if (most >= least) found.push(least, most);
      }
    }
    return found;
  }

  #middle(index: number): number {
    return (index + 0.5) * this.#cellMm - this.#marginMm;
  }

  /** The first row or column with its middle at a coordinate or beyond. */
  #first(coordinate: number, count: number): number {
    return Math.min(count, Math.max(0, Math.ceil((coordinate + this.#marginMm) / this.#cellMm - 0.5)));
  }
}

/** Where a level line meets the edges, in order. */
function crossingsAt(rings: Region["rings"], y: number): number[] {
  const xs: number[] = [];
  for (const ring of rings) {
    let from = ring.at(-1);
    for (const to of ring) {
      if (from && from.y > y !== to.y > y)
        xs.push(from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x));
      from = to;
    }
  }
  return xs.sort((a, b) => a - b);
}

/** Where a motion goes, its end among it, no further apart than `everyMm`. */
export function placesAlong(from: Place3, motion: Motion, everyMm: number): Place3[] {
  const parts = Math.max(
    1,
    Math.ceil(Math.max(wayLength(from, motion), Math.abs(motion.z - from.z)) / everyMm),
  );
  return Array.from({ length: parts }, (_, i) => placeAt(from, motion, (i + 1) / parts));
}

function placeAt(from: Place3, motion: Motion, t: number): Place3 {
  const z = from.z + (motion.z - from.z) * t;
  if (motion.kind !== "arc")
    return { x: from.x + (motion.x - from.x) * t, y: from.y + (motion.y - from.y) * t, z };
  const begin = Math.atan2(from.y - motion.centreY, from.x - motion.centreX);
  const radius = Math.hypot(from.x - motion.centreX, from.y - motion.centreY);
  const angle = begin + turnOf(from, motion) * t;
  return { x: motion.centreX + radius * Math.cos(angle), y: motion.centreY + radius * Math.sin(angle), z };
}

/** In the plane. */
export function wayLength(from: Place3, motion: Motion): number {
  if (motion.kind !== "arc") return Math.hypot(motion.x - from.x, motion.y - from.y);
  return Math.abs(turnOf(from, motion)) * Math.hypot(from.x - motion.centreX, from.y - motion.centreY);
}

/** Radians, positive counter-clockwise. */
function turnOf(from: Place3, arc: Extract<Motion, { kind: "arc" }>): number {
  const begin = Math.atan2(from.y - arc.centreY, from.x - arc.centreX);
  const end = Math.atan2(arc.y - arc.centreY, arc.x - arc.centreX);
  const turn = end - begin;
  if (arc.clockwise) return turn > 0 ? turn - 2 * Math.PI : turn;
  return turn < 0 ? turn + 2 * Math.PI : turn;
}
