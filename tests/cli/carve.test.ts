/**
 * Router jobs as a carver makes them, from the command line, their files read by readers that are
 * not ours. Where something would be spoiled, nothing for a machine is written.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import Module from "manifold-3d";
import { PNG } from "pngjs";
import { expect, test } from "vitest";
import { readNgc } from "../../src/formats/ngc/ngc-interpreter.ts";
import { dxfReport } from "../formats/dxf/dxf-report.ts";
import { canonicalRuns, worstDifference } from "../formats/ngc/canonical.ts";
import { externalTest, runTool } from "../support/external.ts";
import { Bench, sample } from "./run-cli.ts";

const bench = new Bench();

interface Manifest {
  readonly files: readonly { readonly path: string; readonly kind: string }[];
  readonly checks: readonly { readonly rule: string; readonly verdict: string }[];
  readonly size: { readonly width: number; readonly height: number };
  readonly work?: Readonly<Record<string, number>>;
}

const WORK = [
  ["router-ground", "tide-plaque"],
  ["router-groove", "oar-rack"],
  ["router-relief", "tide-plaque"],
] as const;

const made = new Map<string, Manifest>();

/** The job of a profile, made once for all tests. */
function jobOf(profile: (typeof WORK)[number][0]): Manifest {
  const known = made.get(profile);
  if (known) return known;
  const design = WORK.find(([name]) => name === profile)?.[1] ?? "";
  const job = bench.json(0, "convert", sample(design), "--profile", profile, "--out", profile);
  const manifest = job as unknown as Manifest;
  made.set(profile, manifest);
  return manifest;
}

const pathOf = (...path: readonly string[]) => join(bench.folder, ...path);
const bytesOf = (...path: readonly string[]) => readFileSync(pathOf(...path));

test.each(WORK)("%s: every check passes, those of the trial among them", (profile) => {
  const { checks } = jobOf(profile);
  expect(checks.filter(({ verdict }) => verdict === "fail")).toEqual([]);
  const rules = checks.map(({ rule }) => rule);
  for (const rule of [
    "carved-away",
    "left-uncut",
    "keep-below",
    "rapid-clear",
    "no-plunge",
    "pass-depth",
    "in-envelope",
  ])
    expect(rules).toContain(rule);
});

test.each(WORK)("%s: the files say what they are and warn", (profile) => {
  for (const { path, kind } of jobOf(profile).files) {
    if (kind !== "g-code") continue;
    const text = bench.read(profile, path);
    for (const words of [
      /eye protection/,
      /hearing protection/,
      /Wood dust/,
      /Never leave the machine/,
      /lock off/,
      /starting values/,
    ])
      expect(text).toMatch(words);
    expect(text.replaceAll(/\)\n\(: /g, " ")).toMatch(/The manual of your machine.*come first/);
  }
  expect(bench.read(profile, "job-sheet.html")).toMatch(/across the grain/);
});

for (const [profile] of WORK) {
  externalTest(`${profile}: another interpreter makes the same moves of every file`, ["rs274"], () => {
    const programs = jobOf(profile).files.filter(({ kind }) => kind === "g-code");
    expect(programs.length).toBeGreaterThan(1);
    for (const { path } of programs) {
      const text = bench.read(profile, path);
      const { runs, refusals } = readNgc(text);
      expect(refusals).toEqual([]);
      const theirs = canonicalRuns(text);
      expect(theirs.length).toBe(runs.length);
      for (const [i, { start, motions }] of runs.entries()) {
        const { place, radius, feed } = worstDifference(start, motions, theirs[i] ?? []);
        expect(place).toBeLessThan(1.01e-4);
        // Centres of four decimals on both sides.
        expect(radius).toBeLessThan(3e-4);
        expect(feed).toBeLessThan(1.01e-4);
      }
    }
  });

  externalTest(`${profile}: another reader finds the drawing whole`, ["ezdxf"], () => {
    const { size } = jobOf(profile);
    const report = dxfReport(bench.read(profile, "carve.dxf"));
    expect([report.errors, report.fixes, report.finite, report.units]).toEqual([[], [], true, 4]);
    const panel = report.layers["PANEL"];
    expect(panel?.closed).toBe(1);
    // A rounded rectangle: its box less the corners, (4 - pi) r^2.
    const corners = (4 - Math.PI) * 8 ** 2;
    expect(panel?.areas[0]).toBeCloseTo(size.width * size.height - corners, 1);
  });

  externalTest(`${profile}: its pictures are well formed`, ["xmllint"], () => {
    const pictures = jobOf(profile).files.filter(({ path }) => /\.(svg|html)$/.test(path));
    for (const { path } of pictures)
      expect(runTool("xmllint", ["--noout", "--nonet", "--huge", pathOf(profile, path)]).stderr).toBe("");
  });
}

