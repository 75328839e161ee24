/**
 * The stock after a program: every motion's exact sweep taken from a height field, and what each
 * motion does that it must not. Heights hold at the middles of pixels; what is narrower than a
 * pixel may go unseen.
 */
import { InternalError } from "../../base/internal-error.ts";
import { OUTPUT_GRID_MM } from "../../base/tolerance.ts";
import type { Bounds } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { Cutter, Envelope, Motion, Place3, ToolRun } from "../../output/toolpath.ts";
import { type Breach, type Breaches, BreachList } from "./breaches.ts";
import { pixelMiddle } from "./raster.ts";
import { sweepArc, turnBox, turnOf } from "./sweep-arc.ts";
import { stampCutter, sweepLine } from "./sweep-line.ts";
import {
  type CutterProfile,
  profileOf,
  rawStock,
  solidShare,
  TOUCH_MM,
  type Workpiece,
} from "./workpiece.ts";

/** Motions in the panel's own coordinates: what a machine file says is moved back from its origin first. */
export type SimulatedRun = Pick<ToolRun, "cutter" | "start" | "motions">;

export interface Stock {
  /** What the field covers: the panel and the margin round it that cutters get to. */
  readonly box: Bounds;
  readonly thicknessMm: number;
  readonly pixelMm: number;
  readonly envelope: Envelope;
  /** The most that a cutter, by its number, may take down in one pass. */
  readonly stepDownMm: ReadonlyMap<number, number>;
}

export interface RunMeasures {
  readonly cutter: Cutter;
  readonly motions: number;
  /** Taken from the stock; what is cut from the board below it does not count. */
  readonly removedMm3: number;
  /** The most taken off any place in one motion. */
  readonly deepestPassMm: number;
  /** The lowest that the cutter gets. */
  readonly lowestZ: number;
}

export interface Simulated {
  readonly field: HeightField;
  readonly removedMm3: number;
  readonly perRun: readonly RunMeasures[];
  readonly breaches: {
    /** By the mm that a rapid motion took off. */
    readonly rapidThroughStock: Breaches;
    /** By the mm that a motion straight down took off where (nearly) all below the cutter was solid. */
    readonly plungeIntoSolid: Breaches;
    /** By the mm that a motion took off beyond its cutter's step. */
    readonly tooDeepPass: Breaches;
    /** By the mm that the cutter's lowest point got outside. */
    readonly outsideEnvelope: Breaches;
  };
}

/** A motion that goes sideways by less than this share of what it goes down is a plunge. */
const PLUNGE_SHARE = 0.1;

/** Below a plunging cutter more than this share must be cut already: a mill does not cut at its middle. */
const SOLID_SHARE = 0.9;

export function simulate(runs: readonly SimulatedRun[], stock: Stock): Simulated {
  const watch = new Watch(stock);
  let left = solidMm3(watch.work.field, stock.thicknessMm);
  const whole = left;
  const perRun = runs.map((run, index): RunMeasures => {
    const measures = watch.follow(run, index);
    const before = left;
    left = solidMm3(watch.work.field, stock.thicknessMm);
    return { cutter: run.cutter, motions: run.motions.length, removedMm3: before - left, ...measures };
  });
  return { field: watch.work.field, removedMm3: whole - left, perRun, breaches: watch.breaches };
}

/** What is solid between the lower face and the field. */
function solidMm3({ z, stepMm }: HeightField, thicknessMm: number): number {
  let sum = 0;
  for (let i = 0; i < z.length; i++) sum += Math.max(0, thicknessMm + (z[i] ?? 0));
  return sum * stepMm * stepMm;
}

type Where = Pick<Breach, "run" | "motion">;

/** Cuts, and looks at what every motion took. */
class Watch {
  readonly work: Workpiece;
  readonly #stock: Stock;
  readonly #rapids = new BreachList();
  readonly #plunges = new BreachList();
  readonly #passes = new BreachList();
  readonly #strays = new BreachList();

