/** Settings of a light gantry router in softwood, for tests; invented, near the trade's usual numbers. */
import type {
  GrooveSettings,
  GroundSettings,
  LoadedCutter,
  ReliefSettings,
  RouterSettings,
} from "../../../src/crafts/router/settings.ts";
import type { CutterShape } from "../../../src/output/toolpath.ts";

export function sampleCutter(number: number, shape: CutterShape, stepOverMm?: number): LoadedCutter {
  const { diameterMm } = shape;
  return {
    number,
    name: `${shape.kind} ${diameterMm} mm`,
    shape,
    flutes: 2,
    cuttingLengthMm: shape.kind === "v" ? 14 : 4 * diameterMm,
    spindleRpm: 16_000,
    feedMmPerMin: 1200,
    plungeMmPerMin: 400,
    stepDownMm: shape.kind === "v" ? 2 : diameterMm / 2,
    stepOverMm: stepOverMm ?? 0.4 * diameterMm,
  };
}

export const MILL_6 = sampleCutter(1, { kind: "end-mill", diameterMm: 6 });
export const MILL_3 = sampleCutter(2, { kind: "end-mill", diameterMm: 3 });
export const MILL_1 = sampleCutter(3, { kind: "end-mill", diameterMm: 1 });
export const V_60 = sampleCutter(4, { kind: "v", diameterMm: 12, angleDeg: 60, tipMm: 0 });
export const BALL_3 = sampleCutter(5, { kind: "ball", diameterMm: 3 }, 0.4);

const COMMON: Omit<RouterSettings, "ribbon" | "cutters"> = {
  stockThicknessMm: 18,
  keepBelowMm: 6,
  grain: "across",
  leastAlongGrainMm: 2,
  leastAcrossGrainMm: 3,
  outline: "rounded",
  borderMm: 12,
  cornerRadiusMm: 6,
  cutOut: true,
  tabLengthMm: 6,
  tabHeightMm: 1.5,
  tabCount: 4,
  origin: "corner",
  clearanceMm: 10,
  approachMm: 1,
  climb: true,
  plungeAllowed: false,
  rampDeg: 4,
  wallAllowanceMm: 0.2,
  toleranceMm: 0.02,
  pixelMm: 0.1,
  machine: {
    maxFeedMmPerMin: 3000,
    rapidMmPerMin: 5000,
    accelerationMmPerS2: 300,
    travelMm: { x: 600, y: 400, z: 80 },
    leastRpm: 8000,
    greatestRpm: 24_000,
  },
  movementPerPercent: 0.0033,
  moistureChangePercent: 4,
};

const RIBBON: RouterSettings["ribbon"] = {
  pitchMm: { across: 14, down: 14 },
  widthMm: 4,
  gapMm: 1.2,
  widthFixed: false,
  gapFixed: false,
};

export function groundSettings(changes: Partial<GroundSettings> = {}): GroundSettings {
  return {
    ...COMMON,
    work: "ground",
    ribbon: RIBBON,
    cutters: [MILL_6, MILL_3, MILL_1],
    groundDepthMm: 3,
    frameMm: 5,
    cornerLeftMm: 1,
    ...changes,
  };
}

export function grooveSettings(changes: Partial<GrooveSettings> = {}): GrooveSettings {
  return {
    ...COMMON,
    work: "groove",
    ribbon: RIBBON,
    cutters: [V_60, MILL_3],
    fill: "ground",
    grooveWidthMm: 1.2,
    deepestMm: 4,
    fieldMarginMm: 5,
    ...changes,
  };
}

export function reliefSettings(changes: Partial<ReliefSettings> = {}): ReliefSettings {
  return {
    ...COMMON,
    work: "relief",
    ribbon: RIBBON,
    cutters: [MILL_6, BALL_3],
    dome: "round",
    overDepthMm: 0.5,
    underDepthMm: 2.5,
    groundDepthMm: 4,
    borderDepthMm: 0,
    domeHeightMm: 1,
    frameMm: 5,
    scallopMm: 0.015,
    roughAllowanceMm: 0.3,
    reliefPixelMm: 0.1,
    meshDeviationMm: 0.02,
    ...changes,
  };
}
