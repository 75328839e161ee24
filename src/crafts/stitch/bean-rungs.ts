/**
 * A column too narrow for satin is a line. So that it is cut into units like any other, it gets
 * rungs without width: the places where the needle goes in. Where a patch begins or ends there
 * are two in one place, the last of one unit and the first of the next.
 */
import type { Rung, SatinColumn } from "./column.ts";
import { placeOn, ruleChain } from "./ruled-chain.ts";
import type { SatinSettings } from "./settings.ts";

type BeanSettings = Pick<SatinSettings, "runStitchMm" | "leastStitchMm">;

/** The column itself, unless it is a bean line. */
export function withBeanRungs(column: SatinColumn, settings: BeanSettings): SatinColumn {
  if (column.line !== "bean") return column;
  const ruled = ruleChain(column.centreline);
  const bounds = [0, ...column.over.flatMap(({ fromMm, toMm }) => [fromMm, toMm]), ruled.lengthMm];
  const rungs: Rung[] = [];
  for (const [i, from] of bounds.slice(0, -1).entries()) {
    const length = Math.max(0, (bounds[i + 1] ?? from) - from);
    const wanted = Math.ceil(length / settings.runStitchMm);
    const count = Math.max(1, Math.min(wanted, Math.floor(length / settings.leastStitchMm)));
    for (let k = 0; k <= count; k++) {
      const alongMm = from + (k * length) / count;
      const { point } = placeOn(ruled, alongMm);
      rungs.push({ left: point, right: point, alongMm });
    }
  }
  return { ...column, rungs };
}
