/** `draft frame`, `draft ring` and `draft strip`: designs that every verb reads. */
import { expect, test } from "vitest";
import { Bench } from "./run-cli.ts";

const bench = new Bench();
const LEATHER = ["--profile", "leather-inlay"] as const;

interface Drafted {
  readonly file: string;
  readonly args: readonly string[];
  readonly found: object;
}

// A border of s strands round a by b cells lies on s + a by s + b cells. Sites within its outer
// edge less those within or on the opening's: 3 round 3 by 2 is DESIGN.md's drawing, where
// ((11 x 9 - 1) - (7 x 5 - 1)) / 2 = 32; the centrelines reach 6 x 5 cells less half of one.
// A ring of s strands, n round, has s - 1 rows of n crossings and gcd(s, n) strands; a plain
// strip of 2 by 12 cells has 2 x 2 x 12 - 2 - 12 = 34 crossings, gcd(2, 12) = 2 strands.
const DRAFTS: readonly Drafted[] = [
  {
    file: "frame-3-3x2.plait.json",
    args: ["frame", "3", "--opening", "3x2"],
    found: { crossings: 32, pitchMm: [16, 16], size: { width: 5.5 * 16 + 4.8, height: 4.5 * 16 + 4.8 } },
  },
  {
    file: "ring-3-16.plait.json",
    args: ["ring", "--around", "16", "--strands", "3", "--inner", "60"],
    found: { crossings: 32, strands: 1 },
  },
  {
    file: "ring-4-10.plait.json",
    args: ["ring", "--around", "10", "--strands", "4", "--inner", "60"],
    found: { crossings: 30, strands: 2 },
  },
  {
    file: "strip-4-12.plait.json",
    args: ["strip", "--strands", "4", "--repeats", "12", "--end", "pointed"],
    found: { crossings: 34, strands: 2 },
  },
];

test.each(DRAFTS)("$file", ({ file, args, found }) => {
  expect(bench.run("draft", ...args)).toEqual({ code: 0, stdout: `wrote ${file}\n`, stderr: "" });
  const said = bench.json(0, "inspect", file);
  expect(said).toMatchObject({ alternating: true, hand: "Z", ...found });
  const job = file.replace(".plait.json", "");
  const converted = bench.run("convert", file, ...LEATHER, "--out", job, "--despite-checks");
  expect([converted.code === 0 || converted.code === 1, converted.stderr]).toEqual([true, ""]);
  expect(bench.names(job)).toContain("cut.dxf");
});

test("pitch, title, hand and file are taken; a ring's pitch follows from its radius", () => {
  const args = ["--pitch", "12.5", "--title", "Mirror", "--hand", "S", "--out", "mirror.plait.json"];
  bench.run("draft", "frame", "2", "--opening", "4x4", ...args);
  expect(JSON.parse(bench.read("mirror.plait.json"))).toMatchObject({
    title: "Mirror",
    pitch: 12.5,
    hand: "S",
  });
  expect(bench.json(0, "inspect", "mirror.plait.json")).toMatchObject({ hand: "S" });
  const ring = ["ring", "--around", "20", "--strands", "2", "--inner", "50"];
  expect(bench.json(0, "draft", ...ring)).toEqual({ out: "ring-2-20.plait.json" });
  // 2 pi 50 / 20 = 15.708
  expect(JSON.parse(bench.read("ring-2-20.plait.json"))).toMatchObject({
    pitch: 15.71,
    ring: { inner: 50, panel: expect.any(Array) },
  });
});

test.each<[string, readonly string[], RegExp]>([
  ["a frame of one strand", ["frame", "1", "--opening", "3x3"], /`strands`: found 1/],
  ["a frame without opening", ["frame", "3"], /--opening/],
  ["a frame round half an opening", ["frame", "3", "--opening", "8"], /8x5|6x4/],
  ["a frame too wide to be read", ["frame", "3", "--opening", "10000x1"], /panel/],
  ["strands that are no number", ["frame", "three", "--opening", "3x3"], /three/],
  ["a ring of two cells", ["ring", "--around", "2", "--strands", "3", "--inner", "60"], /2 cells round/],
  [
    "a ring past all size",
    ["ring", "--around", "3", "--strands", "90", "--inner", "60"],
    /outer edge would lie|Allowed|turn too tightly/,
  ],
  ["a ring without radius", ["ring", "--around", "9", "--strands", "3", "--inner", "0"], /0.01 to/],
  ["a strip of three strands", ["strip", "--strands", "3", "--repeats", "5"], /`strands`: found 3.*even/],
  ["a strip with odd ends", ["strip", "--strands", "4", "--repeats", "5", "--end", "round"], /round/],
  ["a title of two lines", ["strip", "--strands", "4", "--repeats", "5", "--title", "a\nb"], /one line/],
])("refused: %s", (_, args, message) => {
  const before = bench.names();
  const { code, stdout, stderr } = bench.run("draft", ...args);
  expect([code, stdout]).toEqual([2, ""]);
  expect(stderr).toMatch(message);
  expect(stderr).not.toMatch(/^\s+at |undefined/m);
  expect(bench.names()).toEqual(before);
});

test("a file that is there is not overwritten", () => {
  bench.write("mine.plait.json", "mine");
  const { code, stderr } = bench.run("draft", "frame", "3", "--opening", "3x3", "--out", "mine.plait.json");
  expect([code, bench.read("mine.plait.json")]).toEqual([2, "mine"]);
  expect(stderr).toContain("not overwritten");
});
