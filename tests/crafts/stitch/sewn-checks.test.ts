/** Rules and sums over stitches, on blocks small enough to work out by hand. */
import { describe, expect, test } from "vitest";
import { denserThan, densityMap } from "../../../src/crafts/stitch/density-map.ts";
import { checkSewn } from "../../../src/crafts/stitch/sewn-checks.ts";
import { TAIL_MM, TAKE_UP_MM, threadGrams, threadUse } from "../../../src/crafts/stitch/thread-use.ts";
import {
  JUMP,
  STITCH,
  StitchMaker,
  type Thread,
  type ThreadBlock,
  TRIM,
} from "../../../src/output/stitches.ts";
import { sampleSatin } from "./sample-settings.ts";

const SETTINGS = sampleSatin();
const THREAD: Thread = { name: "thread 1", colour: "#b5832e", tex: 27, widthMm: 0.38 };
const WAYS = { lengthKey: "splitMm", spacing: { key: "spacingMm", mm: SETTINGS.spacingMm } };

/** Satin `width` mm wide: `count` stitches to and fro, a step of `step` at the end of every second. */
function satin(count: number, width: number, step: number): ThreadBlock {
  const maker = new StitchMaker();
  for (let i = 0; i <= count; i++)
    maker.add(Math.floor(i / 2) * step, (i % 2) * width, i === 0 ? JUMP : STITCH, "cover");
  return maker.made(THREAD);
}

function checkOf(rule: string, blocks: readonly ThreadBlock[], changes = {}) {
  return checkSewn(blocks, sampleSatin(changes), WAYS).find((check) => check.rule === rule);
}

describe("checks of stitches", () => {
  test("good satin passes them all", () => {
    const checks = checkSewn([satin(200, 4, 0.4)], SETTINGS, WAYS);
    expect(checks.filter(({ verdict }) => verdict !== "pass")).toEqual([]);
  });

  test("the longest stitch, and the split that mends it", () => {
    const found = checkOf("longest-stitch", [satin(10, 8, 0.4)]);
    expect(found?.verdict).toBe("fail");
    expect(found?.measured).toBeCloseTo(Math.hypot(8, 0.4), 9);
    expect(found?.count).toBe(10);
    expect(found?.remedies).toMatchObject([{ change: "splitMm", value: 7 }]);
  });

  test("the shortest stitch; ties may be short", () => {
    expect(checkOf("shortest-stitch", [satin(10, 0.9, 0)])).toMatchObject({
      verdict: "fail",
      measured: 0.9,
      count: 10,
    });
    const maker = new StitchMaker();
    for (let i = 0; i < 6; i++) maker.add((i % 2) * 0.7, 0, STITCH, "tie");
    expect(checkOf("shortest-stitch", [maker.made(THREAD)])).toMatchObject({
      verdict: "pass",
      measured: null,
    });
  });

  test("long stitches slow the machine: a warning with the speed", () => {
    // 700 * 6 / 6.5 = 646.1
    const found = checkOf("slow-stitches", [satin(20, 6.5, 0)]);
    expect(found).toMatchObject({ verdict: "warning", measured: 20, limit: 0 });
    expect(found?.remedies).toMatchObject([
      { change: "stitchesPerMinute", value: 646 },
      { change: "splitMm", value: 6 },
    ]);
  });

  test("crowded holes, and the spacing that thins them out", () => {
    // 1 mm apart and a step of 0.1: in a square of 2 mm both rows, 20 holes each: 40 / 4 = 10 per mm2; 0.4 * 10 / 8.
    const found = checkOf("hole-density", [satin(200, 1, 0.1)]);
    expect(found?.verdict).toBe("fail");
    expect(found?.measured).toBeCloseTo(10, 0);
    expect(Number(found?.remedies[0]?.value)).toBeCloseTo(0.5, 1);
  });

  test("more than one bobbin is a warning with how many", () => {
    // 40,000 stitches of 5 mm, a third of it: 67 m.
    expect(checkOf("bobbins", [satin(40_000, 5, 0)])?.verdict).toBe("pass");
    expect(checkOf("bobbins", [satin(40_000, 5, 0)], { bobbinMetres: 20 })).toMatchObject({
      verdict: "warning",
      measured: 4,
      remedies: [{ change: "bobbinMetres", value: 67 }],
    });
  });
});

