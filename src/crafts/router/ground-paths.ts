/** All that the router does for a cleared ground: one run for each cutter, at last the panel cut out. */
import { EMPTY_REGION, intersect, regionArea, unite } from "../../geometry/region.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import { cutOutRuns } from "./panel-cut.ts";
import { clearPocket } from "./pocket.ts";
import type { ReachPlan } from "./reach.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { GroundSettings } from "./settings.ts";

/**
 * The runs in working order. What a cutter finds no room to go down in is left to the next one;
 * what is left after the last is missing from the carved ground, where the simulation sees it.
 */
export function groundRuns(panel: RouterPanel, plan: ReachPlan, settings: GroundSettings): ToolRun[] {
  const runs: ToolRun[] = [];
  let cleared = EMPTY_REGION;
  let passedOn = EMPTY_REGION;
  for (const { cutter, region, allowed } of plan.steps) {
    const cover = regionArea(passedOn) > 0 ? unite(region, intersect(passedOn, allowed)) : region;
    const { run, done, skipped } = clearPocket({ cutter, ground: plan.ground, cover, cleared }, settings);
    if (run) runs.push(run);
    cleared = unite(cleared, done);
    passedOn = skipped;
  }
  return [...runs, ...cutOutRuns(panel, settings)];
}
