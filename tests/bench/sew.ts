/** One satin job of a square panel, in a process of its own: prints crossings, stitches, times and peak memory as JSON. */
import { readFileSync } from "node:fs";
import { readFonts } from "../../src/cli/read-fonts.ts";
import { makeJobFiles } from "../../src/documents/job-files.ts";
import { prepareJob } from "../../src/documents/prepare-job.ts";
import { parseProfile } from "../../src/documents/profile.ts";
import { plainPanel } from "../support/plain-panel.ts";

const cells = Number(process.argv[2] ?? 10);
const url = new URL("../../../profiles/stitch-satin.json", import.meta.url);
const profile = parseProfile(readFileSync(url, "utf8"), "stitch-satin");
if (!profile.ok) throw new Error("the profile does not read");
const design = {
  pitchMm: { across: 12, down: 12 },
  ribbon: {},
  panel: plainPanel(cells, cells + 1),
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
const { counts } = prepared.value.job;
process.stdout.write(
  JSON.stringify({
    crossings: counts["crossings"],
    stitches: counts["stitches"],
    timesMs: { prepare: made - start, files: performance.now() - made },
    peakMb: process.resourceUsage().maxRSS / 1024,
  }),
);
