/** The numbers and choices that needle-work profiles hold. Values and their sources stand in the profiles. */
import { formatMm } from "../base/format-number.ts";
import {
  type ChoiceRule,
  type Clash,
  CORNER_CHOICE,
  type CraftRules,
  type CraftValues,
  mmRule,
  type NumberRule,
  type NumberRules,
  RIBBON_NUMBERS,
  valuesOf,
  YES_NO,
} from "./craft-rules.ts";

const plain = (unit: string, least: number, greatest: number, meaning: string): NumberRule => ({
  unit,
  least,
  greatest,
  meaning,
});

/** The record of the trade holds no longer step: 121 of 0.1 mm. */
const LONGEST_STEP_MM = 12.1;

export const STITCH_NUMBERS = {
  ...RIBBON_NUMBERS,
  threadTex: plain("tex", 5, 500, "Linear density of the upper thread, g per 1000 m"),
  threadWidthMm: mmRule(0.05, 5, "Width of the laid thread"),
  bobbinTex: plain("tex", 5, 500, "Linear density of the bobbin thread"),
  bobbinMetres: plain("m", 1, 5000, "Thread on a full bobbin"),
  needleMm: mmRule(0.3, 3, "Diameter of the needle's blade"),
  leastStitchMm: mmRule(0.3, 5, "No stitch is shorter, save those that tie the thread in and off"),
  greatestStitchMm: mmRule(2, LONGEST_STEP_MM, "No stitch is longer"),
  runStitchMm: mmRule(0.5, 10, "Stitch of a running line"),
  runStitchTightMm: mmRule(0.3, 10, "Stitch of a running line in tight bends"),
  hoopWidthMm: mmRule(20, 3000, "Width of the sewing field of the hoop"),
  hoopHeightMm: mmRule(20, 3000, "Height of the sewing field of the hoop"),
  hoopMarginMm: mmRule(0, 100, "Kept free inside the field on all sides"),
  leastGapMm: mmRule(0, 20, "Least clear space between two columns that must read apart"),
  leastCounterMm: mmRule(0, 20, "Least opening, across, that stays open"),
  stitchesPerMinute: plain("stitches a minute", 10, 3000, "Speed of the machine"),
  slowOverMm: mmRule(1, LONGEST_STEP_MM, "At longer stitches the machine must go slower"),
  greatestPerMm2: plain("per mm²", 0.5, 100, "Most needle holes in a square millimetre"),
  tieStitchMm: mmRule(0.2, 3, "Length of the small stitches that tie the thread"),
  tieStitches: plain("", 0, 20, "How many of them"),
} as const satisfies NumberRules;

export const SATIN_NUMBERS = {
  ...STITCH_NUMBERS,
  spacingMm: mmRule(0.1, 3, "From one line of thread to the next, along the outer edge of bends"),
  leastHoleSpacingMm: mmRule(0.05, 2, "Least distance of needle holes along an inner edge"),
  shortenedShare: plain(
    "",
    0,
    0.5,
    "How far shortened stitches stay off the inner edge, as a share of the width",
  ),
  leastSatinMm: mmRule(0.3, 20, "Narrowest satin column"),
  greatestSatinMm: mmRule(1, 100, "Widest satin column; a wider one can't be had"),
  splitMm: mmRule(1, LONGEST_STEP_MM, "Wider columns are split into stitches of at most this"),
  pullMm: mmRule(0, 3, "Added to the whole width, for the thread pulls the cloth together"),
  pushMm: mmRule(0, 3, "Taken off each end, for the stitches push the cloth out"),
  tuckMm: mmRule(0, 10, "How far an under-strand runs beneath the over-strand's edge"),
  underlayStitchMm: mmRule(0.5, 10, "Stitch of the underlay"),
  underlayInsetMm: mmRule(0, 10, "How far the edge run of the underlay stays off the edge"),
  edgeRunFromMm: mmRule(0, 100, "Columns at least this wide get an edge run"),
  zigzagFromMm: mmRule(0, 100, "Columns at least this wide get a zig-zag too"),
  zigzagSpacingMm: mmRule(0.3, 20, "From one line of the zig-zag to the next"),
} as const satisfies NumberRules;

export const OUTLINE_NUMBERS = {
  ...STITCH_NUMBERS,
  stitchMm: mmRule(0.5, 12, "Stitch of the outline"),
  cordPerCrossingMm: mmRule(0, 200, "Cord added at each crossing, for it rises and falls"),
  cordEndMm: mmRule(0, 500, "Cord added at each end"),
  cordWidthMm: mmRule(0.2, 50, "Width of the cord"),
  clothCount: plain("holes an inch", 0, 60, "Holes per inch of an evenweave cloth to snap to; 0 for none"),
} as const satisfies NumberRules;

