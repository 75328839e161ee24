/**
 * Chance that is the same everywhere: PCG-XSH-RR, 64 bits of state, 32 bits out (O'Neill, "PCG: A
 * Family of Simple Fast Space-Efficient Statistically Good Algorithms for Random Number
 * Generation", Harvey Mudd College HMC-CS-2014-0905, 2014). The seed is an argument.
 */

const MULTIPLIER = 6364136223846793005n;
const MASK_64 = (1n << 64n) - 1n;
const MASK_32 = (1n << 32n) - 1n;

export class Pcg32 {
  #state: bigint;
  readonly #step: bigint;

  /** Sequences of different streams have nothing in common. */
  constructor(seed: number | bigint, stream: number | bigint = 0) {
    this.#step = ((BigInt(stream) << 1n) | 1n) & MASK_64;
    this.#state = 0n;
    this.next();
    this.#state = (this.#state + BigInt(seed)) & MASK_64;
    this.next();
  }

  /** A whole number from 0 to 2^32 - 1. */
  next(): number {
    const old = this.#state;
    this.#state = (old * MULTIPLIER + this.#step) & MASK_64;
    const mixed = (((old >> 18n) ^ old) >> 27n) & MASK_32;
    const turn = old >> 59n;
    return Number(((mixed >> turn) | (mixed << (-turn & 31n))) & MASK_32);
  }

  /** A whole number from 0 to `count` - 1, each as likely: numbers past the last full round are thrown away. */
  below(count: number): number {
    const past = 2 ** 32 - (2 ** 32 % count);
    for (;;) {
      const drawn = this.next();
      if (drawn < past) return drawn % count;
    }
  }
}
