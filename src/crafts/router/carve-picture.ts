/** The carved panel as it will look, from above and cut through; and where it is off. */
import { formatMm } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { type ArcChain, chainBounds } from "../../geometry/arc-chain.ts";
import { growBounds } from "../../geometry/bounds.ts";
import { regionChains } from "../../geometry/ring-chain.ts";
import { fieldBounds } from "../../output/coarsen.ts";
import { deviationImage, deviationLegend } from "../../output/deviation-image.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import { shadeField } from "../../output/shade.ts";
import type { WoodTone } from "../../output/wood-look.ts";
import { boxOutline } from "../panel-outline.ts";
import { checkPlaces, measures } from "../picture-frame.ts";
import type { CarvePlan } from "./carve-work.ts";
import { REGION_FIT_MM, type RouterPanel, ribbonChains } from "./router-panel.ts";
import type { RouterSettings } from "./settings.ts";
import type { Trial } from "./trial.ts";

export interface CarvedLook {
  readonly title: string;
  readonly look: WoodTone;
  readonly checks: readonly CheckResult[];
}

/** A picture is looked at, not measured: pixels of this share of its longer side. */
const PIXEL_SHARE = 1 / 1200;
const WASTE_MM = 5;
const UNCUT = "#c2185b";

/** The panel from above as the trial left it, with its measures; what cutters can't reach is edged. */
export function carvedPicture(
  panel: RouterPanel,
  plan: CarvePlan,
  trial: Trial,
  settings: RouterSettings,
  { title, look, checks }: CarvedLook,
): Picture {
  const { width, height } = panel.size;
  const { image, bounds } = shadeField(trial.field, {
    tone: look,
    grain: settings.grain,
    pixelMm: Math.max(width, height) * PIXEL_SHARE,
    throughZMm: -settings.stockThicknessMm,
  });
  const uncut = plan.uncut.rings.length > 0 ? regionChains(plan.uncut, REGION_FIT_MM) : [];
  const items: PictureItem[] = [
    { kind: "image", bounds, image, name: "the carved panel" },
    waste(panel.outline, trial),
    ...(uncut.length > 0
      ? [
          {
            kind: "area" as const,
            chains: uncut,
            fill: "none",
            edge: { colour: UNCUT, widthMm: Math.max(width, height) / 700 },
            name: "not reached by any cutter",
          },
        ]
      : []),
    ...measures(panel.size),
    ...checkPlaces(checks),
  ];
  return {
    title,
    description: `The carved panel, ${formatMm(width)} wide and ${formatMm(height)} high, as the simulated cuts leave it.`,
    bounds: chainBounds(panel.outline),
    items,
  };
}

/** All round the panel is waste: white. The image ends with a whole pixel, somewhat outside the field. */
function waste(outline: ArcChain, { field }: Trial): PictureItem {
  const all = boxOutline(growBounds(fieldBounds(field), WASTE_MM), 0);
  return { kind: "area", chains: [all, outline], fill: "#ffffff", name: "waste" };
}

/** The ribbons alone, where nothing could be planned. */
export function plainPicture(panel: RouterPanel, { title, checks }: CarvedLook): Picture {
  const edge = { colour: "#3b2a1a", widthMm: Math.max(panel.size.width, panel.size.height) / 1000 };
  return {
    title,
    description: "The ribbons that were asked for; the panel can't be carved like this.",
    bounds: chainBounds(panel.outline),
    items: [
      { kind: "area", chains: [panel.outline], fill: "#f3ead6", edge, name: "panel" },
      { kind: "area", chains: ribbonChains(panel.ribbons), fill: "#d9b98a", edge, name: "ribbons" },
      ...measures(panel.size),
      ...checkPlaces(checks),
    ],
  };
}

/** Where the simulated surface lies off what was intended. */
export function deviationPicture(panel: RouterPanel, trial: Trial, settings: RouterSettings): Picture {
  const { width, height } = panel.size;
  const longer = Math.max(width, height);
  const look = {
    pixelMm: longer * PIXEL_SHARE,
    toleranceMm: 0,
    fullMm: Math.max(2 * settings.toleranceMm, 0.1),
    throughZMm: -settings.stockThicknessMm,
  };
  const { image, bounds } = deviationImage(trial.compared.deviation, trial.field, look);
  return {
    title: "Where the carved surface lies off the intended one",
    description: "Every place of the panel, coloured where it is too high or too low beyond the tolerance.",
    bounds: chainBounds(panel.outline),
    items: [
      { kind: "image", bounds, image, name: "deviation" },
      waste(panel.outline, trial),
      ...deviationLegend(chainBounds(panel.outline), longer / 40, look),
    ],
  };
}
