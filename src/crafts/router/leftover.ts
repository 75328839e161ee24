/**
 * What cutters leave of the ground, place by place: the rest in an inner corner, which is no
 * harm while it is small, told from channels that were not entered and pockets that were missed.
 */
import { type Bounds, boundsHeight, boundsOf, boundsWidth } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { squaredToLine } from "../../geometry/meet.ts";
import { between, distance, type Point } from "../../geometry/point.ts";
import { grow, partsOf, type Region, regionArea, regionBounds } from "../../geometry/region.ts";

/** A connected part of the ground that stays uncut. */
export interface Leftover {
  /**
   * By the number of sides on which a cutter came up to it. None: a pocket without an entrance.
   * One: a corner; a deep one lies further off than the settings allow. More: a channel, and what
   * stays bars it, however short it is.
   */
  readonly kind: "corner" | "deep-corner" | "channel" | "pocket";
  readonly region: Region;
  readonly areaMm2: number;
  /** The place furthest from where cutters came; of a pocket, its widest place. */
  readonly at: Point;
  /** How far that is, at most a sixteenth of the allowed depth too little; of a pocket, half of its longer side. */
  readonly depthMm: number;
}

/** Points along walls lie so close that depths are found to this share of the depth that is allowed. */
const DEPTH_ERROR_SHARE = 1 / 16;
/** Corners of regions are rounded by half of this each way; sides nearer to a wall are the wall. */
const ON_WALL_MM = 3e-4;
/** Arcs that only serve to find a place. */
const PLACE_ARC_MM = 2e-2;

/**
 * The connected parts of `left`, whose edge runs partly along the ground's own edge, and partly
 * where cutters came.
 */
export function sortLeftovers(ground: Region, left: Region, cornerLeftMm: number): Leftover[] {
  const walls = new Walls(ground);
  return partsOf(left).map((region) => describe(region, walls, cornerLeftMm));
}

export function isCorner({ kind }: Leftover): boolean {
  return kind === "corner";
}

function describe(region: Region, walls: Walls, cornerLeftMm: number): Leftover {
  const { along, contacts, sides } = edgesOf(region, walls, 2 * cornerLeftMm * DEPTH_ERROR_SHARE);
  const areaMm2 = regionArea(region);
  if (contacts.length === 0) {
    const box = regionBounds(region);
    const depthMm = Math.max(boundsWidth(box), boundsHeight(box)) / 2;
    return { kind: "pocket", region, areaMm2, at: widestPlace(region), depthMm };
  }
  const { at, depthMm } = furthestFrom(contacts, along);
  const kind = sides > 1 ? "channel" : depthMm > cornerLeftMm ? "deep-corner" : "corner";
  return { kind, region, areaMm2, at, depthMm };
}

type Side = readonly [Point, Point];

interface Edges {
  /** Points on walls, no further apart than asked. */
  readonly along: readonly Point[];
  readonly contacts: readonly Side[];
  /** How many stretches the contacts form. */
  readonly sides: number;
}

function edgesOf({ rings }: Region, walls: Walls, stepMm: number): Edges {
  const along: Point[] = [];
  const contacts: Side[] = [];
  let sides = 0;
  for (const ring of rings) {
    let from = ring.at(-1);
    const isWall = ring.map((to) => {
      const wall = from !== undefined && walls.hold(between(from, to, 0.5));
      if (from && wall) along.push(...pointsBetween(from, to, stepMm));
      if (from && !wall) contacts.push([from, to]);
      from = to;
      return wall;
    });
    const starts = isWall.filter((wall, i) => !wall && isWall.at(i - 1)).length;
    sides += starts === 0 && !isWall[0] ? 1 : starts;
  }
  return { along, contacts, sides };
}

function pointsBetween(from: Point, to: Point, stepMm: number): Point[] {
  const count = Math.max(1, Math.ceil(distance(from, to) / stepMm));
  return Array.from({ length: count }, (_, i) => between(from, to, i / count));
}

function furthestFrom(contacts: readonly Side[], points: readonly Point[]): { at: Point; depthMm: number } {
  let at = contacts[0]?.[0] ?? { x: 0, y: 0 };
  let most = 0;
  for (const point of points) {
    let least = Number.POSITIVE_INFINITY;
    for (const [from, to] of contacts) {
      least = Math.min(least, squaredToLine(point, from, to));
      if (least <= most) break;
    }
    if (least > most) {
      most = least;
      at = point;
    }
  }
  return { at, depthMm: Math.sqrt(most) };
}

/** A point of what is left last when the region shrinks. */
function widestPlace(region: Region): Point {
  const box = regionBounds(region);
  let good = 0;
  let bad = Math.min(boundsWidth(box), boundsHeight(box)) / 2;
  let rest = region;
  while (bad - good > PLACE_ARC_MM) {
    const middle = (good + bad) / 2;
    const shrunk = grow(region, -middle, PLACE_ARC_MM);
    if (shrunk.rings.length > 0) [good, rest] = [middle, shrunk];
    else bad = middle;
  }
  return rest.rings[0]?.[0] ?? { x: box.minX, y: box.minY };
}

/** The ground's edge, to be asked whether a place lies on it. */
class Walls {
  readonly #sides: Side[] = [];
  readonly #index: BoxIndex;

  constructor({ rings }: Region) {
    const boxes: Bounds[] = [];
    for (const ring of rings) {
      let from = ring.at(-1);
      for (const to of ring) {
        if (from) {
          this.#sides.push([from, to]);
          boxes.push(boundsOf([from, to]));
        }
        from = to;
      }
    }
    this.#index = new BoxIndex(boxes);
  }

  hold(point: Point): boolean {
    return this.#index.near(boundsOf([point]), ON_WALL_MM).some((number) => {
      const side = this.#sides[number];
      return side !== undefined && squaredToLine(point, ...side) <= ON_WALL_MM * ON_WALL_MM;
    });
  }
}
