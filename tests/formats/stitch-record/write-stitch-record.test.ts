import fc from "fast-check";
import { expect, test } from "vitest";
import { writeStitchRecord } from "../../../src/formats/stitch-record/write-stitch-record.ts";
import { JUMP, STITCH, type StitchPlan, TRIM } from "../../../src/output/stitches.ts";
import { planOf, randomPlan } from "../sample-plan.ts";
import { type ReadRecord, readStitchRecord } from "./decoder.ts";

const MIDDLE = { x: 100, y: 50 };

const stepsOf = (plan: StitchPlan) =>
  readStitchRecord(writeStitchRecord(plan)).records.map(
    ({ command, x, y }) => `${command} ${x / 10} ${y / 10}`,
  );

test("a line of stitches from the middle of the hoop", () => {
  const plan = planOf([
    [100, 50, JUMP],
    [102, 50, STITCH],
    [102, 53.04, STITCH],
  ]);
  expect(stepsOf(plan)).toEqual([
    // Down once on the spot: the first stitch comes from there.
    "stitch 0 0",
    "stitch 2 0",
    "stitch 2 3",
    "end 2 3",
  ]);
});

test("longer ways than 12.1 mm are divided into jumps and the stitch", () => {
  // 30 mm = 300 units = 100 + 100 + 100; 24.2 mm = 2 x 121 units.
  const plan = planOf([
    [100, 50, JUMP],
    [130, 50, STITCH],
    [130, 74.2, JUMP],
    [130, 62.1, STITCH],
  ]);
  expect(stepsOf(plan)).toEqual([
    "stitch 0 0",
    "jump 10 0",
    "jump 20 0",
    "stitch 30 0",
    "jump 30 12.1",
    "jump 30 24.2",
    "stitch 30 24.2",
    "stitch 30 12.1",
    "end 30 12.1",
  ]);
});

test("the machine stops between blocks, and a new thread begins with a move", () => {
  const plan = planOf(
    [
      [100, 50, JUMP],
      [101, 50, STITCH],
    ],
    [
      [103, 50, STITCH],
      [104, 50, STITCH],
    ],
    [],
  );
  const file = readStitchRecord(writeStitchRecord(plan));
  expect(file.records.map(({ command, x }) => `${command} ${x}`)).toEqual([
    "stitch 0",
    "stitch 10",
    "stop 10",
    "jump 30",
    "stitch 30",
    "stitch 40",
    "stop 40",
    "end 40",
  ]);
  expect(file.header.get("CO")).toBe("002");
});

test.each([
  [0, 0],
  [0.1, 0],
  [-0.2, 0.4],
  [0.6, 0],
  [5, -3],
  [50, 20],
])("a trim on the way to (%d, %d) is a run of at least three jumps that all move", (dx, dy) => {
  const plan = planOf([
    [100, 50, JUMP],
    [101, 50, STITCH],
    [101 + dx, 50 + dy, TRIM],
    [103 + dx, 50 + dy, STITCH],
  ]);
  const { records } = readStitchRecord(writeStitchRecord(plan));
  const jumps = records.slice(2).filter(({ command }) => command === "jump");
  expect(jumps.length).toBeGreaterThanOrEqual(3);
  expect(records.slice(2, 2 + jumps.length)).toEqual(jumps);
  for (const jump of jumps) expect(Math.abs(jump.dx) + Math.abs(jump.dy)).toBeGreaterThan(0);
  expect(jumps.at(-1)).toMatchObject({ x: Math.round(10 + 10 * dx), y: Math.round(10 * dy) });
});

test("a plain jump of up to 24.2 mm is no trim", () => {
  const plan = planOf([
    [100, 50, JUMP],
    [101, 50, STITCH],
    [125.2, 50, JUMP],
    [126, 50, STITCH],
  ]);
  expect(stepsOf(plan).filter((step) => step.startsWith("jump"))).toHaveLength(2);
});

test("the header is 512 bytes, with its fields in order", () => {
  const plan = {
    ...planOf([
      [90, 50, JUMP],
      [99, 47.5, STITCH],
      [104, 51, STITCH],
    ]),
    title: "Plaît \u2116 7: a long title",
  };
  const file = writeStitchRecord(plan);
  // By hand: the needle goes 10 mm left, down, then to (-1, -2.5) and (4, 1): four records and the end.
  expect(String.fromCharCode(...file.subarray(0, 512))).toBe(
    [
      "LA:Plait No 7: a lo",
      "ST:0000005",
      "CO:000",
      "+X:00040",
      "-X:00100",
      "+Y:00010",
      "-Y:00025",
      "AX:+00040",
      "AY:+00010",
      "MX:+00000",
      "MY:+00000",
      "PD:******",
      "\x1a",
    ]
      .join("\r")
      .padEnd(512),
  );
  // "about 125 used" (CHECKS 4.2).
  expect(file.indexOf(0x1a)).toBe(124);
  expect(file.length).toBe(512 + 3 * 5);
});