test("the relief's mesh is one closed solid, as large as its height map says", async () => {
  jobOf("router-relief");
  const bytes = bytesOf("router-relief", "relief.stl");
  const count = bytes.readUInt32LE(80);
  expect(bytes.length).toBe(84 + 50 * count);
  const module = await Module();
  module.setup();
  const { corners, facets } = weldedFacets(bytes, count);
  const mesh = new module.Mesh({
    numProp: 3,
    vertProperties: Float32Array.from(corners),
    triVerts: Uint32Array.from(facets),
  });
  const solid = new module.Manifold(mesh);
  expect([solid.status(), solid.genus()]).toEqual(["NoError", 0]);
  // The map: black is the underside, 18 mm down; a pixel is 0.1 mm.
  const map = PNG.sync.read(bytesOf("router-relief", "relief.png"), { skipRescale: true });
  const grey = new Uint16Array(map.data.buffer, map.data.byteOffset, map.data.byteLength / 2);
  let sum = 0;
  for (let i = 0; i < grey.length; i += 4) sum += ((grey[i] ?? 0) / 65_535) * 18;
  expect(solid.volume() / (sum * 0.01)).toBeCloseTo(1, 3);
});

/** Corners that lie in one place are one. */
function weldedFacets(bytes: Buffer, count: number): { corners: number[]; facets: number[] } {
  const known = new Map<string, number>();
  const corners: number[] = [];
  const facets: number[] = [];
  for (let facet = 0; facet < count; facet++)
    for (let corner = 0; corner < 3; corner++) {
      const at = 84 + 50 * facet + 12 + 12 * corner;
      const key = bytes.toString("latin1", at, at + 12);
      let index = known.get(key);
      if (index === undefined) {
        index = known.size;
        known.set(key, index);
        corners.push(bytes.readFloatLE(at), bytes.readFloatLE(at + 4), bytes.readFloatLE(at + 8));
      }
      facets.push(index);
    }
  return { corners, facets };
}

externalTest("the relief's mesh has no open edge", ["stl_borders"], () => {
  jobOf("router-relief");
  expect(runTool("stl_borders", [pathOf("router-relief", "relief.stl")]).stdout.trim()).toBe("0");
});

const ONE_MILL = {
  plaitwrightProfile: 1,
  name: "one-mill",
  extends: "router-ground",
  cutters: [
    {
      number: 1,
      name: "Flat end mill 6 mm",
      kind: "end-mill",
      diameterMm: 6,
      flutes: 2,
      cuttingLengthMm: 22,
    },
  ],
};

/** Seven crossings: proving remedies takes its time. */
const SMALL = {
  plaitwright: 1,
  title: "Small panel",
  pitch: 22,
  panel: ["+-+-+-+", "|oxoxo|", "+x+x+x+", "|oxoxo|", "+-+-+-+"],
};

