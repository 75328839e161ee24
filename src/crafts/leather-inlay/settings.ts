import type { RibbonSetting } from "../../checks/remedy.ts";

/** Everything that a leather inlay job depends on besides the diagram; mm and degrees. */
export interface InlaySettings {
  readonly ribbon: RibbonSetting;
  /** "pieces": every ribbon piece its own inlay, webs of ground between; "laced": the whole knot one inlay, its crossings marked. */
  readonly way: "pieces" | "laced";
  /** The face that lies up on the machine: from the back everything is mirrored. */
  readonly cutFace: "front" | "back";
  readonly kerfMm: number;
  readonly kerfMeasured: boolean;
  readonly clearancePerSideMm: number;
  readonly thicknessMm: number;
  readonly leastWebMm: number;
  readonly leastRibbonMm: number;
  readonly leastInnerRadiusMm: number;
  readonly leastPartAreaMm2: number;
  readonly leastAngleDeg: number;
  readonly easeRadiusMm: number;
  readonly borderMm: number;
  readonly borderRadiusMm: number;
  readonly spacingMm: number;
  readonly bedWidthMm: number;
  readonly bedHeightMm: number;
  readonly labelHeightMm: number;
}

/**
 * How far each cut path lies outside the part and inside the opening: half the kerf less half
 * the clearance (CHECKS 6, after a service bureau's worked example; DESIGN "Layers of purpose").
 */
export function pathShift({ kerfMm, clearancePerSideMm }: InlaySettings): number {
  return (kerfMm - clearancePerSideMm) / 2;
}

/** The least ground between two openings: no narrower than the leather is thick. */
export function leastWeb({ thicknessMm, leastWebMm }: InlaySettings): number {
  return Math.max(thicknessMm, leastWebMm);
}

/**
 * The least corner radius at which a round beam leaves the same clearance in corners as along
 * edges: neither path's corner may shrink past nothing.
 */
export function leastEase(settings: InlaySettings): number {
  return Math.max(Math.abs(pathShift(settings)), Math.abs(settings.clearancePerSideMm) / 2);
}
