/**
 * The edges of a Voronoi diagram of boundary sites that make a region's medial axis, and which of
 * them are twigs of no use.
 */
import { Delaunay } from "d3-delaunay";
import type { Bounds } from "./bounds.ts";
import type { BoundarySites } from "./medial-sites.ts";

/** What pruning may leave uncovered by the discs: as much as chords may stray from arcs, twice. */
const PRUNED_MM = 2e-3;

/** Voronoi vertices inside the region (one for each Delaunay triangle) and the axis edges between them. */
export class VoronoiGraph {
  readonly triangles: Uint32Array;
  readonly halfEdges: Int32Array;
  readonly centres: Float64Array;
  /** For each half-edge whether the Voronoi edge across it belongs to the axis. */
  readonly kept: Uint8Array;
  /** Of each triangle's three edges, how many are kept. */
  readonly degree: Uint8Array;
  /** The last vertex of parts that were pruned away altogether. */
  readonly lone: number[] = [];
  readonly #boundary: BoundarySites;
  readonly #box: Bounds;

  constructor(boundary: BoundarySites, box: Bounds) {
    this.#boundary = boundary;
    this.#box = box;
    const { triangles, halfedges } = new Delaunay(boundary.coords);
    this.triangles = triangles;
    this.halfEdges = halfedges;
    const count = triangles.length / 3;
    this.centres = new Float64Array(2 * count);
    const inside = new Uint8Array(count);
    for (let t = 0; t < count; t++) inside[t] = this.#placeCentre(t) ? 1 : 0;
    this.kept = new Uint8Array(triangles.length);
    this.degree = new Uint8Array(count);
    for (let e = 0; e < triangles.length; e++) {
      const twin = halfedges[e] ?? -1;
      const t = Math.floor(e / 3);
      if (twin < 0 || inside[t] !== 1 || inside[Math.floor(twin / 3)] !== 1) continue;
      const { p, q } = this.sitesAt(e);
      if (areNeighbours(boundary, p, q)) continue;
      this.kept[e] = 1;
      this.degree[t] = (this.degree[t] ?? 0) + 1;
    }
  }

  /** The two sites that the Voronoi edge across a half-edge is equally far from. */
  sitesAt(e: number): { readonly p: number; readonly q: number } {
    return { p: this.triangles[e] ?? 0, q: this.triangles[e % 3 === 2 ? e - 2 : e + 1] ?? 0 };
  }

  keptEdges(t: number): number[] {
    return [3 * t, 3 * t + 1, 3 * t + 2].filter((e) => this.kept[e] === 1);
  }

  across(e: number): number {
    return Math.floor((this.halfEdges[e] ?? 0) / 3);
  }

  /** The radius of the disc through the triangle's sites. */
  radiusAt(t: number): number {
    const site = this.triangles[3 * t] ?? 0;
    const { coords } = this.#boundary;
    return Math.hypot(
      (coords[2 * site] ?? 0) - (this.centres[2 * t] ?? 0),
      (coords[2 * site + 1] ?? 0) - (this.centres[2 * t + 1] ?? 0),
    );
  }