test("a cutter that can't get in stops the job, and one that can is named", () => {
  const small = bench.write("small.plait.json", SMALL);
  const profile = bench.write("one-mill.json", ONE_MILL);
  const run = bench.run("convert", small, "--profile", profile, "--out", "stopped");
  expect(run.code).toBe(1);
  expect(run.stdout).toMatch(/FAIL {2}Ground that no cutter reaches/);
  const [, remedy = ""] = /remedy {2}an end mill of ([\d.]+) mm or less reaches all/.exec(run.stdout) ?? [];
  expect(bench.names("stopped").filter((name) => /\.(ngc|dxf|stl)$/.test(name))).toEqual([]);
  expect(bench.names("stopped")).toContain("preview.svg");
  const [mill] = ONE_MILL.cutters;
  const wider = { ...ONE_MILL, cutters: [mill, { ...mill, number: 2, diameterMm: Number(remedy) }] };
  const again = bench.json(0, "check", small, "--profile", bench.write("two-mills.json", wider));
  expect((again as unknown as Manifest).checks.find(({ rule }) => rule === "cutter-reach")?.verdict).toBe(
    "pass",
  );
});

test("files that are written despite a failed check say so first", () => {
  const profile = bench.write("one-mill.json", ONE_MILL);
  const args = [
    "convert",
    bench.write("small.plait.json", SMALL),
    "--profile",
    profile,
    "--out",
    "despite",
    "--despite-checks",
  ];
  expect(bench.run(...args).code).toBe(1);
  const program = bench.names("despite").find((name) => name.endsWith(".ngc")) ?? "";
  expect(bench.read("despite", program)).toMatch(/Do not carve: \d+ of \d+ checks failed/);
});

const number = (value: number) => ({ value });
const cutter = (changes: object) => [{ ...ONE_MILL.cutters[0], ...changes }];

test.each([
  ["a step-over wider than the cutter", { cutters: cutter({ stepOverMm: 7 }) }, /6 mm is the most/],
  ["a pass deeper than the edges", { cutters: cutter({ stepDownMm: 23 }) }, /22 mm is the most/],
  ["a ground deeper than every cutter", { cutters: cutter({ cuttingLengthMm: 2 }) }, /2 mm is the longest/],
  ["a feed over the machine's", { cutters: cutter({ feedMmPerMin: 4000 }) }, /greatest feed is 3000/],
  ["a V cutter without angle", { cutters: cutter({ kind: "v" }) }, /needs its angle/],
  ["a V cutter of 0 degrees", { cutters: cutter({ kind: "v", angleDeg: 0 }) }, /at least 10|10 to 170/],
  ["a V cutter of 180 degrees", { cutters: cutter({ kind: "v", angleDeg: 180 }) }, /at most 170|10 to 170/],
  ["tabs longer than a side", { numbers: { tabLengthMm: { value: 90, range: [2, 100] } } }, /tabs/],
  ["a ground through the board", { numbers: { groundDepthMm: number(15) } }, /more than the board's 18 mm/],
  ["a frame over the knot", { numbers: { frameMm: number(14) } }, /would touch the knot/],
  ["a base that is not there", { extends: "router-grund" }, /router-ground/],
])("%s is refused in words, and nothing is written", (_name, changes, words) => {
  const profile = bench.write("wrong.json", { ...ONE_MILL, ...changes });
  const { code, stderr } = bench.run(
    "convert",
    sample("tide-plaque"),
    "--profile",
    profile,
    "--out",
    "refused",
  );
  expect([code, stderr]).toEqual([2, expect.stringMatching(words)]);
  expect(stderr).not.toMatch(/\bat .*\.js/);
  expect(bench.names()).not.toContain("refused");
});

test("options of another craft are refused", () => {
  const { code, stderr } = bench.run(
    "check",
    sample("tide-plaque"),
    "--profile",
    "router-ground",
    "--kerf",
    "0.2",
  );
  expect([code, stderr]).toEqual([2, expect.stringContaining("--kerf")]);
});
