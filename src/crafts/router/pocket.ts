/**
 * Clearing by one cutter: every piece of its area at all steps down, then its walls, the pieces in
 * a short order. The cutter stays in the wood wherever the straight way lies in cleared ground and
 * is quicker than going up and over.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, chainStart, polyline } from "../../geometry/arc-chain.ts";
import { distance, type Point } from "../../geometry/point.ts";
import { EMPTY_REGION, type Region, subtract, unite } from "../../geometry/region.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import { orderCuts } from "../cut-order.ts";
import { MotionMaker } from "./motion-maker.ts";
import { type PocketJob, PocketPlanner, type PocketRules, type PocketUnit } from "./pocket-units.ts";
import type { GroundSettings } from "./settings.ts";
import { rampTo, type Trail } from "./trail.ts";

export interface Pocket {
  /** Undefined where there is nothing that the cutter can get into. */
  readonly run: ToolRun | undefined;
  /** What it clears of what it was to. */
  readonly done: Region;
  /** The rest: where there is too little room to go down in. */
  readonly skipped: Region;
}

export function clearPocket(job: PocketJob, settings: GroundSettings): Pocket {
  const steps = stepsDown(settings.groundDepthMm, job.cutter.stepDownMm);
  const carver = new PocketCarver(job, settings, steps);
  const units = new PocketPlanner(job, settings, carver).units();
  const skipped = units.map(({ left }) => left).reduce(unite, EMPTY_REGION);
  return {
    run: carver.run(inOrder(units)),
    done: skipped.rings.length > 0 ? subtract(job.cover, skipped) : job.cover,
    skipped,
  };
}

/** Depths of equal steps, each at most `mostMm`, as z. */
export function stepsDown(depthMm: number, mostMm: number): number[] {
  const count = Math.max(1, Math.ceil(depthMm / mostMm - SAME_POINT_MM));
  return Array.from({ length: count }, (_, i) => (-depthMm * (i + 1)) / count);
}

/** Pieces by a short way over their starts. */
function inOrder(units: readonly PocketUnit[]): PocketUnit[] {
  const unitOf = new Map<ArcChain, PocketUnit>();
  for (const unit of units) {
    const first = unit.clearing[0] ?? unit.walls[0];
    if (first) unitOf.set(polyline([chainStart(first.chain)], false), unit);
  }
  const cuts = [...unitOf.keys()].map((chain) => ({ chains: [chain], depth: 0 }));
  return orderCuts(cuts, { x: 0, y: 0 }).flatMap((chain) => unitOf.get(chain) ?? []);
}

/** Where a unit's cutter may go down and over. */
interface Ground {
  readonly clear: (from: Point, to: Point) => boolean;
  readonly cleared: (at: Point) => boolean;
}

class PocketCarver implements PocketRules {
  readonly #job: PocketJob;
  readonly #settings: GroundSettings;
  readonly #steps: readonly number[];
  readonly #rampMm: number;
  readonly longestLinkMm: number;
  #maker: MotionMaker | undefined;

  constructor(job: PocketJob, settings: GroundSettings, steps: readonly number[]) {
    this.#job = job;
    this.#settings = settings;
    this.#steps = steps;
    this.#rampMm = -(steps[0] ?? 0) / Math.tan((settings.rampDeg * Math.PI) / 180);
    this.longestLinkMm = job.cutter.feedMmPerMin * this.#retractMinutes();
  }

