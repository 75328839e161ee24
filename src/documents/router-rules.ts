/** The numbers and choices that router profiles hold. Values and their sources stand in the profiles. */
import { formatMm } from "../base/format-number.ts";
import {
  type ChoiceRule,
  type Clash,
  CORNER_CHOICE,
  type CraftRules,
  type CraftValues,
  mmRule,
  type NumberRules,
  RIBBON_NUMBERS,
  valuesOf,
  YES_NO,
} from "./craft-rules.ts";

export const ROUTER_NUMBERS = {
  ...RIBBON_NUMBERS,
  stockThicknessMm: mmRule(1, 200, "Thickness of the board"),
  keepBelowMm: mmRule(0, 100, "Solid board that always stays below a cut"),
  leastAlongGrainMm: mmRule(0, 50, "Narrowest ribbon that may stay standing where it runs with the grain"),
  leastAcrossGrainMm: mmRule(0, 50, "Narrowest ribbon that may stay standing where it runs across the grain"),
  cornerRadiusMm: mmRule(0, 500, "Radius of the corners of a rounded panel"),
  tabLengthMm: mmRule(0.5, 100, "Length of the tabs that hold the panel while it is cut out"),
  tabHeightMm: mmRule(0.2, 50, "Height of the tabs"),
  tabCount: { unit: "", least: 0, greatest: 100, meaning: "How many tabs" },
  clearanceMm: mmRule(0.5, 200, "Height above the board for rapid moves: over clamps and screws"),
  approachMm: mmRule(0.1, 50, "Height above the board down to which rapid moves come"),
  rampDeg: {
    unit: "degrees",
    least: 0.2,
    greatest: 45,
    meaning: "Slope at which a cutter goes down into the wood",
  },
  wallAllowanceMm: mmRule(0, 5, "Left on walls by clearing, taken by the last pass"),
  toleranceMm: mmRule(0.005, 1, "How far the carved piece may differ from the drawn one"),
  pixelMm: mmRule(0.02, 2, "Size of the squares in which the cuts are simulated"),
  spindleRpm: { unit: "turns a minute", least: 100, greatest: 100_000, meaning: "Speed of the spindle" },
  chipLoadPerDiameter: {
    unit: "",
    least: 0.001,
    greatest: 0.2,
    meaning: "Chip that one cutting edge takes in one turn, as a share of the cutter's diameter",
  },
  stepDownPerDiameter: {
    unit: "",
    least: 0.02,
    greatest: 3,
    meaning: "Depth of one pass as a share of the cutter's diameter",
  },
  stepOverPerDiameter: {
    unit: "",
    least: 0.02,
    greatest: 0.9,
    meaning: "From one path to the next as a share of the diameter, when an area is cleared",
  },
  plungeShare: { unit: "", least: 0.02, greatest: 1, meaning: "Feed on the way down as a share of the feed" },
  machineFeedMmPerMin: {
    unit: "mm a minute",
    least: 10,
    greatest: 50_000,
    meaning: "Greatest feed of the machine",
  },
  machineRapidMmPerMin: {
    unit: "mm a minute",
    least: 10,
    greatest: 100_000,
    meaning: "Rapid speed of the machine",
  },
  machineAccelerationMmPerS2: {
    unit: "mm/s²",
    least: 1,
    greatest: 50_000,
    meaning: "Acceleration of the machine, for the estimate of time",
  },
  machineAcrossMm: mmRule(20, 10_000, "Travel of the machine from left to right"),
  machineUpMm: mmRule(20, 10_000, "Travel of the machine from front to back"),
  machineHeightMm: mmRule(5, 1000, "Travel of the machine up and down"),
  machineLeastRpm: { unit: "turns a minute", least: 0, greatest: 100_000, meaning: "Slowest spindle" },
  machineGreatestRpm: { unit: "turns a minute", least: 100, greatest: 200_000, meaning: "Fastest spindle" },
  movementPerPercent: {
    unit: "",
    least: 0,
    greatest: 0.02,
    meaning: "Share by which the wood swells across the grain for one percent of moisture",
  },
  moistureChangePercent: {
    unit: "percent",
    least: 0,
    greatest: 30,
    meaning: "Change of moisture to reckon with between workshop and place",
  },
} as const satisfies NumberRules;

