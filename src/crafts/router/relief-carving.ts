/** A relief from its rules to its cuts. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import { EMPTY_REGION } from "../../geometry/region.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { CarvePlan, Carving } from "./carve-work.ts";
import { cutOutRuns, cutOutTabs } from "./panel-cut.ts";
import { checkRelief } from "./relief-checks.ts";
import { reliefField } from "./relief-field.ts";
import { reliefLimits } from "./relief-limits.ts";
import { finishingBall, reliefRuns } from "./relief-paths.ts";
import { reachableField } from "./relief-reach.ts";
import { finishApart } from "./relief-scallop.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { ReliefSettings } from "./settings.ts";

export function reliefCarving(panel: RouterPanel, settings: ReliefSettings): Carving {
  const field = reliefField(panel, settings);
  return {
    panel,
    settings,
    checks: checkRelief(panel, field, settings),
    plan: () => planned(panel, field, settings),
  };
}

function planned(panel: RouterPanel, field: HeightField, settings: ReliefSettings): CarvePlan {
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
          `Paths of the ball lie ${formatMm(finishApart(ball, settings.scallopMm))} apart; ridges of ${formatNumber(settings.scallopMm, 3)} mm stay.`,
        ]
      : [],
  };
}
