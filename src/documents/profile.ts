/**
 * Craft profiles (format version 1): the numbers of a craft with their meaning and source,
 * the choices, materials, cautions and the order of work. A person's own profile may leave
 * out range, meaning and source of a number; the craft's own then stand.
 */
import { z } from "zod";
import { done, type Fault, type Result } from "../base/fault.ts";
import type { CraftWords } from "../crafts/craft-words.ts";
import { CRAFT_RULES, CRAFTS, type Craft } from "./craft-names.ts";
import type { CraftRules } from "./craft-rules.ts";
import { type CutterEntry, cutterField } from "./cutter-entry.ts";
import { issueOf, nameField, numberField, textField } from "./fields.ts";
import { type JsonText, parseJson } from "./json-text.ts";
import { checkDocument, placeFaults } from "./zod-faults.ts";

export interface NumberEntry {
  readonly value: number;
  /** "mm", "mm2", "degrees" … or "" for a share. */
  readonly unit: string;
  /** Least and greatest sensible value, both allowed. */
  readonly range: readonly [number, number];
  readonly meaning: string;
  readonly source: string;
}

export interface Material {
  readonly part: string;
  readonly material: string;
  readonly notes: string;
}

export interface Profile {
  readonly name: string;
  readonly craft: Craft;
  readonly title: string;
  readonly summary: string;
  /** By name, in the craft's order; `valuesOf` of the craft's rules reads them. */
  readonly numbers: Readonly<Record<string, NumberEntry>>;
  readonly choices: Readonly<Record<string, string | boolean>>;
  /** None where the craft has no cutters. */
  readonly cutters: readonly CutterEntry[];
  readonly materials: readonly Material[];
  readonly cautions: readonly string[];
  readonly standingLine: string;
  readonly orderOfWork: readonly string[];
}

const OWN_SOURCE = "this profile names none";

const sentence = (description: string) => textField(2000, description);

/** One number of a profile: within the craft's hard limits, and within its own range if it gives one. */
function entryField({ least, greatest, unit, meaning }: CraftRules["numbers"][string]) {
  const number = (description: string) => numberField(least, greatest, unit, description);
  return z
    .strictObject({
      value: number(meaning),
      range: z.tuple([number("Least sensible value"), number("Greatest sensible value")]).exactOptional(),
      meaning: sentence("What the number is, in plain words").exactOptional(),
      source: sentence("Who publishes the value, or that nobody does").exactOptional(),
    })
    .check(({ value: entry, issues }) => {
      if (!entry.range) return;
      const [from, to] = entry.range;
      if (from > to) {
        issues.push(issueOf({ code: "range-reversed", least: from, greatest: to }, ["range"], entry.range));
        return;
      }
      // A value outside the hard limits is told already.
      const possible = entry.value >= least && entry.value <= greatest;
      if (possible && (entry.value < from || entry.value > to)) {
        const facts = { found: entry.value, least: from, greatest: to, unit };
        issues.push(issueOf({ code: "number-out-of-range", ...facts }, ["value"], entry.value));
      }
    })
    .meta({ description: meaning });
}

function choiceField({ words, meaning }: CraftRules["choices"][string]) {
  const texts = words.filter((word) => typeof word === "string");
  const field = texts.length > 0 ? z.enum(texts) : z.boolean();
  return field.meta({ description: meaning });
}

function fieldsOf<Rule, Field extends z.ZodType>(
  rules: Readonly<Record<string, Rule>>,
  field: (rule: Rule) => Field,
): Record<string, Field> {
  return Object.fromEntries(Object.entries(rules).map(([key, rule]) => [key, field(rule)]));
}

const version = z.literal(1).meta({ description: "Version of the profile format" });
const ownName = nameField("Name of the profile: a word of small letters, digits and hyphens");

/** What profiles of all crafts hold. */
const COMMON_FIELDS = {
  title: textField(200, "Title, for people"),
  summary: sentence("What the craft makes, in a sentence or two"),
  materials: z
    .array(
      z.strictObject({
        part: textField(200, "What it is for"),
        material: textField(200, "What to use"),
        notes: sentence("What to look out for"),
      }),
    )
    .max(100)
    .meta({ description: "Materials" }),
  cautions: z.array(sentence("One caution")).min(1).max(100).meta({ description: "Cautions, for every job" }),
  standingLine: sentence("The line that stands on every sheet"),
  orderOfWork: z.array(sentence("One step")).max(100).meta({ description: "Steps of the work, in order" }),
} as const;