describe("the density map", () => {
  test("counts every hole once", () => {
    const map = densityMap([satin(99, 4, 0.4), satin(50, 3, 0.3)]);
    expect(map.cells.reduce((sum, holes) => sum + holes, 0)).toBe(149);
  });

  test("is empty where nothing is sewn", () => {
    expect(densityMap([])).toMatchObject({ columns: 0, rows: 0, worst: null });
  });

  test("names the place once", () => {
    const maker = new StitchMaker();
    // 36 holes around (10.5, 10.5), and single ones far away for the map's extent.
    maker.add(0, 0, STITCH, "cover");
    for (let i = 0; i < 36; i++) maker.add(10.5 + (i % 6) / 100, 10.5, STITCH, "cover");
    maker.add(20, 20, STITCH, "cover");
    const map = densityMap([maker.made(THREAD)]);
    expect(map.worst).toBe(9);
    const places = denserThan(map, 8);
    expect(places).toHaveLength(1);
    expect(Math.abs((places[0]?.at.x ?? 0) - 10.5)).toBeLessThanOrEqual(1);
  });
});

describe("thread use", () => {
  test("tex is grams per 1000 m; the usual thread is two yarns of 120 denier (CHECKS 4.3, ISO 1144)", () => {
    expect(threadGrams(1e6, 27)).toBe(27);
    // Denier is grams per 9000 m.
    expect(threadGrams(9e6, 240 / 9)).toBeCloseTo(240, 9);
  });

  test("satin: its own length, the take-up of its holes, a tail", () => {
    // 100 stitches: 50 across, 4 long, and 50 back by a step of 0.3.
    const length = 50 * 4 + 50 * Math.hypot(4, 0.3);
    const use = threadUse([satin(100, 4, 0.3)], SETTINGS);
    expect(use).toMatchObject({ stitches: 100, jumps: 0, trims: 0, bobbins: 1 });
    expect(use.upperMm).toBeCloseTo(length + 100 * TAKE_UP_MM + TAIL_MM, 9);
    expect(use.bobbinMm).toBeCloseTo(length / 3 + TAIL_MM, 9);
    expect(use.upperGrams).toBeCloseTo((use.upperMm * 27) / 1e6, 12);
    expect(use.minutes).toBeCloseTo(100 / 700, 9);
  });

  test("a running line has as much below as above, but for the take-up", () => {
    const maker = new StitchMaker();
    for (let i = 0; i <= 10; i++) maker.add(i * 2.4, 0, i === 0 ? JUMP : STITCH, "travel");
    expect(threadUse([maker.made(THREAD)], SETTINGS).bobbinMm).toBeCloseTo(24 + TAIL_MM, 9);
  });

  test("trims, jumps, changes and long stitches take their time", () => {
    const maker = new StitchMaker();
    maker.add(0, 0, JUMP, "tie");
    maker.add(12, 0, STITCH, "cover");
    maker.add(42, 0, JUMP, "travel");
    maker.add(43, 0, TRIM, "travel");
    maker.add(45, 0, STITCH, "cover");
    const block = maker.made(THREAD);
    const use = threadUse([block, block], SETTINGS);
    expect(use).toMatchObject({ stitches: 4, jumps: 2, trims: 2 });
    // Each block: 2 turns for 12 mm, 3 for the jump of 30 mm, 1 for the trim's move, 1; a cut of 8 s; a change of 60 s.
    expect(use.minutes).toBeCloseTo(2 * (7 / 700 + 8 / 60) + 1, 9);
    expect(use.blocks).toHaveLength(2);
  });
});
