/** Outlines from their rules to their stitches, with the plan for couched cord. */
import { formatMm } from "../../base/format-number.ts";
import type { SheetTable } from "../../output/job-sheet.ts";
import type { LaidCloth } from "./cloth.ts";
import { type CordLength, cordPlan } from "./cord-plan.ts";
import { type OutlineLine, outlineBlocks, outlineLines } from "./outline.ts";
import type { OutlineSettings } from "./settings.ts";
import { checkSewn } from "./sewn-checks.ts";
import { checkCounters, checkHoop, checkRoom } from "./stitch-checks.ts";
import { stitchGeometry } from "./stitch-geometry.ts";
import type { StitchWork } from "./stitch-work.ts";

export interface OutlineWork extends StitchWork {
  /** For transfer sheets. */
  readonly lines: readonly OutlineLine[];
}

export function outlineWork(cloth: LaidCloth, settings: OutlineSettings): OutlineWork {
  const { diagram, faces, strands, ribbons, bounds } = cloth;
  const geometry = stitchGeometry(diagram, faces, ribbons, 0);
  const lines = outlineLines(ribbons, settings, bounds);
  return {
    cloth,
    settings,
    lines,
    checks: [checkRoom(geometry, settings), checkCounters(geometry, settings), checkHoop(geometry, settings)],
    sew: () => {
      const blocks = outlineBlocks(lines, settings);
      return {
        blocks,
        purposes: blocks.map(() => (settings.line === "back" ? "back stitch" : "running stitch")),
        checks: checkSewn(blocks, settings, { lengthKey: "stitchMm", spacing: undefined }),
        facts: [`${lines.length} lines of stitches of ${formatMm(settings.stitchMm)}`],
        figures: { lines: lines.length },
        tables: [cordTable(cordPlan(diagram, strands, settings), settings)],
      };
    },
  };
}

function cordTable(plan: readonly CordLength[], { cordWidthMm }: OutlineSettings): SheetTable {
  return {
    title: `Cord of ${formatMm(cordWidthMm)}, laid along the middle and sewn down by hand`,
    columns: [
      { title: "Strand" },
      { title: "Along the middle", isFigure: true },
      { title: "Crossings passed", isFigure: true },
      { title: "Cut to", isFigure: true },
    ],
    rows: plan.map(({ name, centrelineMm, passes, cordMm }) => [
      name,
      formatMm(centrelineMm),
      `${passes}`,
      formatMm(cordMm),
    ]),
  };
}