function craftSchema(craft: Craft) {
  const { numbers, choices, cutters } = CRAFT_RULES[craft];
  const { title, summary, ...rest } = COMMON_FIELDS;
  return z.strictObject({
    plaitwrightProfile: version,
    name: ownName,
    craft: z.enum(CRAFTS).meta({ description: "The craft that the profile is for" }),
    title,
    summary,
    numbers: z
      .strictObject(fieldsOf(numbers, entryField))
      .meta({ description: "The numbers of the craft, each with its range, meaning and source" }),
    choices: z.strictObject(fieldsOf(choices, choiceField)).meta({ description: "Choices of the craft" }),
    ...(cutters
      ? { cutters: z.array(cutterField).min(1).max(50).meta({ description: "Cutters at hand" }) }
      : {}),
    ...rest,
  });
}

/** For editors: a profile whole, or one that says only what it changes in another. */
export const profileSchema = z
  .union([
    ...CRAFTS.map((craft) =>
      craftSchema(craft).extend({ craft: z.enum([craft]).meta({ description: "The craft" }) }),
    ),
    z.strictObject({
      plaitwrightProfile: version,
      name: ownName,
      extends: nameField("The profile that this one changes").meta({
        description: "Name of a profile that comes with the tool; what is not said here is as there",
      }),
      ...Object.fromEntries(
        Object.entries(COMMON_FIELDS).map(([key, field]) => [key, field.exactOptional()]),
      ),
      numbers: z.record(z.string(), z.looseObject({ value: z.number() })).exactOptional(),
      choices: z.record(z.string(), z.union([z.string(), z.boolean()])).exactOptional(),
      cutters: z.array(cutterField).exactOptional(),
    }),
  ])
  .meta({ title: "plaitwright profile", description: "Numbers, materials and cautions of a craft" });

/** The text of a profile that comes with the tool. Faults: `profile-unknown`. */
export type ReadProfileText = (name: string) => Result<string>;

/**
 * Reads a profile; `file` is its name as the person gave it, for messages. One that `extends`
 * another holds only what it changes: single numbers and choices, whole lists.
 *
 * Faults: those of the JSON text; unknown, missing and doubled keys; values of the wrong kind
 * or out of range; `range-reversed`, `numbers-clash`, `unsafe-name`; `craft-unknown` and
 * `wrong-version` (each without the faults that may only follow from it). All that are found.
 */
export function parseProfile(text: string, file: string, readText?: ReadProfileText): Result<Profile> {
  const json = parseJson(text, file);
  if (!json.ok) return json;
  const whole = filledIn(json.value, file, readText);
  if (!whole.ok) return whole;
  const craft = craftOf(whole.value.value);
  const rules = CRAFT_RULES[craft];
  const checked = checkDocument(craftSchema(craft), whole.value, file);
  if (!checked.ok) return { ok: false, faults: leadingFaults(checked.faults.map(asCraftFault)) };
  const { plaitwrightProfile: _version, numbers, ...rest } = checked.value;
  const cutters = cuttersOf(checked.value);
  const filled = Object.entries(rules.numbers).map(
    ([key, { unit, least, greatest, meaning }]): [string, NumberEntry] => {
      const entry = {
        value: Number.NaN,
        unit,
        range: [least, greatest] as const,
        meaning,
        source: OWN_SOURCE,
        ...numbers[key],
      };
      return [key, entry];
    },
  );
  // The schema, put together from the craft's rules, has no type that says so.
  const profile: Profile = { ...rest, craft, cutters, numbers: Object.fromEntries(filled) };
  const clashes = rules.clashes?.(profile) ?? [];
  if (clashes.length === 0) return done(profile);
  const faults = clashes.map(({ path, reason }) => ({ code: "numbers-clash" as const, reason, path }));
  return { ok: false, faults: placeFaults(faults, whole.value, file) };
}

