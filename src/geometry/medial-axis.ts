/**
 * The medial axis of a region: the middles of all discs that fit inside and touch its boundary in
 * two places or more, with their radii (Blum, "A Transformation for Extracting New Descriptors of
 * Shape", 1967). The discs together cover the region.
 *
 * Found from the Voronoi diagram of points along the boundary (medial-sites.ts): of its edges
 * those inside the region between points that are no neighbours (Brandt & Algazi, "Continuous
 * skeleton computation by Voronoi diagram", CVGIP: Image Understanding 55, 1992). Twigs that lead
 * to no sharp corner are taken off from their ends while the disc at their foot leaves no more
 * than PRUNED_MM of the boundary uncovered. Every point is then moved to where it is equally far
 * from the region's sides (medial-refine.ts).
 *
 * With sites s apart the boundary between two of them comes nearer to a disc of radius r than
 * they do by at most s^2 / (8 r): by so much a radius may be too large, and only where a third
 * side comes as near as the two that it was measured to.
 */
import { Delaunay } from "d3-delaunay";
import { InternalError } from "../base/internal-error.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import type { Bounds } from "./bounds.ts";
import { type AxisPoint, refineAxisPoint } from "./medial-refine.ts";
import { type BoundarySites, boundarySites } from "./medial-sites.ts";
import { type Region, regionBounds } from "./region.ts";

/** Branches run from node to node. A closed branch without any junction begins and ends at one node of its own. */
export interface MedialAxis {
  readonly nodes: readonly AxisPoint[];
  readonly branches: readonly AxisBranch[];
}

export interface AxisBranch {
  readonly from: number;
  readonly to: number;
  /** The nodes' own places first and last. */
  readonly points: readonly AxisPoint[];
}

/** What pruning may leave uncovered by the discs: as much as chords may stray from arcs, twice. */
const PRUNED_MM = 2e-3;
/** Junctions nearer to each other than this are one, where more than three branches meet. */
const ONE_JUNCTION_MM = 1e-3;

/**
 * The axis of all parts of the region. A part that is a disc has a node and no branch. Radii are
 * right to within `spacingMm`^2 / (8 radius) where the radius is over half the spacing; parts of
 * the region narrower than the spacing may be missed but for their sharp corners.
 */
export function medialAxis(region: Region, spacingMm: number): MedialAxis {
  const boundary = boundarySites(region, spacingMm);
  if (boundary.ringOf.length < 3) return { nodes: [], branches: [] };
  const graph = new VoronoiGraph(boundary, regionBounds(region));
  graph.prune();
  return new AxisMaker(boundary, graph, spacingMm).make();
}

/** Voronoi vertices inside the region (one for each Delaunay triangle) and the axis edges between them. */
class VoronoiGraph {
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

/** From the pruned graph to nodes and branches of refined points. */
class AxisMaker {
  readonly #boundary: BoundarySites;
  readonly #graph: VoronoiGraph;
  readonly #reachMm: number;
  readonly #nodes: AxisPoint[] = [];
  readonly #branches: AxisBranch[] = [];
  /** The node that a vertex belongs to. */
  readonly #nodeOf = new Map<number, number>();
  readonly #walked: Uint8Array;

  constructor(boundary: BoundarySites, graph: VoronoiGraph, spacingMm: number) {
    this.#boundary = boundary;
    this.#graph = graph;
    this.#reachMm = spacingMm;
    this.#walked = new Uint8Array(graph.triangles.length);
  }

