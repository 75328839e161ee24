/** The demo: every sample converted into a job folder, as a person would on the command line. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { runConvert } from "./convert-verb.ts";
import { runDraftCoupon } from "./draft-verb.ts";
import { PACKAGE_FOLDER } from "./read-input.ts";
import { EXIT, print } from "./report.ts";

const LEATHER = "leather-inlay";
/** Samples that are for another craft. */
const PROFILES: Readonly<Record<string, string>> = {
  "boathouse-door": "router-ground",
  "oar-rack": "router-groove",
  "tide-plaque": "router-relief",
  "awning-hem": "samples/awning-hem.profile.json",
  "jib-medallion": "stitch-satin",
  "loft-badge": "stitch-satin",
};
const samples = join(PACKAGE_FOLDER, "samples");
const jobs = "jobs";

let worst: number = EXIT.done;
for (const name of readdirSync(samples).filter((file) => file.endsWith(".plait.json"))) {
  const design = name.replace(/\.plait\.json$/, "");
  const out = join(jobs, design);
  const profile = PROFILES[design] ?? LEATHER;
  print(`plaitwright convert samples/${name} --profile ${profile} --out ${out}`);
  const found = profile.endsWith(".json") ? join(PACKAGE_FOLDER, profile) : profile;
  worst = Math.max(worst, runConvert(join(samples, name), { profile: found, out }));
  print();
}
const coupon = join(jobs, "kerf-test-piece");
print(`plaitwright draft coupon --profile ${LEATHER} --out ${coupon}`);
worst = Math.max(worst, runDraftCoupon({ profile: LEATHER, out: coupon }));
process.exitCode = worst;
