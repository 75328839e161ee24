/** Panels and a dense cutting oracle for the tests of reliefs. */
import { layPanel, type RouterPanel } from "../../../src/crafts/router/router-panel.ts";
import type { ReliefSettings } from "../../../src/crafts/router/settings.ts";
import type { Hand } from "../../../src/diagram/weave.ts";
import { flatField, type HeightField } from "../../../src/output/height-field.ts";
import type { ToolRun } from "../../../src/output/toolpath.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { BALL_3, MILL_6, reliefSettings } from "./sample-settings.ts";

export const RELIEF_PITCH = 20;
export const RELIEF_WIDTH = 7.03;

/** Widths that no pixel's middle lies on the edge of. */
export function smallRelief(changes: Partial<ReliefSettings> = {}): ReliefSettings {
  return reliefSettings({
    ribbon: {
      pitchMm: { across: RELIEF_PITCH, down: RELIEF_PITCH },
      widthMm: RELIEF_WIDTH,
      gapMm: 2,
      widthFixed: false,
      gapFixed: false,
    },
    borderMm: 10,
    overDepthMm: 0.5,
    underDepthMm: 3,
    groundDepthMm: 5,
    domeHeightMm: 1.5,
    reliefPixelMm: 0.2,
    cutters: [MILL_6, BALL_3],
    ...changes,
  });
}

export function reliefPanel(
  settings: ReliefSettings,
  { columns = 2, rows = 2, hand = "Z" }: { columns?: number; rows?: number; hand?: Hand } = {},
): RouterPanel {
  const { diagram, strands } = wovenPanel(plainPanel(columns, rows), hand, {
    pitchMm: settings.ribbon.pitchMm,
    corner: "pointed",
  });
  return layPanel(diagram, strands, settings);
}

/** The pixel whose middle lies nearest. */
export function pixelNear(field: HeightField, x: number, y: number): { x: number; y: number; z: number } {
  const column = Math.round((x - field.minX) / field.stepMm - 0.5);
  const row = Math.round((y - field.minY) / field.stepMm - 0.5);
  return {
    x: field.minX + (column + 0.5) * field.stepMm,
    y: field.minY + (row + 0.5) * field.stepMm,
    z: field.z[row * field.columns + column] ?? Number.NaN,
  };
}

export function fieldOf(
  { widthMm, heightMm, stepMm }: { widthMm: number; heightMm: number; stepMm: number },
  z: (x: number, y: number) => number,
): HeightField {
  const field = flatField({ minX: 0, minY: 0, maxX: widthMm, maxY: heightMm }, stepMm, 0);
  for (let row = 0; row < field.rows; row++)
    for (let column = 0; column < field.columns; column++)
      field.z[row * field.columns + column] = z((column + 0.5) * stepMm, (row + 0.5) * stepMm);
  return field;
}

export interface Carved {
  readonly stock: HeightField;
  /** The most that one motion took off a pixel, mm. */
  readonly deepestBite: number;
  /** The most that a rapid motion took off a pixel. */
  readonly rapidBite: number;
}

/** How finely the oracle looks along motions, and how far inside its rim a cutter counts as touching: mm. */
const ALONG_MM = 0.04;
const RIM_MM = 0.005;

/** Takes from the stock what the cutter covers at many places along every motion; shares no code with the paths. */
export function carve({ cutter, start, motions }: ToolRun, stock: HeightField): Carved {
  const radius = cutter.shape.diameterMm / 2;
  let deepestBite = 0;
  let rapidBite = 0;
  let at = start;
  for (const motion of motions) {
    const length = Math.hypot(motion.x - at.x, motion.y - at.y, motion.z - at.z);
    const steps = Math.max(1, Math.ceil(length / ALONG_MM));
    let bite = 0;
    for (let i = 1; i <= steps && Math.min(at.z, motion.z) <= 0; i++) {
      const t = i / steps;
      const tip = {
        x: at.x + (motion.x - at.x) * t,
        y: at.y + (motion.y - at.y) * t,
        z: at.z + (motion.z - at.z) * t,
      };
      bite = Math.max(bite, stamp(stock, tip, radius, cutter.shape.kind === "ball"));
    }
    deepestBite = Math.max(deepestBite, bite);
    if (motion.kind === "rapid") rapidBite = Math.max(rapidBite, bite);
    at = motion;
  }
  return { stock, deepestBite, rapidBite };
}

function stamp(
  { columns, rows, stepMm, minX, minY, z }: HeightField,
  tip: { x: number; y: number; z: number },
  radius: number,
  ball: boolean,
): number {
  let bite = 0;
  const reach = radius - RIM_MM;
  const firstRow = Math.max(0, Math.floor((tip.y - reach - minY) / stepMm));
  const lastRow = Math.min(rows - 1, Math.floor((tip.y + reach - minY) / stepMm));
  const firstColumn = Math.max(0, Math.floor((tip.x - reach - minX) / stepMm));
  const lastColumn = Math.min(columns - 1, Math.floor((tip.x + reach - minX) / stepMm));
  for (let row = firstRow; row <= lastRow; row++) {
    const dy = minY + (row + 0.5) * stepMm - tip.y;
    for (let column = firstColumn; column <= lastColumn; column++) {
      const dx = minX + (column + 0.5) * stepMm - tip.x;
      const square = dx * dx + dy * dy;
      if (square > reach * reach) continue;
      const cut = ball ? tip.z + radius - Math.sqrt(radius * radius - square) : tip.z;
      const i = row * columns + column;
      const standing = z[i] ?? 0;
      if (cut >= standing) continue;
      bite = Math.max(bite, standing - cut);
      z[i] = cut;
    }
  }
  return bite;
}
