/**
 * The grid of an RS-274/NGC file. Four decimals, finer than other files have: with three,
 * rounding start, end and centre can part the radii at an arc's two ends by up to 0.0028 mm,
 * more than readers must accept (0.002 mm, NISTIR 6556, section 3.5.3.2); with four, a tenth of it.
 */
import { formatNumber } from "../../base/format-number.ts";
import { InternalError } from "../../base/internal-error.ts";

const DECIMALS = 4;

export const FILE_GRID_MM = 10 ** -DECIMALS;

const PER_MM = 10 ** DECIMALS;

/**
 * `value` in whole steps of the grid, which can be compared exactly.
 *
 * @throws InternalError for NaN and the infinities.
 */
export function toSteps(value: number): number {
  const steps = Math.round(value * PER_MM);
  if (!Number.isSafeInteger(steps)) throw new InternalError(`no place of a file for ${value}`);
  return steps;
}

export function fromSteps(steps: number): number {
  return steps / PER_MM;
}

export function formatSteps(steps: number): string {
  return formatNumber(fromSteps(steps), DECIMALS);
}
