/** Clean line art: the ribbons' edges alone, to trace, transfer or colour. */
import { formatMm } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { chainBounds } from "../../geometry/arc-chain.ts";
import { growBounds } from "../../geometry/bounds.ts";
import { checkRibbonRoom } from "./knot-checks.ts";
import { FIRM } from "./looks.ts";
import { layKnot, type PaperKnot, type WovenKnot } from "./paper-knot.ts";
import { ribbonLines } from "./ribbon-lines.ts";
import type { LineSettings } from "./settings.ts";
import { type LineLook, lineGroup, type Template } from "./template.ts";

export interface LineJob {
  readonly knot: PaperKnot;
  readonly checks: readonly CheckResult[];
}

export function lineJob(woven: WovenKnot, settings: LineSettings): LineJob {
  const knot = layKnot(woven, settings);
  return { knot, checks: [checkRibbonRoom(knot, settings)] };
}

/** Lines of under-strands end at the gap; on a page to colour they meet, so that every field is closed. */
export function linePattern(title: string, { knot }: LineJob, settings: LineSettings): Template {
  const look: LineLook = { colour: FIRM.colour, widthMm: settings.lineMm, roundEnds: true };
  const lines = ribbonLines(knot.laced, settings.style === "line" ? settings.ribbon.gapMm : 0);
  const kind = settings.style === "line" ? "Line drawing" : "Page to colour";
  return {
    title,
    description: `${kind}, ${formatMm(knot.size.width)} wide and ${formatMm(knot.size.height)} high.`,
    size: knot.size,
    bounds: growBounds(chainBounds(knot.outline), settings.lineMm),
    groups: [
      lineGroup("ribbons", "edges of the ribbons", lines, look),
      ...(settings.edge ? [lineGroup("edge", "edge of the panel", [knot.outline], look)] : []),
    ],
    notes: [],
    tables: [],
  };
}
