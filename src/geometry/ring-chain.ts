/** Polygons whose corners lie on lines and arcs -> the arc chains that they came from. */
import { type ArcChain, polyline } from "./arc-chain.ts";
import type { Ring } from "./region.ts";

/**
 * A chain of lines and arcs that passes within `toleranceMm` of the ring, and the ring of it.
 */
export function ringChain(ring: Ring, _toleranceMm: number): ArcChain {
  return polyline(ring, true);
}
