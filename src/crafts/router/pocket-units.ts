/**
 * What one cutter has to clear, taken apart into connected pieces, and for each the trails that
 * clear it: contours with the wall allowance left on, then the walls themselves.
 */
import { type ArcChain, chainStart } from "../../geometry/arc-chain.ts";
import { between, distance, type Point } from "../../geometry/point.ts";
import {
  EMPTY_REGION,
  partsOf,
  type Region,
  regionArea,
  regionBounds,
  subtract,
} from "../../geometry/region.ts";
import { joinNearPieces } from "./near-pieces.ts";
import { type ContourPart, innerSide } from "./pocket-contours.ts";
import { COVER_SLACK_MM, coveredAlong, NOTHING_MM2, PocketCover } from "./pocket-cover.ts";
import { ringTrails, stretchTrails, type TourRules } from "./pocket-tour.ts";
import { RegionIndex } from "./region-index.ts";
import type { GroundSettings, LoadedCutter } from "./settings.ts";
import type { Trail } from "./trail.ts";
import { wallTrails } from "./wall-finish.ts";

export interface PocketJob {
  readonly cutter: LoadedCutter;
  /** All that may be cut, by any cutter. */
  readonly ground: Region;
  /** What this cutter has to clear. */
  readonly cover: Region;
  /** What earlier ones cleared, to the full depth. */
  readonly cleared: Region;
}

/** A connected piece of the cover. */
export interface PocketUnit {
  readonly region: Region;
  /** Made one after another at each step down. */
  readonly clearing: readonly Trail[];
  /** Made after all clearing, each at all steps down. */
  readonly walls: readonly Trail[];
  /** Whether the cutter may go straight there at the depth that it has: in the wood, but nowhere that stands. */
  readonly clear: (from: Point, to: Point) => boolean;
  /** Whether all below the cutter is cleared to the full depth: before clearing, and after it. */
  readonly clearedBefore: (at: Point) => boolean;
  readonly clearedAfter: (at: Point) => boolean;
  /** What is left of the region, as there is no room to go down in. */
  readonly left: Region;
}

/** What is worth while and what can be done. */
export interface PocketRules {
  readonly longestLinkMm: number;
  /** Whether there is a way down to the trail's start, into solid ground where that is not cleared. */
  readonly canEnter: (trail: Trail, cleared: (at: Point) => boolean) => boolean;
}

/** Links may come this much nearer to what stands than the radius: as much as the ends of fitted contours may. */
const LINK_SLACK_MM = 4e-3;
/** Cleared ground is known this well. */
const CLEARED_SLACK_MM = 1e-2;
/** Ground that is cleared at some time: whether a straight way lies in it, and whether all below the cutter there does. */
type Waste = Pick<TourRules, "clear" | "cleared">;

export class PocketPlanner {
  readonly #radius: number;
  readonly #job: PocketJob;
  readonly #settings: GroundSettings;
  readonly #rules: PocketRules;
  readonly #cover: PocketCover;
  readonly #ground: RegionIndex;
  readonly #before: RegionIndex;

  constructor(job: PocketJob, settings: GroundSettings, rules: PocketRules) {
    const { cutter, ground, cleared } = job;
    this.#job = job;
    this.#settings = settings;
    this.#rules = rules;
    this.#radius = cutter.shape.diameterMm / 2;
    this.#cover = new PocketCover(ground, cutter, settings);
    this.#ground = new RegionIndex(ground);
    this.#before = new RegionIndex(cleared);
  }

