/** Panel text all the way to satin columns, a sewing order and stitches. */
import { readFileSync } from "node:fs";
import type { SatinColumn } from "../../../src/crafts/stitch/column.ts";
import { satinColumns } from "../../../src/crafts/stitch/satin-column.ts";
import type { SatinSettings } from "../../../src/crafts/stitch/settings.ts";
import { sewOrder } from "../../../src/crafts/stitch/sew-order.ts";
import { planOrder, type SewingOrder } from "../../../src/crafts/stitch/sewing-order.ts";
import { sewUnits } from "../../../src/crafts/stitch/units.ts";
import type { Hand } from "../../../src/diagram/weave.ts";
import type { ThreadBlock } from "../../../src/output/stitches.ts";
import { makeRibbons } from "../../../src/ribbon/ribbon.ts";
import { PITCH, type WovenPanel, wovenPanel } from "../../support/panel-piece.ts";
import { sampleSatin } from "./sample-settings.ts";

export interface SewnPanel extends WovenPanel {
  readonly columns: readonly SatinColumn[];
  readonly order: SewingOrder;
  readonly blocks: readonly ThreadBlock[];
  readonly settings: SatinSettings;
}

export interface SewnOptions {
  readonly changes?: Partial<SatinSettings>;
  readonly hand?: Hand;
  readonly corner?: "pointed" | "round";
  readonly widthMm?: number;
  readonly pitchMm?: number;
}

export function sewnPanel(
  rows: readonly string[],
  {
    changes = {},
    hand = "Z",
    corner = "pointed",
    pitchMm = PITCH,
    widthMm = 0.32 * pitchMm,
  }: SewnOptions = {},
): SewnPanel {
  const settings = sampleSatin(changes);
  const woven = wovenPanel(rows, hand, { pitchMm: { across: pitchMm, down: pitchMm }, corner });
  const ribbons = makeRibbons(woven.diagram, woven.strands, { widthMm, gapMm: 0.1 * pitchMm });
  const units = sewUnits(satinColumns(woven.diagram, woven.strands, ribbons, settings), settings);
  const order = planOrder(units, settings);
  return { ...woven, columns: units.columns, order, blocks: sewOrder(order, settings), settings };
}

/** The panels of the samples that are one panel each, by name. */
export function samplePanel(name: string): readonly string[] {
  const text = readFileSync(new URL(`../../../samples/${name}.plait.json`, import.meta.url), "utf8");
  const design: { readonly panel: readonly string[] } = JSON.parse(text);
  return design.panel;
}

/** Samples that are one panel. */
export const PANEL_SAMPLES = ["sea-chest-lid", "harbour-badge", "chart-table-frame"] as const;
