/** `set`: several designs converted alike. */
import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { z } from "zod";
import { plainPanel } from "../support/plain-panel.ts";
import { Bench, ROOT } from "./run-cli.ts";

const bench = new Bench();
const SET = {
  plaitwrightSet: 1,
  title: "Sea chest",
  profile: "leather-inlay",
  designs: ["lid.plait.json", "side.plait.json"],
  ribbon: { width: 5, gap: 2.2 },
  hand: "Z",
};
const LID = { plaitwright: 1, title: "Lid", pitch: 16, panel: plainPanel(3, 3) };
const SIDE = {
  plaitwright: 1,
  title: "Side",
  pitch: 18,
  ribbon: { width: 6, gap: 2.2, corner: "round" },
  hand: "S",
  panel: plainPanel(4, 3),
};

interface SetReport {
  readonly ready: boolean;
  readonly designs: readonly {
    readonly file: string;
    readonly ready: boolean;
    readonly departures: readonly object[];
    readonly settings: object;
  }[];
}

function writeSet(change: object = {}): string {
  bench.write("lid.plait.json", LID);
  bench.write("side.plait.json", SIDE);
  return bench.write("chest.set.json", { ...SET, ...change });
}

test("each design is a whole job of its own, all with the set's ribbon", () => {
  const file = writeSet();
  const said = bench.json(0, "set", file, "--out", "jobs/chest") as unknown as SetReport;
  expect(bench.names("jobs", "chest")).toEqual(["lid", "side"]);
  const schema = JSON.parse(readFileSync(join(ROOT, "shared", "job.schema.json"), "utf8"));
  for (const name of ["lid", "side"]) {
    const job = JSON.parse(bench.read("jobs", "chest", name, "job.json"));
    expect(z.fromJSONSchema(schema).safeParse(job)).toMatchObject({ success: true });
    expect(job.settings).toMatchObject({ widthMm: 5, gapMm: 2.2 });
    const digests = bench.digests("jobs", "chest", name);
    for (const { path, sha256 } of job.files) expect([path, sha256]).toEqual([path, digests[path]]);
  }
  expect(said.ready).toBe(true);
  expect(said.designs.map(({ departures }) => departures)).toEqual([
    [],
    [
      { what: "width", own: 6, set: 5, kept: false },
      { what: "hand", own: "S", set: "Z", kept: false },
      { what: "corner", own: "round", set: "pointed", kept: true },
      { what: "pitch", own: 18, set: 16, kept: true },
    ],
  ]);
});

test("a design in the set's hand is the job of that design in that hand", () => {
  writeSet();
  bench.run("set", "chest.set.json", "--out", "handed");
  bench.write("turned.plait.json", { ...SIDE, hand: "Z" });
  const ribbon = ["--width", "5", "--gap", "2.2", "--profile", "leather-inlay"];
  bench.run("convert", "turned.plait.json", ...ribbon, "--out", "turned");
  bench.run("convert", "side.plait.json", ...ribbon, "--out", "unturned");
  const cuts = (...path: readonly string[]) => bench.digests(...path)["cut.svg"];
  expect(cuts("handed", "side")).toBe(cuts("turned"));
  expect(cuts("handed", "side")).not.toBe(cuts("unturned"));
});

test("a composed design is woven whole in the set's hand", () => {
  const pieces = { wing: { panel: plainPanel(3, 3), hand: "S" } };
  const layout = [
    { name: "a", piece: "wing", at: [0, 0] },
    { name: "b", piece: "wing", at: [5, 0], mirror: true },
  ];
  writeSet({ designs: ["pair.plait.json"] });
  bench.write("pair.plait.json", { plaitwright: 1, pitch: 16, pieces, layout });
  const said = bench.json(0, "set", "chest.set.json", "--out", "pairs") as unknown as SetReport;
  expect(said.designs[0]?.departures).toEqual([{ what: "hand", own: "both", set: "Z", kept: false }]);
});

test("words: a table with a verdict for each, and the departures", () => {
  const run = bench.run("set", writeSet(), "--out", "worded");
  expect([run.code, run.stderr]).toEqual([0, ""]);
  expect(run.stdout).toMatch(/lid\.plait\.json +.* 16 mm +Ready to cut/);
  expect(run.stdout).toMatch(/side\.plait\.json +.* 18 mm +Ready to cut/);
  expect(run.stdout).toContain(
    "departs  side.plait.json: width 6 mm, where the set's is 5 mm; made with the set's",
  );
  expect(run.stdout).toContain(
    "departs  side.plait.json: pitch 18 mm, where the first design's is 16 mm; it keeps its own",
  );
  expect(run.stdout).toContain("Never leave the laser while it runs");
});

