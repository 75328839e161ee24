import fc from "fast-check";
import { expect, test } from "vitest";
import { readNgc } from "../../../src/formats/ngc/ngc-interpreter.ts";
import { writeNgc } from "../../../src/formats/ngc/write-ngc.ts";
import type { Place3 } from "../../../src/output/toolpath.ts";
import { externalTest } from "../../support/external.ts";
import { canonicalRuns, interpret, radiusAt, worstDifference } from "./canonical.ts";
import { programOf, randomRun, START } from "./sample-program.ts";

const SET_UP = "G21 G17 G90 G94 G40 G80 G54 G61";
const CUTTER = "T1 M6\nS9000 M3\nG0 Z5\nX0 Y0";

/** Where the slot of `framed` begins. */
const SLOT_LINE = 7;

/** A program in order, with lines of a test's own before its end; the cutter is at (0, 0, 5), the feed 100. */
function framed(lines: string, end = "M5\nM2"): string {
  return `${SET_UP}\n${CUTTER}\nF100\n${lines}\n${end}\n`;
}

/** The worked example of NISTIR 6556, section 3.5.3.2: from (7, 7), in the report's own spelling. */
const WORKED = framed("g0 x7 y7 z4\nG17 G2 x 10 y 16 i 3 j 4 z 9");

function expectWorked(motion: unknown): void {
  expect(motion).toEqual({
    kind: "arc",
    ...{ x: 10, y: 16, z: 9 },
    ...{ centreX: 10, centreY: 11 },
    clockwise: true,
    feedMmPerMin: 100,
  });
}

test("the worked example of the report: centre (10, 11), radius 5", () => {
  const { runs, refusals } = readNgc(WORKED);
  expect(refusals).toEqual([]);
  expect(runs[0]).toMatchObject({ toolNumber: 1, spindleRpm: 9000, start: { x: 0, y: 0, z: 5 } });
  expectWorked(runs[0]?.motions[1]);
  expect(radiusAt({ x: 7, y: 7 }, { centreX: 10, centreY: 11 })).toBe(5);
  expect(runs[0]?.lines).toEqual([SLOT_LINE, SLOT_LINE + 1]);
});

externalTest("rs274 reads the worked example so too", ["rs274"], () => {
  expectWorked(canonicalRuns(WORKED)[0]?.[1]);
});

/** Spellings that the report allows. */
const SPELLINGS = framed(
  [
    "g1x1.5y+2.z-.5",
    "\tG01 X 02.25(sideways)Y-0",
    "(nothing)",
    "",
    "G1 X-0.0000 F 250.125",
    "f300 y3 g0",
    "x4",
    "G2 (a quarter) J-1 I0 X5 Y2 F99",
    "G3 Y4 I0 J1 Z1",
    "G80",
    "G1 Z2",
    "G90 G4 P0.5 G0 Z6",
  ].join("\r\n"),
);

test("words, numbers and modes as the report has them", () => {
  const { runs, refusals } = readNgc(SPELLINGS);
  expect(refusals).toEqual([]);
  const line = (x: number, y: number, z: number, feedMmPerMin: number) => ({
    kind: "line",
    ...{ x, y, z },
    feedMmPerMin,
  });
  expect(runs[0]?.motions).toEqual([
    line(1.5, 2, -0.5, 100),
    line(2.25, 0, -0.5, 100),
    line(0, 0, -0.5, 250.125),
    { kind: "rapid", x: 0, y: 3, z: -0.5 },
    { kind: "rapid", x: 4, y: 3, z: -0.5 },
    {
      kind: "arc",
      ...{ x: 5, y: 2, z: -0.5, centreX: 4, centreY: 2 },
      clockwise: true,
      feedMmPerMin: 99,
    },
    { kind: "arc", ...{ x: 5, y: 4, z: 1, centreX: 5, centreY: 3 }, clockwise: false, feedMmPerMin: 99 },
    line(5, 4, 2, 99),
    { kind: "rapid", x: 5, y: 4, z: 6 },
  ]);
  expect(runs[0]?.lines).toEqual([7, 8, 11, 12, 13, 14, 15, 17, 18]);
});

