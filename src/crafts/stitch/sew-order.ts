/**
 * A sewing order as stitches.
 *
 * Satin: the needle goes in at the left and the right end of each rung in turn, so every rung is
 * a line of thread, and the line back to the next rung crosses the ribbon too: one hole for each
 * edge and rung, two lines of thread for each spacing. The lines of wide columns are divided, and
 * the places where they are divided shift from line to line, so that no row of holes shows.
 *
 * Ties: a few short stitches to and fro, at the beginning beneath a cover to come, at the end
 * along the last rung.
 */

import { strandName } from "../../diagram/strands.ts";
import {
  along,
  between,
  distance,
  minus,
  type Point,
  unit as unitVector,
  type Vec,
} from "../../geometry/point.ts";
import {
  JUMP,
  StitchMaker,
  type StitchRole,
  type Thread,
  type ThreadBlock,
  TRIM,
} from "../../output/stitches.ts";
import { strandColour } from "../strand-colours.ts";
import { Needle } from "./needle.ts";
import type { SatinSettings } from "./settings.ts";
import type { OrderBlock, SewingOrder, SewStep } from "./sewing-order.ts";
import { underlayLines } from "./underlay.ts";
import { UnitLines } from "./unit-lines.ts";
import { farPort, isBeneath, type Port, type SewUnit, unitAt } from "./units.ts";

export function sewOrder(order: SewingOrder, settings: SatinSettings): ThreadBlock[] {
  const lines = new UnitLines(order.units);
  const colours = [...new Set(order.blocks.map(({ colour }) => colour))].sort((a, b) => a - b);
  return order.blocks.map((block) => {
    const maker = new StitchMaker();
    const seamstress = new Seamstress(lines, settings, maker);
    for (const [i, step] of block.steps.entries()) seamstress.sew(step, block.steps[i + 1], i === 0);
    return maker.made(threadOf(block, colours.indexOf(block.colour) + 1, settings));
  });
}

function threadOf({ colour, strands }: OrderBlock, number: number, settings: SatinSettings): Thread {
  const names = strands.map(strandName).join(", ");
  const all = settings.colours === "one" || strands.length > MOST_NAMED;
  return {
    name: all ? `thread ${number}` : `thread ${number}, strand${strands.length === 1 ? "" : "s"} ${names}`,
    colour: strandColour(colour),
    tex: settings.threadTex,
    widthMm: settings.threadWidthMm,
  };
}

/** With more strands than this a list of their names tells nobody anything. */
const MOST_NAMED = 6;

class Seamstress {
  readonly #lines: UnitLines;
  readonly #settings: SatinSettings;
  readonly #needle: Needle;
  /** Along the rung that was sewn last, from its end where the needle is. */
  #acrossLast: Vec = { x: 1, y: 0 };

  constructor(lines: UnitLines, settings: SatinSettings, maker: StitchMaker) {
    this.#lines = lines;
    this.#settings = settings;
    this.#needle = new Needle(maker, settings);
  }

