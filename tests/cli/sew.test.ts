/** Needle work from the command line: its record read by the decoder made from the published table, its order proven. */
import { readdirSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { expect, test } from "vitest";
import { parseDesign } from "../../src/documents/design.ts";
import { prepareJob } from "../../src/documents/prepare-job.ts";
import { parseProfile } from "../../src/documents/profile.ts";
import { readStitchRecord } from "../formats/stitch-record/decoder.ts";
import { externalTest, runTool } from "../support/external.ts";
import { Bench, ROOT, sample } from "./run-cli.ts";

const bench = new Bench();

interface Manifest {
  readonly files: readonly { readonly path: string; readonly kind: string }[];
  readonly checks: readonly { readonly rule: string; readonly verdict: string }[];
  readonly counts: Readonly<Record<string, number>>;
  readonly work: Readonly<Record<string, number>>;
}

const WORK = ["stitch-satin", "stitch-outline", "stitch-applique"] as const;
const made = new Map<string, Manifest>();

function jobOf(profile: (typeof WORK)[number]): Manifest {
  const known = made.get(profile);
  if (known) return known;
  const job = bench.json(0, "convert", sample("loft-badge"), "--profile", profile, "--out", profile);
  const manifest = job as unknown as Manifest;
  made.set(profile, manifest);
  return manifest;
}

function recordsOf(folder: string) {
  return readStitchRecord(readFileSync(join(bench.folder, folder, "design.dst"))).records;
}

test.each(WORK)("%s: the record holds what the manifest counts", (profile) => {
  const { counts, work } = jobOf(profile);
  const records = recordsOf(profile);
  const count = (command: string) => records.filter((record) => record.command === command).length;
  expect(count("stop")).toBe((counts["blocks"] ?? 0) - 1);
  expect([count("end"), records.at(-1)?.command]).toEqual([1, "end"]);
  // Where sewing begins, in a block or after a move, the needle also goes down once on the spot.
  const moves = (work["recordTrims"] ?? 0) + (work["recordJumps"] ?? 0);
  expect(count("stitch") - (work["stitches"] ?? Number.NaN)).toBeGreaterThanOrEqual(0);
  expect(count("stitch") - (work["stitches"] ?? Number.NaN)).toBeLessThanOrEqual(
    moves + (counts["blocks"] ?? 0),
  );
});

test.each(WORK)("%s: the sheet has the chart, the cautions and the standing line", (profile) => {
  jobOf(profile);
  const sheet = bench.read(profile, "job-sheet.html");
  for (const words of [
    /Threads, in sewing order/,
    /needle and the take-up lever/,
    /No pins/,
    /Switch off to thread/,
    /come first; if they differ/,
  ])
    expect(sheet).toMatch(words);
});

test("outlines bring transfer sheets and a plan for the cord", () => {
  const { files } = jobOf("stitch-outline");
  const paths = files.map(({ path }) => path);
  expect(paths).toEqual(expect.arrayContaining(["transfer.svg", "transfer-mirrored.svg"]));
  expect(bench.read("stitch-outline", "job-sheet.html")).toMatch(/Cord of 2 mm/);
});

for (const profile of WORK)
  externalTest(`${profile}: its pictures are well formed`, ["xmllint"], () => {
    for (const { path } of jobOf(profile).files.filter(({ path: name }) => /\.(svg|html)$/.test(name)))
      expect(
        runTool("xmllint", ["--noout", "--nonet", "--huge", join(bench.folder, profile, path)]).stderr,
      ).toBe("");
  });

test("the hem begins with its alignment marks, as far apart as the piece is wide", () => {
  const profile = join(ROOT, "samples", "awning-hem.profile.json");
  const job = bench.json(0, "convert", sample("awning-hem"), "--profile", profile, "--out", "hem");
  const { size } = job as { size: { width: number } };
  const records = recordsOf("hem");
  const marks = records.slice(
    0,
    records.findIndex(({ command }) => command === "stop"),
  );
  const xs = marks.filter(({ command }) => command === "stitch").map(({ x }) => x / 10);
  // Crosses of arms 3 mm, their middles on both edges; the record counts tenths of a mm.
  expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(size.width + 6, 0);
});

const SATIN = parseProfile(readFileSync(join(ROOT, "profiles", "stitch-satin.json"), "utf8"), "stitch-satin");

const designs = readdirSync(join(ROOT, "samples")).filter((file) => file.endsWith(".plait.json"));

test.each(designs)("%s: no thread shows and no end lies bare, with one thread and with many", (file) => {
  if (!SATIN.ok) throw new Error("the profile does not read");
  const path = join(ROOT, "samples", file);
  const design = parseDesign(readFileSync(path, "utf8"), file);
  if (!design.ok) throw new Error("the sample does not read");
  const readBeside = (name: string) =>
    ({ ok: true, value: readFileSync(join(dirname(path), basename(name)), "utf8"), warnings: [] }) as const;
  for (const colours of ["one", "strands"]) {
    const profile = { ...SATIN.value, choices: { ...SATIN.value.choices, colours } };
    const prepared = prepareJob(design.value, file, profile, { readBeside });
    if (!prepared.ok) throw new Error(JSON.stringify(prepared.faults));
    const { checks, work } = prepared.value.job;
    const verdict = (rule: string) => checks.find((check) => check.rule === rule)?.verdict;
    expect([verdict("hidden-travel"), verdict("covered-ends")], colours).toEqual(["pass", "pass"]);
    expect(work["visibleTravelMm"]).toBe(0);
    expect(work["trims"]).toBe(work["trimsLowerBound"]);
  }
});

test.each([
  [
    "a hoop that its margin fills",
    { hoopMarginMm: { value: 50 }, hoopHeightMm: { value: 90 } },
    /leaves nothing/,
  ],
  [
    "a least stitch above the longest",
    {
      leastStitchMm: { value: 3 },
      greatestStitchMm: { value: 3, range: [2, 12] },
      runStitchMm: { value: 4 },
    },
    /longest stitch/,
  ],
  ["holes wider apart than the thread", { leastHoleSpacingMm: { value: 0.5 } }, /no stitch would reach/],
])("%s is refused in words", (_name, numbers, words) => {
  const own = { plaitwrightProfile: 1, name: "own", extends: "stitch-satin", numbers };
  const profile = bench.write("own.json", own);
  const { code, stderr } = bench.run(
    "convert",
    sample("loft-badge"),
    "--profile",
    profile,
    "--out",
    "refused",
  );
  expect([code, stderr]).toEqual([2, expect.stringMatching(words)]);
  expect(bench.names()).not.toContain("refused");
});

test("ribbons that bend too tightly to be drawn are told, not stumbled over", () => {
  // The medallion's tightest bend has a radius of 2.25 mm: a ribbon of 5 mm has no inner edge there.
  const run = bench.run(
    "convert",
    sample("jib-medallion"),
    "--profile",
    "stitch-satin",
    "--width",
    "5",
    "--out",
    "tight",
  );
  expect(run.code).toBe(1);
  expect(run.stdout).toMatch(/FAIL {2}Radius of the inner edge/);
  expect(bench.names("tight").filter((name) => name.endsWith(".dst"))).toEqual([]);
});
