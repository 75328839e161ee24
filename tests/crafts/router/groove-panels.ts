/** Panels for grooves: woven ones, and ribbonless ones whose standing part is drawn by hand. */
import { layPanel, type RouterPanel } from "../../../src/crafts/router/router-panel.ts";
import type { GrooveSettings } from "../../../src/crafts/router/settings.ts";
import { polyline } from "../../../src/geometry/arc-chain.ts";
import type { Point } from "../../../src/geometry/point.ts";
import { subtract } from "../../../src/geometry/region.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { grooveSettings } from "./sample-settings.ts";

const PITCH_MM = 14;

export function wovenGrooves(changes: Partial<GrooveSettings> = {}): {
  readonly panel: RouterPanel;
  readonly settings: GrooveSettings;
} {
  const { diagram, strands } = wovenPanel(plainPanel(2, 2), "Z", {
    pitchMm: { across: PITCH_MM, down: PITCH_MM },
    corner: "pointed",
  });
  const settings = grooveSettings({ borderMm: 6, ...changes });
  return { panel: layPanel(diagram, strands, settings), settings };
}

/** A board that stands but for one hole, whose ring runs counter-clockwise; a filled ground is then the hole. */
export function holePanel(
  hole: readonly Point[],
  size: { readonly width: number; readonly height: number },
): RouterPanel {
  const box = [
    { x: 0, y: 0 },
    { x: size.width, y: 0 },
    { x: size.width, y: size.height },
    { x: 0, y: size.height },
  ];
  const { panel } = wovenGrooves();
  return {
    ...panel,
    size,
    outline: polyline(box, true),
    standing: subtract({ rings: [box] }, { rings: [hole] }),
  };
}
