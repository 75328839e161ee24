/** Every verb and option, as a new user meets them. */
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { z } from "zod";
import { plainPanel } from "../support/plain-panel.ts";
import { Bench, MAIN, ROOT, sample } from "./run-cli.ts";

const bench = new Bench();
const BADGE = sample("harbour-badge");
const LEATHER = ["--profile", "leather-inlay"] as const;
const JOB_FILES = ["cut.dxf", "cut.svg", "job-sheet.html", "job-sheet.pdf", "job.json", "preview.svg"];

function matchesSchema(name: string, document: unknown): void {
  const schema = JSON.parse(readFileSync(join(ROOT, "shared", `${name}.schema.json`), "utf8"));
  expect(z.fromJSONSchema(schema).safeParse(document)).toMatchObject({ success: true });
}

test("help and version", () => {
  const help = bench.run("--help");
  expect(help.code).toBe(0);
  for (const verb of ["inspect", "convert", "check", "profiles", "draft"])
    expect(help.stdout).toContain(verb);
  const { version } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
  expect(bench.run("--version")).toEqual({ code: 0, stdout: `${version}\n`, stderr: "" });
});

test("npx runs it in the checkout, without the network", () => {
  const run = spawnSync("npx", ["--no-install", "plaitwright", "--version"], { cwd: ROOT, encoding: "utf8" });
  expect([run.status, run.stdout]).toEqual([0, bench.run("--version").stdout]);
});

test("inspect: the figures of a plain panel, and its planar diagram code", () => {
  bench.write("plain.plait.json", {
    plaitwright: 1,
    pitch: 12,
    ribbon: { width: 4.2 },
    panel: plainPanel(3, 2),
  });
  const found = bench.json(0, "inspect", "plain.plait.json", "--pd");
  // 2pq - p - q crossings, gcd(p, q) strands, faces = crossings + 2 (Euler); size 3 x 12 - 6 + 4.2.
  expect(found).toMatchObject({
    title: "plain",
    crossings: 7,
    strands: 1,
    hand: "Z",
    alternating: true,
    faces: 9,
    size: { width: expect.closeTo(34.2, 9), height: expect.closeTo(22.2, 9) },
  });
  expect(found["strandLengths"]).toHaveLength(1);
  const labels = (found["pd"] as number[][]).flat().sort((a, b) => a - b);
  expect(labels).toEqual(Array.from({ length: 28 }, (_, i) => Math.floor(i / 2) + 1));
  expect(bench.json(0, "inspect", "plain.plait.json")).not.toHaveProperty("pd");
});

