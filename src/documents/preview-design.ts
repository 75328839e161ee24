/** Design + options -> its picture in one of the looks, without a profile. */
import { done, type Result, refused } from "../base/fault.ts";
import { formatMm } from "../base/format-number.ts";
import type { RibbonSetting } from "../checks/remedy.ts";
import { type FinishedPicture, finishedPicture, type PictureLook } from "../crafts/look/finished-picture.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import type { RibbonTrouble } from "../ribbon/ribbon.ts";
import type { Design } from "./design.ts";
import type { Overrides, RibbonDefaults } from "./job-settings.ts";
import { settleWoven } from "./prepare-job.ts";
import { type ReadBeside, readsNothing } from "./woven-design.ts";

/**
 * A little wider than what the profiles give for cutting, with a finer gap: nothing has to hold
 * together here, and a picture is looked at from further off. The knot fills the size alone.
 */
const DEFAULTS: RibbonDefaults = { widthPerPitch: 0.36, gapPerPitch: 0.05, borderMm: 0 };

export interface PreviewOptions extends Omit<PictureLook, "title"> {
  readonly overrides?: Overrides;
  readonly readBeside?: ReadBeside;
}

export interface Preview extends FinishedPicture {
  readonly ribbon: RibbonSetting;
}

/** Faults: those of the panel (path ["panel"]) or the composition, of the settings, and `numbers-clash` for a ribbon too wide. */
export function previewDesign(
  design: Design,
  title: string,
  { overrides = {}, readBeside = readsNothing, ...look }: PreviewOptions,
): Result<Preview> {
  const corner = overrides.corner ?? design.ribbon.corner ?? "pointed";
  const settled = settleWoven(design, { corner, defaults: DEFAULTS, overrides, readBeside });
  if (!settled.ok) return settled;
  const { woven, ribbon } = settled.value;
  const finished = finishedPicture(woven, ribbon, { title, ...look });
  if ("kind" in finished)
    return refused({ code: "numbers-clash", reason: troubleWords(finished, woven.diagram, ribbon) });
  return done({ ...finished, ribbon });
}

function troubleWords(trouble: RibbonTrouble, diagram: KnotDiagram, { widthMm }: RibbonSetting): string {
  const { minX, minY } = diagramBounds(diagram);
  const { x, y } = trouble.at;
  const place = `(${formatMm(x - minX + widthMm / 2)}, ${formatMm(y - minY + widthMm / 2)}) from the lower left corner`;
  return trouble.kind === "bend-too-tight"
    ? `a ribbon of ${formatMm(widthMm)} cannot follow the bend of ${formatMm(trouble.radiusMm)} radius at ${place}; ask for a narrower one with \`--width\``
    : `a ribbon of ${formatMm(widthMm)} has no room at ${place}; ask for a narrower one with \`--width\``;
}
