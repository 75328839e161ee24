/**
 * Craft profiles (format version 1): the numbers of a craft with their meaning and source,
 * the choices, materials, cautions and the order of work. A person's own profile may leave
 * out range, meaning and source of a number; the craft's own then stand.
 */
import { z } from "zod";
import { done, type Fault, type Result } from "../base/fault.ts";
import { issueOf, nameField, numberField, textField } from "./fields.ts";
import { parseJson } from "./json-text.ts";
import { LEATHER_INLAY_NUMBERS, type LeatherInlayNumber } from "./leather-inlay-numbers.ts";
import { checkDocument } from "./zod-faults.ts";

export const CRAFTS = ["leather-inlay"] as const;
export type Craft = (typeof CRAFTS)[number];

export interface NumberEntry {
  readonly value: number;
  /** "mm", "mm2", "degrees" or "" for a share. */
  readonly unit: string;
  /** Least and greatest sensible value, both allowed. */
  readonly range: readonly [number, number];
  readonly meaning: string;
  readonly source: string;
}

export interface Choices {
  /** "pieces": every visible piece of ribbon is cut on its own; "laced": whole strands are woven. */
  readonly way: "pieces" | "laced";
  /** The face of the leather that lies up on the machine. */
  readonly cutFace: "front" | "back";
  readonly corner: "pointed" | "round";
  /** Whether the kerf was measured on this machine and leather; if not, the job says so. */
  readonly kerfMeasured: boolean;
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
  readonly numbers: Readonly<Record<LeatherInlayNumber, NumberEntry>>;
  readonly choices: Choices;
  readonly materials: readonly Material[];
  readonly cautions: readonly string[];
  readonly standingLine: string;
  readonly orderOfWork: readonly string[];
}

const OWN_SOURCE = "this profile names none";

const sentence = (description: string) => textField(2000, description);

/** One number of a profile: within the craft's hard limits, and within its own range if it gives one. */
function entryField(key: LeatherInlayNumber) {
  const { least, greatest, unit, meaning } = LEATHER_INLAY_NUMBERS[key];
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

const NUMBER_KEYS = Object.keys(LEATHER_INLAY_NUMBERS) as LeatherInlayNumber[];

export const profileSchema = z
  .strictObject({
    plaitwrightProfile: z.literal(1).meta({ description: "Version of the profile format" }),
    name: nameField("Name of the profile: a word of small letters, digits and hyphens"),
    craft: z.enum(CRAFTS).meta({ description: "The craft that the profile is for" }),
    title: textField(200, "Title, for people"),
    summary: sentence("What the craft makes, in a sentence or two"),
    numbers: z
      .strictObject(
        Object.fromEntries(NUMBER_KEYS.map((key) => [key, entryField(key)])) as Record<
          LeatherInlayNumber,
          ReturnType<typeof entryField>
        >,
      )
      .meta({ description: "The numbers of the craft, each with its range, meaning and source" }),
    choices: z
      .strictObject({
        way: z.enum(["pieces", "laced"]).meta({ description: "Separate pieces, or whole strands woven" }),
        cutFace: z.enum(["front", "back"]).meta({ description: "Face that lies up on the machine" }),
        corner: z.enum(["pointed", "round"]).meta({ description: "Corners where the design says nothing" }),
        kerfMeasured: z.boolean().meta({ description: "Whether the kerf was measured here" }),
      })
      .meta({ description: "Choices of the craft" }),
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
    cautions: z
      .array(sentence("One caution"))
      .min(1)
      .max(100)
      .meta({ description: "Cautions, for every job" }),
    standingLine: sentence("The line that stands on every sheet"),
    orderOfWork: z.array(sentence("One step")).max(100).meta({ description: "Steps of the work, in order" }),
  })
  .meta({ title: "plaitwright profile", description: "Numbers, materials and cautions of a craft" });

/**
 * Reads a profile; `file` is its name as the person gave it, for messages.
 *
 * Faults: those of the JSON text; unknown, missing and doubled keys; values of the wrong kind
 * or out of range; `range-reversed`, `unsafe-name`; `craft-unknown` and `wrong-version` (each
 * without the faults that may only follow from it). All that are found.
 */
export function parseProfile(text: string, file: string): Result<Profile> {
  const json = parseJson(text, file);
  if (!json.ok) return json;
  const checked = checkDocument(profileSchema, json.value, file);
  if (!checked.ok) return { ok: false, faults: leadingFaults(checked.faults.map(asCraftFault)) };
  const { plaitwrightProfile: _version, numbers, ...rest } = checked.value;
  const filled = NUMBER_KEYS.map((key): [LeatherInlayNumber, NumberEntry] => {
    const { unit, least, greatest, meaning } = LEATHER_INLAY_NUMBERS[key];
    const entry = numbers[key];
    return [key, { unit, range: [least, greatest], meaning, source: OWN_SOURCE, ...entry }];
  });
  return done({ ...rest, numbers: Object.fromEntries(filled) as Record<LeatherInlayNumber, NumberEntry> });
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
  return crafts ? faults.filter(({ path }) => path?.[0] !== "numbers" && path?.[0] !== "choices") : faults;
}
