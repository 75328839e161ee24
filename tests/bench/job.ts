/** One whole job of a plain panel, in a process of its own: prints crossings, area, times and peak memory as JSON. */
import { readFileSync } from "node:fs";
import { readFonts } from "../../src/cli/read-fonts.ts";
import { makeJobFiles } from "../../src/documents/job-files.ts";
import { prepareJob } from "../../src/documents/prepare-job.ts";
import { parseProfile } from "../../src/documents/profile.ts";
import { plainPanel } from "../support/plain-panel.ts";

const [name = "router-ground", across = "5", down = "3", pitch = "21"] = process.argv.slice(2);
const url = new URL(`../../../profiles/${name}.json`, import.meta.url);
const profile = parseProfile(readFileSync(url, "utf8"), name);
if (!profile.ok) throw new Error("the profile does not read");
const panel = plainPanel(Number(across), Number(down));
const design = {
  pitchMm: { across: Number(pitch), down: Number(pitch) },
  ribbon: {},
  panel,
  hand: "Z" as const,
};

const start = performance.now();
const prepared = prepareJob(design, "bench", profile.value);
if (!prepared.ok) throw new Error("the panel does not convert");
const made = performance.now();
makeJobFiles(prepared.value, {
  design: { file: "bench", sha256: "" },
  tool: { name: "bench", version: "" },
  extras: [],
  despiteChecks: true,
  sha256: () => "",
  fonts: readFonts,
});
const { job } = prepared.value;
process.stdout.write(
  JSON.stringify({
    crossings: job.counts["crossings"],
    cm2: (job.size.width * job.size.height) / 100,
    stitches: job.counts["stitches"],
    failed: job.checks.filter(({ verdict }) => verdict === "fail").map(({ rule }) => rule),
    timesMs: { prepare: made - start, files: performance.now() - made },
    peakMb: process.resourceUsage().maxRSS / 1024,
  }),
);
