/** A cutter as a profile lists it. */
import { z } from "zod";
import { issueOf, numberField, textField } from "./fields.ts";

export interface CutterEntry {
  readonly number: number;
  readonly name: string;
  readonly kind: "end-mill" | "ball" | "v";
  readonly diameterMm: number;
  readonly flutes: number;
  readonly cuttingLengthMm: number;
  /** Of a V cutter: the full included angle, and the flat at its tip. */
  readonly angleDeg?: number;
  readonly tipMm?: number;
  /** In place of what the profile's numbers give. */
  readonly spindleRpm?: number;
  readonly feedMmPerMin?: number;
  readonly stepDownMm?: number;
  readonly stepOverMm?: number;
}

const mm = (least: number, greatest: number, description: string) =>
  numberField(least, greatest, "mm", description);

export const cutterField = z
  .strictObject({
    number: z.int().min(1).max(9999).meta({ description: "Its number in the machine's tool table" }),
    name: textField(80, "What is written on its box"),
    kind: z.enum(["end-mill", "ball", "v"]).meta({ description: "Flat at the end, round, or a cone" }),
    diameterMm: mm(0.1, 60, "Across the cutting edges"),
    flutes: z.int().min(1).max(12).meta({ description: "Cutting edges" }),
    cuttingLengthMm: mm(0.1, 200, "Height of the cutting edges: no cut may be deeper"),
    angleDeg: numberField(10, 170, "degrees", "Of a V cutter: the full angle of its cone").exactOptional(),
    tipMm: mm(0, 20, "Of a V cutter: the flat at its tip").exactOptional(),
    spindleRpm: numberField(100, 100_000, "turns a minute", "In place of the profile's").exactOptional(),
    feedMmPerMin: numberField(
      1,
      50_000,
      "mm a minute",
      "In place of the one from the chip load",
    ).exactOptional(),
    stepDownMm: mm(0.01, 100, "Depth of one pass, in place of the profile's").exactOptional(),
    stepOverMm: mm(0.005, 60, "From one path to the next, in place of the profile's").exactOptional(),
  })
  .check(({ value, issues }) => {
    const clash = clashOf(value);
    if (clash) issues.push(issueOf({ code: "numbers-clash", reason: clash.reason }, [clash.key], value));
  })
  .meta({ description: "A cutter" });

function clashOf(
  cutter: CutterEntry,
): { readonly key: keyof CutterEntry; readonly reason: string } | undefined {
  const { kind, diameterMm, angleDeg, tipMm, stepOverMm, stepDownMm, cuttingLengthMm } = cutter;
  if (kind === "v" && angleDeg === undefined)
    return { key: "kind", reason: "a V cutter needs its angle: add angleDeg, the full angle of the cone" };
  if (kind !== "v" && (angleDeg !== undefined || tipMm !== undefined))
    return { key: "kind", reason: 'only a V cutter has an angle and a tip: take them out, or write "v"' };
  if (tipMm !== undefined && tipMm >= diameterMm)
    return {
      key: "tipMm",
      reason: `the tip is ${tipMm} mm across and the whole cutter ${diameterMm} mm: the tip must be smaller`,
    };
  if (stepOverMm !== undefined && stepOverMm > diameterMm)
    return {
      key: "stepOverMm",
      reason: `paths ${stepOverMm} mm apart leave ridges between them, for the cutter is ${diameterMm} mm across: ${diameterMm} mm is the most`,
    };
  if (stepDownMm !== undefined && stepDownMm > cuttingLengthMm)
    return {
      key: "stepDownMm",
      reason: `a pass of ${stepDownMm} mm is deeper than the cutting edges are high: ${cuttingLengthMm} mm is the most`,
    };
  return undefined;
}
