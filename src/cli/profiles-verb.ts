/** `profiles`: the profiles that come with the tool, or one with its numbers and cautions. */

import { formatNumber } from "../base/format-number.ts";
import { unitText } from "../crafts/check-words.ts";
import { numbersOf, type Profile } from "../documents/profile.ts";
import { colours as pc } from "./colours.ts";
import { profileNames, readProfile } from "./read-input.ts";
import { EXIT, print, printJson, tellFaults } from "./report.ts";

/** Answers the exit code. */
export function runProfiles(name: string | undefined, { json = false }: { readonly json?: boolean }): number {
  if (name !== undefined) {
    const profile = readProfile(name);
    if (!profile.ok) return tellFaults(profile.faults, json);
    if (json) printJson(profile.value);
    else printProfile(profile.value);
    return EXIT.done;
  }
  const profiles: Profile[] = [];
  for (const known of profileNames()) {
    const profile = readProfile(known);
    if (!profile.ok) return tellFaults(profile.faults, json);
    profiles.push(profile.value);
  }
  if (json)
    printJson(profiles.map(({ name: own, craft, title, summary }) => ({ name: own, craft, title, summary })));
  else for (const { name: own, title, summary } of profiles) print(`${pc.bold(own)}  ${title}\n  ${summary}`);
  return EXIT.done;
}

function printProfile(profile: Profile): void {
  print(`${pc.bold(profile.name)}  ${profile.title}`);
  print(`  ${profile.summary}`);
  print();
  print("  Numbers");
  for (const { key, value, unit, range, meaning, source } of numbersOf(profile)) {
    const [least, greatest] = range;
    print(
      `   ${pc.bold(key)} ${formatNumber(value, 4)}${unitText(unit)} (${formatNumber(least, 4)} to ${formatNumber(greatest, 4)})`,
    );
    print(`     ${meaning}`);
    print(pc.dim(`     Source: ${source}`));
  }
  print();
  print("  Choices");
  for (const [key, value] of Object.entries(profile.choices)) print(`   ${pc.bold(key)} ${String(value)}`);
  print();
  print("  Cautions");
  for (const caution of profile.cautions) print(`   - ${caution}`);
  print();
  print(`  ${profile.standingLine}`);
}
