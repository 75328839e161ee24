/**
 * The medial axis of a region: the middles of all discs that fit inside and touch its boundary in
 * two places or more, with their radii (Blum, "A Transformation for Extracting New Descriptors of
 * Shape", 1967). The discs together cover the region.
 *
 * Found from the Voronoi diagram of points along the boundary (medial-sites.ts): of its edges
 * those inside the region between points that are no neighbours (Brandt & Algazi, "Continuous
 * skeleton computation by Voronoi diagram", CVGIP: Image Understanding 55, 1992). Twigs that lead
 * to no sharp corner are taken off from their ends while the disc at their foot leaves no more
 * than 0.002 mm of the boundary uncovered (medial-graph.ts). Every point is then moved to where it
 * is equally far from the region's sides (medial-refine.ts).
 *
 * With sites s apart the boundary between two of them comes nearer to a disc of radius r than
 * they do by at most s^2 / (8 r): by so much a radius may be too large, and the straight way
 * between two points of the axis too deep where they lie a spacing apart beside a corner.
 */
import { InternalError } from "../base/internal-error.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { VoronoiGraph } from "./medial-graph.ts";
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