  /** Takes twigs off from their ends. */
  prune(): void {
    const ends: number[] = [];
    for (const [t, degree] of this.degree.entries()) if (degree === 1) ends.push(t);
    for (let i = 0; i < ends.length; i++) {
      const t = ends[i] ?? 0;
      const e = this.keptEdges(t)[0];
      if (this.degree[t] !== 1 || e === undefined) continue;
      const next = this.across(e);
      if (!this.#isCovered(e, next)) continue;
      this.kept[e] = 0;
      this.kept[this.halfEdges[e] ?? 0] = 0;
      this.degree[t] = 0;
      const left = (this.degree[next] ?? 1) - 1;
      this.degree[next] = left;
      if (left === 1) ends.push(next);
      if (left === 0) this.lone.push(next);
    }
  }

  /** Whether the disc at the vertex `t` covers the boundary between the sites across the edge, and no sharp corner lies there. */
  #isCovered(e: number, t: number): boolean {
    const { p, q } = this.sitesAt(e);
    const { ringOf, firstOf } = this.#boundary;
    const ring = ringOf[p] ?? 0;
    if (ring !== ringOf[q]) return false;
    const first = firstOf[ring] ?? 0;
    const count = (firstOf[ring + 1] ?? 0) - first;
    const [low, high] = p < q ? [p, q] : [q, p];
    const ways = [
      { from: low, steps: high - low },
      { from: high, steps: count - (high - low) },
    ].sort((a, b) => a.steps - b.steps);
    return ways.some(({ from, steps }) => this.#coversStretch(t, { first, count, from, steps }));
  }

  #coversStretch(t: number, { first, count, from, steps }: Stretch): boolean {
    const { coords, sharpBefore } = this.#boundary;
    const begin = from + 1;
    const end = from + steps;
    const past = first + count;
    const sharp = (a: number, b: number) => (sharpBefore[b] ?? 0) - (sharpBefore[a] ?? 0);
    const sharps =
      end <= past ? sharp(begin, end) : sharp(Math.min(begin, past), past) + sharp(first, end - count);
    if (sharps > 0) return false;
    const x = this.centres[2 * t] ?? 0;
    const y = this.centres[2 * t + 1] ?? 0;
    const reach = this.radiusAt(t) + PRUNED_MM;
    const isFar = (site: number) => {
      const at = site >= past ? site - count : site;
      const dx = (coords[2 * at] ?? 0) - x;
      const dy = (coords[2 * at + 1] ?? 0) - y;
      return dx * dx + dy * dy > reach * reach;
    };
    // The middle of a stretch is the likeliest to be far off.
    if (end > begin && isFar(Math.floor((begin + end) / 2))) return false;
    for (let site = begin; site < end; site++) if (isFar(site)) return false;
    return true;
  }

  /** Puts the triangle's circumcentre in its place; whether that is inside the region. */
  #placeCentre(t: number): boolean {
    const { coords } = this.#boundary;
    const [a, b, c] = [
      this.triangles[3 * t] ?? 0,
      this.triangles[3 * t + 1] ?? 0,
      this.triangles[3 * t + 2] ?? 0,
    ];
    const ax = coords[2 * a] ?? 0;
    const ay = coords[2 * a + 1] ?? 0;
    const bx = (coords[2 * b] ?? 0) - ax;
    const by = (coords[2 * b + 1] ?? 0) - ay;
    const cx = (coords[2 * c] ?? 0) - ax;
    const cy = (coords[2 * c + 1] ?? 0) - ay;
    const doubled = 2 * (bx * cy - by * cx);
    const b2 = bx * bx + by * by;
    const c2 = cx * cx + cy * cy;
    const x = ax + (cy * b2 - by * c2) / doubled;
    const y = ay + (bx * c2 - cx * b2) / doubled;
    this.centres[2 * t] = x;
    this.centres[2 * t + 1] = y;
    // Three sites in one line have no circle, or by rounding one whose middle lies anywhere far out.
    const { minX, minY, maxX, maxY } = this.#box;
    if (!(x >= minX && x <= maxX && y >= minY && y <= maxY)) return false;
    return [a, b, c].every((site) => seesInside(this.#boundary, site, x, y));
  }
}

/** A stretch of a ring's sites, counted on past the ring's end where it goes round it. */
interface Stretch {
  readonly first: number;
  readonly count: number;
  readonly from: number;
  readonly steps: number;
}

function areNeighbours({ ringOf, firstOf }: BoundarySites, p: number, q: number): boolean {
  const ring = ringOf[p] ?? 0;
  if (ring !== ringOf[q]) return false;
  const apart = Math.abs(p - q);
  return apart === 1 || apart === (firstOf[ring + 1] ?? 0) - (firstOf[ring] ?? 0) - 1;
}

/** Whether a point that has the site among its nearest lies on the region's side of the boundary there. */
function seesInside(
  { sideOf, atCorner, corners }: BoundarySites,
  site: number,
  x: number,
  y: number,
): boolean {
  const side = sideOf[site] ?? 0;
  const left = (from: number) => {
    const fromX = corners.x[from] ?? 0;
    const fromY = corners.y[from] ?? 0;
    const to = corners.next[from] ?? 0;
    return ((corners.x[to] ?? 0) - fromX) * (y - fromY) - ((corners.y[to] ?? 0) - fromY) * (x - fromX) > 0;
  };
  if (atCorner[site] !== 1) return left(side);
  const before = corners.before[side] ?? 0;
  return corners.turnsLeft[side] === 1 ? left(before) && left(side) : left(before) || left(side);
}
