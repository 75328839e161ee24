/**
 * Which part of the ground which end mill reaches. A disc of radius r that stays inside the
 * ground covers the ground's opening by r (Serra, Image Analysis and Mathematical Morphology,
 * 1982: erosion, then dilation by the same disc). Here arcs are chords, so:
 *
 * - a place counts as reached when it lies in the ground and within REACH_ERROR_MM of the true
 *   opening; all that truly is reached counts;
 * - a channel counts as entered from REACH_ERROR_MM below the cutter's diameter.
 */
import {
  EMPTY_REGION,
  grow,
  intersect,
  partsOf,
  type Region,
  regionArea,
  regionOf,
  subtract,
} from "../../geometry/region.ts";
import { regionChains } from "../../geometry/ring-chain.ts";
import { isCorner, type Leftover, sortLeftovers } from "./leftover.ts";
import type { LoadedCutter } from "./settings.ts";

/** What one cutter does. */
export interface ReachStep {
  readonly cutter: LoadedCutter;
  /** The area that it has to cover. */
  readonly region: Region;
  /** All that its disc covers while it stays inside the ground: it may cut here and nowhere else. */
  readonly allowed: Region;
}

/** A connected part of the ground, and how much of it each cutter reaches by itself. */
export interface PartReach {
  readonly part: Region;
  readonly areaMm2: number;
  /** In the order of `mills`. */
  readonly reachedMm2: readonly number[];
}

export interface ReachPlan {
  readonly ground: Region;
  /** All end mills, the largest first. */
  readonly mills: readonly LoadedCutter[];
  readonly parts: readonly PartReach[];
  /** The largest cutter first; one that would add too little is left out. */
  readonly steps: readonly ReachStep[];
  /** What stays uncut though it should not: channels not entered, pockets missed, deep corners. */
  readonly uncut: Region;
  readonly missed: readonly Leftover[];
  /** What stays in inner corners, no deeper than the settings allow. */
  readonly corners: Region;
  readonly rounded: readonly Leftover[];
}

/** Arcs of openings become chords within this: the same as the arcs that are later fitted to them. */
const REACH_ARC_MM = 2e-3;
/** Both offsets of an opening stray by up to the arc error. */
export const REACH_ERROR_MM = 2 * REACH_ARC_MM;
/** A smaller cutter begins this share of its radius inside what a larger one did, so that no ridge stays. */
const OVERLAP_SHARE = 0.25;
/** A cutter change is not worth less than this share of what cutters can still get. */
const WORTH_SHARE = 0.1;

/** The end mills, the largest first. */
export function endMills(cutters: readonly LoadedCutter[]): LoadedCutter[] {
  return cutters
    .filter(({ shape }) => shape.kind === "end-mill")
    .toSorted((a, b) => b.shape.diameterMm - a.shape.diameterMm);
}

/** The part of a region that a disc reaches from inside it. */
export function reachedBy(region: Region, diameterMm: number): Region {
  return intersect(region, coverOf(region, diameterMm, REACH_ARC_MM));
}

/**
 * All that the disc covers and a little more, so that along walls nothing is left: it reaches over
 * the region's edge by the error.
 */
function coverOf(region: Region, diameterMm: number, arcErrorMm: number): Region {
  const centres = grow(region, -diameterMm / 2, arcErrorMm);
  return grow(centres, diameterMm / 2 + 2 * arcErrorMm, arcErrorMm);
}

/** What a cutter reaches of the whole ground, part by part. */
interface MillReach {
  readonly cutter: LoadedCutter;
  readonly cover: Region;
  readonly reached: Region;
  readonly reachedMm2: readonly number[];
}

function reachOf(parts: readonly Region[], cutter: LoadedCutter): MillReach {
  const covers = parts.map((part) => coverOf(part, cutter.shape.diameterMm, REACH_ARC_MM));
  const reached = parts.map((part, i) => intersect(part, covers[i] ?? EMPTY_REGION));
  return { cutter, cover: together(covers), reached: together(reached), reachedMm2: reached.map(regionArea) };
}

/**
 * Which cutter does what: the largest all that it reaches, each smaller one what larger ones left
 * but for small rests in corners.
 */
