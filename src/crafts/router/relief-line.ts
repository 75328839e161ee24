/**
 * One finishing line: the heights that a ball's tip follows at one y, over the whole panel. Between
 * pixels the way of the tip is made of arcs that bend downwards, so that a straight move from pixel
 * to pixel would cut below them: steep stretches are looked at again and again in halves, and what
 * is still a jump then becomes an upright step at its lower end.
 */
import type { HeightField } from "../../output/height-field.ts";
import { BallDropper, tipAtPlace } from "./relief-reach.ts";
import type { Height } from "./relief-simplify.ts";

/** A height that the tip follows, and how high it would be if it came down on the stock there. */
export interface TipHeight extends Height {
  readonly touch: number;
}

/** Stretches steeper than this (rise over run) are halved; flatter ones bend by less than a hundredth of a pixel. */
const STEEP = 0.5;

/** A stretch is straight when its middle lies this close to the line between its ends, mm. */
const STRAIGHT_MM = 2e-3;

/** A chord no longer than one that strays this far from an arc of the ball's radius is no jump, mm. */
const CHORD_MM = 1e-3;

/** Up to so many of the stock's columns are looked at one by one. */
const SHORT_COLUMNS = 100;

/** How often a pixel is halved: to a sixteenth, less than what simulation counts as touching. */
const MOST_HALVINGS = 4;

export class FinishingLines {
  readonly #field: HeightField;
  readonly #onSurface: BallDropper;
  readonly #onStock: BallDropper;
  readonly #stock: HeightField;
  readonly #radius: number;

  readonly #clearMm: number;
  readonly #offMm: number;
  /** Squared. */
  readonly #longestChord: number;

  /** The tip keeps `clearMm` away from what it would touch, square to it. */
  constructor(field: HeightField, stock: HeightField, radiusMm: number, clearMm: number) {
    this.#field = field;
    this.#stock = stock;
    this.#clearMm = clearMm;
    this.#radius = radiusMm;
    this.#longestChord = 8 * radiusMm * CHORD_MM;
    this.#onSurface = new BallDropper(field, radiusMm + clearMm);
    // What stands highest in a pixel of the stock may stand this far off its middle.
    this.#offMm = Math.max(0, (stock.stepMm - field.stepMm) * Math.SQRT1_2);
    this.#onStock = new BallDropper(stock, radiusMm + clearMm + this.#offMm);
  }