  /** Up, and down again: a ramp where nothing was cleared before, else straight. */
  #retractMinutes(): number {
    const { clearanceMm, approachMm, groundDepthMm, machine } = this.#settings;
    const { cutter, cleared } = this.#job;
    const down = cleared.rings.length > 0 ? groundDepthMm : this.#rampMm;
    return (
      (2 * clearanceMm + groundDepthMm - approachMm) / machine.rapidMmPerMin +
      (approachMm + down) / cutter.plungeMmPerMin
    );
  }

  readonly canEnter: PocketRules["canEnter"] = (trail, cleared) =>
    this.#settings.plungeAllowed ||
    cleared(chainStart(trail.chain)) ||
    rampTo(trail, this.#rampMm) !== undefined;

  run(units: readonly PocketUnit[]): ToolRun | undefined {
    for (const unit of units) this.#carve(unit);
    const maker = this.#maker;
    if (!maker) return undefined;
    maker.retract();
    const { cutter, cleared } = this.#job;
    return {
      purpose: cleared.rings.length > 0 ? "clear what larger cutters left" : "clear the ground",
      cutter,
      spindleRpm: cutter.spindleRpm,
      start: maker.start,
      motions: maker.motions,
    };
  }

  #carve({ clearing, walls, clear, clearedBefore, clearedAfter }: PocketUnit): void {
    let above = 0;
    for (const z of this.#steps) {
      for (const trail of clearing) this.#follow(trail, above, z, { clear, cleared: clearedBefore });
      above = z;
    }
    const left = [...walls];
    while (left.length > 0) {
      const trail = left.splice(this.#nearest(left), 1)[0];
      if (!trail) break;
      above = 0;
      for (const z of this.#steps) {
        this.#follow(trail, above, z, { clear, cleared: clearedAfter });
        above = z;
      }
    }
  }

  #nearest(trails: readonly Trail[]): number {
    const at = this.#maker?.at ?? { x: 0, y: 0 };
    let best = 0;
    trails.forEach(({ chain }, i) => {
      const known = trails[best];
      if (known && distance(chainStart(chain), at) < distance(chainStart(known.chain), at)) best = i;
    });
    return best;
  }

  /** Down from `above`, where the step before ended, to `z`, and along the trail. */
  #follow(trail: Trail, above: number, z: number, ground: Ground): void {
    const { feedMmPerMin, plungeMmPerMin } = this.#job.cutter;
    const begun = ground.cleared(chainStart(trail.chain)) ? trail : this.#begunHere(trail, above);
    const start = chainStart(begun.chain);
    const deepEnough = (this.#maker?.at.z ?? 0) <= z && this.#linked(start, ground);
    const straight = this.#settings.plungeAllowed || deepEnough || ground.cleared(start);
    const ramp = straight ? undefined : rampTo(begun, this.#rampMm);
    const from = ramp ? chainStart(ramp) : start;
    const maker = this.#goOver(from, ground);
    if (ramp) {
      maker.lineTo(from.x, from.y, above, plungeMmPerMin);
      maker.follow(ramp, z, plungeMmPerMin);
    } else {
      maker.lineTo(start.x, start.y, z, plungeMmPerMin);
    }
    maker.follow(begun.chain, z, feedMmPerMin);
  }

  /** A ring whose last round ended at its start goes on down from there. */
  #begunHere(trail: Trail, above: number): Trail {
    const { loop, round } = trail;
    const at = this.#maker?.at;
    if (!loop || !round || !at || at.z !== above) return trail;
    const length = loop.ring.nearest(at);
    if (distance(loop.ring.at(length).point, at) > SAME_POINT_MM) return trail;
    const begin = length + this.#rampMm;
    return {
      chain: loop.ring.part(begin, begin + loop.ring.length),
      loop: { ring: loop.ring, at: begin },
      round,
    };
  }

  /** In the cut where that can be and pays, else up, over and down to just above the stock. */
  #goOver(to: Point, ground: Ground): MotionMaker {
    const maker = this.#maker;
    if (!maker) return this.#begin(to);
    const { at } = maker;
    if (distance(at, to) <= SAME_POINT_MM) return maker;
    if (this.#linked(to, ground)) maker.lineTo(to.x, to.y, at.z, this.#job.cutter.feedMmPerMin);
    else maker.rapidOver(to.x, to.y);
    return maker;
  }

  #linked(to: Point, { clear }: Ground): boolean {
    const at = this.#maker?.at;
    if (!at || at.z > 0) return false;
    const apart = distance(at, to);
    return apart <= SAME_POINT_MM || (apart <= this.longestLinkMm && clear(at, to));
  }

  #begin({ x, y }: Point): MotionMaker {
    const { clearanceMm, approachMm } = this.#settings;
    const maker = new MotionMaker(x, y, { clearanceZ: clearanceMm, approachZ: approachMm });
    maker.rapidOver(x, y);
    this.#maker = maker;
    return maker;
  }
}