test("an empty plan is a header and an end", () => {
  const { header, records } = readStitchRecord(writeStitchRecord(planOf()));
  expect(records).toEqual([{ command: "end", dx: 0, dy: 0, x: 0, y: 0 }]);
  expect(header.get("ST")).toBe("0000001");
});

test.each([
  ["nowhere", Number.NaN],
  ["too far for the header", 1e5],
])("a stitch %s is a fault of ours", (_, x) => {
  expect(() => writeStitchRecord(planOf([[x, 0, JUMP]]))).toThrow();
});

test("rounding never adds up: a thousand stitches of 0.23 mm", () => {
  const plan = planOf(
    Array.from({ length: 1001 }, (_, i) => [10 + 0.23 * i, 50, i === 0 ? JUMP : STITCH] as const),
  );
  const { records } = readStitchRecord(writeStitchRecord(plan));
  const stitches = records.filter(({ command, dx }) => command === "stitch" && dx !== 0);
  expect(stitches).toHaveLength(1000);
  for (const [i, { x }] of stitches.entries())
    expect(Math.abs(x / 10 - (10 + 0.23 * (i + 1) - MIDDLE.x))).toBeLessThanOrEqual(0.05 + 1e-9);
});

test("any plan: needle points, stops and header agree with what is read", () => {
  fc.assert(
    fc.property(randomPlan(), (plan) => {
      const { header, records } = readStitchRecord(writeStitchRecord(plan));
      expect(records.filter(({ command }) => command === "end")).toEqual([records.at(-1)]);
      expect(records.every(({ dx, dy }) => Math.abs(dx) <= 121 && Math.abs(dy) <= 121)).toBe(true);

      const blocks = splitAtStops(records.slice(0, -1));
      expect(blocks).toHaveLength(plan.blocks.length);
      expect(Number(header.get("CO"))).toBe(plan.blocks.length - 1);
      for (const [i, block] of plan.blocks.entries())
        expect(needlePoints(blocks[i] ?? [])).toEqual(plannedPoints(block));

      const xs = [0, ...records.map(({ x }) => x)];
      const ys = [0, ...records.map(({ y }) => y)];
      expect(Number(header.get("ST"))).toBe(records.length);
      expect(Number(header.get("+X"))).toBe(Math.max(...xs));
      expect(Number(header.get("-X"))).toBe(Math.max(...xs.map((x) => 0 - x)));
      expect(Number(header.get("+Y"))).toBe(Math.max(...ys));
      expect(Number(header.get("-Y"))).toBe(Math.max(...ys.map((y) => 0 - y)));
      expect(Number(header.get("AX")) - (xs.at(-1) ?? 0)).toBe(0);
      expect(Number(header.get("AY")) - (ys.at(-1) ?? 0)).toBe(0);
    }),
    { numRuns: 200 },
  );
});

function splitAtStops(records: readonly ReadRecord[]): ReadRecord[][] {
  const blocks: ReadRecord[][] = [[]];
  for (const record of records) {
    if (record.command === "stop") blocks.push([]);
    else blocks.at(-1)?.push(record);
  }
  return blocks;
}

/** Where the needle goes in, as "x y" in units, repeats on the spot left out. */
function needlePoints(records: readonly ReadRecord[]): string[] {
  const points = records.filter(({ command }) => command === "stitch").map(({ x, y }) => `${x + 0} ${y + 0}`);
  return points.filter((point, i) => point !== points[i - 1]);
}

/** The same from the plan: every stitch's end, and where a stitch begins after a move. */
function plannedPoints({ x, y, kind }: StitchPlan["blocks"][number]): string[] {
  const at = (i: number) =>
    `${Math.round(((x[i] ?? 0) - MIDDLE.x) * 10) + 0} ${Math.round(((y[i] ?? 0) - MIDDLE.y) * 10) + 0}`;
  const points: string[] = [];
  for (let i = 1; i < x.length; i++) {
    if (kind[i] !== STITCH) continue;
    if (i === 1 || kind[i - 1] !== STITCH) points.push(at(i - 1));
    points.push(at(i));
  }
  return points.filter((point, i) => point !== points[i - 1]);
}
