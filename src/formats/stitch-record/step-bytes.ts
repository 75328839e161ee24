/**
 * One step of the trade's three-byte stitch record (extension .dst): a move in each axis as a sum
 * of the weights 1, 3, 9, 27 and 81 of 0.1 mm, each taken with plus, minus or not at all
 * (balanced ternary), so at most 121 units, 12.1 mm, in each axis. Positive y is away from the
 * person who sews. Bits as in the public technical notes of the record, where (-12, 64) is A8 12 23.
 */
import { InternalError } from "../../base/internal-error.ts";

/** 1 + 3 + 9 + 27 + 81. */
export const LONGEST_STEP = 121;

export type StepKind = "stitch" | "jump" | "stop" | "end";

/** What the third byte says besides the largest weights; its lowest two bits are always set. */
const KIND_BITS: Readonly<Record<StepKind, number>> = { stitch: 0x03, jump: 0x83, stop: 0xc3, end: 0xf3 };

interface Weight {
  readonly weight: number;
  /** Which of the three bytes, and the bit for plus and for minus in each axis. */
  readonly byte: 0 | 1 | 2;
  readonly x: { readonly plus: number; readonly minus: number };
  readonly y: { readonly plus: number; readonly minus: number };
}

const X_LOW = { plus: 0x01, minus: 0x02 };
const X_HIGH = { plus: 0x04, minus: 0x08 };
const Y_HIGH = { plus: 0x20, minus: 0x10 };
const Y_LOW = { plus: 0x80, minus: 0x40 };

const WEIGHTS: readonly Weight[] = [
  { weight: 1, byte: 0, x: X_LOW, y: Y_LOW },
  { weight: 3, byte: 1, x: X_LOW, y: Y_LOW },
  { weight: 9, byte: 0, x: X_HIGH, y: Y_HIGH },
  { weight: 27, byte: 1, x: X_HIGH, y: Y_HIGH },
  { weight: 81, byte: 2, x: X_HIGH, y: Y_HIGH },
];

/**
 * The three bytes of a step of whole units of 0.1 mm.
 *
 * @throws InternalError for a step longer than 121 units in one axis, or not of whole units.
 */
export function stepBytes(dx: number, dy: number, kind: StepKind): readonly [number, number, number] {
  const bytes: [number, number, number] = [0, 0, KIND_BITS[kind]];
  const xDigits = ternaryDigits(dx);
  const yDigits = ternaryDigits(dy);
  for (const [i, { byte, x, y }] of WEIGHTS.entries()) {
    bytes[byte] |= digitBits(xDigits[i] ?? 0, x) | digitBits(yDigits[i] ?? 0, y);
  }
  return bytes;
}

function digitBits(digit: number, bits: { readonly plus: number; readonly minus: number }): number {
  return digit > 0 ? bits.plus : digit < 0 ? bits.minus : 0;
}

/** The five balanced ternary digits, each -1, 0 or 1, the lowest first. */
function ternaryDigits(steps: number): number[] {
  if (!Number.isInteger(steps) || Math.abs(steps) > LONGEST_STEP)
    throw new InternalError(`a stitch record holds no step of ${steps} units`);
  let rest = steps;
  return WEIGHTS.map(() => {
    const digit = rest - 3 * Math.round(rest / 3);
    rest = (rest - digit) / 3;
    return digit;
  });
}
