/** Grooves of a V cutter from their rules to their cuts. */
import { formatMm } from "../../base/format-number.ts";
import { InternalError } from "../../base/internal-error.ts";
import { polyline } from "../../geometry/arc-chain.ts";
import { EMPTY_REGION } from "../../geometry/region.ts";
import type { CarvePlan, Carving } from "./carve-work.ts";
import { checkGroove } from "./groove-checks.ts";
import { intendedGroove } from "./groove-limits.ts";
import { grooveLines } from "./groove-lines.ts";
import { type GroovePlan, planGroove } from "./groove-plan.ts";
import { grooveRuns } from "./groove-runs.ts";
import { checkPanel } from "./panel-checks.ts";
import { cutOutRuns, cutOutTabs } from "./panel-cut.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { GrooveSettings } from "./settings.ts";

export function grooveCarving(panel: RouterPanel, settings: GrooveSettings): Carving {
  const plan = planGroove(panel, settings);
  return {
    panel,
    settings,
    checks: [
      ...checkGroove(settings, plan),
      ...checkPanel(panel, settings, {
        used: [],
        depthMm: plan?.limitDepthMm ?? 0,
        depthKey: "deepestMm",
      }),
    ],
    plan: () => {
      // Without a V cutter the profile was refused.
      if (!plan) throw new InternalError("grooves without a V cutter");
      return planned(panel, plan, settings);
    },
  };
}

function planned(panel: RouterPanel, plan: GroovePlan, settings: GrooveSettings): CarvePlan {
  return {
    runs: [...grooveRuns(plan), ...cutOutRuns(panel, settings)],
    limits: (grid) => intendedGroove(plan, grid),
    tabs: cutOutTabs(panel, settings),
    cleared: plan.floor,
    // The tip's way as seen from above; its depth follows the width.
    grooves: [...plan.contours, ...grooveLines(plan).lines.map(({ points }) => polyline(points, false))],
    uncut: EMPTY_REGION,
    facts: [`The V cutter goes ${formatMm(plan.limitDepthMm)} deep at the most.`],
  };
}
