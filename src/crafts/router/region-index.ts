/** A region that is asked many times: whether it holds a point, whether a way stays inside it. */
import type { Bounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { squaredToLine } from "../../geometry/meet.ts";
import type { Point } from "../../geometry/point.ts";
import { type Region, regionBounds } from "../../geometry/region.ts";
import { sideOf } from "../../geometry/side.ts";

interface Edge {
  readonly from: Point;
  readonly to: Point;
}

export class RegionIndex {
  readonly #edges: Edge[] = [];
  readonly #index: BoxIndex;
  readonly #maxX: number;

  constructor(region: Region) {
    for (const ring of region.rings) {
      let from = ring.at(-1);
      for (const to of ring) {
        if (from) this.#edges.push({ from, to });
        from = to;
      }
    }
    this.#index = new BoxIndex(this.#edges.map(({ from, to }) => edgeBox(from, to)));
    this.#maxX = region.rings.length > 0 ? regionBounds(region).maxX : Number.NEGATIVE_INFINITY;
  }

  /** Whether a point lies inside (for one on an edge either answer). */
  holds(point: Point): boolean {
    if (!(point.x <= this.#maxX)) return false;
    let inside = false;
    for (const { from, to } of this.#near(point, { x: this.#maxX, y: point.y }, 0)) {
      if (from.y > point.y === to.y > point.y) continue;
      const side = sideOf(from, to, point);
      if (to.y > from.y ? side > 0 : side < 0) inside = !inside;
    }
    return inside;
  }

  /** Whether the straight way between two points stays inside, at least this far from the edge. */
  clear(a: Point, b: Point, marginMm: number): boolean {
    const least = marginMm * marginMm;
    for (const edge of this.#near(a, b, marginMm)) {
      if (crosses(a, b, edge) || squaredApart(a, b, edge) < least) return false;
    }
    return this.holds(a);
  }

  /** Whether any point of the straight way between two points lies inside. */
  meets(a: Point, b: Point): boolean {
    for (const edge of this.#near(a, b, 0)) if (crosses(a, b, edge)) return true;
    return this.holds(a);
  }

  /** Whether the region comes within this distance of a point. */
  within(point: Point, distanceMm: number): boolean {
    const least = distanceMm * distanceMm;
    for (const { from, to } of this.#near(point, point, distanceMm)) {
      if (squaredToLine(point, from, to) <= least) return true;
    }
    return this.holds(point);
  }

  #near(a: Point, b: Point, marginMm: number): Edge[] {
    const near: Edge[] = [];
    for (const number of this.#index.near(edgeBox(a, b), marginMm)) {
      const edge = this.#edges[number];
      if (edge) near.push(edge);
    }
    return near;
  }
}

function crosses(a: Point, b: Point, { from, to }: Edge): boolean {
  return sideOf(a, b, from) !== sideOf(a, b, to) && sideOf(from, to, a) !== sideOf(from, to, b);
}

/** Square of the distance between a way and an edge that do not cross. */
function squaredApart(a: Point, b: Point, { from, to }: Edge): number {
  return Math.min(
    squaredToLine(a, from, to),
    squaredToLine(b, from, to),
    squaredToLine(from, a, b),
    squaredToLine(to, a, b),
  );
}

function edgeBox(a: Point, b: Point): Bounds {
  return {
    minX: Math.min(a.x, b.x),
    minY: Math.min(a.y, b.y),
    maxX: Math.max(a.x, b.x),
    maxY: Math.max(a.y, b.y),
  };
}