  /** From left to right, between two pixels' columns (both in it). */
  heightsAt(y: number, first = 0, last = this.#field.columns - 1): Height[] {
    const { stepMm, minX } = this.#field;
    this.#onSurface.moveTo(y);
    const heights: Height[] = [];
    for (let column = first; column <= last; column++) {
      const at = minX + (column + 0.5) * stepMm;
      const height = { at, z: this.#onSurface.tipAt(at) + this.#clearMm };
      const before = heights.at(-1);
      if (before) this.#between(before, height, heights, MOST_HALVINGS);
      heights.push(height);
    }
    return heights;
  }

  /**
   * With how high the ball would lie on what stands there now: at most as high as over the higher of
   * the two pixels of the stock round a place.
   */
  touching(heights: readonly Height[], y: number): TipHeight[] {
    const [first] = heights;
    const last = heights.at(-1);
    if (!first || !last) return [];
    const { columns, stepMm, minX } = this.#stock;
    const placeOf = (x: number) => Math.min(columns - 1, Math.max(0, (x - minX) / stepMm - 0.5));
    const from = Math.floor(Math.min(placeOf(first.at), placeOf(last.at)));
    const to = Math.ceil(Math.max(placeOf(first.at), placeOf(last.at)));
    const tip = to - from < SHORT_COLUMNS ? this.#tipOnStock(y) : this.#tipAlongStock(y);
    const tips = Float64Array.from({ length: to - from + 1 }, (_, i) =>
      tip(minX + (from + i + 0.5) * stepMm),
    );
    return heights.map(({ at, z }) => {
      const place = placeOf(at) - from;
      const touch = Math.max(tips[Math.floor(place)] ?? 0, tips[Math.ceil(place)] ?? 0);
      return { at, z, touch: touch + this.#clearMm + this.#offMm };
    });
  }

  /** For a few places it does not pay to make the whole line ready. */
  #tipOnStock(y: number): (x: number) => number {
    return (x) => tipAtPlace(this.#stock, this.#radius + this.#clearMm + this.#offMm, x, y);
  }

  #tipAlongStock(y: number): (x: number) => number {
    this.#onStock.moveTo(y);
    return (x) => this.#onStock.tipAt(x);
  }

  /** Takes from the stock what a ball takes that has been at these heights. */
  carve(heights: readonly Height[], y: number): void {
    const { stepMm, minX } = this.#stock;
    let column = Number.NaN;
    let lowest: Height | undefined;
    for (const height of heights) {
      const here = Math.floor((height.at - minX) / stepMm);
      if (here === column && lowest) {
        if (height.z < lowest.z) lowest = height;
        continue;
      }
      if (lowest) this.#carveAt(lowest, y);
      column = here;
      lowest = height;
    }
    if (lowest) this.#carveAt(lowest, y);
  }

  /** The stock's pixels stay as high as the highest place that the ball leaves anywhere in them. */
  #carveAt({ at, z: tip }: Height, y: number): void {
    const { columns, rows, stepMm, minX, minY, z } = this.#stock;
    const r = this.#radius;
    const across = (at - minX) / stepMm - 0.5;
    const up = (y - minY) / stepMm - 0.5;
    const reach = r / stepMm - Math.SQRT1_2;
    for (let row = Math.max(0, Math.ceil(up - reach)); row <= Math.min(rows - 1, up + reach); row++) {
      const chord = Math.sqrt(reach * reach - (row - up) ** 2);
      const last = Math.min(columns - 1, Math.floor(across + chord));
      for (let column = Math.max(0, Math.ceil(across - chord)); column <= last; column++) {
        const i = row * columns + column;
        const standing = z[i] ?? 0;
        if (standing <= tip) continue;
        const away = (Math.sqrt((row - up) ** 2 + (column - across) ** 2) + Math.SQRT1_2) * stepMm;
        const left = tip + r - Math.sqrt(Math.max(0, r * r - away * away));
        if (left < standing) z[i] = left;
      }
    }
  }

  /** The height at every so many columns of the field, from the first one on. */
  probe(y: number, columns: number): Float64Array {
    const { stepMm, minX } = this.#field;
    this.#onSurface.moveTo(y);
    return Float64Array.from(
      { length: Math.ceil(this.#field.columns / columns) },
      (_, i) => this.#onSurface.tipAt(minX + (i * columns + 0.5) * stepMm) + this.#clearMm,
    );
  }

  /** Adds what lies between two heights, their own excluded. */
  #between(from: Height, to: Height, into: Height[], halvings: number, seemed = false): void {
    const rise = to.z - from.z;
    if (Math.abs(rise) < STEEP * (to.at - from.at)) return;
    const at = (from.at + to.at) / 2;
    const z = this.#onSurface.tipAt(at) + this.#clearMm;
    const off = Math.abs(z - (from.z + to.z) / 2);
    if (halvings === 0) {
      // A short piece of an arc is as good as straight; a jump has its middle at the height of an end.
      if (rise * rise <= this.#longestChord && off < Math.abs(rise) / 4) return;
      const step = rise > 0 ? from.at : to.at;
      into.push({ at: step, z: Math.max(from.z, to.z) });
      return;
    }
    const middle = { at, z };
    // One middle may lie on the line by chance.
    const straight = off < STRAIGHT_MM;
    if (straight && (seemed || rise * rise <= this.#longestChord)) {
      into.push(middle);
      return;
    }
    this.#between(from, middle, into, halvings - 1, straight);
    into.push(middle);
    this.#between(middle, to, into, halvings - 1, straight);
  }
}