  make(): MedialAxis {
    const { degree, lone } = this.#graph;
    for (const t of lone) this.#nodes.push(this.#point(t));
    for (const [t, count] of degree.entries()) if (count === 3) this.#addJunction(t);
    for (const [t, count] of degree.entries()) if (count === 1) this.#addEnd(t);
    for (const t of [...this.#nodeOf.keys()]) this.#walkFrom(t);
    // What was not walked yet are rings without a junction.
    for (const [t, count] of degree.entries()) {
      if (count !== 2 || this.#graph.keptEdges(t).every((e) => this.#walked[e] === 1)) continue;
      this.#nodeOf.set(t, this.#addNode(this.#point(t)));
      this.#walkFrom(t);
    }
    return { nodes: this.#nodes, branches: this.#branches };
  }

  #addNode(point: AxisPoint): number {
    return this.#nodes.push(point) - 1;
  }

  /** All junctions that hang together by next to no length become one node. */
  #addJunction(t: number): void {
    if (this.#nodeOf.has(t)) return;
    const node = this.#addNode(this.#point(t));
    this.#nodeOf.set(t, node);
    const open = [t];
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      for (const e of this.#graph.keptEdges(at)) {
        const next = this.#graph.across(e);
        if (this.#graph.degree[next] !== 3 || this.#apart(at, next) > ONE_JUNCTION_MM) continue;
        this.#walked[e] = 1;
        if (this.#nodeOf.has(next)) continue;
        this.#nodeOf.set(next, node);
        open.push(next);
      }
    }
  }

  /** Into a sharp corner the axis runs to its very tip. */
  #addEnd(t: number): void {
    const corner = this.#cornerBeyond(t);
    if (corner === undefined) {
      this.#nodeOf.set(t, this.#addNode(this.#point(t)));
      return;
    }
    const { coords } = this.#boundary;
    const tip = { x: coords[2 * corner] ?? 0, y: coords[2 * corner + 1] ?? 0, radius: 0 };
    this.#nodeOf.set(t, this.#addNode(tip));
  }

  /** The sharp corner among the sites that the axis ends between. */
  #cornerBeyond(t: number): number | undefined {
    const { triangles } = this.#graph;
    return [triangles[3 * t] ?? 0, triangles[3 * t + 1] ?? 0, triangles[3 * t + 2] ?? 0].find(
      (site) => this.#boundary.isSharp[site] === 1,
    );
  }

  #walkFrom(start: number): void {
    for (const first of this.#graph.keptEdges(start)) {
      if (this.#walked[first] === 1) continue;
      const points: AxisPoint[] = [this.#nodePoint(start)];
      if (this.#endsAtTip(start)) points.push(this.#point(start));
      let e = first;
      for (;;) {
        this.#walked[e] = 1;
        this.#walked[this.#graph.halfEdges[e] ?? 0] = 1;
        const t = this.#graph.across(e);
        points.push(...this.#between(e));
        const node = this.#nodeOf.get(t);
        if (node !== undefined) {
          if (this.#endsAtTip(t)) points.push(this.#point(t));
          points.push(this.#nodePoint(t));
          this.#addBranch(this.#nodeOf.get(start) ?? 0, node, points);
          break;
        }
        points.push(this.#point(t));
        const onward = this.#graph.keptEdges(t).find((next) => this.#walked[next] !== 1);
        if (onward === undefined) throw new InternalError("the medial axis breaks off");
        e = onward;
      }
    }
  }

  /** Points along a Voronoi edge longer than a spacing: past two corners the radius changes between its ends. */
  #between(e: number): AxisPoint[] {
    const { centres } = this.#graph;
    const a = Math.floor(e / 3);
    const b = this.#graph.across(e);
    const count = Math.ceil(this.#apart(a, b) / this.#reachMm);
    const { p, q } = this.#graph.sitesAt(e);
    return Array.from({ length: Math.max(0, count - 1) }, (_, i) => {
      const t = (i + 1) / count;
      const at = (axis: 0 | 1) => (centres[2 * a + axis] ?? 0) * (1 - t) + (centres[2 * b + axis] ?? 0) * t;
      return refineAxisPoint(this.#boundary, {
        x: at(0),
        y: at(1),
        sites: [p, q],
        reachMm: this.#reachMm,
      });
    });
  }

  #addBranch(from: number, to: number, points: readonly AxisPoint[]): void {
    const apart = points.filter((point, i) => {
      const before = points[i - 1];
      return (
        !before ||
        i === points.length - 1 ||
        Math.hypot(point.x - before.x, point.y - before.y) > SAME_POINT_MM
      );
    });
    this.#branches.push({ from, to, points: apart });
  }

  #endsAtTip(t: number): boolean {
    return this.#graph.degree[t] === 1 && this.#nodePoint(t).radius === 0;
  }

  #nodePoint(t: number): AxisPoint {
    return this.#nodes[this.#nodeOf.get(t) ?? -1] ?? { x: 0, y: 0, radius: 0 };
  }

  #apart(a: number, b: number): number {
    const { centres } = this.#graph;
    return Math.hypot(
      (centres[2 * a] ?? 0) - (centres[2 * b] ?? 0),
      (centres[2 * a + 1] ?? 0) - (centres[2 * b + 1] ?? 0),
    );
  }

  #point(t: number): AxisPoint {
    return refineAxisPoint(this.#boundary, {
      x: this.#graph.centres[2 * t] ?? 0,
      y: this.#graph.centres[2 * t + 1] ?? 0,
      sites: this.#sidesAt(t),
      reachMm: this.#reachMm,
    });
  }

  /** One site on each side of the axis at a vertex. */
  #sidesAt(t: number): number[] {
    const edges = this.#graph.keptEdges(t);
    const first = edges[0];
    if (first === undefined) return [this.#graph.triangles[3 * t] ?? 0];
    // The two sites of one edge lie on either side of it; a junction has a third side.
    const { p, q } = this.#graph.sitesAt(first);
    if (edges.length < 3) return [p, q];
    const { triangles } = this.#graph;
    return [triangles[3 * t] ?? 0, triangles[3 * t + 1] ?? 0, triangles[3 * t + 2] ?? 0];
  }
}
