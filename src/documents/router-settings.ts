/** The settings of router work from a profile. */
import { feedRate, scallopStepOver } from "../crafts/router/rates.ts";
import type {
  GrooveSettings,
  GroundSettings,
  LoadedCutter,
  ReliefSettings,
  RouterSettings,
} from "../crafts/router/settings.ts";
import type { CutterShape } from "../output/toolpath.ts";
import type { CraftRequest } from "./craft.ts";
import { choicesOf, valuesOf } from "./craft-rules.ts";
import type { CutterEntry } from "./cutter-entry.ts";
import type { Profile } from "./profile.ts";
import {
  GROOVE_CHOICES,
  GROOVE_NUMBERS,
  GROUND_NUMBERS,
  RELIEF_CHOICES,
  RELIEF_NUMBERS,
  ROUTER_CHOICES,
  ROUTER_NUMBERS,
} from "./router-rules.ts";

export function groundSettings(request: CraftRequest): GroundSettings {
  const { groundDepthMm, frameMm, cornerLeftMm } = valuesOf(request.profile, GROUND_NUMBERS);
  return { ...commonSettings(request), work: "ground", groundDepthMm, frameMm, cornerLeftMm };
}

export function grooveSettings(request: CraftRequest): GrooveSettings {
  const { grooveWidthMm, deepestMm, fieldMarginMm } = valuesOf(request.profile, GROOVE_NUMBERS);
  const { fill } = choicesOf(request.profile, GROOVE_CHOICES);
  return { ...commonSettings(request), work: "groove", fill, grooveWidthMm, deepestMm, fieldMarginMm };
}

export function reliefSettings(request: CraftRequest): ReliefSettings {
  const numbers = valuesOf(request.profile, RELIEF_NUMBERS);
  const { dome } = choicesOf(request.profile, RELIEF_CHOICES);
  return {
    ...commonSettings(request, numbers.scallopMm),
    work: "relief",
    dome,
    overDepthMm: numbers.overDepthMm,
    underDepthMm: numbers.underDepthMm,
    groundDepthMm: numbers.groundDepthMm,
    borderDepthMm: numbers.borderDepthMm,
    domeHeightMm: numbers.domeHeightMm,
    frameMm: numbers.frameMm,
    scallopMm: numbers.scallopMm,
    roughAllowanceMm: numbers.roughAllowanceMm,
    reliefPixelMm: numbers.reliefPixelMm,
    meshDeviationMm: numbers.meshDeviationMm,
  };
}

function commonSettings({ profile, ribbon }: CraftRequest, scallopMm?: number): RouterSettings {
  const numbers = valuesOf(profile, ROUTER_NUMBERS);
  const { outline, cutOut, origin, grain, climb, plungeAllowed } = choicesOf(profile, ROUTER_CHOICES);
  return {
    ribbon,
    cutters: profile.cutters.map((cutter) => loadedCutter(cutter, profile, scallopMm)),
    stockThicknessMm: numbers.stockThicknessMm,
    keepBelowMm: numbers.keepBelowMm,
    grain,
    leastAlongGrainMm: numbers.leastAlongGrainMm,
    leastAcrossGrainMm: numbers.leastAcrossGrainMm,
    outline,
    borderMm: numbers.borderMm,
    cornerRadiusMm: numbers.cornerRadiusMm,
    cutOut,
    tabLengthMm: numbers.tabLengthMm,
    tabHeightMm: numbers.tabHeightMm,
    tabCount: Math.round(numbers.tabCount),
    origin,
    clearanceMm: numbers.clearanceMm,
    approachMm: numbers.approachMm,
    climb,
    plungeAllowed,
    rampDeg: numbers.rampDeg,
    wallAllowanceMm: numbers.wallAllowanceMm,
    toleranceMm: numbers.toleranceMm,
    pixelMm: numbers.pixelMm,
    machine: {
      maxFeedMmPerMin: numbers.machineFeedMmPerMin,
      rapidMmPerMin: numbers.machineRapidMmPerMin,
      accelerationMmPerS2: numbers.machineAccelerationMmPerS2,
      travelMm: { x: numbers.machineAcrossMm, y: numbers.machineUpMm, z: numbers.machineHeightMm },
      leastRpm: numbers.machineLeastRpm,
      greatestRpm: numbers.machineGreatestRpm,
    },
    movementPerPercent: numbers.movementPerPercent,
    moistureChangePercent: numbers.moistureChangePercent,
  };
}

/** A cutter with its rates: its own where it has them, else from the profile's numbers, within the machine's. */
function loadedCutter(cutter: CutterEntry, profile: Profile, scallopMm: number | undefined): LoadedCutter {
  const numbers = valuesOf(profile, ROUTER_NUMBERS);
  const { number, name, flutes, cuttingLengthMm, diameterMm } = cutter;
  const rpm = cutter.spindleRpm ?? numbers.spindleRpm;
  const chipLoadMm = numbers.chipLoadPerDiameter * diameterMm;
  const feed = Math.min(
    cutter.feedMmPerMin ?? feedRate(rpm, flutes, chipLoadMm),
    numbers.machineFeedMmPerMin,
  );
  const overMm =
    cutter.kind === "ball" && scallopMm !== undefined
      ? scallopStepOver(diameterMm / 2, scallopMm)
      : numbers.stepOverPerDiameter * diameterMm;
  return {
    number,
    name,
    shape: cutterShape(cutter),
    flutes,
    cuttingLengthMm,
    spindleRpm: rpm,
    feedMmPerMin: wholeTens(feed),
    plungeMmPerMin: wholeTens(feed * numbers.plungeShare),
    stepDownMm: Math.min(cutter.stepDownMm ?? numbers.stepDownPerDiameter * diameterMm, cuttingLengthMm),
    stepOverMm: cutter.stepOverMm ?? overMm,
  };
}

/** Feeds are read and typed by people. */
function wholeTens(feed: number): number {
  return Math.max(1, feed < 20 ? Math.floor(feed) : Math.floor(feed / 10) * 10);
}

function cutterShape({ kind, diameterMm, angleDeg = 60, tipMm = 0 }: CutterEntry): CutterShape {
  return kind === "v" ? { kind, diameterMm, angleDeg, tipMm } : { kind, diameterMm };
}