externalTest("rs274 reads those spellings so too", ["rs274"], () => {
  const ours = readNgc(SPELLINGS).runs[0];
  const { place, radius, feed } = worstDifference(
    { x: 0, y: 0, z: 5 },
    ours?.motions ?? [],
    canonicalRuns(SPELLINGS)[0] ?? [],
  );
  // rs274 prints four decimals.
  expect(Math.max(place, radius, feed)).toBeLessThanOrEqual(5e-5);
});

/** What is wrong, the lines, the line to be refused (in the slot, from 0), words of our reason and of rs274's. */
type Broken = readonly [string, string, number, string, string];

/** Refused by both. The program around them is the one that both accept above. */
const BROKEN: readonly Broken[] = [
  ["no feed, since it is taken away", "F0\nG1 X1", 0, "feed", "zero feed rate"],
  ["a feed below zero", "G1 X1 F-5", 0, "feed", "Negative f"],
  ["an end off the circle", "G2 X10 Y10 I7 J0", 0, "from its centre", "Radius to end of arc differs"],
  ["an arc without centre", "G2 X1 Y1", 0, "both I and J", "all missing for arc"],
  ["an arc with a centre in another plane", "G2 X1 Y1 I1 K0", 0, "K", "K word"],
  ["an arc of no radius", "G3 X0.0024 I0.0012 J0", 0, "without a radius", "Zero-radius arc"],
  ["centre and radius", "G2 X1 Y1 I1 J0 R1", 0, "R", "Mixed radius ijk"],
  ["a radius too small", "G2 X9 Y9 R1", 0, "R", "Arc radius too small"],
  ["the letter O for a zero", "G1 XO", 0, "X without", "o"],
  ["a byte-order mark", "\ufeffG1 X1", 0, "65279", "Bad character"],
  ["an accent", "G1 X1 \u00c9", 0, "201", "Bad character"],
  ["a comment within a comment", "(a (b) c)", 0, "within a comment", "Nested comment"],
  ["a comment without an end", "(a", 0, "without an end", "Unclosed comment"],
  ["a bracket that closes nothing", "G1 X1 )", 0, '")"', "Bad character ')'"],
  ["two X words", "G1 X1 X2", 0, "two words with X", "Multiple x words"],
  ["two motions on a line", "G0 G1 X1", 0, "one modal group", "same modal group"],
  ["two planes on a line", "G17 G17", 0, "one modal group", "same modal group"],
  ["two spindle words on a line", "M3 M5", 0, "one modal group", "Two m codes used from same modal group"],
  ["two stops on a line", "M0 M2", 0, "one modal group", "Two m codes used from same modal group"],
  ["two units on a line", "G21 G20", 0, "inches", "same modal group"],
  ["an exponent", "G1 X1e2", 0, "E", "E word"],
  ["a cutter that is not in the table", "M5\nT999 M6", 1, "", "not found in the tool table"],
  ["part of a cutter", "T1.5", 0, "cutter has the number", "Non integer"],
  ["a long line", `G1 X1 (${"-".repeat(250)})`, 0, "more than 249", "Command too long"],
  ["coordinates after G80", "G80\nX1", 1, "without a motion", "without a g code that uses them"],
  ["coordinates beside G80", "G80 X1", 0, "without a motion", "Cannot use axis values with g80"],
  ["a centre beside a line", "G1 X1 I1", 0, "I or J", "I word"],
  ["a dwell without a time", "G4", 0, "without a time", "Dwell time missing"],
  ["a time without a dwell", "G1 X1 P3", 0, "P without G4", "P word"],
  ["an unknown G", "G7.5", 0, "G7.5", "Unknown g code"],
  ["a letter without a number", "G1 X", 0, "X without", "No characters found"],
  ["a number with two points", "G1 X1.2.3", 0, '"."', "bad number format"],
  ["a speed below zero", "M5\nS-1", 1, "speed", "Negative spindle speed"],
  ["another plane with I and J", "G18 G2 X1 Y1 I1 J0", 0, "plane", "xz plane"],
  ["a word of another canned cycle", "Q3", 0, "Q", "Q word"],
];