/** Of an unknown craft any will do: what is wrong with its numbers is not told. */
function craftOf(value: unknown): Craft {
  const found = isGroup(value) ? value["craft"] : undefined;
  return CRAFTS.find((craft) => craft === found) ?? CRAFTS[0];
}

/** The document with what it leaves to the profile that it extends. */
function filledIn(json: JsonText, file: string, readText: ReadProfileText | undefined): Result<JsonText> {
  if (!isGroup(json.value) || !Object.hasOwn(json.value, "extends")) return done(json);
  const { extends: named, ...own } = json.value;
  if (typeof named !== "string") {
    const wrong = checkDocument(
      z.object({ extends: nameField("The profile that this one changes") }),
      json,
      file,
    );
    return wrong.ok ? done(json) : wrong;
  }
  const text = readText?.(named);
  if (!text?.ok) {
    const faults = (text?.faults ?? []).map((fault) => ({ ...fault, path: ["extends"] }));
    return { ok: false, faults: placeFaults(faults, json, file) };
  }
  const base = parseJson(text.value, named);
  if (!base.ok) return base;
  // Of what it extends itself the base says nothing of its own: profiles that come with the tool may be short too.
  const full = filledIn(base.value, named, readText);
  if (!full.ok) return full;
  return done({ value: changedBy(full.value.value, own), locate: json.locate });
}

function changedBy(base: unknown, own: Readonly<Record<string, unknown>>): unknown {
  if (!isGroup(base)) return own;
  const { numbers, choices } = own;
  return {
    ...base,
    ...own,
    ...(isGroup(numbers) && isGroup(base["numbers"])
      ? { numbers: numbersChanged(base["numbers"], numbers) }
      : {}),
    ...(isGroup(choices) && isGroup(base["choices"]) ? { choices: { ...base["choices"], ...choices } } : {}),
  };
}

/** A new value keeps its meaning and range, but not the source of the old one. */
function numbersChanged(
  base: Readonly<Record<string, unknown>>,
  own: Readonly<Record<string, unknown>>,
): Record<string, unknown> {
  const changed = Object.entries(own).map(([key, entry]) => {
    const before = base[key];
    if (!isGroup(entry) || !isGroup(before)) return [key, entry];
    const { source: _theirs, ...kept } = before;
    return [key, { ...(Object.hasOwn(entry, "value") ? kept : before), ...entry }];
  });
  return { ...base, ...Object.fromEntries(changed) };
}

function cuttersOf(checked: object): readonly CutterEntry[] {
  return "cutters" in checked && Array.isArray(checked.cutters) ? checked.cutters : [];
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function asCraftFault(fault: Fault): Fault {
  return fault.code === "unknown-word" && fault.path?.[0] === "craft"
    ? { ...fault, code: "craft-unknown" }
    : fault;
}

/** An unknown version or craft has other keys: what is said of them would be guesswork. */
function leadingFaults(faults: readonly Fault[]): readonly Fault[] {
  const version = faults.filter(({ code }) => code === "wrong-version");
  if (version.length > 0) return version;
  const crafts = faults.some(({ code }) => code === "craft-unknown");
  const guesses = new Set<unknown>(["numbers", "choices", "cutters"]);
  return crafts ? faults.filter(({ path }) => !guesses.has(path?.[0])) : faults;
}

/** A profile as a manifest names it. */
export interface ProfileUsed {
  readonly name: string;
  readonly craft: string;
  readonly numbers: Readonly<Record<string, number>>;
  readonly choices: Readonly<Record<string, string | boolean>>;
  readonly cutters?: readonly CutterEntry[];
}

/** Every number used, without its words. */
export function profileUsed({ name, craft, numbers, choices, cutters }: Profile): ProfileUsed {
  return {
    name,
    craft,
    numbers: Object.fromEntries(Object.entries(numbers).map(([key, { value }]) => [key, value])),
    choices,
    ...(cutters.length > 0 ? { cutters } : {}),
  };
}

/** The profile's words, each number with its name. */
export function profileInWords(profile: Profile): CraftWords {
  return { ...profile, numbers: numbersOf(profile) };
}

export function numbersOf({ numbers }: Profile): ({ readonly key: string } & NumberEntry)[] {
  return Object.entries(numbers).map(([key, entry]) => ({ key, ...entry }));
}
