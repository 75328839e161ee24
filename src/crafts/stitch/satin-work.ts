/** Satin from its rules to its stitches, the order proven by geometry. */
import { formatMm, formatNumber } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { atMost } from "../../checks/judge.ts";
import { narrowRibbon } from "../../checks/remedy.ts";
import { chainStart } from "../../geometry/arc-chain.ts";
import { mergeBounds } from "../../geometry/bounds.ts";
import { alignmentMarks } from "./alignment-marks.ts";
import type { LaidCloth } from "./cloth.ts";
import type { SatinColumn } from "./column.ts";
import { provedHidden } from "./hidden-proof.ts";
import { satinColumns } from "./satin-column.ts";
import type { SatinSettings } from "./settings.ts";
import { sewOrder } from "./sew-order.ts";
import { type OrderReport, planOrder } from "./sewing-order.ts";
import { checkSewn } from "./sewn-checks.ts";
import { checkSatin } from "./stitch-checks.ts";
import { stitchGeometry } from "./stitch-geometry.ts";
import type { Sewn, StitchWork } from "./stitch-work.ts";
import { sewUnits } from "./units.ts";

export function satinWork(cloth: LaidCloth, settings: SatinSettings): StitchWork {
  const { diagram, faces, ribbons, bounds } = cloth;
  const geometry = stitchGeometry(diagram, faces, ribbons, settings.pullMm);
  const reach = settings.alignmentMarks ? mergeBounds([geometry.reach, bounds]) : geometry.reach;
  return {
    cloth,
    settings,
    checks: checkSatin({ ...geometry, reach }, settings),
    sew: () => sewn(cloth, settings),
  };
}

function sewn(cloth: LaidCloth, settings: SatinSettings): Sewn {
  const { diagram, strands, ribbons } = cloth;
  const columns = satinColumns(diagram, strands, ribbons, settings);
  const bare = columns.filter(({ rungs, line }) => rungs.length === 0 && line === undefined);
  if (bare.length > 0) return unsewn(checkRungs(bare, settings));
  const units = sewUnits(columns, settings);
  const order = planOrder(units, settings);
  const blocks = sewOrder(order, settings);
  const { shown, bareEnds } = provedHidden(blocks, units.columns);
  const marks = settings.alignmentMarks ? [alignmentMarks(cloth, settings)] : [];
  const stretches = order.blocks.map(({ steps }) => steps.filter(({ kind }) => kind === "cover").length);
  return {
    blocks: [...marks, ...blocks],
    purposes: [
      ...marks.map(() => "crosses to hoop the next piece by"),
      ...stretches.map((count) => `satin, ${count} stretches`),
    ],
    checks: [
      checkHidden(shown.map(({ at }) => ({ at, value: 1 }))),
      checkEnds(bareEnds.map(({ at }) => ({ at, value: 1 }))),
      ...checkSewn(blocks, settings, {
        lengthKey: "splitMm",
        spacing: { key: "spacingMm", mm: settings.spacingMm },
      }),
    ],
    facts: orderFacts(order.report),
    figures: { ...order.report },
    tables: [],
  };
}

/** Nothing can be sewn, and the check says why. */
function unsewn(check: CheckResult): Sewn {
  return { blocks: [], purposes: [], checks: [check], facts: [], figures: {}, tables: [] };
}

function checkRungs(bare: readonly SatinColumn[], { ribbon }: SatinSettings): CheckResult {
  const short = bare.map(({ centreline }) => ({ at: chainStart(centreline), value: 1 }));
  return atMost(
    {
      rule: "column-room",
      title: "Ribbons so wide for their length that no stitch fits between their ends",
      limit: 0,
      unit: "count",
      note: "Such a ribbon lies wholly beneath the ones that cross it.",
    },
    { worst: bare.length, short },
    () => narrowRibbon(0.8 * ribbon.widthMm),
  );
}

type Short = Parameters<typeof atMost>[1]["short"];

function checkHidden(short: Short): CheckResult {
  return atMost(
    {
      rule: "hidden-travel",
      title: "Stitches from place to place that nothing sewn later covers",
      limit: 0,
      unit: "count",
      note: "A line of thread across the finished satin shows and catches.",
    },
    { worst: short.length, short },
    () => [],
  );
}

function checkEnds(short: Short): CheckResult {
  return atMost(
    {
      rule: "covered-ends",
      title: "Ends of ribbons that no ribbon sewn later covers",
      limit: 0,
      unit: "count",
      note: "Where an end lies bare, the cloth shows beside the crossing.",
    },
    { worst: short.length, short },
    () => [],
  );
}

function orderFacts(report: OrderReport): string[] {
  const {
    trims,
    trimsLowerBound,
    jumps,
    jumpLengthMm,
    hiddenTravelMm,
    colourChanges,
    colourChangesLowerBound,
  } = report;
  const best = (found: number, least: number) =>
    found <= least ? "no order has fewer" : `${least} at the least`;
  return [
    `${trims} trims within colours (${best(trims, trimsLowerBound)}), ${colourChanges} changes of thread (${best(colourChanges, colourChangesLowerBound)})`,
    `${jumps} jumps of ${formatMm(jumpLengthMm)} in all; ${formatNumber(hiddenTravelMm / 1000, 2)} m of thread travel hidden beneath ribbons sewn later`,
  ];
}
