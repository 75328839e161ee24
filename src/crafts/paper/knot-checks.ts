/** Rules that hold for every template. */
import type { CheckResult } from "../../checks/check.ts";
import { atMost } from "../../checks/judge.ts";
import { growPitch, narrowRibbon } from "../../checks/remedy.ts";
import { edgeCurve, twin } from "../../diagram/knot-diagram.ts";
import type { ArcChain } from "../../geometry/arc-chain.ts";
import type { PaperKnot } from "./paper-knot.ts";
import type { TemplateSettings } from "./settings.ts";

/** Whether ribbons of this width can be drawn at all. */
export function checkRibbonRoom({ laced, ribbons }: PaperKnot, { ribbon }: TemplateSettings): CheckResult {
  const short = [...laced.troubles, ...ribbons.troubles].map(({ at }) => ({ at, value: 1 }));
  return atMost(
    {
      rule: "ribbon-room",
      title: "Every ribbon has room to be drawn",
      limit: 0,
      unit: "count",
      note: "Where a ribbon is too wide for the room it has, its edges run into each other.",
    },
    { worst: short.length, short },
    // How much room is wanted can't be measured where nothing could be drawn: steps, which proving takes further.
    () => [...narrowRibbon(ribbon.widthMm * 0.8), ...(ribbon.widthFixed ? growPitch(ribbon, 1.25) : [])],
  );
}

/** The centreline of every edge and loop. */
export function knotCurves({ diagram }: Pick<PaperKnot, "diagram">): ArcChain[] {
  const curves: ArcChain[] = [...diagram.loops];
  for (let half = 0; half < diagram.twin.length; half++) {
    if (half < twin(diagram, half)) curves.push(edgeCurve(diagram, half));
  }
  return curves;
}
