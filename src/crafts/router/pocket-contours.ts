/**
 * Contours of the area that a cutter's centre may be in, one inside the other, and the stretches
 * of them that an area to be cleared needs.
 *
 * Contour k is the edge of the domain moved inward by k steps. A point of the domain at the
 * distance d from its edge has the contour with k = floor(d / step) at most one step away: straight
 * towards the nearest place of the edge the distance falls one to one. So while the step is not
 * over the cutter's radius all contours together leave no ridge, in corners and in the middle
 * neither. With a wider step they may; what is left then is seen and cleared (pocket-units.ts).
 */
import { reverseChain } from "../../geometry/arc-chain.ts";
import type { Bounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { along, leftOf, type Point, type Vec } from "../../geometry/point.ts";
import { EMPTY_REGION, grow, type Region } from "../../geometry/region.ts";
import { regionChains } from "../../geometry/ring-chain.ts";
import { segmentBounds } from "../../geometry/segment.ts";
import { type RingPlace, RingRuler } from "./ring-ruler.ts";
import { REGION_CHORD_MM, REGION_FIT_MM } from "./router-panel.ts";

/**
 * Which side of a contour's way the domain lies on; the wall lies on the other.
 *
 * Seen from above the spindle turns clockwise, so on its right side the cutter's edge moves
 * against the way that the cutter goes: it meets the wood as the wood comes towards it, thick
 * chip first, which is climb cutting. So in climb cutting the material is on the right of the
 * way and the domain on its left; the way round a pocket is counter-clockwise, round what stands
 * in it clockwise.
 */
export type InnerSide = "left" | "right";

export function innerSide(climb: boolean): InnerSide {
  return climb ? "left" : "right";
}

/** A stretch of a contour; all of it where `whole`. */
export interface ContourPart {
  readonly ring: RingRuler;
  /** How many steps inside the domain's edge. */
  readonly depth: number;
  readonly from: number;
  readonly to: number;
  readonly whole: boolean;
}

interface ContourLevel {
  readonly rings: readonly RingRuler[];
  /** Which segment of which ring each box of the index stands for. */
  readonly owners: readonly { readonly ring: number; readonly segment: number }[];
  readonly index: BoxIndex;
}

/** How a family of contours lies: mm from the ground's edge to the first, and from each to the next. */
export interface ContourSpacing {
  readonly insetMm: number;
  readonly stepMm: number;
}

/** Chords of round corners: of the first contour half of what ribbons are given, so that walls stay within 0.004 mm with the fit's error. */
const FIRST_CHORD_MM = REGION_CHORD_MM / 2;
const NEXT_CHORD_MM = 2 * REGION_CHORD_MM;

/** All contours in a ground, made when they are asked for. */
export class ContourFamily {
  readonly #ground: Region;
  readonly #spacing: ContourSpacing;
  readonly #inner: InnerSide;
  readonly #levels: ContourLevel[] = [];

  constructor(ground: Region, spacing: ContourSpacing, inner: InnerSide) {
    this.#ground = ground;
    this.#spacing = spacing;
    this.#inner = inner;
  }

  /** The contours this many steps inside; no rings where nothing is left of the domain. */
  level(depth: number): ContourLevel {
    const { insetMm, stepMm } = this.#spacing;
    for (let next = this.#levels.length; next <= depth; next++) {
      const before = this.#levels.at(-1);
      const gone = before !== undefined && before.rings.length === 0;
      const chordMm = next === 0 ? FIRST_CHORD_MM : NEXT_CHORD_MM;
      this.#levels.push(gone ? before : this.#make(grow(this.#ground, -insetMm - next * stepMm, chordMm)));
    }
    return this.#levels[depth] ?? this.#make(EMPTY_REGION);
  }

  #make(domain: Region): ContourLevel {
    const rings = regionChains(domain, REGION_FIT_MM).map(
      (chain) => new RingRuler(this.#inner === "left" ? chain : reverseChain(chain)),
    );
    const owners = rings.flatMap(({ segments }, ring) => segments.map((_, segment) => ({ ring, segment })));
    const boxes = rings.flatMap(({ segments }) => segments.map(segmentBounds));
    return { rings, owners, index: new BoxIndex(boxes) };
  }

  /** The stretches of one level that pass near `box` and are `needed`, looked at every `stepMm`. */
  parts(
    depth: number,
    box: Bounds,
    look: {
      readonly everyMm: number;
      /** Shorter stretches between two needed ones are run through. */
      readonly bridgeMm: number;
      readonly needed: (place: RingPlace) => boolean;
    },
  ): ContourPart[] {
    const { rings, owners, index } = this.level(depth);
    const hits = new Map<number, number[]>();
    for (const number of index.near(box, 0)) {
      const owner = owners[number];
      const ring = owner && rings[owner.ring];
      if (!ring) continue;
      const marks = hits.get(owner.ring) ?? [];
      hits.set(owner.ring, marks);
      pushNeeded(marks, ring, owner.segment, box, look);
    }
    return [...hits]
      .sort(([a], [b]) => a - b)
      .flatMap(([number, marks]) => {
        const ring = rings[number];
        return ring ? stretches(ring, depth, marks, look) : [];
      });
  }
}

/** Marks stand evenly along a ring, this far apart. */
function markStep(ring: RingRuler, everyMm: number): number {
  return ring.length / Math.max(MARKS_LEAST, Math.ceil(ring.length / everyMm));
}

/** Small rings are looked at in as many places at least. */
const MARKS_LEAST = 8;

function pushNeeded(
  marks: number[],
  ring: RingRuler,
  segment: number,
  box: Bounds,
  { everyMm, needed }: { readonly everyMm: number; readonly needed: (place: RingPlace) => boolean },
): void {
  const step = markStep(ring, everyMm);
  const begin = ring.begins[segment] ?? 0;
  const end = ring.begins[segment + 1] ?? begin;
  for (let mark = Math.ceil(begin / step); mark * step < end; mark++) {
    const place = ring.at(mark * step);
    if (inBox(box, place.point) && needed(place)) marks.push(mark);
  }
}

function inBox({ minX, minY, maxX, maxY }: Bounds, { x, y }: Point): boolean {
  return x >= minX && x <= maxX && y >= minY && y <= maxY;
}

/** Runs of needed marks, a mark longer at both ends. */
function stretches(
  ring: RingRuler,
  depth: number,
  found: readonly number[],
  { everyMm, bridgeMm }: { readonly everyMm: number; readonly bridgeMm: number },
): ContourPart[] {
  const marks = [...new Set(found)].sort((a, b) => a - b);
  const first = marks[0];
  if (first === undefined) return [];
  const step = markStep(ring, everyMm);
  const count = Math.round(ring.length / step);
  const bridge = Math.max(2, bridgeMm / step);
  const parts: ContourPart[] = [];
  const gapAfter = marks.findIndex((mark, i) => (marks[i + 1] ?? first + count) - mark > bridge);
  if (gapAfter < 0) return [{ ring, depth, from: 0, to: ring.length, whole: true }];
  // Begun behind a gap no run goes over the ring's end.
  const runs = [...marks.slice(gapAfter + 1), ...marks.slice(0, gapAfter + 1).map((mark) => mark + count)];
  let from = runs[0] ?? first;
  for (const [i, mark] of runs.entries()) {
    const next = runs[i + 1];
    if (next !== undefined && next - mark <= bridge) continue;
    parts.push({ ring, depth, from: (from - 1) * step, to: (mark + 1) * step, whole: false });
    if (next !== undefined) from = next;
  }
  return parts;
}

/** Where the rim of a disc of this radius lies to both sides of its way. */
export function rimEnds({ point, direction }: RingPlace, radiusMm: number): readonly [Point, Point] {
  const left: Vec = leftOf(direction);
  return [along(point, left, radiusMm), along(point, left, -radiusMm)];
}
