/** A cleared ground from its rules to its cuts. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { insideOf, intersect, regionArea, subtract } from "../../geometry/region.ts";
import type { CarvePlan, Carving } from "./carve-work.ts";
import { groundRegion } from "./ground.ts";
import { checkGround } from "./ground-checks.ts";
import { groundRuns } from "./ground-paths.ts";
import { LimitMaker } from "./limits.ts";
import { cutOutTabs } from "./panel-cut.ts";
import { planReach, type ReachPlan } from "./reach.ts";
import { REGION_CHORD_MM, type RouterPanel } from "./router-panel.ts";
import type { GroundSettings } from "./settings.ts";

export function groundCarving(panel: RouterPanel, settings: GroundSettings): Carving {
  const reach = planReach(groundRegion(panel, settings), settings.cutters, settings.cornerLeftMm);
  return {
    panel,
    settings,
    checks: checkGround(panel, reach, settings),
    plan: () => planned(panel, reach, settings),
  };
}

function planned(panel: RouterPanel, reach: ReachPlan, settings: GroundSettings): CarvePlan {
  const inside = insideOf(panel.outline, REGION_CHORD_MM);
  const cleared = subtract(subtract(reach.ground, reach.uncut), reach.corners);
  return {
    runs: groundRuns(panel, reach, settings),
    limits: (grid) => {
      const maker = new LimitMaker(grid, settings.toleranceMm);
      const onPanel = intersect(inside, cleared);
      maker.clear(onPanel, -settings.groundDepthMm);
      // No lower than the ground anywhere on the panel, and nothing at all off what stands.
      maker.stand(inside, -settings.groundDepthMm);
      maker.stand(subtract(inside, reach.ground), 0);
      return maker.limits;
    },
    tabs: cutOutTabs(panel, settings),
    cleared: intersect(inside, reach.ground),
    grooves: [],
    uncut: reach.uncut,
    facts: [
      ...reach.steps.map(
        ({ cutter, region }) =>
          `${cutter.name} (${formatMm(cutter.shape.diameterMm)}) covers ${formatNumber(regionArea(region) / 100, 1)} cm² of ${formatNumber(regionArea(reach.ground) / 100, 1)} cm²`,
      ),
    ],
  };
}