export function planReach(ground: Region, cutters: readonly LoadedCutter[], cornerLeftMm: number): ReachPlan {
  const parts = partsOf(ground);
  const mills = endMills(cutters);
  const reaches = mills.map((cutter) => reachOf(parts, cutter));
  return {
    ground,
    mills,
    parts: parts.map((part, p) => ({
      part,
      areaMm2: regionArea(part),
      reachedMm2: reaches.map(({ reachedMm2 }) => reachedMm2[p] ?? 0),
    })),
    ...shareOut(ground, reaches, cornerLeftMm),
  };
}

function shareOut(
  ground: Region,
  reaches: readonly MillReach[],
  cornerLeftMm: number,
): Pick<ReachPlan, "steps" | "uncut" | "missed" | "corners" | "rounded"> {
  const smallest = reaches.at(-1)?.cover ?? EMPTY_REGION;
  const steps: ReachStep[] = [];
  const rounded: Leftover[] = [];
  let target = ground;
  let missed: readonly Leftover[] | undefined;
  for (const { cutter, cover, reached } of reaches) {
    const gained = intersect(target, cover);
    const possibleMm2 = regionArea(cover === smallest ? gained : intersect(target, smallest));
    if (regionArea(gained) < Math.max(WORTH_SHARE * possibleMm2, leastGain(cutter))) continue;
    const region = steps.length === 0 ? reached : intersect(reached, withOverlap(gained, cutter));
    steps.push({ cutter, region, allowed: reached });
    const left = sortLeftovers(ground, subtract(target, cover), cornerLeftMm);
    rounded.push(...left.filter(isCorner));
    missed = left.filter((leftover) => !isCorner(leftover));
    target = together(missed.map(({ region: rest }) => rest));
  }
  return {
    steps,
    missed: missed ?? sortLeftovers(ground, ground, cornerLeftMm),
    rounded,
    uncut: target,
    corners: together(rounded.map(({ region }) => region)),
  };
}

/** A twentieth of its own disc: less than that are splinters. */
function leastGain({ shape }: LoadedCutter): number {
  return (Math.PI * shape.diameterMm ** 2) / 4 / 20;
}

/** A region and as much round it as the cutter must overlap with what larger ones did. */
function withOverlap(region: Region, { shape }: LoadedCutter): Region {
  // Where the overlap ends does not matter much, and fewer corners make it many times faster.
  const rough = regionOf(regionChains(region, ROUGH_MM), ROUGH_MM);
  return grow(rough, (OVERLAP_SHARE * shape.diameterMm) / 2 + 2 * ROUGH_MM, ROUGH_MM);
}

/** Arcs of overlaps. */
const ROUGH_MM = 2e-2;

/**
 * The largest cutter, a multiple of 0.05 mm, that leaves nothing but small rests in
 * corners; undefined where none between `leastMm` and `mostMm` does. Errs to the small side.
 */
export function largestReaching(
  ground: Region,
  cornerLeftMm: number,
  { leastMm, mostMm }: { readonly leastMm: number; readonly mostMm: number },
): number | undefined {
  const reachesAll = (steps: number) => {
    // Wider by the error: what this one enters, the true one enters as well.
    const cover = coverOf(ground, steps / STEPS_PER_MM + 2 * COARSE_ARC_MM, COARSE_ARC_MM);
    return sortLeftovers(ground, subtract(ground, cover), cornerLeftMm).every(isCorner);
  };
  let good = Math.ceil(leastMm * STEPS_PER_MM);
  let bad = Math.floor(mostMm * STEPS_PER_MM) + 1;
  if (bad <= good || !reachesAll(good)) return undefined;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (reachesAll(middle)) good = middle;
    else bad = middle;
  }
  return good / STEPS_PER_MM;
}

/** No finer than cutters are sold and measured. */
const STEPS_PER_MM = 20;
/** Many openings are made to find one number. */
const COARSE_ARC_MM = 5e-3;

/** Regions that have no inner points in common, as one. */
function together(regions: readonly Region[]): Region {
  return { rings: regions.flatMap(({ rings }) => rings) };
}
