import { InternalError } from "./internal-error.ts";

/**
 * The one number printer: `value` rounded to `decimals` places, trailing zeros dropped.
 * Never an exponent, never `-0`.
 *
 * @throws InternalError for NaN and the infinities: no file may hold one.
 */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new InternalError(`cannot print the number ${value}`);
  // toFixed switches to exponents from 1e21 on; BigInt prints whole numbers of any size in full.
  const fixed = Math.abs(value) >= 1e21 ? BigInt(value).toString() : value.toFixed(decimals);
  const short = fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
  return short === "-0" || short === "" ? "0" : short;
}

/** Millimetres for people: two decimals at most, with the unit. */
export function formatMm(value: number): string {
  return `${formatNumber(value, 2)} mm`;
}

/** `value` moved up to the next multiple of 10^-decimals, so that a "least" stays one when printed. */
export function roundUp(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.ceil(value * scale - 1e-9) / scale;
}

/** `value` moved down to the next multiple of 10^-decimals, so that a "greatest" stays one when printed. */
export function roundDown(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.floor(value * scale + 1e-9) / scale;
}
