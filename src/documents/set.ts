/**
 * Set files (`*.set.json`, format version 1): several designs that are to match, converted with
 * one profile, and with the same ribbon width, gap and hand whatever their own.
 */
import { z } from "zod";
import { done, type Result } from "../base/fault.ts";
import { besideField, handField } from "./composition.ts";
import type { Hand } from "./design.ts";
import { issueOf, NAME_PATTERN, numberField, textField } from "./fields.ts";
import { parseJson } from "./json-text.ts";
import { checkDocument, type PathFault, placeFaults } from "./zod-faults.ts";

export interface DesignSet {
  readonly title?: string;
  /** A profile's name, or the name of a profile file beside the set. */
  readonly profile: string;
  readonly designs: readonly SetDesign[];
  readonly ribbon: { readonly widthMm: number; readonly gapMm: number };
  readonly hand: Hand;
}

export interface SetDesign {
  /** Beside the set. */
  readonly file: string;
  /** Of its job, within the set's. */
  readonly folder: string;
}

const profileField = textField(120, "A profile's name, or a profile file beside this one").check(
  ({ value, issues }) => {
    if (!NAME_PATTERN.test(value) && !/^[^/\\:*?"<>|.][^/\\:*?"<>|]*\.json$/i.test(value))
      issues.push(issueOf({ code: "unsafe-name", found: value }, [], value));
  },
);

export const setSchema = z
  .strictObject({
    plaitwrightSet: z.literal(1).meta({ description: "Version of the set format" }),
    title: textField(200, "Name of the set, for people").exactOptional(),
    profile: profileField,
    designs: z
      .array(besideField(".json", "A design file beside this one"))
      .min(1)
      .max(1000)
      .meta({ description: "The designs, in the order of the report" }),
    ribbon: z
      .strictObject({
        width: numberField(0.01, 5000, "mm", "Width of the ribbon"),
        gap: numberField(0.01, 5000, "mm", "Clear space beside a crossing ribbon"),
      })
      .meta({ description: "The ribbon of every design" }),
    hand: handField.exactOptional(),
  })
  .meta({ title: "plaitwright set", description: "Designs that match: *.set.json" });

/**
 * Reads a set file; `file` is its name as the person gave it, for messages.
 *
 * Faults: those of the JSON text and of its keys and values; `design-twice` where two designs
 * would be written to one folder.
 */
export function parseSet(text: string, file: string): Result<DesignSet> {
  const json = parseJson(text, file);
  if (!json.ok) return json;
  const checked = checkDocument(setSchema, json.value, file);
  if (!checked.ok) {
    const version = checked.faults.filter(({ code }) => code === "wrong-version");
    return version.length > 0 ? { ok: false, faults: version } : checked;
  }
  const { title, profile, ribbon, hand = "Z" } = checked.value;
  const designs = checked.value.designs.map((name) => ({ file: name, folder: folderOf(name) }));
  const twice = doubledFolders(designs);
  if (twice.length > 0) return { ok: false, faults: placeFaults(twice, json.value, file) };
  return done({
    ...(title === undefined ? {} : { title }),
    profile,
    designs,
    ribbon: { widthMm: ribbon.width, gapMm: ribbon.gap },
    hand,
  });
}

function folderOf(design: string): string {
  return design.replace(/(\.plait)?\.json$/i, "");
}

/** Many file systems do not tell capitals from small letters. */
function doubledFolders(designs: readonly SetDesign[]): PathFault[] {
  const seen = new Set<string>();
  return designs.flatMap(({ file, folder }, i) => {
    const key = folder.toLowerCase();
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew ? [] : [{ code: "design-twice", found: file, folder, path: ["designs", i] } as const];
  });
}
