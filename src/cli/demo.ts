/** The demo: every sample converted into a job folder, as a person would on the command line. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { runConvert } from "./convert-verb.ts";
import { runDraftCoupon } from "./draft-verb.ts";
import { PACKAGE_FOLDER } from "./read-input.ts";
import { EXIT, print } from "./report.ts";

const PROFILE = "leather-inlay";
const samples = join(PACKAGE_FOLDER, "samples");
const jobs = "jobs";

let worst: number = EXIT.done;
for (const name of readdirSync(samples).filter((file) => file.endsWith(".plait.json"))) {
  const out = join(jobs, name.replace(/\.plait\.json$/, ""));
  print(`plaitwright convert samples/${name} --profile ${PROFILE} --out ${out}`);
  worst = Math.max(worst, runConvert(join(samples, name), { profile: PROFILE, out }));
  print();
}
const coupon = join(jobs, "kerf-test-piece");
print(`plaitwright draft coupon --profile ${PROFILE} --out ${coupon}`);
worst = Math.max(worst, runDraftCoupon({ profile: PROFILE, out: coupon }));
process.exitCode = worst;