  constructor(stock: Stock) {
    this.#stock = stock;
    this.work = rawStock(stock.box, stock.pixelMm);
  }

  get breaches(): Simulated["breaches"] {
    return {
      rapidThroughStock: this.#rapids.breaches,
      plungeIntoSolid: this.#plunges.breaches,
      tooDeepPass: this.#passes.breaches,
      outsideEnvelope: this.#strays.breaches,
    };
  }

  follow(
    { cutter, start, motions }: SimulatedRun,
    run: number,
  ): Pick<RunMeasures, "deepestPassMm" | "lowestZ"> {
    const profile = profileOf(cutter.shape);
    const stepDown = this.#stock.stepDownMm.get(cutter.number);
    if (stepDown === undefined) throw new InternalError(`no step for cutter ${cutter.number}`);
    let deepestPassMm = 0;
    let lowestZ = start.z;
    // Sweeps leave out where they start: it has been cut by the motion before, or here.
    this.work.bite = 0;
    stampCutter(this.work, profile, start);
    this.#judgeRapid({ run, motion: 0 });
    this.#judgePlace(start, start, { run, motion: 0 });
    let from = start;
    motions.forEach((motion, index) => {
      const solid = isPlunge(from, motion) && solidShare(this.work, profile, motion) >= SOLID_SHARE;
      this.work.bite = 0;
      sweepMotion(this.work, profile, from, motion);
      const { bite } = this.work;
      const where = { run, motion: index };
      if (motion.kind === "rapid") this.#judgeRapid(where);
      if (solid && bite > TOUCH_MM) this.#plunges.add({ at: this.#biteAt(), value: bite, ...where });
      if (bite > stepDown + TOUCH_MM)
        this.#passes.add({ at: this.#biteAt(), value: bite - stepDown, ...where });
      this.#judgePlace(from, motion, where);
      if (bite > deepestPassMm) deepestPassMm = bite;
      if (motion.z < lowestZ) lowestZ = motion.z;
      from = motion;
    });
    return { deepestPassMm, lowestZ };
  }

  #judgeRapid(where: Where): void {
    const { bite } = this.work;
    if (bite > TOUCH_MM) this.#rapids.add({ at: this.#biteAt(), value: bite, ...where });
  }

  #judgePlace(from: Place3, motion: Place3 | Motion, where: Where): void {
    const out = strayOf(from, motion, this.#stock.envelope);
    if (out > OUTPUT_GRID_MM) this.#strays.add({ at: { x: motion.x, y: motion.y }, value: out, ...where });
  }

  #biteAt(): Point {
    return pixelMiddle(this.work.field, this.work.biteAt);
  }
}

/** How far a motion gets outside the envelope; negative inside. */
function strayOf(from: Place3, motion: Place3 | Motion, { min, max }: Envelope): number {
  const { x, y, z } = motion;
  const out = Math.max(min.x - x, x - max.x, min.y - y, y - max.y, min.z - z, z - max.z);
  if (!("kind" in motion && motion.kind === "arc")) return out;
  const box = turnBox({
    turn: turnOf(from, motion),
    x: motion.centreX,
    y: motion.centreY,
    from,
    to: motion,
  });
  return Math.max(out, min.x - box.minX, box.maxX - max.x, min.y - box.minY, box.maxY - max.y);
}

function isPlunge(from: Place3, motion: Motion): boolean {
  if (motion.kind !== "line" || motion.z >= from.z) return false;
  return Math.hypot(motion.x - from.x, motion.y - from.y) < PLUNGE_SHARE * (from.z - motion.z);
}

function sweepMotion(work: Workpiece, profile: CutterProfile, from: Place3, motion: Motion): void {
  if (motion.kind === "arc") sweepArc(work, profile, from, motion);
  else sweepLine(work, profile, from, motion);
}