test("a failed check is the whole set's verdict; its job has no file for the machine", () => {
  const file = writeSet();
  // Half a pitch is 4 mm: ribbons 5 mm wide cannot lie side by side.
  bench.write("side.plait.json", { ...SIDE, pitch: 8 });
  const run = bench.run("set", file, "--out", "failed");
  expect([run.code, run.stderr]).toEqual([1, ""]);
  expect(run.stdout).toMatch(/side\.plait\.json.*Do not cut/);
  expect(run.stdout).toContain("FAIL");
  expect(bench.names("failed", "lid")).toContain("cut.dxf");
  expect(bench.names("failed", "side")).not.toContain("cut.dxf");
  expect(bench.run("set", file, "--out", "failed", "--despite-checks").code).toBe(1);
  expect(bench.names("failed", "side")).toContain("cut.dxf");
});

test("a second run replaces each job whole", () => {
  const file = writeSet();
  bench.run("set", file, "--out", "again");
  const before = bench.digests("again", "lid");
  expect(bench.run("set", file, "--out", "again").code).toBe(0);
  expect(bench.digests("again", "lid")).toEqual(before);
  expect(bench.names("again")).toEqual(["lid", "side"]);
});

test.each<[string, object, RegExp]>([
  ["with a design that is not there", { designs: ["lid.plait.json", "nowhere.plait.json"] }, /nowhere/],
  ["with a design elsewhere", { designs: ["../lid.plait.json"] }, /`designs\[0\]`.*plain name/],
  ["whose job would be the folder above", { designs: ["..plait.json"] }, /plain name/],
  ["with a design twice", { designs: ["lid.plait.json", "Lid.json"] }, /`designs\[1\]`.*folder `Lid`/],
  ["without designs", { designs: [] }, /`designs`.*empty/],
  ["without a gap", { ribbon: { width: 5 } }, /`gap` is missing/],
  ["with an unknown key", { colour: "red" }, /`colour` is not known/],
  ["of another version", { plaitwrightSet: 2 }, /version 2/],
  ["with an unknown profile", { profile: "lether-inlay" }, /no profile “lether-inlay”/],
  ["with a profile elsewhere", { profile: "../mine.json" }, /cannot be a name/],
  ["with a profile file that is not there", { profile: "mine.json" }, /mine\.json.*no such file/],
])("refused: a set %s", (_, change, message) => {
  const file = writeSet(change);
  const before = bench.names();
  const { code, stdout, stderr } = bench.run("set", file, "--out", "refused");
  expect([code, stdout]).toEqual([2, ""]);
  expect(stderr.match(/^error/gm)).toHaveLength(1);
  expect(stderr).toMatch(message);
  expect(bench.names()).toEqual(before);
});

test("one bad design: nothing of the set is written", () => {
  const file = writeSet();
  bench.write("side.plait.json", { ...SIDE, panel: ["+-+-+", "|o o|", "+x+x+", "|oxo|", "+-+-+"] });
  const { code, stderr } = bench.run("set", file, "--out", "half");
  expect([code, bench.names().includes("half")]).toEqual([2, false]);
  expect(stderr).toMatch(/side\.plait\.json, line 1.*row 1, column 2/);
});

test("folders that are not ours stay as they are", () => {
  const file = writeSet();
  mkdirSync(join(bench.folder, "photos", "side"), { recursive: true });
  bench.write(join("photos", "side", "cat.jpg"), "a cat");
  const photos = bench.run("set", file, "--out", "photos");
  expect(photos.code).toBe(2);
  expect(photos.stderr).toContain("cat.jpg");
  expect(bench.names("photos")).toEqual(["side"]);
  bench.run("convert", "lid.plait.json", "--profile", "leather-inlay", "--out", "one-job");
  const before = bench.digests("one-job");
  expect(bench.run("set", file, "--out", "one-job").stderr).toContain("the folder of one job");
  expect(bench.digests("one-job")).toEqual(before);
});