export const ROUTER_CHOICES = {
  outline: {
    words: ["rectangle", "rounded", "circle", "knot"],
    meaning: "Outer edge of the panel; knot: along the knot itself",
  },
  cutOut: { words: YES_NO, meaning: "Whether the panel is cut out of the board" },
  origin: { words: ["corner", "centre"], meaning: "Where the machine's zero lies on the panel" },
  grain: {
    words: ["across", "up", "none"],
    meaning: "Which way the grain runs: left to right, bottom to top",
  },
  climb: { words: YES_NO, meaning: "Climb cutting; else conventional" },
  plungeAllowed: { words: YES_NO, meaning: "Whether cutters may go straight down into solid wood" },
  look: { words: ["pale", "brown", "board", "sheet"], meaning: "How pictures show the material" },
  files: { words: ["one-per-cutter", "one"], meaning: "A G-code file for each cutter, or one with stops" },
  corner: CORNER_CHOICE,
} as const satisfies Readonly<Record<string, ChoiceRule>>;

const GROUND_DEPTH = mmRule(0.1, 150, "Depth of the ground");
const FRAME = mmRule(
  0,
  400,
  "Border that stays standing along the panel's edge; 0: the ground runs out over it",
);

export const GROUND_NUMBERS = {
  ...ROUTER_NUMBERS,
  groundDepthMm: GROUND_DEPTH,
  frameMm: FRAME,
  cornerLeftMm: mmRule(0, 20, "What a round cutter may leave in an inner corner, measured from its tip"),
} as const satisfies NumberRules;

export const GROOVE_NUMBERS = {
  ...ROUTER_NUMBERS,
  grooveWidthMm: mmRule(0.1, 50, "Width of the groove along outlines, at the upper face"),
  deepestMm: mmRule(0.1, 100, "No groove goes deeper; a wider place gets a flat floor"),
  fieldMarginMm: mmRule(0, 400, "Filling the ground: how far it reaches beyond the knot"),
} as const satisfies NumberRules;

export const GROOVE_CHOICES = {
  ...ROUTER_CHOICES,
  fill: {
    words: ["outlines", "ground"],
    meaning: "Grooves along the ribbon's outlines, or the ground between",
  },
} as const satisfies Readonly<Record<string, ChoiceRule>>;

export const RELIEF_NUMBERS = {
  ...ROUTER_NUMBERS,
  overDepthMm: mmRule(0, 100, "Depth of the ribbon's crown where it passes over"),
  underDepthMm: mmRule(0, 100, "Depth of the ribbon's crown where it passes under"),
  groundDepthMm: GROUND_DEPTH,
  borderDepthMm: mmRule(0, 100, "Depth of the border"),
  domeHeightMm: mmRule(0, 50, "How far the ribbon's edge lies below its crown"),
  frameMm: FRAME,
  scallopMm: mmRule(0.001, 1, "Height of the ridges that the ball may leave"),
  roughAllowanceMm: mmRule(0, 10, "Left by roughing for the ball"),
  reliefPixelMm: mmRule(0.02, 2, "Size of the squares of the height map"),
  meshDeviationMm: mmRule(0.001, 2, "How far the mesh may lie from the height map"),
} as const satisfies NumberRules;

export const RELIEF_CHOICES = {
  ...ROUTER_CHOICES,
  dome: { words: ["round", "eased", "two-ridged"], meaning: "Shape of the ribbon from edge to edge" },
} as const satisfies Readonly<Record<string, ChoiceRule>>;

export const GROUND_RULES: CraftRules = {
  numbers: GROUND_NUMBERS,
  choices: ROUTER_CHOICES,
  cutters: true,
  clashes: (profile) => {
    const { groundDepthMm, frameMm } = valuesOf(profile, GROUND_NUMBERS);
    return [
      ...commonClashes(profile, groundDepthMm, "groundDepthMm"),
      ...frameClash(profile, frameMm),
      ...missingCutter(profile, "end-mill", "clears the ground"),
      ...tooShortCutters(profile, groundDepthMm, "groundDepthMm"),
    ];
  },
};

export const GROOVE_RULES: CraftRules = {
  numbers: GROOVE_NUMBERS,
  choices: GROOVE_CHOICES,
  cutters: true,
  clashes: (profile) => {
    const { deepestMm } = valuesOf(profile, GROOVE_NUMBERS);
    return [
      ...commonClashes(profile, deepestMm, "deepestMm"),
      ...missingCutter(profile, "v", "cuts the grooves"),
      ...(profile.choices["cutOut"] === true ? missingCutter(profile, "end-mill", "cuts the panel out") : []),
    ];
  },
};

export const RELIEF_RULES: CraftRules = {
  numbers: RELIEF_NUMBERS,
  choices: RELIEF_CHOICES,
  cutters: true,
  clashes: (profile) => {
    const values = valuesOf(profile, RELIEF_NUMBERS);
    return [
      ...commonClashes(profile, values.groundDepthMm, "groundDepthMm"),
      ...frameClash(profile, values.frameMm),
      ...missingCutter(profile, "end-mill", "roughs the relief"),
      ...missingCutter(profile, "ball", "shapes the domes"),
      ...tooShortCutters(profile, values.groundDepthMm, "groundDepthMm"),
      ...inOrder(values),
    ];
  },
};