  units(): PocketUnit[] {
    const pieces = partsOf(this.#job.cover).filter((piece) => regionArea(piece) > NOTHING_MM2);
    return joinNearPieces(pieces, 2 * this.#radius).map((piece) => this.#unit(piece));
  }

  #unit(piece: Region): PocketUnit {
    const { inside, edge } = this.#cover.of(piece);
    const before: Waste = { clear: () => false, cleared: (at) => this.#inCleared(at, at) };
    const meant = this.#wasteWith(inside.map(({ ring, from, to }) => ring.part(from, to)));
    const planned = this.#clearingTrails(inside, this.#tourRules({ ...meant, cleared: before.cleared }));
    const clearing = planned.filter((trail) => this.#rules.canEnter(trail, before.cleared));
    const after =
      clearing.length === planned.length ? meant : this.#wasteWith(clearing.map(({ chain }) => chain));
    const tried = this.#wallTrails(piece, edge, clearing, after);
    const walls = tried.filter((trail) => this.#rules.canEnter(trail, after.cleared));
    const complete = clearing.length === planned.length && walls.length === tried.length;
    return {
      region: piece,
      clearing,
      walls,
      clear: after.clear,
      clearedBefore: before.cleared,
      clearedAfter: after.cleared,
      left: complete ? EMPTY_REGION : this.#leftOf(piece, [...clearing, ...walls]),
    };
  }

  /** What can be told of the ground when these ways are cleared besides what was before. */
  #wasteWith(cleared: readonly ArcChain[]): Waste {
    const here = new RegionIndex(coveredAlong(cleared, this.#radius));
    return {
      clear: (from, to) => this.#inGround(from, to) && this.#inWaste(from, to, here),
      cleared: (at) => this.#inWaste(at, at, here),
    };
  }

  #leftOf(piece: Region, trails: readonly Trail[]): Region {
    const chains = trails.map(({ chain }) => chain);
    return subtract(piece, coveredAlong(chains, this.#radius + COVER_SLACK_MM));
  }

  #wallTrails(
    piece: Region,
    parts: readonly ContourPart[],
    clearing: readonly Trail[],
    after: Waste,
  ): Trail[] {
    const corner = regionBounds(piece);
    const last = clearing.at(-1);
    const from = last ? chainStart(last.chain) : { x: corner.minX, y: corner.minY };
    const room = {
      inner: innerSide(this.#settings.climb),
      radiusMm: this.#radius,
      allowanceMm: this.#settings.wallAllowanceMm,
      inside: (a: Point, b: Point) => this.#inGround(a, b),
      cleared: after.cleared,
    };
    return stretchTrails(wallTrails(parts, room, from), this.#tourRules(after), from);
  }

  #inGround(from: Point, to: Point): boolean {
    return this.#ground.clear(from, to, this.#radius - LINK_SLACK_MM);
  }

  #inCleared(from: Point, to: Point): boolean {
    return this.#before.clear(from, to, this.#radius - CLEARED_SLACK_MM);
  }

  /** Whether the cutter finds all along a straight way nothing but ground that was cleared before or is cleared here. */
  #inWaste(from: Point, to: Point, here: RegionIndex): boolean {
    const waste = (a: Point, b: Point) =>
      this.#inCleared(a, b) || here.clear(a, b, this.#radius - CLEARED_SLACK_MM);
    if (waste(from, to)) return true;
    // It may go over from the one into the other.
    const bits = Math.ceil(distance(from, to) / (this.#radius * LINK_BIT_SHARE));
    for (let i = 0; i < bits; i++) {
      if (!waste(between(from, to, i / bits), between(from, to, (i + 1) / bits))) return false;
    }
    return bits > 0;
  }

  #tourRules(waste: Waste): TourRules {
    return {
      longestLinkMm: this.#rules.longestLinkMm,
      neighbourMm: NEIGHBOUR_STEPS * this.#job.cutter.stepOverMm,
      ...waste,
    };
  }

  #clearingTrails(parts: readonly ContourPart[], rules: TourRules): Trail[] {
    const whole: ContourPart[] = [];
    const stretches: Trail[] = [];
    for (const part of parts.map((open) => this.#outToCleared(open))) {
      if (part.whole) whole.push(part);
      else stretches.push({ chain: part.ring.part(part.from, part.to), round: false });
    }
    const free = stretches.find(({ chain }) => rules.cleared(chainStart(chain))) ?? stretches[0];
    const from = free ? chainStart(free.chain) : { x: 0, y: 0 };
    return [...ringTrails(whole, rules), ...stretchTrails(stretches, rules, from)];
  }

  /** A stretch made longer until it begins and ends in ground that was cleared before, where that is near. */
  #outToCleared(part: ContourPart): ContourPart {
    if (part.whole) return part;
    const { ring } = part;
    const from = part.from - this.#toCleared(ring, part.from, -1);
    const to = part.to + this.#toCleared(ring, part.to, 1);
    return to - from >= ring.length
      ? { ...part, from: 0, to: ring.length, whole: true }
      : { ...part, from, to };
  }

  #toCleared(ring: ContourPart["ring"], from: number, way: 1 | -1): number {
    for (let by = 0; by <= 2 * this.#radius; by += this.#radius * OUTWARD_SHARE) {
      const { point } = ring.at(from + way * by);
      if (this.#inCleared(point, point)) return by;
    }
    return 0;
  }
}

/** Neighbouring contours lie a step apart, where two meet in the middle up to two. */
const NEIGHBOUR_STEPS = 2.5;
/** Stretches are made longer by this share of the radius at a time. */
const OUTWARD_SHARE = 1 / 8;
/** Links are looked at in bits of this share of the radius. */
const LINK_BIT_SHARE = 1 / 3;
