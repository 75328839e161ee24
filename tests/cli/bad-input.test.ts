/**
 * Bad input of every kind: one clear message on standard error, exit code 2, nothing written,
 * an older job untouched, never a stack trace.
 */
import { mkdirSync, readFileSync, truncateSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, test } from "vitest";
import { plainPanel } from "../support/plain-panel.ts";
import { Bench, type CliRun, ROOT, sample } from "./run-cli.ts";

const bench = new Bench();
const BADGE = sample("harbour-badge");
const LEATHER = ["--profile", "leather-inlay"] as const;
const GOOD = { plaitwright: 1, pitch: 16, panel: plainPanel(2, 2) };
const PROFILE = JSON.parse(readFileSync(join(ROOT, "profiles", "leather-inlay.json"), "utf8"));

beforeAll(() => {
  bench.run("convert", BADGE, ...LEATHER, "--out", "old-job");
});

/** Runs, and expects a refusal that leaves everything as it was. Answers the message. */
function refusalOf(...args: readonly string[]): string {
  const before = [bench.names(), bench.digests("old-job")];
  const run = bench.run(...args);
  expect(run.code).toBe(2);
  expect(run.stdout).toBe("");
  expect(run.stderr.match(/^error/gm)).toHaveLength(1);
  expectReadable(run);
  expect([bench.names(), bench.digests("old-job")]).toEqual(before);
  return run.stderr;
}