export const APPLIQUE_NUMBERS = {
  ...STITCH_NUMBERS,
  tackInsetMm: mmRule(0, 10, "How far inside the edge the cloth is tacked down"),
  tackStitchMm: mmRule(0.5, 10, "Stitch of the tack-down"),
  edgeSatinMm: mmRule(0.5, 20, "Width of the satin along the edge"),
  spacingMm: mmRule(0.1, 3, "From one line of thread to the next, along the outer edge of bends"),
  leastHoleSpacingMm: mmRule(0.05, 2, "Least distance of needle holes along an inner edge"),
  pullMm: mmRule(0, 3, "Added to the width of the satin, for the thread pulls the cloth together"),
} as const satisfies NumberRules;

export const STITCH_CHOICES = {
  colours: { words: ["one", "two", "strands"], meaning: "Threads: one, two in turn, or one for each strand" },
  alignmentMarks: {
    words: YES_NO,
    meaning: "Crosses at the left and right edge, to go on from hoop to hoop",
  },
  corner: CORNER_CHOICE,
} as const satisfies Readonly<Record<string, ChoiceRule>>;

export const SATIN_CHOICES = {
  ...STITCH_CHOICES,
  tooNarrow: { words: ["bean", "fault"], meaning: "What a column too narrow for satin becomes" },
  underlay: { words: ["by-width", "none"], meaning: "What is sewn beneath the satin" },
} as const satisfies Readonly<Record<string, ChoiceRule>>;

export const OUTLINE_CHOICES = {
  ...STITCH_CHOICES,
  line: { words: ["running", "back"], meaning: "Running stitch, or back stitch" },
  along: { words: ["edges", "centre", "both"], meaning: "Along the ribbon's edges, its middle, or both" },
} as const satisfies Readonly<Record<string, ChoiceRule>>;

export const SATIN_RULES: CraftRules = {
  numbers: SATIN_NUMBERS,
  choices: SATIN_CHOICES,
  cutters: false,
  clashes: (profile) => {
    const { leastHoleSpacingMm, spacingMm, leastSatinMm, greatestSatinMm } = valuesOf(profile, SATIN_NUMBERS);
    return [
      ...commonClashes(profile),
      ...clashIf(
        leastHoleSpacingMm > spacingMm,
        "leastHoleSpacingMm",
        `it is more than the spacing of ${formatMm(spacingMm)}: no stitch would reach an inner edge`,
      ),
      ...clashIf(
        leastSatinMm > greatestSatinMm,
        "leastSatinMm",
        `it is more than the widest, ${formatMm(greatestSatinMm)}`,
      ),
    ];
  },
};

export const OUTLINE_RULES: CraftRules = {
  numbers: OUTLINE_NUMBERS,
  choices: OUTLINE_CHOICES,
  cutters: false,
  clashes: commonClashes,
};

export const APPLIQUE_RULES: CraftRules = {
  numbers: APPLIQUE_NUMBERS,
  choices: STITCH_CHOICES,
  cutters: false,
  clashes: (profile) => {
    const { tackInsetMm, edgeSatinMm } = valuesOf(profile, APPLIQUE_NUMBERS);
    return [
      ...commonClashes(profile),
      ...clashIf(
        tackInsetMm > edgeSatinMm / 2,
        "tackInsetMm",
        `the satin of ${formatMm(edgeSatinMm)} would not cover it`,
      ),
    ];
  },
};

function commonClashes(profile: CraftValues): Clash[] {
  const values = valuesOf(profile, STITCH_NUMBERS);
  const field = Math.min(values.hoopWidthMm, values.hoopHeightMm);
  return [
    ...clashIf(
      values.leastStitchMm > values.greatestStitchMm,
      "leastStitchMm",
      `it is more than the longest stitch, ${formatMm(values.greatestStitchMm)}`,
    ),
    ...clashIf(
      values.runStitchMm > values.greatestStitchMm,
      "runStitchMm",
      `it is more than the longest stitch, ${formatMm(values.greatestStitchMm)}`,
    ),
    ...clashIf(
      2 * values.hoopMarginMm >= field,
      "hoopMarginMm",
      `twice that leaves nothing of the hoop's ${formatMm(field)}`,
    ),
  ];
}

function clashIf(clashes: boolean, key: string, reason: string): Clash[] {
  return clashes ? [{ path: ["numbers", key, "value"], reason }] : [];
}
