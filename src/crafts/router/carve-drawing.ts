/** What is carved, as layers for people who make toolpaths elsewhere. */
import { chainBounds } from "../../geometry/arc-chain.ts";
import { mergeBounds } from "../../geometry/bounds.ts";
import { type Region, regionBounds } from "../../geometry/region.ts";
import { regionChains } from "../../geometry/ring-chain.ts";
import type { Drawing, DrawingLayer } from "../../output/drawing.ts";
import type { CarvePlan } from "./carve-work.ts";
import { REGION_FIT_MM, type RouterPanel, ribbonChains } from "./router-panel.ts";

/** Outlines are true sizes: whoever makes toolpaths from them sets the cutter's radius there. */
export function carveDrawing(
  title: string,
  panel: RouterPanel,
  plan: CarvePlan,
  notes: readonly string[],
): Drawing {
  const layers: DrawingLayer[] = [
    {
      name: "RIBBON",
      purpose: "for reference: the ribbons that stand",
      worked: false,
      paths: ribbonChains(panel.ribbons),
    },
    ...optional("GROOVE", "V cutter: the lines that its tip follows", plan.grooves),
    ...optional("GROUND", "to clear: islands stand", edgesOf(plan.cleared)),
    ...optional("KEEP", "tabs: not cut through here", plan.tabs),
    { name: "PANEL", purpose: "outer edge of the panel, cut last", worked: true, paths: [panel.outline] },
  ];
  const boxes = [panel.outline, ...plan.tabs].map(chainBounds);
  if (plan.cleared.rings.length > 0) boxes.push(regionBounds(plan.cleared));
  return { title, layers, bounds: mergeBounds(boxes), notes };
}

function edgesOf(region: Region): DrawingLayer["paths"] {
  return regionChains(region, REGION_FIT_MM);
}

function optional(name: DrawingLayer["name"], purpose: string, paths: DrawingLayer["paths"]): DrawingLayer[] {
  return paths.length === 0 ? [] : [{ name, purpose, worked: true, paths }];
}
