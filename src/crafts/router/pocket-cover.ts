/**
 * Which stretches of contours clear a piece of ground: those that leave the wall allowance on, and
 * those along its walls.
 *
 * A contour is only followed where it clears something: what it covers is taken off the rest, and
 * the next one is asked where it still meets that. Whatever is left after all of them (bays too
 * narrow for the allowance, ridges of a step over the radius) is mopped up along contours without
 * allowance, no more than a radius apart, of which pocket-contours.ts shows that they leave nothing.
 */
import type { ArcChain } from "../../geometry/arc-chain.ts";
import { type Bounds, growBounds } from "../../geometry/bounds.ts";
import { chordPoints } from "../../geometry/chords.ts";
import { discAlong, grow, type Region, regionArea, regionBounds, subtract } from "../../geometry/region.ts";
import { ContourFamily, type ContourPart, innerSide, rimEnds } from "./pocket-contours.ts";
import { RegionIndex } from "./region-index.ts";
import { REGION_CHORD_MM } from "./router-panel.ts";
import type { GroundSettings, LoadedCutter } from "./settings.ts";

/** Chords of what contours cover: areas are only compared here, within COVER_SLACK_MM. */
const COVER_CHORD_MM = 3 * REGION_CHORD_MM;
/** Contours cover their rim but for the errors of chords and fitted arcs. */
export const COVER_SLACK_MM = 8e-3;
/** Less than this (mm2) is no area to be cleared, but rounding between two contours. */
export const NOTHING_MM2 = 1e-3;

/** Contours are looked at in places this far apart, as a share of the radius and at most. */
const LOOK_SHARE = 1 / 8;
const MOST_BETWEEN_LOOKS_MM = 0.25;

export interface PieceCover {
  /** Along contours, from outside to inside. */
  readonly inside: readonly ContourPart[];
  /** Along the walls. */
  readonly edge: readonly ContourPart[];
}

export class PocketCover {
  readonly #radius: number;
  readonly #settings: GroundSettings;
  readonly #clearing: ContourFamily;
  readonly #exact: ContourFamily;

  constructor(ground: Region, cutter: LoadedCutter, settings: GroundSettings) {
    const radius = cutter.shape.diameterMm / 2;
    this.#radius = radius;
    this.#settings = settings;
    const inner = innerSide(settings.climb);
    const exact = { insetMm: radius, stepMm: Math.min(cutter.stepOverMm, radius) };
    const clearing = { insetMm: radius + settings.wallAllowanceMm, stepMm: cutter.stepOverMm };
    this.#exact = new ContourFamily(ground, exact, inner);
    this.#clearing = new ContourFamily(ground, clearing, inner);
  }

  of(piece: Region): PieceCover {
    const walls = this.#wallParts(piece);
    const clearing = this.#clearingParts(piece);
    const mopped = this.#mop(piece, [...walls, ...clearing]);
    return {
      inside: [...clearing, ...mopped.filter(({ depth }) => depth > 0)],
      edge: [...walls, ...mopped.filter(({ depth }) => depth === 0)],
    };
  }

  /** The walls that the piece reaches up to. */
  #wallParts(piece: Region): ContourPart[] {
    const index = new RegionIndex(piece);
    const wallEnd = this.#settings.climb ? 1 : 0;
    return this.#exact.parts(0, this.#around(piece), {
      ...this.#look(),
      needed: (place) =>
        index.meets(place.point, rimEnds(place, this.#radius + COVER_SLACK_MM)[wallEnd] ?? place.point),
    });
  }

  #clearingParts(piece: Region): ContourPart[] {
    const parts: ContourPart[] = [];
    let rest = piece;
    for (let depth = 0; depth === 0 || this.#thicker(rest); depth++) {
      if (this.#clearing.level(depth).rings.length === 0) break;
      const index = new RegionIndex(rest);
      const found = this.#clearing.parts(depth, this.#around(rest), {
        ...this.#look(),
        needed: (place) => index.meets(...rimEnds(place, this.#radius)),
      });
      if (found.length === 0 && parts.length > 0) break;
      parts.push(...found);
      rest = subtract(rest, this.#covered(found));
    }
    return parts;
  }

  /** Whether anything but the allowance along the walls is left. */
  #thicker(rest: Region): boolean {
    const halfMm = this.#settings.wallAllowanceMm / 2 + COVER_SLACK_MM;
    return regionArea(grow(rest, -halfMm, COVER_CHORD_MM)) > NOTHING_MM2;
  }

  /** What the parts leave of the piece, cleared without allowance. */
  #mop(piece: Region, parts: readonly ContourPart[]): ContourPart[] {
    const mopped: ContourPart[] = [];
    let rest = subtract(piece, this.#covered(parts));
    for (let depth = 0; regionArea(rest) > NOTHING_MM2; depth++) {
      if (this.#exact.level(depth).rings.length === 0) break;
      const index = new RegionIndex(rest);
      const found = this.#exact.parts(depth, this.#around(rest), {
        ...this.#look(),
        needed: ({ point }) => index.within(point, this.#radius),
      });
      mopped.push(...found);
      rest = subtract(rest, this.#covered(found));
    }
    return mopped;
  }

  #covered(parts: readonly ContourPart[]): Region {
    const chains = parts.map(({ ring, from, to }) => ring.part(from, to));
    return coveredAlong(chains, this.#radius + COVER_SLACK_MM);
  }

  #look(): { readonly everyMm: number; readonly bridgeMm: number } {
    return {
      everyMm: Math.min(MOST_BETWEEN_LOOKS_MM, this.#radius * LOOK_SHARE),
      bridgeMm: 2 * this.#radius,
    };
  }

  #around(region: Region): Bounds {
    return growBounds(regionBounds(region), this.#radius + this.#settings.wallAllowanceMm);
  }
}

/** What a disc covers on its way along open chains. */
export function coveredAlong(chains: readonly ArcChain[], radiusMm: number): Region {
  const lines = chains.map((chain) => chordPoints(chain, COVER_CHORD_MM));
  return discAlong(lines, radiusMm, COVER_CHORD_MM);
}