test("inspect: words and a picture of the plan", () => {
  const { code, stdout, stderr } = bench.run("inspect", BADGE, "--pd");
  expect([code, stderr]).toEqual([0, ""]);
  const { title } = JSON.parse(readFileSync(BADGE, "utf8"));
  expect(stdout.split("\n")[0]).toBe(title);
  const { crossings } = bench.json(0, "inspect", BADGE);
  expect(stdout).toContain(`crossings  ${crossings}, alternating, hand Z`);
  expect(stdout).toMatch(/pd +\[\[\d+/);
});

test("inspect reads a design with a byte-order mark and CRLF line ends", () => {
  const text = readFileSync(BADGE, "utf8");
  bench.write("windows.plait.json", `\ufeff${text.replaceAll("\n", "\r\n")}`);
  expect(bench.json(0, "inspect", "windows.plait.json")).toEqual(bench.json(0, "inspect", BADGE));
});

test("check: verdicts in words and as data; nothing is written", () => {
  const before = bench.names();
  const words = bench.run("check", BADGE, ...LEATHER);
  expect([words.code, words.stderr]).toEqual([0, ""]);
  expect(words.stdout).toContain("Ready to cut");
  const data = bench.json(0, "check", BADGE, ...LEATHER);
  expect(Object.keys(data)).toEqual(["title", "ready", "size", "settings", "checks"]);
  matchesSchemaOfChecks(data["checks"]);
  expect(bench.names()).toEqual(before);
});

function matchesSchemaOfChecks(checks: unknown): void {
  const schema = JSON.parse(readFileSync(join(ROOT, "shared", "job.schema.json"), "utf8"));
  const own = { ...schema.properties.checks, ...(schema.$defs ? { $defs: schema.$defs } : {}) };
  expect(z.fromJSONSchema(own).safeParse(checks)).toMatchObject({ success: true });
}

test("convert: a whole job, its manifest true to the schema and to the files", () => {
  const { code, stdout, stderr } = bench.run("convert", BADGE, ...LEATHER, "--out", "badge");
  expect([code, stderr]).toEqual([0, ""]);
  expect(bench.names("badge")).toEqual(JOB_FILES);
  for (const name of JOB_FILES) expect(stdout).toContain(join("badge", name));
  expect(stdout).toContain("Never leave the laser while it runs");
  expect(stdout).toContain("The manual of your machine");

  const job = JSON.parse(bench.read("badge", "job.json"));
  matchesSchema("job", job);
  const digests = bench.digests("badge");
  expect(job.files.map((file: { path: string }) => file.path).sort()).toEqual(
    JOB_FILES.filter((name) => name !== "job.json"),
  );
  for (const { path, sha256 } of job.files) expect([path, sha256]).toEqual([path, digests[path]]);
  const keys = ["tool", "design", "profile", "checks", "files", "layers", "size", "counts", "cautions"];
  expect(Object.keys(job)).toEqual(expect.arrayContaining(keys));
  expect(job.layers.map((layer: { name: string }) => layer.name)).toEqual([
    "RIBBON",
    "MARK",
    "POCKET",
    "INLAY",
    "PANEL",
  ]);
});

test("convert --json says what was written, and no other word", () => {
  const said = bench.json(0, "convert", BADGE, ...LEATHER, "--out", "badge-json");
  const { out, ...manifest } = said;
  expect(out).toBe("badge-json");
  expect(manifest).toEqual(JSON.parse(bench.read("badge-json", "job.json")));
});

test("the same input gives the same bytes", () => {
  const args = ["convert", BADGE, ...LEATHER, "--also", "dxf-r12", "maker-model"];
  bench.run(...args, "--out", "first");
  bench.run(...args, "--out", "second");
  expect(bench.names("first")).toEqual([...JOB_FILES, "cut-r12.dxf", "cut.model.json"].sort());
  expect(bench.digests("second")).toEqual(bench.digests("first"));
});

test("an earlier job is replaced whole", () => {
  bench.run("convert", BADGE, ...LEATHER, "--out", "again", "--also", "dxf-r12");
  expect(bench.names("again")).toContain("cut-r12.dxf");
  expect(bench.run("convert", sample("sea-chest-lid"), ...LEATHER, "--out", "again").code).toBe(0);
  expect(bench.names("again")).toEqual(JOB_FILES);
  expect(JSON.parse(bench.read("again", "job.json")).title).toBe(
    JSON.parse(readFileSync(sample("sea-chest-lid"), "utf8")).title,
  );
});

test("a failed check: the report and the preview, no file for the machine, exit 1", () => {
  const args = ["convert", BADGE, ...LEATHER, "--gap", "1"];
  const run = bench.run(...args, "--out", "failed");
  expect(run.code).toBe(1);
  expect(run.stdout).toContain("FAIL");
  expect(run.stdout).toContain("remedy");
  expect(bench.names("failed")).toEqual(["job-sheet.html", "job-sheet.pdf", "job.json", "preview.svg"]);
  const job = JSON.parse(bench.read("failed", "job.json"));
  matchesSchema("job", job);
  expect(job.layers).toEqual([]);
  expect(bench.read("failed", "job-sheet.html")).toContain("Do not cut");

  expect(bench.run(...args, "--out", "despite", "--despite-checks").code).toBe(1);
  expect(bench.names("despite")).toEqual(JOB_FILES);
  for (const name of ["job-sheet.html", "cut.dxf", "cut.svg"])
    expect(bench.read("despite", name), name).toContain("Do not cut");
  expect(bench.run("check", BADGE, ...LEATHER, "--gap", "1").code).toBe(1);
});

test("every number of the options is used", () => {
  const args = ["--pitch", "18x20", "--width", "5", "--gap", "2.5", "--corner", "pointed", "--kerf", "0.15"];
  const job = bench.json(0, "convert", BADGE, ...LEATHER, ...args, "--way", "laced", "--out", "numbers");
  expect(job["settings"]).toEqual({
    pitchMm: [18, 20],
    widthMm: 5,
    gapMm: 2.5,
    corner: "pointed",
    kerfMm: 0.15,
    clearancePerSideMm: -0.05,
  });
  // What the options change is changed in what is said of the profile, too.
  expect(job["profile"]).toMatchObject({
    numbers: { kerfMm: 0.15 },
    choices: { way: "laced", corner: "pointed", kerfMeasured: true },
  });
  expect(job["counts"]).toMatchObject({ parts: 1 });
  expect(bench.read("numbers", "job-sheet.html")).not.toContain("not measured");
});

test("--size keeps within, --stretch fills", () => {
  const within = bench.json(0, "check", BADGE, ...LEATHER, "--size", "150x120")["size"];
  expect(within).toEqual({ width: expect.closeTo(120, 6), height: expect.closeTo(120, 6) });
  const filled = bench.json(0, "check", BADGE, ...LEATHER, "--size", "150x120", "--stretch")["size"];
  expect(filled).toEqual({ width: expect.closeTo(150, 6), height: expect.closeTo(120, 6) });
});

test("profiles: the list, one with its numbers, and a person's own", () => {
  expect(bench.run("profiles").stdout).toContain("leather-inlay");
  const list = JSON.parse(bench.run("profiles", "--json").stdout) as { name: string }[];
  const files = readdirSync(join(ROOT, "profiles")).map((file) => file.replace(/\.json$/, ""));
  expect(list.map(({ name }) => name)).toEqual(files.sort());
  expect(files.length).toBeGreaterThan(10);
  // Each reads whole, also those that say only what they change.
  for (const name of files) expect(bench.run("profiles", name).code).toBe(0);
  const words = bench.run("profiles", "leather-inlay").stdout;
  for (const part of ["kerfMm 0.2 mm", "Source:", "Cautions", "Choices"]) expect(words).toContain(part);
  const data = bench.json(0, "profiles", "leather-inlay");
  expect(Object.keys(data["numbers"] as object)).toContain("clearancePerSideMm");

  const own = JSON.parse(readFileSync(join(ROOT, "profiles", "leather-inlay.json"), "utf8"));
  bench.write("mine.json", { ...own, name: "mine", choices: { ...own.choices, kerfMeasured: true } });
  expect(bench.json(0, "profiles", "./mine.json")["name"]).toBe("mine");
  expect(bench.run("check", BADGE, "--profile", "mine.json").stdout).not.toContain("warn");
});

test("draft panel: a design that the other verbs take, never over an older one", () => {
  expect(bench.run("draft", "panel", "6x4").stdout).toBe("wrote panel-6x4.plait.json\n");
  matchesSchema("design", JSON.parse(bench.read("panel-6x4.plait.json")));
  // 2pq - p - q and gcd(p, q).
  expect(bench.json(0, "inspect", "panel-6x4.plait.json")).toMatchObject({ crossings: 38, strands: 2 });
  const before = bench.read("panel-6x4.plait.json");
  expect(bench.run("draft", "panel", "6x4", "--pitch", "20").code).toBe(2);
  expect(bench.read("panel-6x4.plait.json")).toBe(before);

  const more = [
    "--pitch",
    "12.5",
    "--title",
    'Gate "north"',
    "--hand",
    "S",
    "--out",
    "deep/er/gate.plait.json",
  ];
  expect(bench.json(0, "draft", "panel", "3x2", ...more)).toEqual({ out: "deep/er/gate.plait.json" });
  expect(bench.json(0, "inspect", "deep/er/gate.plait.json")).toMatchObject({
    hand: "S",
    pitchMm: [12.5, 12.5],
  });
});

test("draft coupon: a job of its own, replaced by itself", () => {
  for (let i = 0; i < 2; i++)
    expect(bench.run("draft", "coupon", ...LEATHER, "--out", "coupon").code).toBe(0);
  expect(bench.names("coupon")).toEqual([
    "coupon.dxf",
    "coupon.svg",
    "job-sheet.html",
    "job-sheet.pdf",
    "job.json",
  ]);
  const job = JSON.parse(bench.read("coupon", "job.json"));
  matchesSchema("job", job);
  const digests = bench.digests("coupon");
  for (const { path, sha256 } of job.files) expect([path, sha256]).toEqual([path, digests[path]]);
});

test("a reader that has seen enough ends the run quietly", () => {
  bench.write("large.plait.json", { plaitwright: 1, pitch: 12, panel: plainPanel(60, 60) });
  const piped = `"${process.execPath}" "${MAIN}" inspect large.plait.json --pd | head -n 1`;
  const { status, stdout, stderr } = spawnSync("bash", ["-o", "pipefail", "-c", piped], {
    cwd: bench.folder,
    encoding: "utf8",
  });
  expect([status, stdout, stderr]).toEqual([0, "large\n", ""]);
});

test("a fault of ours says so, with exit code 70 and no stack trace, and writes nothing", () => {
  bench.run("convert", BADGE, ...LEATHER, "--out", "kept");
  const before = bench.digests("kept");
  const broken = "data:text/javascript,Math.atan2=()=>{throw new TypeError('the sky fell')}";
  const args = ["--import", broken, MAIN, "convert", BADGE, ...LEATHER, "--out", "kept"];
  const { status, stdout, stderr } = spawnSync(process.execPath, args, {
    cwd: bench.folder,
    encoding: "utf8",
  });
  expect([status, stdout]).toEqual([70, ""]);
  expect(stderr).toContain("a fault of ours");
  expect(stderr).toContain("the sky fell");
  expect(stderr).not.toMatch(/^\s+at /m);
  expect(bench.digests("kept")).toEqual(before);
});
