/** Panels woven for tests of templates. */
import type { RibbonSetting } from "../../../src/checks/remedy.ts";
import { type Woven, weavePanel } from "../../../src/documents/woven-design.ts";
import { parsePanel } from "../../../src/lattice/panel.ts";
import type { CornerStyle } from "../../../src/lattice/panel-curves.ts";

export function wovenPanel(
  rows: readonly string[],
  pitch: number | { readonly across: number; readonly down: number } = 20,
  corner: CornerStyle = "round",
): Woven {
  const panel = parsePanel(rows, []);
  if (!panel.ok) throw new Error(JSON.stringify(panel.faults));
  const pitchMm = typeof pitch === "number" ? { across: pitch, down: pitch } : pitch;
  return weavePanel(panel.value, "Z", { pitchMm, corner });
}

export function ribbonOf(widthMm: number, gapMm = 1, pitchMm = 20): RibbonSetting {
  return { pitchMm: { across: pitchMm, down: pitchMm }, widthMm, gapMm, widthFixed: false, gapFixed: false };
}
