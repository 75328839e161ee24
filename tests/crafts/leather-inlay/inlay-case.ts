/** Leather inlay jobs for tests: the profile that comes with the tool, changed number by number. */
import { readFileSync } from "node:fs";
import { done, type Result } from "../../../src/base/fault.ts";
import type { CheckResult } from "../../../src/checks/check.ts";
import type { InlayJob } from "../../../src/crafts/leather-inlay/inlay-job.ts";
import type { InlaySettings } from "../../../src/crafts/leather-inlay/settings.ts";
import { type Design, parseDesign } from "../../../src/documents/design.ts";
import type { Overrides } from "../../../src/documents/job-settings.ts";
import { inlayOf } from "../../../src/documents/leather-inlay-craft.ts";
import type { LEATHER_INLAY_NUMBERS } from "../../../src/documents/leather-inlay-rules.ts";
import { prepareJob, settleDesign } from "../../../src/documents/prepare-job.ts";
import { type Profile, parseProfile } from "../../../src/documents/profile.ts";

export type NumberChanges = Readonly<Partial<Record<keyof typeof LEATHER_INLAY_NUMBERS, number>>>;

const root = new URL("../../../", import.meta.url);

/** The tool's own profile with other numbers and choices. */
export function leatherProfile(changes: NumberChanges = {}, choices: Profile["choices"] = {}): Profile {
  const parsed = parseProfile(readFileSync(new URL("profiles/leather-inlay.json", root), "utf8"), "profile");
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  const profile = parsed.value;
  const numbers = { ...profile.numbers };
  for (const [key, value] of Object.entries(changes)) {
    const entry = numbers[key];
    if (entry) numbers[key] = { ...entry, value };
  }
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

/** The inlay's own record, its checks with their remedies proven. */
export interface PreparedInlay {
  readonly settings: InlaySettings;
  readonly job: InlayJob;
}

export function prepareInlay(
  design: Design,
  profile = leatherProfile(),
  overrides: Overrides = {},
): Result<PreparedInlay> {
  const made = prepareJob(design, "Test", profile, { overrides });
  if (!made.ok) return made;
  const settled = settleDesign(design, "Test", { profile, overrides });
  if (!settled.ok) return settled;
  const { settings, job } = inlayOf(settled.value);
  return done({ settings, job: { ...job, checks: made.value.job.checks } });
}

/** The whole job in memory; a refusal fails the test. */
export function prepared(
  design: Design,
  profile = leatherProfile(),
  overrides: Overrides = {},
): PreparedInlay {
  const made = prepareInlay(design, profile, overrides);
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.value;
}

export function checkOf({ job }: PreparedInlay, rule: string): CheckResult {
  const found = job.checks.find((check) => check.rule === rule);
  if (!found) throw new Error(`no check is called ${rule}`);
  return found;
}
