/** A relief from its rules to its cuts. */
import { formatMm } from "../../base/format-number.ts";
import { EMPTY_REGION } from "../../geometry/region.ts";
import type { CarvePlan, Carving } from "./carve-work.ts";
import { checkPanel } from "./panel-checks.ts";
import { cutOutRuns, cutOutTabs } from "./panel-cut.ts";
import { reliefField } from "./relief-field.ts";
import { reliefLimits } from "./relief-limits.ts";
import { finishingBall, reliefRuns, roughingMills } from "./relief-paths.ts";
import { reachableField } from "./relief-reach.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { ReliefSettings } from "./settings.ts";

export function reliefCarving(panel: RouterPanel, settings: ReliefSettings): Carving {
  const ball = finishingBall(settings);
  return {
    panel,
    settings,
    checks: [
      ...checkPanel(panel, settings, {
        used: [...roughingMills(settings), ...(ball ? [ball] : [])],
        depthMm: settings.groundDepthMm,
        depthKey: "groundDepthMm",
      }),
    ],
    plan: () => planned(panel, settings),
  };
}

function planned(panel: RouterPanel, settings: ReliefSettings): CarvePlan {
  const field = reliefField(panel, settings);
  const ball = finishingBall(settings);
  return {
    runs: [...reliefRuns(field, settings), ...cutOutRuns(panel, settings)],
    limits: (grid) => {
      const reachable = ball ? reachableField(field, ball.shape.diameterMm / 2) : field;
      return reliefLimits({ field, reachable }, panel, settings, grid);
    },
    tabs: cutOutTabs(panel, settings),
    cleared: EMPTY_REGION,
    grooves: [],
    uncut: EMPTY_REGION,
    surface: field,
    facts: ball
      ? [
          `Paths of the ball lie ${formatMm(ball.stepOverMm)} apart; ridges of ${formatMm(settings.scallopMm)} stay.`,
        ]
      : [],
  };
}
