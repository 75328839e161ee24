/** Leather inlay jobs for tests: the profile that comes with the tool, changed number by number. */
import { readFileSync } from "node:fs";
import type { CheckResult } from "../../../src/checks/check.ts";
import { type Design, parseDesign } from "../../../src/documents/design.ts";
import type { Overrides } from "../../../src/documents/job-settings.ts";
import type { LeatherInlayNumber } from "../../../src/documents/leather-inlay-numbers.ts";
import { type PreparedJob, prepareJob } from "../../../src/documents/prepare-job.ts";
import { type Choices, type Profile, parseProfile } from "../../../src/documents/profile.ts";

export type NumberChanges = Readonly<Partial<Record<LeatherInlayNumber, number>>>;

const root = new URL("../../../", import.meta.url);

/** The tool's own profile with other numbers and choices. */
export function leatherProfile(changes: NumberChanges = {}, choices: Partial<Choices> = {}): Profile {
  const parsed = parseProfile(readFileSync(new URL("profiles/leather-inlay.json", root), "utf8"), "profile");
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  const profile = parsed.value;
  const numbers = { ...profile.numbers };
  for (const [key, value] of Object.entries(changes) as [LeatherInlayNumber, number][])
    numbers[key] = { ...numbers[key], value };
  return { ...profile, numbers, choices: { ...profile.choices, ...choices } };
}

export const SAMPLE_NAMES = ["chart-table-frame", "harbour-badge", "sea-chest-lid"] as const;

export function sampleDesign(name: (typeof SAMPLE_NAMES)[number]): Design {
  const file = new URL(`samples/${name}.plait.json`, root);
  const parsed = parseDesign(readFileSync(file, "utf8"), name);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  return parsed.value;
}

/** A design of one panel. */
export function panelDesign(panel: readonly string[], pitchMm = 16): Design {
  return { pitchMm: { across: pitchMm, down: pitchMm }, ribbon: {}, panel, hand: "Z" };
}

/** The whole job in memory; a refusal fails the test. */
export function prepared(design: Design, profile = leatherProfile(), overrides: Overrides = {}): PreparedJob {
  const made = prepareJob(design, "Test", profile, overrides);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.value;
}

export function checkOf({ job }: PreparedJob, rule: string): CheckResult {
  const found = job.checks.find((check) => check.rule === rule);
  if (!found) throw new Error(`no check is called ${rule}`);
  return found;
}
