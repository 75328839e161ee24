/** The panel cut free, where it is to be. */
import { formatMm } from "../../base/format-number.ts";
import type { ArcChain } from "../../geometry/arc-chain.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import { cutOut, tabsThatFit } from "./cut-out.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { RouterSettings } from "./settings.ts";

/** The last run, or none. */
export function cutOutRuns({ outline }: RouterPanel, settings: RouterSettings): ToolRun[] {
  return settings.cutOut ? [cutOut(outline, settings).run] : [];
}

/** The bridges that hold the panel, as seen from above. */
export function cutOutTabs({ outline }: RouterPanel, settings: RouterSettings): readonly ArcChain[] {
  return settings.cutOut ? cutOut(outline, settings).tabs : [];
}

/** What is wrong with the tabs that were asked for, in words; undefined where they fit. */
export function tabTrouble({ outline }: RouterPanel, settings: RouterSettings): string | undefined {
  if (!settings.cutOut || settings.tabCount === 0) return undefined;
  const fit = tabsThatFit(outline, settings);
  if (fit >= settings.tabCount) return undefined;
  const { tabCount, tabLengthMm } = settings;
  const allowed = fit === 0 ? "none finds" : `no more than ${fit} surely find`;
  return `${tabCount} tabs of ${formatMm(tabLengthMm)} were asked for, and ${allowed} room on the straight sides of the panel: take fewer, or shorter ones`;
}
