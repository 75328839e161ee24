/** The numbers and choices of templates for work by hand. Values and their sources stand in the profiles. */
import { formatMm } from "../base/format-number.ts";
import {
  type ChoiceRule,
  type Clash,
  CORNER_CHOICE,
  type CraftRules,
  type CraftValues,
  mmRule,
  type NumberRules,
  plainRule,
  RIBBON_NUMBERS,
  valuesOf,
  YES_NO,
} from "./craft-rules.ts";

type Choices = Readonly<Record<string, ChoiceRule>>;

export const PAPER_NUMBERS = {
  ...RIBBON_NUMBERS,
  cornerRadiusMm: mmRule(0, 500, "Radius of the corners of a rounded panel"),
  marginMm: mmRule(0, 100, "What the printer leaves white on every side of a sheet"),
  overlapMm: mmRule(0, 400, "Width of the strip that neighbouring sheets both show"),
  rollWidthMm: mmRule(100, 3000, "Width of the roll, where a roll is printed on"),
} as const satisfies NumberRules;

export const PAPER_CHOICES = {
  paper: { words: ["A4", "A3", "Letter", "roll"], meaning: "What is printed on" },
  mirrored: { words: YES_NO, meaning: "Whether a mirrored template is made too, for a transfer face down" },
  outline: {
    words: ["rectangle", "rounded", "circle", "knot"],
    meaning: "Outer edge of the piece; knot: along the knot itself",
  },
  corner: CORNER_CHOICE,
} as const satisfies Choices;

const FRAME = mmRule(0, 400, "Border that stays standing along the edge; 0 for none");
const THICKNESS = mmRule(0.2, 200, "Thickness of the material");

export const CARVING_NUMBERS = {
  ...PAPER_NUMBERS,
  stockThicknessMm: THICKNESS,
  keepBelowMm: mmRule(0, 100, "Solid wood that stays below the ground"),
  groundDepthMm: mmRule(0.5, 100, "Depth of the ground"),
  underShare: plainRule(
    0.05,
    0.95,
    "Height that a ribbon keeps where it passes under, as a share of the full height",
  ),
  slopeWidths: plainRule(0.2, 5, "Length of the slope down to a crossing, in ribbon widths"),
  leastSlopeWidths: plainRule(0.1, 5, "Shortest slope that may be, in ribbon widths"),
  wallLeanDeg: {
    unit: "degrees",
    least: 0,
    greatest: 30,
    meaning: "Walls lean outward from the ground by this",
  },
  leastAcrossGrainMm: mmRule(0, 50, "Fibres no shorter than this may stay standing"),
  leastGougeRadiusMm: mmRule(0.2, 100, "Radius of the tightest gouge at hand"),
  chordErrorMm: mmRule(0.01, 2, "How far the cut of a straight edge may stray from a bend"),
  frameMm: FRAME,
} as const satisfies NumberRules;

export const CARVING_CHOICES = {
  ...PAPER_CHOICES,
  grain: {
    words: ["across", "up", "none"],
    meaning: "Which way the grain runs: left to right, bottom to top",
  },
} as const satisfies Choices;

export const KNIFE_NUMBERS = {
  ...PAPER_NUMBERS,
  thicknessMm: THICKNESS,
  leastThicknessMm: mmRule(0.2, 20, "Thinnest leather that can be carved"),
  stopShortMm: mmRule(0, 10, "How far before an over-strand the lines of the under-strand end"),
  knifeShare: plainRule(0.1, 0.9, "Depth of the knife as a share of the thickness"),
  leastStrapMm: mmRule(0.5, 50, "Narrowest strip between two cuts"),
  leastInnerRadiusMm: mmRule(0, 50, "Tightest bend that the knife turns"),
  bevelRunMm: mmRule(0.5, 20, "How far a bevel runs out from its cut"),
} as const satisfies NumberRules;

