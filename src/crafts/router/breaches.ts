/** Where a simulated program does what it must not: counted in full, kept by the worst. */
import type { Measured } from "../../checks/judge.ts";

export interface Breach extends Measured {
  /** Which run and which of its motions, from 0. */
  readonly run: number;
  readonly motion: number;
}

export interface Breaches {
  /** The worst value; null where there is no breach. */
  readonly worst: number | null;
  readonly count: number;
  /** The worst of them, at most MOST_KEPT, in the order of the program. */
  readonly places: readonly Breach[];
}

/** A program that is wrong all over would fill the memory with its places. */
const MOST_KEPT = 100;

export class BreachList {
  #count = 0;
  #worst: number | null = null;
  readonly #places: Breach[] = [];

  add(breach: Breach): void {
    this.#count++;
    if (this.#worst === null || breach.value > this.#worst) this.#worst = breach.value;
    this.#places.push(breach);
    if (this.#places.length <= MOST_KEPT) return;
    let least = 0;
    this.#places.forEach(({ value }, i) => {
      if (value < (this.#places[least]?.value ?? 0)) least = i;
    });
    this.#places.splice(least, 1);
  }

  get breaches(): Breaches {
    return { worst: this.#worst, count: this.#count, places: [...this.#places] };
  }
}
