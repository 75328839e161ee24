/**
 * The Jones polynomial of a small link, by Kauffman's bracket (State models and the Jones
 * polynomial, Topology 26, 1987): every crossing is opened in both ways, and each of the 2^n
 * states weighs A^(openings of the one kind - the other) (-A^2 - A^-2)^(closed curves - 1).
 * Then V(t) = (-A^3)^(-writhe) <D> with t = A^-4; the right-handed trefoil has t + t^3 - t^4.
 */
import { InternalError } from "../base/internal-error.ts";
import type { Wired } from "./untwist.ts";

export interface JonesPolynomial {
  /** The lowest power of t: whole for an odd number of strands, else a whole number and a half. */
  readonly lowestPower: number;
  /** From the lowest power up, in steps of 1. The first and the last are not 0. */
  readonly coefficients: readonly number[];
}

/** 4096 states; each more doubles the work. */
export const MOST_JONES_CROSSINGS = 12;

/**
 * Of a connected diagram of at most {@link MOST_JONES_CROSSINGS} crossings; none is one closed
 * strand. Strands run as in the planar diagram code. Turning single strands of a link round
 * moves all powers by the same amount, the coefficients stay.
 */
export function jonesPolynomial(link: Wired): JonesPolynomial {
  const crossings = link.over.length;
  if (crossings > MOST_JONES_CROSSINGS) throw new InternalError(`${crossings} crossings are too many`);
  if (crossings === 0) return { lowestPower: 0, coefficients: [1] };
  const writhe = writheOf(link);
  const ofA = bracket(link);
  // t^p is A^(-4 p), so the highest power of A is the lowest of t.
  const powers = [...ofA].filter(([, value]) => value !== 0).map(([power]) => power);
  const highest = Math.max(...powers);
  const sign = writhe % 2 === 0 ? 1 : -1;
  const coefficients: number[] = [];
  for (let power = highest; power >= Math.min(...powers); power -= 4)
    coefficients.push(sign * (ofA.get(power) ?? 0) + 0);
  return { lowestPower: (3 * writhe - highest) / 4 + 0, coefficients };
}

/** Powers of A with their coefficients. */
function bracket(link: Wired): Map<number, number> {
  const crossings = link.over.length;
  const sum = new Map<number, number>();
  for (const { openings, curves, count } of countStates(link)) {
    // (-A^2 - A^-2)^k = (-1)^k sum of binomial(k, i) A^(2 k - 4 i).
    const k = curves - 1;
    let term = count * (k % 2 === 0 ? 1 : -1);
    for (let i = 0; i <= k; i++) {
      const power = 2 * openings - crossings + 2 * k - 4 * i;
      sum.set(power, (sum.get(power) ?? 0) + term);
      term = (term * (k - i)) / (i + 1);
    }
  }
  return sum;
}

interface StateCount {
  /** Crossings opened in the way that A weighs, and the closed curves that come about. */
  readonly openings: number;
  readonly curves: number;
  count: number;
}

function countStates({ twin, over }: Wired): Iterable<StateCount> {
  const crossings = over.length;
  const counts = new Map<number, StateCount>();
  const mate = new Int32Array(twin.length);
  for (let state = 0; state < 2 ** crossings; state++) {
    let openings = 0;
    for (let crossing = 0; crossing < crossings; crossing++) {
      const bit = (state >> crossing) & 1;
      openings += bit;
      openCrossing(mate, crossing, bit === over[crossing] ? 1 : 3);
    }
    const curves = closedCurves(twin, mate);
    const key = curves * (crossings + 1) + openings;
    const counted = counts.get(key) ?? { openings, curves, count: 0 };
    counted.count++;
    counts.set(key, counted);
  }
  return counts.values();
}

/**
 * Joins slots 0 and 2 each with the next slot (`step` 1) or the one before (3). The A-opening
 * joins the faces that the over-strand sweeps when turned counter-clockwise: step 3 where the
 * strand of slots 0 and 2 lies over.
 */
function openCrossing(mate: Int32Array, crossing: number, step: 1 | 3): void {
  for (const slot of [0, 2]) {
    const other = (slot + step) & 3;
    mate[4 * crossing + slot] = 4 * crossing + other;
    mate[4 * crossing + other] = 4 * crossing + slot;
  }
}

function closedCurves(twin: Int32Array, mate: Int32Array): number {
  const seen = new Uint8Array(twin.length);
  let curves = 0;
  for (let start = 0; start < twin.length; start++) {
    if (seen[start] === 1) continue;
    curves++;
    for (let at = start; seen[at] === 0; at = mate[twin[at] ?? -1] ?? -1) {
      seen[at] = 1;
      seen[twin[at] ?? -1] = 1;
    }
  }
  return curves;
}

/** The sum of the crossings' signs, +1 where the over-strand turns counter-clockwise onto the under-strand. */
function writheOf({ twin, over }: Wired): number {
  /** Whether the strand leaves by the half-edge. */
  const leaves = new Int8Array(twin.length).fill(-1);
  for (let start = 0; start < twin.length; start++) {
    for (let at = start; leaves[at] === -1; at = (twin[at] ?? -1) ^ 2) {
      leaves[at] = 1;
      leaves[twin[at] ?? -1] = 0;
    }
  }
  let writhe = 0;
  for (const [crossing, upper] of over.entries()) {
    const out = (slot: number) => (leaves[4 * crossing + slot] === 1 ? slot : slot ^ 2);
    const turn = (out(1 - upper) - out(upper) + 4) & 3;
    writhe += turn === 1 ? 1 : -1;
  }
  return writhe;
}
