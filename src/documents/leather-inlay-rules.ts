/** The numbers and choices that a leather inlay profile holds. Values and their sources stand in the profile. */
import { type ChoiceRule, CORNER_CHOICE, type NumberRule, RIBBON_NUMBERS, YES_NO } from "./craft-rules.ts";

export const LEATHER_INLAY_NUMBERS = {
  ...RIBBON_NUMBERS,
  kerfMm: {
    unit: "mm",
    least: 0,
    greatest: 2,
    meaning: "Width of the material that the beam takes away; measure it with the test piece",
  },
  clearancePerSideMm: {
    unit: "mm",
    least: -2,
    greatest: 2,
    meaning: "Air between an inlay and its pocket on each side; below zero the inlay is pressed in",
  },
  thicknessMm: { unit: "mm", least: 0.2, greatest: 15, meaning: "Thickness of the ground leather" },
  leastWebMm: {
    unit: "mm",
    least: 0.1,
    greatest: 50,
    meaning: "Narrowest strip of ground leather that may stay between two cuts",
  },
  leastRibbonMm: {
    unit: "mm",
    least: 0.1,
    greatest: 100,
    meaning: "Narrowest ribbon that can be handled and laid",
  },
  leastInnerRadiusMm: {
    unit: "mm",
    least: 0,
    greatest: 20,
    meaning: "Smallest radius of an inward corner of a cut path",
  },
  leastPartAreaMm2: {
    unit: "mm2",
    least: 0,
    greatest: 10_000,
    meaning: "Smallest inlay that is not lost through the bed or blown away by the air jet",
  },
  leastAngleDeg: {
    unit: "degrees",
    least: 0,
    greatest: 90,
    meaning: "Sharpest tip of a part that keeps its shape; a sharper one chars and curls",
  },
  easeRadiusMm: {
    unit: "mm",
    least: 0,
    greatest: 20,
    meaning:
      "Sharp corners of a part are eased to this radius, so that the beam, a round tool, leaves the same clearance in corners as along edges",
  },
  borderMm: { ...RIBBON_NUMBERS.borderMm, meaning: "Width of the ground left round the knot" },
  borderRadiusMm: { unit: "mm", least: 0, greatest: 500, meaning: "Radius of the corners of the ground" },
  spacingMm: { unit: "mm", least: 0, greatest: 100, meaning: "Distance between parts on the sheet" },
  bedWidthMm: { unit: "mm", least: 20, greatest: 10_000, meaning: "Width that the machine can cut" },
  bedHeightMm: { unit: "mm", least: 20, greatest: 10_000, meaning: "Height that the machine can cut" },
  labelHeightMm: {
    unit: "mm",
    least: 0.5,
    greatest: 50,
    meaning: "Height of the numbers marked on parts and pockets",
  },
} as const satisfies Readonly<Record<string, NumberRule>>;

export const LEATHER_INLAY_CHOICES = {
  way: { words: ["pieces", "laced"], meaning: "Separate pieces, or whole strands woven" },
  cutFace: { words: ["front", "back"], meaning: "Face that lies up on the machine" },
  corner: CORNER_CHOICE,
  kerfMeasured: { words: YES_NO, meaning: "Whether the kerf was measured here" },
} as const satisfies Readonly<Record<string, ChoiceRule>>;
