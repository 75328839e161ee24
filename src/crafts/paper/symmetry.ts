/** Turns and mirrors about its middle that bring a region onto itself. */
import type { Bounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { squaredToLine } from "../../geometry/meet.ts";
import type { Point } from "../../geometry/point.ts";
import { type Region, regionBounds } from "../../geometry/region.ts";
import {
  followedBy,
  mirrorAt,
  moveBy,
  type Transform,
  transformPoint,
  turnBy,
} from "../../geometry/transform.ts";

/** Regions are made of chords and rounded: equal curves lie this near to each other. */
const SAME_EDGE_MM = 5e-3;
/** Nobody counts more repeats round a centre. */
const MOST_TURNS = 72;

/** All of them, the identity first. */
export function symmetriesOf(region: Region): Transform[] {
  const box = regionBounds(region);
  const centre = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const edges = new RegionEdges(region);
  const about = (by: Transform) =>
    followedBy(followedBy(moveBy(-centre.x, -centre.y), by), moveBy(centre.x, centre.y));
  const keeps = (by: Transform) =>
    region.rings.every((ring) => ring.every((point) => edges.has(transformPoint(point, by))));
  let turns = 1;
  for (let n = 2; n <= MOST_TURNS; n++) if (keeps(about(turnBy((2 * Math.PI) / n)))) turns = n;
  const turned = Array.from({ length: turns }, (_, i) => about(turnBy((2 * Math.PI * i) / turns)));
  // Axes lie half a step apart; one of a lattice lies level, upright or halfway between.
  const axes = [
    ...Array.from({ length: 2 * turns }, (_, i) => (Math.PI * i) / (2 * turns)),
    Math.PI / 4,
    (3 * Math.PI) / 4,
  ];
  const mirror = axes
    .map((axis) =>
      about(followedBy(followedBy(turnBy(Math.PI / 2 - axis), mirrorAt(0)), turnBy(axis - Math.PI / 2))),
    )
    .find(keeps);
  return mirror ? [...turned, ...turned.map((turn) => followedBy(mirror, turn))] : turned;
}

class RegionEdges {
  readonly #sides: { readonly from: Point; readonly to: Point }[] = [];
  readonly #index: BoxIndex;

  constructor({ rings }: Region) {
    for (const ring of rings) {
      let from = ring.at(-1);
      for (const to of ring) {
        if (from) this.#sides.push({ from, to });
        from = to;
      }
    }
    this.#index = new BoxIndex(this.#sides.map(sideBounds));
  }

  has(point: Point): boolean {
    const at = { minX: point.x, minY: point.y, maxX: point.x, maxY: point.y };
    return this.#index.near(at, SAME_EDGE_MM).some((i) => {
      const side = this.#sides[i];
      return side !== undefined && squaredToLine(point, side.from, side.to) <= SAME_EDGE_MM ** 2;
    });
  }
}

function sideBounds({ from, to }: { readonly from: Point; readonly to: Point }): Bounds {
  return {
    minX: Math.min(from.x, to.x),
    minY: Math.min(from.y, to.y),
    maxX: Math.max(from.x, to.x),
    maxY: Math.max(from.y, to.y),
  };
}
