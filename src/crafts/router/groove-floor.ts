/**
 * The level floor of ground that is too wide for the V: cleared by an end mill where one fits
 * between the slopes, and by the V cutter's tip, pass beside pass, where none does.
 */
import {
  EMPTY_REGION,
  grow,
  intersect,
  partsOf,
  type Region,
  regionArea,
  subtract,
} from "../../geometry/region.ts";
import { straighten } from "../../geometry/straighten.ts";
import { slopeOf, type VShape } from "./groove-cutter.ts";
import type { LoadedCutter } from "./settings.ts";

export interface FloorShare {
  /** The end mill that clears the floor, if one fits. */
  readonly mill: LoadedCutter | undefined;
  /** All that it covers. */
  readonly milled: Region;
  /** What the V cutter clears in passes of its own. */
  readonly rest: Region;
  /** All that the mill does not reach: there ridges may stay, beside walls too. */
  readonly ridged: Region;
}

/** Ridges that the V cutter leaves between its passes on a floor: half as high as a scraper takes off at once. */
export const FLOOR_RIDGE_MM = 0.2;

/** A mill's middle needs a disc of this radius to itself, or it would bore rather than ramp. */
const RAMP_ROOM_MM = 0.25;
/** Passes over the floor may stray this far sideways: they touch no wall. */
export const FLOOR_CHORD_MM = 5e-3;
/** The edge of what the mill covers is known this well. */
const MILLED_EDGE_MM = 2e-2;

/** A larger mill is as good as a smaller one that covers a tenth more: the V cutter does the rest in no time. */
const GOOD_SHARE = 0.9;

/**
 * From one pass of the V cutter to the next, so that ridges are no higher than FLOOR_RIDGE_MM.
 * Where nothing else passes through the middle between the last passes along both sides (the
 * medial axis does on a floor that is all the V cutter's) they stand half as far apart.
 */
export function floorStep(shape: VShape, mill: LoadedCutter | undefined): number {
  const step = shape.tipMm + 2 * FLOOR_RIDGE_MM * slopeOf(shape);
  return mill ? step / 2 : step;
}

/** Who clears which part of the floor. The mill is the largest that covers nearly as much as the best one. */
export function shareFloor(
  floor: Region,
  cutters: readonly LoadedCutter[],
  { depthMm, shape }: { readonly depthMm: number; readonly shape: VShape },
): FloorShare {
  const rough = straighten(floor, FLOOR_CHORD_MM);
  const mills = cutters
    .filter((cutter) => cutter.shape.kind === "end-mill" && cutter.cuttingLengthMm >= depthMm)
    .sort((a, b) => b.shape.diameterMm - a.shape.diameterMm);
  const reached = mills.map((mill) => {
    const milled = coveredBy(mill, rough);
    return { mill, milled, area: regionArea(milled) };
  });
  const most = reached.reduce((area, each) => Math.max(area, each.area), 0);
  const best = reached.find(({ area }) => area > 0 && area >= most * GOOD_SHARE);
  if (!best) return { mill: undefined, milled: EMPTY_REGION, rest: floor, ridged: floor };
  const { mill, milled } = best;
  const step = floorStep(shape, mill);
  // Strips beside the walls no wider than half a pass are cut along with the walls. Where the mill's
  // edge runs along the floor's, a thousand slivers would be left but for the slack.
  const covered = grow(milled, MILLED_EDGE_MM, FLOOR_CHORD_MM);
  const left = grow(inward(subtract(rough, covered), step / 2), step / 2, FLOOR_CHORD_MM);
  return {
    mill,
    milled,
    // The first pass runs along the edge of what the mill covers.
    rest: intersect(grow(straighten(left, FLOOR_CHORD_MM), step, FLOOR_CHORD_MM), rough),
    ridged: subtract(floor, grow(milled, -MILLED_EDGE_MM, FLOOR_CHORD_MM)),
  };
}

/** What a mill's disc covers inside the floor, but for places with too little room to go down a ramp. */
function coveredBy({ shape }: LoadedCutter, floor: Region): Region {
  const middles = partsOf(grow(floor, -shape.diameterMm / 2, FLOOR_CHORD_MM)).filter(
    (part) => grow(part, -RAMP_ROOM_MM, FLOOR_CHORD_MM).rings.length > 0,
  );
  const rings = middles.flatMap((part) => part.rings);
  return grow({ rings }, shape.diameterMm / 2, FLOOR_CHORD_MM);
}

/** Passes that clear a region, one inside another and `stepMm` apart, each list inside the one before. */
export function passesInside(region: Region, stepMm: number): Region[] {
  const passes: Region[] = [];
  let pass = inward(region, stepMm);
  while (pass.rings.length > 0) {
    passes.push(pass);
    pass = inward(pass, stepMm);
  }
  return passes;
}

function inward(region: Region, stepMm: number): Region {
  return straighten(grow(region, -stepMm, FLOOR_CHORD_MM), FLOOR_CHORD_MM / 2);
}