export const KNIFE_CHOICES = {
  ...PAPER_CHOICES,
  bevelGround: { words: YES_NO, meaning: "Whether the ground is bevelled down along the ribbons" },
} as const satisfies Choices;

export const PIERCED_NUMBERS = {
  ...PAPER_NUMBERS,
  frameMm: FRAME,
  bridgeWidthMm: mmRule(0.3, 50, "Width of the bridges that hold the piece together"),
  mostBridgeMm: mmRule(0.5, 200, "Longest bridge that holds"),
  leastWebMm: mmRule(0.2, 50, "Narrowest place of what stays standing"),
  startHoleMm: mmRule(
    0,
    20,
    "Width that every opening must have somewhere, for a drill or the knife's point",
  ),
  mostReachMm: mmRule(1, 2000, "How far a part may reach from the only bridge that holds it"),
} as const satisfies NumberRules;

export const PIERCED_CHOICES = {
  ...PAPER_CHOICES,
  pierce: { words: ["ground", "ribbon"], meaning: "What is cut out" },
  crossings: {
    words: ["joined", "gapped"],
    meaning: "Strands are one where they cross, or stay apart by the gap",
  },
  symmetric: {
    words: YES_NO,
    meaning: "Bridges wherever the design's symmetry asks, though fewer would hold",
  },
} as const satisfies Choices;

export const PATTERN_NUMBERS = {
  ...PAPER_NUMBERS,
  lineMm: mmRule(0.05, 5, "Width of the lines"),
} as const satisfies NumberRules;

export const PATTERN_CHOICES = {
  ...PAPER_CHOICES,
  style: {
    words: ["line", "colouring"],
    meaning: "Line art with gaps at crossings, or closed fields to colour",
  },
  edge: { words: YES_NO, meaning: "Whether the edge of the piece is drawn" },
} as const satisfies Choices;

export const CARVING_RULES: CraftRules = {
  numbers: CARVING_NUMBERS,
  choices: CARVING_CHOICES,
  cutters: false,
  clashes: (profile) => {
    const { groundDepthMm, keepBelowMm, stockThicknessMm } = valuesOf(profile, CARVING_NUMBERS);
    const deep = groundDepthMm + keepBelowMm > stockThicknessMm;
    const reason = `${formatMm(groundDepthMm)} deep and ${formatMm(keepBelowMm)} kept below are more than the board's ${formatMm(stockThicknessMm)}`;
    return [...frameClash(profile), ...(deep ? [clash("groundDepthMm", reason)] : [])];
  },
};

export const KNIFE_RULES: CraftRules = { numbers: KNIFE_NUMBERS, choices: KNIFE_CHOICES, cutters: false };

export const PIERCED_RULES: CraftRules = {
  numbers: PIERCED_NUMBERS,
  choices: PIERCED_CHOICES,
  cutters: false,
  clashes: (profile) => {
    const { frameMm } = valuesOf(profile, PIERCED_NUMBERS);
    const loose = profile.choices["pierce"] === "ribbon" && frameMm === 0;
    const reason = "with the ribbon cut out the piece needs a border to hang on: give it a width";
    return [...frameClash(profile), ...(loose ? [clash("frameMm", reason)] : [])];
  },
};

export const PATTERN_RULES: CraftRules = {
  numbers: PATTERN_NUMBERS,
  choices: PATTERN_CHOICES,
  cutters: false,
};

function clash(key: string, reason: string): Clash {
  return { path: ["numbers", key, "value"], reason };
}

function frameClash(profile: CraftValues): Clash[] {
  const { borderMm } = valuesOf(profile, RIBBON_NUMBERS);
  const frameMm = profile.numbers["frameMm"]?.value ?? 0;
  return frameMm > 0 && frameMm >= borderMm
    ? [clash("frameMm", `it would touch the knot: it must be narrower than borderMm, ${formatMm(borderMm)}`)]
    : [];
}
