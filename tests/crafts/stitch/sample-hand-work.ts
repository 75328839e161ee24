/** Settings of outline work and appliqué for tests, on the same machine and thread as the satin's. */
import type {
  AppliqueSettings,
  OutlineSettings,
  StitchSettings,
} from "../../../src/crafts/stitch/settings.ts";
import { sampleSatin } from "./sample-settings.ts";

export function sampleOutline(changes: Partial<OutlineSettings> = {}): OutlineSettings {
  const common: StitchSettings = sampleSatin();
  return {
    ...common,
    work: "outline",
    line: "running",
    along: "edges",
    stitchMm: 2.4,
    cordPerCrossingMm: 4,
    cordEndMm: 60,
    cordWidthMm: 2,
    clothCount: 0,
    ...changes,
  };
}

export function sampleApplique(changes: Partial<AppliqueSettings> = {}): AppliqueSettings {
  const common: StitchSettings = sampleSatin();
  return {
    ...common,
    work: "applique",
    tackInsetMm: 0.6,
    tackStitchMm: 2.4,
    edgeSatinMm: 2.6,
    spacingMm: 0.42,
    leastHoleSpacingMm: 0.25,
    pullMm: 0.2,
    ...changes,
  };
}