function clash(key: string, reason: string): Clash {
  return { path: ["numbers", key, "value"], reason };
}

function commonClashes(profile: CraftValues, depthMm: number, depthKey: string): Clash[] {
  const values = valuesOf(profile, ROUTER_NUMBERS);
  const clashes: Clash[] = [];
  if (depthMm + values.keepBelowMm > values.stockThicknessMm)
    clashes.push(
      clash(
        depthKey,
        `${formatMm(depthMm)} deep and ${formatMm(values.keepBelowMm)} kept below are more than the board's ${formatMm(values.stockThicknessMm)}`,
      ),
    );
  if (values.tabHeightMm > values.stockThicknessMm)
    clashes.push(
      clash("tabHeightMm", `tabs higher than the board is thick (${formatMm(values.stockThicknessMm)})`),
    );
  if (values.approachMm > values.clearanceMm)
    clashes.push(
      clash("approachMm", `it lies above the clearance height of ${formatMm(values.clearanceMm)}`),
    );
  if (values.machineLeastRpm > values.machineGreatestRpm)
    clashes.push(clash("machineLeastRpm", "the slowest spindle is faster than the fastest"));
  const longest = longestMill(profile);
  if (profile.choices["cutOut"] === true && longest > 0 && longest < values.stockThicknessMm)
    clashes.push(
      clash(
        "stockThicknessMm",
        `the panel is to be cut out, and the board is thicker than the cutting edges of every end mill: ${formatMm(longest)} is the longest. Set cutOut to false, or add a longer cutter`,
      ),
    );
  const rpm: [number, Clash["path"]][] = [[values.spindleRpm, ["numbers", "spindleRpm", "value"]]];
  for (const [i, cutter] of profile.cutters.entries()) {
    const path = ["cutters", i];
    if (cutter.spindleRpm !== undefined) rpm.push([cutter.spindleRpm, [...path, "spindleRpm"]]);
    if ((cutter.feedMmPerMin ?? 0) > values.machineFeedMmPerMin)
      clashes.push({
        path: [...path, "feedMmPerMin"],
        reason: `the machine's greatest feed is ${values.machineFeedMmPerMin} mm a minute`,
      });
    if (profile.cutters.findIndex(({ number }) => number === cutter.number) < i)
      clashes.push({ path: [...path, "number"], reason: `number ${cutter.number} is given to two cutters` });
  }
  for (const [value, path] of rpm)
    if (value < values.machineLeastRpm || value > values.machineGreatestRpm)
      clashes.push({
        path,
        reason: `the machine's spindle turns ${values.machineLeastRpm} to ${values.machineGreatestRpm} times a minute`,
      });
  return clashes;
}

function frameClash(profile: CraftValues, frameMm: number): Clash[] {
  const { borderMm } = valuesOf(profile, RIBBON_NUMBERS);
  return frameMm > 0 && frameMm >= borderMm
    ? [
        clash(
          "frameMm",
          `the standing border would touch the knot: it must be narrower than borderMm, ${formatMm(borderMm)}`,
        ),
      ]
    : [];
}

function missingCutter({ cutters }: CraftValues, kind: string, what: string): Clash[] {
  return cutters.some((cutter) => cutter.kind === kind)
    ? []
    : [
        {
          path: ["cutters"],
          reason: `no cutter of kind "${kind}" is among them, and it is one that ${what}`,
        },
      ];
}

function longestMill({ cutters }: CraftValues): number {
  const mills = cutters.filter(({ kind }) => kind === "end-mill");
  return mills.reduce((most, { cuttingLengthMm }) => Math.max(most, cuttingLengthMm), 0);
}

function tooShortCutters(profile: CraftValues, depthMm: number, key: string): Clash[] {
  const longest = longestMill(profile);
  return longest > 0 && longest < depthMm
    ? [clash(key, `it is deeper than the cutting edges of every cutter: ${formatMm(longest)} is the longest`)]
    : [];
}

function inOrder(values: Readonly<Record<keyof typeof RELIEF_NUMBERS, number>>): Clash[] {
  const { overDepthMm, underDepthMm, groundDepthMm, domeHeightMm } = values;
  const clashes: Clash[] = [];
  if (underDepthMm <= overDepthMm)
    clashes.push(
      clash(
        "underDepthMm",
        `it must be more than overDepthMm, ${formatMm(overDepthMm)}: there the ribbon dips`,
      ),
    );
  if (underDepthMm + domeHeightMm > groundDepthMm)
    clashes.push(
      clash(
        "underDepthMm",
        `with the dome's ${formatMm(domeHeightMm)} the dipping ribbon's edge would lie below the ground at ${formatMm(groundDepthMm)}`,
      ),
    );
  return clashes;
}
