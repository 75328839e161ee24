/** Changes that would make a check pass, each with its number, rounded to the safe side. */
import { formatNumber, roundDown, roundUp } from "../base/format-number.ts";
import type { Remedy } from "./check.ts";

/** The numbers that a remedy may change, and which of them do not follow the pitch. */
export interface RibbonSetting {
  readonly pitchMm: { readonly across: number; readonly down: number };
  readonly widthMm: number;
  readonly gapMm: number;
  /** Width or gap given in mm: they stay when the pitch changes; otherwise they grow with it. */
  readonly widthFixed: boolean;
  readonly gapFixed: boolean;
}

/** More than this and a remedy is no help: nobody makes the piece four times as large. */
export const MOST_GROWTH = 4;

/** The whole lattice grown by `factor`, or nothing where that is out of proportion. */
export function growPitch(setting: RibbonSetting, factor: number): Remedy[] {
  if (!Number.isFinite(factor) || factor <= 0 || factor > MOST_GROWTH) return [];
  const across = roundUp(setting.pitchMm.across * factor, 2);
  const down = roundUp(setting.pitchMm.down * factor, 2);
  const stays = [setting.widthFixed ? "ribbon width" : "", setting.gapFixed ? "gap" : ""].filter(
    (x) => x !== "",
  );
  const how = stays.length > 0 ? `the ${stays.join(" and ")} as it is` : "ribbon and gap grow with it";
  const square = setting.pitchMm.across === setting.pitchMm.down;
  return [
    {
      change: "pitch",
      value: square ? across : [across, down],
      text: `pitch ${pitchText(square ? across : [across, down])} mm (${how})`,
    },
  ];
}

/** Pitch for people and for the command line: `12` or `12x14`. */
export function pitchText(pitch: number | readonly [number, number]): string {
  return typeof pitch === "number"
    ? formatNumber(pitch, 2)
    : `${formatNumber(pitch[0], 2)}x${formatNumber(pitch[1], 2)}`;
}

export function narrowRibbon(widthMm: number): Remedy[] {
  const value = roundDown(widthMm, 2);
  return value > 0 ? [{ change: "width", value, text: `ribbon width ${formatNumber(value, 2)} mm` }] : [];
}

export function widenRibbon(widthMm: number): Remedy[] {
  const value = roundUp(widthMm, 2);
  return [{ change: "width", value, text: `ribbon width ${formatNumber(value, 2)} mm` }];
}

export function narrowGap(gapMm: number): Remedy[] {
  const value = roundDown(gapMm, 2);
  return value > 0 ? [{ change: "gap", value, text: `gap ${formatNumber(value, 2)} mm` }] : [];
}

export function widenGap(gapMm: number): Remedy[] {
  const value = roundUp(gapMm, 2);
  return [{ change: "gap", value, text: `gap ${formatNumber(value, 2)} mm` }];
}

/** A number of the profile set to `value`, said in words. */
export function setNumber(key: string, value: number, text: string): Remedy {
  return { change: key, value, text };
}
