/** The kinds of field that our documents are made of, each with its limits. */
import { z } from "zod";
import type { FaultFacts } from "../base/fault.ts";
import type { JsonPath } from "./json-text.ts";

/** A name that can stand in a path without leading out of its folder: a kebab-case word. */
export const NAME_PATTERN = /^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/;

/**
 * Text that any file can carry in one line: no control characters, line or paragraph
 * separators, or non-characters (XML 1.0, section 2.2). Written without Unicode classes, which
 * not every reader of JSON Schema knows.
 */
// biome-ignore lint/suspicious/noControlCharactersInRegex: to refuse them is its purpose
const PLAIN_PATTERN = /^[^\u0000-\u001f\u007f-\u009f\u2028\u2029\ufffe\uffff]*$/;

/** Half of a surrogate pair: no character, and lost when the text is written as UTF-8. */
const LONE_SURROGATE = /\p{Surrogate}/u;

/** A number from `least` to `greatest`, both allowed; `unit` is "mm", "degrees" … or "". */
export function numberField(least: number, greatest: number, unit: string, description: string) {
  return z
    .number()
    .min(least)
    .max(greatest)
    .meta(unit === "" ? { description } : { description, unit });
}

/** One line of text for people. */
export function textField(most: number, description: string) {
  return z
    .string()
    .min(1)
    .max(most)
    .regex(PLAIN_PATTERN)
    .check(({ value, issues }) => {
      if (!LONE_SURROGATE.test(value)) return;
      issues.push(issueOf({ code: "control-character", found: value }, [], value));
    })
    .meta({ description });
}

/** A safe name. */
export function nameField(description: string) {
  return z.string().max(60).regex(NAME_PATTERN).meta({ description });
}

/** Facts of ours as a zod issue: for rules that zod has no word for. */
export function issueOf(facts: FaultFacts, path: JsonPath, input: unknown): z.core.$ZodRawIssue {
  return { code: "custom", params: { ...facts }, path: [...path], input };
}