function expectReadable({ stderr }: CliRun): void {
  expect(stderr).not.toMatch(/^\s+at |undefined|\[object/m);
  expect(stderr.length).toBeLessThan(1000);
}

test.each<[string, unknown, RegExp]>([
  ["empty", "", /the file is empty/],
  ["not JSON", "hello", /line 1/],
  ["cut off", JSON.stringify(GOOD).slice(0, -20), /line 1/],
  ["NaN for a number", '{"plaitwright": 1, "pitch": NaN, "panel": ["+-+"]}', /NaN/],
  ["a comment", `// a panel\n${JSON.stringify(GOOD)}`, /comment/],
  ["not UTF-8", Uint8Array.of(0x7b, 0xff, 0xfe, 0x7d), /UTF-8/],
  ["a list", [], /found \[\]/],
  ["another version", { ...GOOD, plaitwright: 2 }, /version 2.*version 1/],
  ["no version", { pitch: 16, panel: ["+-+", "|o|", "+-+"] }, /`plaitwright` is missing/],
  ["an unknown key", { ...GOOD, pich: 3 }, /`pich` is not known.*`pitch`/],
  ["an unknown key inside", { ...GOOD, ribbon: { widht: 3 } }, /`widht` is not known.*`width`/],
  ["a key twice", '{"plaitwright": 1, "pitch": 16, "pitch": 17, "panel": ["+-+", "|o|", "+-+"]}', /twice/],
  ["nothing to draw", { plaitwright: 1, pitch: 16 }, /nothing to draw/],
  [
    "a ring without its radius",
    { plaitwright: 1, pitch: 16, ring: { around: 9, rows: 1 } },
    /`inner` is missing/,
  ],
  ["a negative pitch", { ...GOOD, pitch: -16 }, /found -16 mm/],
  ["no pitch at all", { ...GOOD, pitch: 0 }, /found 0 mm/],
  ["an absurd pitch", { ...GOOD, pitch: 1e9 }, /1000000000 mm/],
  ["a number past all numbers", JSON.stringify(GOOD).replace("16", "1e999"), /1e999|number/],
  ["a pitch in words", { ...GOOD, pitch: "16" }, /`pitch`/],
  ["a ribbon without width", { ...GOOD, ribbon: { width: 0 } }, /`ribbon.width`.*found 0 mm/],
  ["a negative gap", { ...GOOD, ribbon: { gap: -1 } }, /`ribbon.gap`.*found -1 mm/],
  ["a corner that does not exist", { ...GOOD, ribbon: { corner: "rund" } }, /“rund”.*round/],
  ["a hand that does not exist", { ...GOOD, hand: "X" }, /“X”/],
  ["no cell", { ...GOOD, panel: [] }, /no cell/],
  ["blank rows", { ...GOOD, panel: ["   ", "   "] }, /no cell/],
  ["a row that is not text", { ...GOOD, panel: ["+-+", 5, "+-+"] }, /panel row 1/],
  ["a tab", { ...GOOD, panel: ["+-+-+", "|o\to|", "+x+x+", "|oxo|", "+-+-+"] }, /row 1.*tab/i],
  [
    "a letter that looks like x",
    { ...GOOD, panel: ["+-+-+", "|oхo|", "+x+x+", "|oxo|", "+-+-+"] },
    /U\+0445/,
  ],
  ["a digit for an o", { ...GOOD, panel: ["+-+-+", "|0xo|", "+x+x+", "|oxo|", "+-+-+"] }, /row 1.*write.*o/],
  ["a wrong character", { ...GOOD, panel: ["+-+-+", "|o?o|", "+x+x+", "|oxo|", "+-+-+"] }, /row 1/],
  ["an open site", { ...GOOD, panel: ["+-+-+", "|o o|", "+x+x+", "|oxo|", "+-+-+"] }, /row 1, column 2/],
  [
    "a crossing on the edge",
    { ...GOOD, panel: ["+x+-+", "|oxo|", "+x+x+", "|oxo|", "+-+-+"] },
    /row 0, column 1/,
  ],
  ["a title of two lines", { ...GOOD, title: "two\nlines" }, /one line/],
])("a design that is %s", (_, content, message) => {
  const file = bench.write("bad.plait.json", content as string | object);
  expect(refusalOf("convert", file, ...LEATHER, "--out", "old-job")).toMatch(message);
});

test.each<[string, readonly string[], readonly string[]]>([
  ["a ragged row", ["+-+-+", "|oxo|", "+x+", "|oxo|", "+-+-+"], ["row 1, column 4", "row 3, column 4"]],
  [
    "a corner on a site",
    ["+-+-+", "|oxo|", "+x+x", "|oxo|", "+-+-+"],
    ["row 1, column 4", "row 2, column 3", "row 3, column 4"],
  ],
])("a panel with %s: every place that is wrong", (_, panel, places) => {
  const file = bench.write("bad.plait.json", { ...GOOD, panel });
  const run = bench.run("inspect", file);
  expect([run.code, run.stdout]).toEqual([2, ""]);
  expectReadable(run);
  for (const place of places) expect(run.stderr).toContain(place);
  expect(run.stderr).toContain("Add the dot");
});

test("inspect refuses what convert refuses", () => {
  expect(refusalOf("inspect", bench.write("bad.plait.json", { ...GOOD, pitch: 0 }))).toContain("found 0 mm");
  expect(refusalOf("profiles", bench.write("bad-profile.json", { ...PROFILE, craft: "wood" }))).toContain(
    "“wood”",
  );
});

test("files that can't be read", () => {
  expect(refusalOf("inspect", "nowhere.plait.json")).toContain("there is no such file");
  expect(refusalOf("inspect", "old-job")).toContain("it is a folder");
  expect(refusalOf("convert", "nowhere.plait.json", ...LEATHER, "--out", "old-job")).toContain(
    "no such file",
  );
  const large = bench.write("large.plait.json", "");
  truncateSync(join(bench.folder, large), 70e6);
  expect(refusalOf("inspect", large)).toMatch(/70 MB.*64 MB/);
});

test.each<[string, (own: typeof PROFILE) => object, RegExp]>([
  [
    "of another craft",
    (own) => ({ ...own, craft: "wood-router" }),
    /“wood-router” is not known.*leather-inlay/,
  ],
  ["whose name leads elsewhere", (own) => ({ ...own, name: "../evil" }), /“\.\.\/evil” cannot be a name/],
  ["of another version", (own) => ({ ...own, plaitwrightProfile: 3 }), /version 3/],
  ["without cautions", (own) => ({ ...own, cautions: [] }), /`cautions`/],
  [
    "with an unknown number",
    (own) => ({ ...own, numbers: { ...own.numbers, kerf: { value: 1 } } }),
    /`kerf` is not known.*`kerfMm`/,
  ],
  [
    "with a negative kerf",
    (own) => ({ ...own, numbers: { ...own.numbers, kerfMm: { value: -0.2 } } }),
    /found -0.2 mm/,
  ],
  [
    "with a bed past all beds",
    (own) => ({ ...own, numbers: { ...own.numbers, bedWidthMm: { value: 1e9 } } }),
    /1000000000 mm/,
  ],
])("a profile %s", (_, change, message) => {
  const file = bench.write("bad-profile.json", change(PROFILE));
  expect(refusalOf("convert", BADGE, "--profile", file, "--out", "old-job")).toMatch(message);
});

test("profiles that are not there", () => {
  expect(refusalOf("check", BADGE, "--profile", "lether-inlay")).toMatch(
    /no profile “lether-inlay”.*leather-inlay/,
  );
  expect(refusalOf("check", BADGE, "--profile", "../../secret.json")).toContain("there is no such file");
  expect(refusalOf("draft", "coupon", "--profile", "nope", "--out", "old-job")).toContain("no profile");
});

test("folders that are not replaced", () => {
  mkdirSync(join(bench.folder, "photos"), { recursive: true });
  bench.write(join("photos", "cat.jpg"), "a cat");
  bench.write("a-file", "text");
  const convert = (out: string) => refusalOf("convert", BADGE, ...LEATHER, "--out", out);
  expect(convert("photos")).toContain("cat.jpg");
  expect(bench.read("photos", "cat.jpg")).toBe("a cat");
  expect(convert("a-file")).toContain("it is a file");
  expect(convert(join("a-file", "job"))).toMatch(/a part of the path is a file/);
  expect(convert(".")).toContain("you are working inside it");
  expect(convert("/proc/plaitwright-job")).toMatch(/cannot write|not replaced/);
  expect(convert("x".repeat(300))).toContain("the name is too long");
  expect(refusalOf("draft", "coupon", ...LEATHER, "--out", "photos")).toContain("cat.jpg");
  expect(refusalOf("draft", "panel", "2x2", "--out", "a-file")).toContain("not overwritten");
});

test("sizes that can't be had", () => {
  const convert = (...size: readonly string[]) =>
    refusalOf("convert", BADGE, ...LEATHER, "--out", "old-job", "--size", ...size);
  expect(convert("20x300")).toMatch(/border takes 24 mm/);
  expect(convert("30x300", "--width", "8")).toMatch(/more than 32 mm/);
  expect(convert("24.01x300")).toMatch(/less than 0.5 mm apart/);
  expect(convert("100000x100000")).toMatch(/more than 5000 mm apart/);
});

test.each<[string, readonly string[]]>([
  ["no verb", []],
  ["an unknown verb", ["conver", BADGE]],
  ["no design", ["inspect"]],
  ["two designs", ["inspect", BADGE, BADGE]],
  ["an unknown option", ["inspect", BADGE, "--colour"]],
  ["no profile", ["check", BADGE]],
  ["no folder", ["convert", BADGE, ...LEATHER]],
  ["an option without its value", ["convert", BADGE, ...LEATHER, "--out"]],
  ["half a size", ["check", BADGE, ...LEATHER, "--size", "3x"]],
  ["a size of one number", ["check", BADGE, ...LEATHER, "--size", "300"]],
  ["a size of three numbers", ["check", BADGE, ...LEATHER, "--size", "3x4x5"]],
  ["a size with a unit", ["check", BADGE, ...LEATHER, "--size", "300mmx200mm"]],
  ["a negative size", ["check", BADGE, ...LEATHER, "--size=-3x4"]],
  ["a negative pitch", ["check", BADGE, ...LEATHER, "--pitch", "-1"]],
  ["an absurd pitch", ["check", BADGE, ...LEATHER, "--pitch", "1e9"]],
  ["an absurd pitch written out", ["check", BADGE, ...LEATHER, "--pitch", "1000000000"]],
  ["a pitch that is no number", ["check", BADGE, ...LEATHER, "--pitch", "NaN"]],
  ["an endless width", ["check", BADGE, ...LEATHER, "--width", "Infinity"]],
  ["no width", ["check", BADGE, ...LEATHER, "--width", "0"]],
  ["a gap in words", ["check", BADGE, ...LEATHER, "--gap", "wide"]],
  ["a negative kerf", ["check", BADGE, ...LEATHER, "--kerf", "-0.1"]],
  ["an unknown corner", ["check", BADGE, ...LEATHER, "--corner", "square"]],
  ["an unknown way", ["check", BADGE, ...LEATHER, "--way", "woven"]],
  ["an unknown format", ["convert", BADGE, ...LEATHER, "--out", "j", "--also", "pdf"]],
  ["stretching to no size", ["check", BADGE, ...LEATHER, "--stretch"]],
  ["a panel of no cells", ["draft", "panel", "0x4"]],
  ["half a cell", ["draft", "panel", "1.5x4"]],
  ["too many cells", ["draft", "panel", "10000x10000"]],
  ["a pitch that no design may have", ["draft", "panel", "2x2", "--pitch", "0.1"]],
  ["a title that no design may have", ["draft", "panel", "2x2", "--title", ""]],
])("usage: %s", (_, args) => {
  const before = bench.names();
  const { code, stdout, stderr } = bench.run(...args);
  expect([code, stdout]).toEqual([2, ""]);
  expect(stderr).not.toMatch(/^\s+at |undefined|“”/m);
  expect(stderr).toMatch(/^(error|Usage)/);
  expect(bench.names()).toEqual(before);
});

test("with --json the faults are data, too", () => {
  const file = bench.write("bad.plait.json", { ...GOOD, pich: 3 });
  const { code, stdout } = bench.run("inspect", file, "--json");
  expect(code).toBe(2);
  expect(JSON.parse(stdout)).toMatchObject({ faults: [{ code: "unknown-key", found: "pich", file }] });
});

test.each([
  ["--pitch", "0.5"],
  ["--pitch", "5000"],
  ["--width", "0.01"],
  ["--width", "10000"],
  ["--gap", "10000"],
  ["--pitch", "5000x0.5"],
])("the furthest numbers that are allowed are judged, not stumbled over: %s %s", (...option) => {
  const { code, stderr } = bench.run("check", BADGE, ...LEATHER, ...option);
  expect([code, stderr]).toEqual([1, ""]);
});

test("a panel of a million cells is inspected, or what it would need is said; converting it, too", () => {
  const file = bench.write("million.plait.json", {
    plaitwright: 1,
    pitch: 12,
    panel: plainPanel(1000, 1000),
  });
  const began = performance.now();
  const inspected = bench.run("inspect", file, "--json");
  if (inspected.code === 0) {
    // 2pq - p - q crossings, gcd(p, q) strands, crossings + 2 faces.
    expect(JSON.parse(inspected.stdout)).toMatchObject({
      crossings: 1_998_000,
      strands: 1000,
      faces: 1_998_002,
    });
  } else {
    expect(inspected.stderr).toMatch(/1998000 crossings and needs about \d+ MB/);
    expect(inspected.code).toBe(2);
  }
  expect(refusalOf("convert", file, ...LEATHER, "--out", "old-job")).toMatch(/needs about \d+ MB of memory/);
  expect(performance.now() - began).toBeLessThan(40_000);
});