test.each(BROKEN.filter(([, , , reason]) => reason !== ""))("refused: %s", (_, lines, at, reason) => {
  expect(readNgc(framed(lines)).refusals).toContainEqual({
    line: SLOT_LINE + at,
    reason: expect.stringContaining(reason),
  });
});

externalTest("rs274 refuses them all as well, each for its reason", ["rs274"], () => {
  const takes = BROKEN.flatMap(([name, lines, , , reason]) => {
    const { code, stderr } = interpret(framed(lines));
    return code === 1 && stderr.includes(reason) ? [] : [[name, code, stderr]];
  });
  expect(takes).toEqual([]);
});

externalTest("both miss the program's end", ["rs274"], () => {
  const open = framed("G1 X1", "M5");
  expect(readNgc(open).refusals).toEqual([
    { line: SLOT_LINE + 1, reason: expect.stringContaining("no end") },
  ]);
  expect(interpret(open).stderr).toContain("no percent sign or program end");
});

/** Refused by us alone: RS-274 that means something else than the writer ever does, or is not safe. */
test.each<[string, string, number, string]>([
  ["inches", "G20", 0, "inches"],
  ["incremental distances", "G91", 0, "incremental"],
  ["inverse time", "G93", 0, "inverse time"],
  ["rounded corners", "G64", 0, "rounded corners"],
  ["a corner tolerance", "G64 P0.1", 0, "rounded corners"],
  ["exact stop", "G61.1", 0, "exact stop"],
  ["another zero", "G55", 0, "G55"],
  ["compensation", "G41", 0, "compensation"],
  ["a length offset", "G43 H1", 0, "G43"],
  ["a canned cycle", "G81 X1 Y1 Z-1 R1", 0, "G81"],
  ["a pallet change", "M5 M30", 0, "pallet"],
  ["a spindle turning backwards", "M5\nM4", 1, "backwards"],
  ["an unknown M", "M99", 0, "M99"],
  ["a line number", "N10 G1 X1", 0, "N"],
  ["another axis", "G1 A90", 0, "A"],
  ["a parameter", "G1 X#1", 0, "X without"],
  ["an expression", "G1 X[1+2]", 0, "X without"],
  ["block delete", "/G1 X1", 0, '"/"'],
  ["a percent sign", "%", 0, '"%"'],
  ["the other kind of comment", "G1 X1 ; rest", 0, '";"'],
  ["a return without a feed", "G1 X1\rY2", 0, "13"],
  ["two signs", "G1 X--1", 0, "X without"],
  ["more digits than a number can hold", "G1 X1.0000000000000001", 0, "X without"],
  ["a mark beyond ASCII in a comment", "(45\u00b0)", 0, "176"],
  // 0.0021 mm: the rule of the report is 0.002 mm, rs274 is looser.
  ["radii 0.0021 mm apart", "G3 X-10.0021 I-5 J0", 0, "from its centre"],
  ["a full circle", "G2 X0 I1 J0", 0, "full circle"],
  ["an arc without X and Y", "G2 Z1 I1 J0", 0, "without X and Y"],
  ["an arc without J", "G2 X2 I1", 0, "both I and J"],
  ["three quarters of a turn", "G2 X1 Y-1 I1 J0", 0, "half a turn"],
  ["a motion without a place", "G1", 0, "without a place"],
  ["an arc without a place", "G2 I1 J0", 0, "without a place"],
  ["a cut with the spindle standing", "M5\nG1 X1", 1, "spindle standing"],
  ["a change with the spindle turning", "T2 M6", 0, "while the spindle turns"],
  ["a stop with the spindle turning", "M0", 0, "while the spindle turns"],
  ["another speed on the way", "S9001", 0, "speed changes"],
  ["a second speed with one cutter", "M5\nS9001 M3", 1, "second speed"],
  ["a cut from an unknown place", "M5\nT1 M6\nM3\nG0 X0 Y0\nG1 Z-1", 4, "not known"],
  ["a cutter that goes nowhere", "M5\nT1 M6", 1, "never brought"],
  ["a cutter that never turns", "M5\nT1 M6\nG0 X0 Y0 Z5", 1, "never turns"],
  ["words after the end", "M5 M2\nG0 X1", 1, "after M2"],
])("refused by us: %s", (_, lines, at, reason) => {
  expect(readNgc(framed(lines)).refusals).toContainEqual({
    line: SLOT_LINE + at,
    reason: expect.stringContaining(reason),
  });
});

