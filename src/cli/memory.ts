/** Whether a design fits into the memory that this process may use. */
import { getHeapStatistics } from "node:v8";
import type { Fault } from "../base/fault.ts";

/** Bytes for each crossing at the peak, measured on plain panels (npm run bench), with a tenth to spare. */
const BYTES_PER_CROSSING = { inspect: 400, convert: 36_000 } as const;

export function memoryFault(
  panel: readonly string[],
  work: keyof typeof BYTES_PER_CROSSING,
): Fault | undefined {
  let crossings = 0;
  for (const row of panel) for (const place of row) if (place === "x") crossings++;
  const needsMb = Math.ceil((crossings * BYTES_PER_CROSSING[work]) / 1e6);
  const hasMb = Math.floor(getHeapStatistics().heap_size_limit / 1e6);
  return needsMb > hasMb ? { code: "too-big-for-memory", crossings, needsMb, hasMb } : undefined;
}
