/** Leather carved with a swivel knife: where the knife runs, where it stops, which side is bevelled down. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { type ArcChain, chainBounds } from "../../geometry/arc-chain.ts";
import { growBounds } from "../../geometry/bounds.ts";
import { ticksAlong } from "./bevel-marks.ts";
import { checkLeather } from "./leather-checks.ts";
import { EDGE, FINE, FIRM } from "./looks.ts";
import { layKnot, type PaperKnot, type WovenKnot } from "./paper-knot.ts";
import { ribbonLines } from "./ribbon-lines.ts";
import type { LeatherSettings } from "./settings.ts";
import { lineGroup, lineItem, sampleLine, type Template } from "./template.ts";

export interface LeatherJob {
  readonly knot: PaperKnot;
  /** What the knife follows. */
  readonly knifeLines: readonly ArcChain[];
  /** Where an over-strand's edge crosses an under-strand, which lies on the left of it. */
  readonly crossingLines: readonly ArcChain[];
  readonly checks: readonly CheckResult[];
}

const TICK_SPACING_MM = 1.6;
const TICK_MM = 1;

export function leatherJob(woven: WovenKnot, settings: LeatherSettings): LeatherJob {
  const knot = layKnot(woven, settings);
  const knifeLines = ribbonLines(knot.laced, settings.stopShortMm);
  const crossingLines = knot.laced.bodies.flatMap((body) => body.crossingLines);
  return { knot, knifeLines, crossingLines, checks: checkLeather({ knot, knifeLines }, settings) };
}

export function leatherTemplate(title: string, job: LeatherJob, settings: LeatherSettings): Template {
  const { knot, knifeLines } = job;
  const ticks = { spacingMm: TICK_SPACING_MM, lengthMm: TICK_MM };
  const under = job.crossingLines.flatMap((line) => ticksAlong(line, { ...ticks, side: "left" }));
  // Ribbons lie on the left of their outlines, the ground on the right.
  const ground = settings.bevelGround
    ? knot.laced.bodies
        .flatMap(({ outline, holes }) => [outline, ...holes])
        .flatMap((edge) =>
          ticksAlong(edge, { spacingMm: 2 * TICK_SPACING_MM, lengthMm: TICK_MM, side: "right" }),
        )
    : [];
  return {
    title,
    description: `Template for carving leather, ${formatMm(knot.size.width)} wide and ${formatMm(knot.size.height)} high.`,
    size: knot.size,
    bounds: growBounds(chainBounds(knot.outline), EDGE.widthMm),
    groups: [
      lineGroup(
        "knife-lines",
        `cut with the swivel knife, ${formatMm(knifeDepth(settings))} deep; stop where the line stops`,
        knifeLines,
        FIRM,
      ),
      {
        name: "bevels",
        purpose: "bevel down the side on which the ticks stand",
        items: [lineItem([...under, ...ground], FINE)],
        sample: [
          lineItem([sampleLine()], FIRM),
          lineItem(ticksAlong(sampleLine(), { ...ticks, side: "left" }), FINE),
        ],
      },
      lineGroup("edge", "edge of the piece: cut last", [knot.outline], EDGE),
    ],
    notes: leatherNotes(settings),
    tables: [],
  };
}

export function knifeDepth({ thicknessMm, knifeShare }: LeatherSettings): number {
  return thicknessMm * knifeShare;
}

function leatherNotes(settings: LeatherSettings): string[] {
  return [
    `Cut ${formatMm(knifeDepth(settings))} deep, ${formatNumber(100 * settings.knifeShare, 0)} % of the leather's ${formatMm(settings.thicknessMm)}.`,
    `Lines of a strand that goes under stop ${formatMm(settings.stopShortMm)} before the strand that lies over: cuts that cross at full depth open up.`,
    `Bevels run out over ${formatMm(settings.bevelRunMm)}; press against the cut, on the lower side.`,
  ];
}