  sew(step: SewStep, next: SewStep | undefined, isFirst: boolean): void {
    switch (step.kind) {
      case "begin":
        this.#needle.moveTo(this.#lines.portPoint(step.unit, step.at), isFirst ? JUMP : TRIM);
        this.#tie(this.#inward(step.unit, step.at));
        return;
      case "pass":
        for (const points of this.#lines.passLines(step.unit, step.from, step.to))
          this.#needle.run({ points, stitchMm: this.#settings.runStitchMm, role: "travel" });
        return;
      case "underlay":
        for (const line of underlayLines(
          this.#lines,
          unitAt(this.#lines.units, step.unit),
          step.from,
          this.#settings,
        ))
          this.#needle.run(line);
        return;
      case "cover":
        this.#cover(step.unit, step.to);
        if (next?.kind === "pass" || next?.kind === "underlay") this.#crossSeam(step.unit, step.to);
        return;
      case "end":
        this.#tie(this.#acrossLast);
    }
  }

  /** From a port to the unit's middle. */
  #inward(number: number, port: Port): Vec {
    const unit = unitAt(this.#lines.units, number);
    const from = this.#lines.portPoint(number, port);
    const rung = port < 2 ? Math.round((unit.first + unit.last) / 2) : this.#lines.portRung(number, port);
    return unitVector(minus(this.#lines.centre(unit, rung), from));
  }

  #tie(direction: Vec): void {
    const { tieStitches, tieStitchMm } = this.#settings;
    const from = this.#needle.at;
    const to = along(from, direction, tieStitchMm);
    for (let i = 0; i < tieStitches; i++) this.#needle.stitchTo(i % 2 === 0 ? to : from, "tie");
  }

  #cover(number: number, to: Port): void {
    const unit = unitAt(this.#lines.units, number);
    if (this.#lines.isBean(unit)) {
      this.#beanCover(unit, to);
      return;
    }
    for (const rungNumber of this.#lines.rungNumbers(unit, farPort(to))) {
      const { left, right } = this.#lines.rung(unit, rungNumber);
      const [start, end] = to === 1 ? [left, right] : [right, left];
      if (this.#needle.isRunning) {
        this.#needle.run({ points: [start], stitchMm: this.#settings.greatestStitchMm, role: "cover" });
        this.#needle.finishRun();
      } else if (!this.#isTooNear(start, end)) {
        this.#line(start, 2 * rungNumber + (to === 1 ? 0 : 2), to === 1 ? "right" : "left");
      }
      this.#line(end, 2 * rungNumber + 1, to === 1 ? "left" : "right");
      this.#acrossLast = unitVector(minus(start, end));
    }
  }

  /** Each stitch on, back and on again. */
  #beanCover(unit: SewUnit, to: Port): void {
    const holes = this.#lines
      .rungNumbers(unit, farPort(to))
      .map((number) => this.#lines.centre(unit, number));
    for (const [i, hole] of holes.entries()) {
      const before = holes[i - 1];
      if (!before) {
        this.#needle.run({ points: [hole], stitchMm: this.#settings.runStitchMm, role: "cover" });
        this.#needle.finishRun();
        continue;
      }
      for (const point of [hole, before, hole]) this.#needle.stitchTo(point, "cover");
      this.#acrossLast = unitVector(minus(before, hole));
    }
  }

  /**
   * The needle must go on beneath the neighbour's cover to come: there by the satin's own line, for
   * from the last rung's end it would lie on top for a thread's width.
   */
  #crossSeam(number: number, port: Port): void {
    const unit = unitAt(this.#lines.units, number);
    const joint = unit.joints[port];
    if (!joint || isBeneath(joint) || this.#lines.isBean(unit)) return;
    const beyond = port === 1 ? unit.last + 1 : unit.first - 1;
    const { left, right } = this.#lines.rung(unit, beyond);
    if (port === 1) this.#line(left, 2 * unit.last + 2, "right");
    else this.#line(right, 2 * unit.first, "left");
  }

  /** At the tip of a mitre two rungs begin at one place: the second is sewn from the hole of the first. */
  #isTooNear(start: Point, end: Point): boolean {
    const { leastStitchMm } = this.#settings;
    return (
      distance(this.#needle.at, start) < leastStitchMm && distance(this.#needle.at, end) >= leastStitchMm
    );
  }

  /** One line of satin, divided where it is too long; `number` counts lines along the column. */
  #line(to: Point, number: number, from: "left" | "right"): void {
    const start = this.#needle.at;
    for (const share of divisions(distance(start, to), number, from, this.#settings))
      this.#needle.stitchTo(between(start, to, share), "cover");
    this.#needle.stitchTo(to, "cover" satisfies StitchRole);
  }
}

/** Where the divisions of lines 0, 1, 2, 3, 4 … lie, as shares of the room that they have: no two neighbours alike. */
const SHIFTS = [0.125, 0.625, 0.375, 0.875];

/** Shares of a satin line's length at which it is divided. */
function divisions(
  lengthMm: number,
  number: number,
  from: "left" | "right",
  { splitMm, greatestStitchMm, leastStitchMm }: SatinSettings,
): number[] {
  const longest = Math.min(splitMm, greatestStitchMm);
  if (lengthMm <= longest) return [];
  const count = lengthMm <= 1.5 * longest ? 1 : Math.ceil(lengthMm / longest);
  const piece = lengthMm / count;
  // Neither end piece may be shorter than the least nor longer than the longest.
  const least = Math.max(leastStitchMm, piece - longest, 0);
  const room = piece - 2 * Math.min(least, piece / 2);
  const shift = Math.min(least, piece / 2) + room * (SHIFTS[number % SHIFTS.length] ?? 0.5);
  const shares = Array.from({ length: count }, (_, i) => (shift + i * piece) / lengthMm);
  return from === "left" ? shares : shares.map((share) => 1 - share).reverse();
}
