/**
 * Chains as vector files hold them: every vertex on the output grid, segments that vanish
 * there left out. Bulges are kept, so an arc keeps its sweep and stays an arc.
 */
import { InternalError } from "../base/internal-error.ts";
import { OUTPUT_GRID_MM } from "../base/tolerance.ts";
import type { ArcChain, Vertex } from "../geometry/arc-chain.ts";
import type { Point } from "../geometry/point.ts";

const STEPS_PER_MM = Math.round(1 / OUTPUT_GRID_MM);

/** Decimals that print a multiple of the output grid in full. */
export const GRID_DECIMALS = Math.round(Math.log10(STEPS_PER_MM));

/** The multiple of the output grid nearest to `mm`. */
function toGrid(mm: number): number {
  return Math.round(mm * STEPS_PER_MM) / STEPS_PER_MM;
}

/**
 * The chain with its vertices on the output grid.
 *
 * @throws InternalError for a number that is not finite, or a chain with fewer than two
 * different vertices: neither is a path that a machine could follow.
 */
export function gridChain({ closed, vertices }: ArcChain): ArcChain {
  const snapped = vertices.map(gridVertex);
  const kept = snapped.filter((vertex, index) => {
    const next = snapped[index + 1] ?? (closed ? snapped[0] : undefined);
    return !next || !samePlace(vertex, next);
  });
  if (kept.length < 2) throw new InternalError("a path without length was handed to a file writer");
  return { closed, vertices: kept };
}

function gridVertex({ x, y, bulge }: Vertex): Vertex {
  if (!Number.isFinite(x) || !Number.isFinite(y) || !Number.isFinite(bulge))
    throw new InternalError(`a path to be written holds the vertex ${x}, ${y} with bulge ${bulge}`);
  return { x: toGrid(x), y: toGrid(y), bulge };
}

/** Exact comparison is right here: both points are grid multiples, made by the same rounding. */
function samePlace(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}
