/**
 * The trial of a program before anything of it is written: the motions that a machine will read
 * are swept through the board, and the surface that comes out is held against what was intended.
 */
import type { CheckResult } from "../../checks/check.ts";
import { EMPTY_REGION, insideOf } from "../../geometry/region.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import type { CarvePlan } from "./carve-work.ts";
import { type Comparison, compareWithLimits } from "./compare.ts";
import { LimitMaker } from "./limits.ts";
import { REGION_CHORD_MM, type RouterPanel } from "./router-panel.ts";
import type { RouterSettings } from "./settings.ts";
import { type RunMeasures, simulate } from "./simulate.ts";
import { simulationChecks } from "./simulation-checks.ts";
import { workBounds, workEnvelope } from "./tool-program.ts";

export interface Trial {
  readonly field: HeightField;
  readonly compared: Comparison;
  readonly perRun: readonly RunMeasures[];
  readonly checks: readonly CheckResult[];
}

/** @param runs as the machine file says them, moved back to the panel's own corner */
export function tryOut(
  runs: readonly Pick<ToolRun, "cutter" | "start" | "motions">[],
  plan: CarvePlan,
  panel: RouterPanel,
  settings: RouterSettings,
): Trial {
  const simulated = simulate(runs, {
    box: workBounds(panel, settings),
    thicknessMm: settings.stockThicknessMm,
    pixelMm: settings.pixelMm,
    envelope: workEnvelope(panel, settings),
    stepDownMm: new Map(settings.cutters.map(({ number, stepDownMm }) => [number, stepDownMm])),
  });
  const { field, perRun } = simulated;
  const compared = compareWithLimits(field, plan.limits(field));
  const keep = new LimitMaker(field, settings.toleranceMm);
  // The panel is cut out just outside of it.
  keep.keep(
    insideOf(panel.outline, REGION_CHORD_MM),
    settings.keepBelowMm - settings.stockThicknessMm,
    EMPTY_REGION,
  );
  const kept = compareWithLimits(field, keep.limits);
  return { field, compared, perRun, checks: simulationChecks({ simulated, compared, kept }, settings) };
}
