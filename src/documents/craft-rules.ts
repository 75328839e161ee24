/**
 * What a craft's profiles may hold: numbers with their units and the limits outside which a
 * value can only be a slip, and choices with their words. And what all crafts have in common.
 */
import type { CutterEntry } from "./cutter-entry.ts";

export interface NumberRule {
  readonly unit: string;
  readonly least: number;
  readonly greatest: number;
  readonly meaning: string;
}

/** A length in mm. */
export function mmRule(least: number, greatest: number, meaning: string): NumberRule {
  return { unit: "mm", least, greatest, meaning };
}

/** A number without a unit: a share or a count. */
export function plainRule(least: number, greatest: number, meaning: string): NumberRule {
  return { unit: "", least, greatest, meaning };
}

/** Numbers by their names. */
export type NumberRules = Readonly<Record<string, NumberRule>>;

export interface ChoiceRule {
  /** The words allowed, or true and false. */
  readonly words: readonly string[] | readonly boolean[];
  readonly meaning: string;
}

export const YES_NO = [true, false] as const;

/** Every craft needs these to draw the ribbon and to fit a size. */
export const RIBBON_NUMBERS = {
  widthPerPitch: {
    unit: "",
    least: 0.02,
    greatest: 0.5,
    meaning: "Width of the ribbon as a share of the pitch, where the design gives none",
  },
  gapPerPitch: {
    unit: "",
    least: 0.005,
    greatest: 0.5,
    meaning: "Clear space beside a crossing ribbon as a share of the pitch, where the design gives none",
  },
  borderMm: {
    unit: "mm",
    least: 0,
    greatest: 500,
    meaning: "From the ribbon's edge to the edge of the piece",
  },
} as const satisfies Readonly<Record<string, NumberRule>>;

export const CORNER_CHOICE = {
  words: ["pointed", "round"],
  meaning: "Corners where the design says nothing",
} as const satisfies ChoiceRule;

type Value<Rule extends ChoiceRule> = Rule["words"][number];

/** The profile's numbers that these rules name. */
export function valuesOf<Key extends string>(
  { numbers }: { readonly numbers: Readonly<Record<string, { readonly value: number }>> },
  rules: Readonly<Record<Key, NumberRule>>,
): Readonly<Record<Key, number>> {
  const keys = Object.keys(rules) as Key[];
  return Object.fromEntries(keys.map((key) => [key, numbers[key]?.value])) as Record<Key, number>;
}

/** The profile's choices that these rules name; they were held against the rules when it was read. */
export function choicesOf<Rules extends Readonly<Record<string, ChoiceRule>>>(
  { choices }: { readonly choices: Readonly<Record<string, string | boolean>> },
  rules: Rules,
): { readonly [Key in keyof Rules]: Value<Rules[Key]> } {
  return Object.fromEntries(Object.keys(rules).map((key) => [key, choices[key]])) as {
    [Key in keyof Rules]: Value<Rules[Key]>;
  };
}

/** What two numbers of one profile say against each other, and where. */
export interface Clash {
  readonly path: readonly (string | number)[];
  readonly reason: string;
}

export interface CraftRules {
  readonly numbers: Readonly<Record<string, NumberRule>>;
  readonly choices: Readonly<Record<string, ChoiceRule>>;
  /** Whether its profiles list cutters. */
  readonly cutters: boolean;
  readonly clashes?: (profile: CraftValues) => readonly Clash[];
}

/** As much of a profile as its rules look at. */
export interface CraftValues {
  readonly numbers: Readonly<Record<string, { readonly value: number }>>;
  readonly choices: Readonly<Record<string, string | boolean>>;
  readonly cutters: readonly CutterEntry[];
}