test("an arc may miss its radius by 0.0019 mm and half a turn by rounding", () => {
  expect(readNgc(framed("G3 X-10.0019 I-5 J0\nX-0.0019 Y-0.0002 I5 J0")).refusals).toEqual([]);
});

test.each(["G21", "G17", "G90", "G94", "G40", "G54", "G61"])(
  "%s must stand before the first motion",
  (code) => {
    const { refusals } = readNgc(framed("G1 X1").replace(`${code} `, "").replace(` ${code}`, ""));
    expect(refusals).toEqual([{ line: 4, reason: `a motion before ${code}` }]);
  },
);

test.each<[string, string, number, string]>([
  ["no cutter", `${SET_UP}\nG0 X1\nM2\n`, 2, "without a cutter"],
  ["no cutter at all", `${SET_UP}\nM2\n`, 1, "no cutter is put in"],
  ["no cutter chosen", `${SET_UP}\nM6\nM2\n`, 2, "before any T"],
  ["a spindle without a speed", `${SET_UP}\nT1 M6\nM3\nM2\n`, 3, "without a speed"],
  ["a spindle without a cutter", `${SET_UP}\nS1 M3\nM2\n`, 2, "without a cutter"],
  ["a cut without a feed", `${SET_UP}\n${CUTTER}\nG1 X1\nM2\n`, 6, "without a feed"],
  ["nothing", "", 0, "no end"],
])("refused for want of order: %s", (_, text, line, reason) => {
  expect(readNgc(text).refusals).toContainEqual({ line, reason: expect.stringContaining(reason) });
});

test("reading ends after many refusals", () => {
  expect(readNgc("?\n".repeat(1000)).refusals.length).toBe(50);
});

test("any text is answered", () => {
  const words = fc.constantFrom(..."GMTXYZIJFSP0123.-+ ()\n", "G2", "M6", "G1 X1", SET_UP, CUTTER);
  fc.assert(
    fc.property(fc.array(words, { maxLength: 80 }), (pieces) => {
      const { refusals, runs } = readNgc(pieces.join(""));
      for (const { motions, lines } of runs) expect(lines.length).toBe(motions.length);
      for (const { line } of refusals) expect(Number.isInteger(line)).toBe(true);
    }),
    { numRuns: 500 },
  );
});

const APPROACH = "G0 Z15\nX10 Y10\n";

externalTest("what we accept of damaged programs, rs274 accepts, with the same moves", ["rs274"], () => {
  const damage = fc.record({
    at: fc.nat(),
    cut: fc.integer({ min: 0, max: 2 }),
    put: fc.constantFrom("", "0", "1", ".", "-", " ", "\n", "G2", "G1", "X1", "(", ")"),
  });
  let accepted = 0;
  fc.assert(
    fc.property(randomRun(12), damage, (run, { at, cut, put }) => {
      const text = writeNgc(programOf(), [run]);
      // Behind the way to the start, which has to stay two moves.
      const first = text.indexOf(APPROACH) + APPROACH.length;
      const from = first + (at % (text.length - first));
      const damaged = text.slice(0, from) + put + text.slice(from + cut);
      const { refusals, runs } = readNgc(damaged);
      if (refusals.length > 0) return;
      accepted++;
      // Moves that go nowhere are in their list and not in ours.
      const theirs = withoutRests(START, canonicalRuns(damaged)[0] ?? []);
      const ours = withoutRests(START, runs[0]?.motions ?? []);
      const { place, feed } = worstDifference(START, ours, theirs);
      expect(Math.max(place, feed)).toBeLessThanOrEqual(1e-4);
    }),
    { numRuns: 200 },
  );
  expect(accepted).toBeGreaterThan(20);
});

function withoutRests<T extends Place3>(from: Place3, motions: readonly T[]): T[] {
  let at = from;
  return motions.filter((motion) => {
    const rests = Math.max(Math.abs(motion.x - at.x), Math.abs(motion.y - at.y), Math.abs(motion.z - at.z));
    at = motion;
    return rests > 5e-5;
  });
}
