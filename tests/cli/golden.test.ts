/**
 * One small job in full, as a person last read it: tests/golden/harbour-badge. After a change
 * that was meant, UPDATE_GOLDEN=1 writes it anew; read the difference before it is kept.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { Bench, ROOT, sample } from "./run-cli.ts";

const bench = new Bench();
const BADGE = sample("harbour-badge");
const FOLDER = join(ROOT, "tests", "golden", "harbour-badge");

function expectGolden(name: string, text: string): void {
  const file = join(FOLDER, name);
  if (process.env["UPDATE_GOLDEN"] === "1") {
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  expect(text).toBe(readFileSync(file, "utf8"));
}

test("what check says of the badge", () => {
  expectGolden("check.txt", bench.run("check", BADGE, "--profile", "leather-inlay").stdout);
});

test("what check says of the badge with a gap that is too small", () => {
  expectGolden(
    "check-failed.txt",
    bench.run("check", BADGE, "--profile", "leather-inlay", "--gap", "1.5").stdout,
  );
});

test("what inspect says of the badge", () => {
  expectGolden("inspect.txt", bench.run("inspect", BADGE).stdout);
});

test("the badge's manifest", () => {
  bench.run("convert", BADGE, "--profile", "leather-inlay", "--out", "badge");
  expectGolden("job.json", bench.read("badge", "job.json"));
});
