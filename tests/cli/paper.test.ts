/** What is printed, from the command line: templates, job sheets, practice sheets, read by other people's readers. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { externalTest, runTool } from "../support/external.ts";
import { Bench, sample } from "./run-cli.ts";

const bench = new Bench();
const pathOf = (...path: readonly string[]) => join(bench.folder, ...path);

const TEMPLATES = ["template-carving", "template-leather", "template-pierced", "pattern-line"] as const;

interface Manifest {
  readonly files: readonly { readonly path: string; readonly kind: string }[];
  readonly checks: readonly { readonly rule: string; readonly verdict: string }[];
  readonly counts: Readonly<Record<string, number>>;
}

const made = new Map<string, Manifest>();

function jobOf(profile: (typeof TEMPLATES)[number]): Manifest {
  const known = made.get(profile);
  if (known) return known;
  const job = bench.json(0, "convert", sample("tide-plaque"), "--profile", profile, "--out", profile);
  const manifest = job as unknown as Manifest;
  made.set(profile, manifest);
  return manifest;
}

for (const profile of TEMPLATES) {
  externalTest(
    `${profile}: template and job sheet are sound, their typeface within them`,
    ["qpdf", "pdffonts", "pdftoppm"],
    () => {
      jobOf(profile);
      for (const file of ["template.pdf", "job-sheet.pdf"]) {
        const path = pathOf(profile, file);
        expect([file, runTool("qpdf", ["--check", path]).code]).toEqual([file, 0]);
        // Name, type, encoding, then emb, sub, uni: every face is embedded and holds only what is used.
        const fonts = runTool("pdffonts", [path]).stdout.trim().split("\n").slice(2);
        expect(fonts.length).toBeGreaterThan(0);
        for (const line of fonts) expect(line).toMatch(/ yes yes yes /);
        expect(runTool("pdftoppm", ["-r", "30", "-png", path, pathOf("page")]).stderr).toBe("");
      }
    },
  );

  externalTest(
    `${profile}: sheets are A4 and say how to print and what to mind`,
    ["pdfinfo", "pdftotext"],
    () => {
      jobOf(profile);
      const path = pathOf(profile, "template.pdf");
      // ISO 216: 210 x 297 mm, at 72 points to the inch.
      const [, width, height] =
        /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(runTool("pdfinfo", [path]).stdout) ?? [];
      const sides = [Number(width), Number(height)].sort((a, b) => a - b);
      expect(sides[0]).toBeCloseTo((210 * 72) / 25.4, 1);
      expect(sides[1]).toBeCloseTo((297 * 72) / 25.4, 1);
      const text = runTool("pdftotext", [path, "-"]).stdout.replaceAll(/\s+/g, " ");
      expect(text).toMatch(/print at 100 %, no scaling/);
      expect(text).toMatch(/come first; if they differ from this sheet, follow them/);
      expect(runTool("pdftotext", [pathOf(profile, "job-sheet.pdf"), "-"]).stdout).toContain("Cautions");
    },
  );
}

test("a pierced piece holds together, and its machine files keep the bridges", () => {
  const { checks, counts } = jobOf("template-pierced");
  expect(checks.find(({ rule }) => rule === "loose-parts" || rule === "falls-out")?.verdict ?? "pass").toBe(
    "pass",
  );
  expect(checks.filter(({ verdict }) => verdict === "fail")).toEqual([]);
  expect(counts["bridges"]).toBe(1);
  expect(bench.read("template-pierced", "pierced.svg")).toMatch(/id="KEEP"/);
  expect(bench.names("template-pierced")).toContain("pierced.dxf");
});

const own = (extending: string, changes: object) => ({
  plaitwrightProfile: 1,
  name: "own",
  extends: extending,
  ...changes,
});

test("two metres by one on A4 sheets, with a mirrored set", () => {
  const profile = bench.write("mirrored.json", own("pattern-line", { choices: { mirrored: true } }));
  const args = [
    "convert",
    sample("tide-plaque"),
    "--profile",
    profile,
    "--size",
    "2000x1000",
    "--out",
    "large",
  ];
  const job = bench.json(0, ...args) as unknown as Manifest;
  expect(job.counts["sheets"]).toBeGreaterThan(40);
  expect(job.files.map(({ path }) => path)).toContain("template-mirrored.pdf");
});

test.each([
  [
    "margins that fill the sheet",
    { numbers: { marginMm: { value: 90, range: [0, 100] } } },
    /too small|paper/i,
  ],
  [
    "an overlap of more than half a page",
    { numbers: { overlapMm: { value: 300, range: [0, 400] } } },
    /overlap|half/i,
  ],
])("%s are refused in words, and nothing is written", (_name, changes, words) => {
  const profile = bench.write("own.json", own("pattern-line", changes));
  const { code, stderr } = bench.run(
    "convert",
    sample("tide-plaque"),
    "--profile",
    profile,
    "--out",
    "refused",
  );
  expect([code, stderr]).toEqual([2, expect.stringMatching(words)]);
  expect(bench.names()).not.toContain("refused");
});

test("practice sheets: a lattice, exercises, dots", () => {
  const lattice = bench.json(0, "sheet", "lattice", sample("tide-plaque"), "--out", "lattice.pdf");
  expect(lattice).toMatchObject({ pages: 3 });
  const wish = ["sheet", "exercises", "--cells", "5x4", "--count", "6", "--strands", "2", "--seed", "7"];
  // Two a page, then six answers on one.
  expect(bench.json(0, ...wish, "--out", "exercises.pdf")).toMatchObject({ pages: 4 });
  bench.run(...wish, "--out", "again.pdf");
  const bytesOf = (name: string) => readFileSync(pathOf(name));
  expect(bytesOf("again.pdf").equals(bytesOf("exercises.pdf"))).toBe(true);
  expect(bench.json(0, "sheet", "dots", "--around", "16", "--out", "dots.pdf")).toMatchObject({ pages: 1 });
});

test.each([
  [
    "more exercises than there are",
    ["exercises", "--cells", "2x2", "--count", "50"],
    /only \d+ different exercises/,
  ],
  ["a composed design", ["lattice", sample("pinrail-strap")], /composed of pieces/],
  ["a difficulty of nine", ["exercises", "--cells", "5x4", "--difficulty", "9"], /1 to 5/],
])("%s is refused, and nothing is written", (_name, args, words) => {
  const { code, stderr } = bench.run("sheet", ...args, "--out", "none.pdf");
  expect([code, stderr]).toEqual([2, expect.stringMatching(words)]);
  expect(bench.names()).not.toContain("none.pdf");
});
