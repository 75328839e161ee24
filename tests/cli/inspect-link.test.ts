/** `inspect --link`, and what is said of each strand. */
import { expect, test } from "vitest";
import { plainPanel } from "../support/plain-panel.ts";
import { Bench } from "./run-cli.ts";

const bench = new Bench();

function designFile(name: string, design: object): string {
  return bench.write(`${name}.plait.json`, { plaitwright: 1, pitch: 12, ...design });
}

function wordsOf(name: string, design: object, ...options: readonly string[]): string {
  const run = bench.run("inspect", designFile(name, design), ...options);
  expect([run.code, run.stderr]).toEqual([0, ""]);
  return run.stdout;
}

test("a known link in words, with its hand where it has one", () => {
  const endless = wordsOf("endless", { panel: plainPanel(2, 3) }, "--link");
  expect(endless).toMatch(
    /link +determinant 15\n +has the invariants of 7_4 \(small endless knot\), (left|right)-handed\n/,
  );
  const [z, s] = ["Z", "S"].map((hand) => wordsOf(hand, { panel: plainPanel(2, 3), hand }, "--link"));
  const handOf = (words = "") => /(left|right)-handed/.exec(words)?.[1];
  expect([handOf(z), handOf(s)].sort()).toEqual(["left", "right"]);
  const mat = wordsOf("mat", { ring: { around: 4, rows: 1.5, inner: 30 } }, "--link");
  expect(mat).toContain("has the invariants of 8_18 (carrick mat)\n");
});

test("unknown, large and split links in words", () => {
  expect(wordsOf("nine", { panel: plainPanel(3, 3) }, "--link")).toMatch(
    /determinant 192\n +none of the well-known small links has the same invariants\n/,
  );
  expect(wordsOf("many", { panel: plainPanel(4, 4) }, "--link")).toMatch(
    /determinant 100352\n +24 crossings when untwisted; only links of up to 12 are known by name\n/,
  );
  // A007341 has 27 digits at n = 8 already.
  expect(wordsOf("more", { panel: plainPanel(10, 10) }, "--link")).toMatch(
    /determinant \d{12}…, \d+ digits \(--json has all\)/,
  );
  expect(wordsOf("huge", { panel: plainPanel(40, 40) }, "--link")).toContain(
    "3120 crossings are too many for the determinant, which is found up to 2000",
  );
  const apart = ["+-+-+ +-+-+", "|oxo| |oxo|", "+x+x+ +x+x+", "|oxo| |oxo|", "+-+-+ +-+-+"];
  expect(wordsOf("apart", { panel: apart }, "--link")).toContain(
    "link       determinant 0: the separate parts can be pulled apart",
  );
});

test("without --link nothing is said of it; with --json it is data", () => {
  expect(wordsOf("plain", { panel: plainPanel(2, 2) })).not.toContain("determinant");
  expect(bench.json(0, "inspect", "plain.plait.json")).not.toHaveProperty("link");
  expect(bench.json(0, "inspect", "plain.plait.json", "--link")["link"]).toMatchObject({
    determinant: "4",
    sameAs: { name: "4^2_1", called: "Solomon's knot" },
  });
});

test("strands: lengths, crossings, and the pieces that they run through", () => {
  const design = {
    pieces: { square: { panel: plainPanel(2, 2) } },
    layout: [
      { name: "left", piece: "square", at: [0, 0] },
      { name: "right", piece: "square", at: [4, 0] },
    ],
    joins: [{ tie: [{ in: "left" }, { in: "right" }] }],
  };
  const words = wordsOf("pair", design);
  expect(words).toMatch(/\n +[ABC] +[\d.]+ mm, 8 crossings, through left, right\n/);
  expect(words).toMatch(/\n +[ABC] +[\d.]+ mm, 4 crossings, through left\n/);
  const { strandList } = bench.json(0, "inspect", "pair.plait.json");
  expect(strandList).toEqual(
    expect.arrayContaining([
      { name: expect.any(String), lengthMm: expect.any(Number), crossings: 4, pieces: ["right"] },
    ]),
  );
  expect(wordsOf("one", { panel: plainPanel(2, 1) })).toMatch(/ mm, 1 crossing\n/);
});
