import { describe, expect, test } from "vitest";
import type { Breaches } from "../../../src/crafts/router/breaches.ts";
import { type SimulatedRun, type Stock, simulate } from "../../../src/crafts/router/simulate.ts";
import type { Motion, Place3 } from "../../../src/output/toolpath.ts";
import { arc, BALL, line, MILL, rapid, runOf, stockOf, V60 } from "./router-run.ts";

const STEPS = new Map([[1, 1.5]]);

function breachesOf(runs: readonly SimulatedRun[], changes: Partial<Stock> = {}) {
  return simulate(runs, stockOf(30, 20, { stepDownMm: STEPS, ...changes })).breaches;
}

const START: Place3 = { x: 5, y: 5, z: 10 };

/** Down a ramp to the depth, back along its floor, up. */
function slot(depth: number): Motion[] {
  return [rapid(5, 5, 1), line(5, 5, 0), line(25, 5, -depth), line(5, 5, -depth), rapid(5, 5, 10)];
}

/** A program that does nothing wrong. */
const GOOD: Motion[] = [
  ...slot(1.5),
  // The next pass goes down where the wood is gone already.
  rapid(5, 5, -1.4),
  line(25, 5, -2.9),
  line(5, 5, -2.9),
  // Along a half turn and back to the slot, on the level of the first pass.
  line(25, 5, -2.9),
  line(25, 5, -1.5),
  arc({ x: 25, y: 5 }, { x: 20, y: 5 }, { sweep: Math.PI, z: -1.5 }),
  rapid(15, 5, 10),
];

function none(): Breaches {
  return { worst: null, count: 0, places: [] };
}

test("a program that does nothing wrong has no breach", () => {
  expect(breachesOf([runOf(MILL, START, GOOD)])).toEqual({
    rapidThroughStock: none(),
    plungeIntoSolid: none(),
    tooDeepPass: none(),
    outsideEnvelope: none(),
  });
});

describe("rapid motions through wood", () => {
  test("across the slot's wall", () => {
    const { rapidThroughStock } = breachesOf([
      runOf(MILL, START, [...slot(1.5), rapid(5, 5, -1), rapid(5, 15, -1)]),
    ]);
    expect(rapidThroughStock.count).toBe(1);
    expect(rapidThroughStock.worst).toBeCloseTo(1, 5);
    expect(rapidThroughStock.places[0]).toMatchObject({ run: 0, motion: 6 });
    expect(rapidThroughStock.places[0]?.at.y).toBeGreaterThan(5);
  });

  test("down, a little too far", () => {
    const { rapidThroughStock } = breachesOf([runOf(MILL, START, [rapid(5, 5, -0.05)])]);
    expect(rapidThroughStock.worst).toBeCloseTo(0.05, 5);
  });

  test("not along the slot's own walls, nor where rounding alone would touch", () => {
    const { rapidThroughStock } = breachesOf([
      runOf(MILL, START, [...slot(1.5), rapid(5, 5, -1.5), rapid(25, 5, -1.5), rapid(25, 5.002, -1.502)]),
    ]);
    expect(rapidThroughStock.count).toBe(0);
  });

  test("a cutter that starts in the wood", () => {
    const { rapidThroughStock } = breachesOf([runOf(MILL, { x: 5, y: 5, z: -1 }, [])]);
    expect(rapidThroughStock.worst).toBeCloseTo(1, 5);
  });
});

describe("plunges into solid wood", () => {
  test.each([
    ["end mill", MILL, 1],
    ["ball", BALL, 1],
    ["V cutter", V60, 1],
  ])("%s", (_, shape, depth) => {
    const { plungeIntoSolid } = breachesOf([runOf(shape, START, [line(5, 5, -depth), line(9, 5, -depth)])]);
    expect(plungeIntoSolid.count).toBe(1);
    // Beside a pointed tip the middle of the nearest pixel lies up to 0.071 mm away.
    expect(plungeIntoSolid.worst).toBeGreaterThan(depth - 0.071 / Math.tan(Math.PI / 6));
    expect(plungeIntoSolid.worst).toBeLessThanOrEqual(depth);
    expect(plungeIntoSolid.places[0]).toMatchObject({ run: 0, motion: 0 });
    expect(plungeIntoSolid.places[0]?.at.x).toBeCloseTo(5, -1);
  });

  test("nearly straight down", () => {
    expect(breachesOf([runOf(MILL, START, [line(5, 5, 0), line(5.05, 5, -1)])]).plungeIntoSolid.count).toBe(
      1,
    );
  });

  test("deeper at the foot of a slot", () => {
    const { plungeIntoSolid } = breachesOf([runOf(MILL, START, [...slot(1), line(5, 5, -1.3)])]);
    expect(plungeIntoSolid.worst).toBeCloseTo(0.3, 5);
  });

  test.each([
    ["half over the slot's edge", 1.5, 0],
    ["clear of the slot", 3.1, 1],
  ])("%s", (_, aside, count) => {
    const run = runOf(MILL, START, [...slot(1.5), rapid(15, 5 + aside, 1), line(15, 5 + aside, -1.5)]);
    expect(breachesOf([run]).plungeIntoSolid.count).toBe(count);
  });

  test("a ball let down on a floor that roughing left a little high is none", () => {
    const rough = runOf({ kind: "end-mill", diameterMm: 6 }, START, slot(1.5));
    const fine = runOf(BALL, { x: 15, y: 5, z: 10 }, [line(15, 5, -1.8)]);
    const { plungeIntoSolid, tooDeepPass } = breachesOf([rough, fine]);
    expect(plungeIntoSolid.count).toBe(0);
    expect(tooDeepPass.count).toBe(0);
  });
});

describe("passes that are too deep", () => {
  test("by how much, and where", () => {
    const { tooDeepPass } = breachesOf([runOf(MILL, START, [line(5, 5, -0.5), line(25, 5, -2)])]);
    expect(tooDeepPass.count).toBe(1);
    expect(tooDeepPass.worst).toBeCloseTo(0.5, 5);
    expect(tooDeepPass.places[0]).toMatchObject({ motion: 1 });
    expect(tooDeepPass.places[0]?.at.x).toBeGreaterThan(22);
  });

  test("each cutter has its own step", () => {
    const steps = new Map([
      [1, 1],
      [2, 3],
    ]);
    const cut: Motion[] = [line(5, 5, -2), line(9, 5, -2)];
    const other: Motion[] = [line(5, 15, -2), line(9, 15, -2)];
    const runs = [runOf(MILL, START, cut, 1), runOf(MILL, { ...START, y: 15 }, other, 2)];
    const { tooDeepPass } = breachesOf(runs, { stepDownMm: steps });
    expect(tooDeepPass.places.map(({ run, motion }) => [run, motion])).toEqual([
      [0, 0],
      [0, 1],
    ]);
  });
});

describe("outside the envelope", () => {
  const envelope = { min: { x: 0, y: 0, z: -3 }, max: { x: 30, y: 20, z: 10 } };

  test.each<[string, readonly Motion[], number]>([
    ["to the right", [rapid(30.5, 5, 10)], 0.5],
    ["below", [line(5, 5, -3.25)], 0.25],
    ["above", [rapid(5, 5, 11)], 1],
    // A half turn of radius 4 about (5, 2), both ends at y 2: it dips to y = -2.
    ["bow of an arc", [line(9, 2, 1), arc({ x: 9, y: 2 }, { x: 5, y: 2 }, { sweep: -Math.PI, z: 1 })], 2],
  ])("%s", (_, motions, by) => {
    const { outsideEnvelope } = breachesOf([runOf(MILL, START, motions)], { envelope });
    expect(outsideEnvelope.count).toBe(1);
    expect(outsideEnvelope.worst).toBeCloseTo(by, 6);
  });

  test("the bow to the other side stays inside", () => {
    const motions = [line(9, 2, 1), arc({ x: 9, y: 2 }, { x: 5, y: 2 }, { sweep: Math.PI, z: 1 })];
    expect(breachesOf([runOf(MILL, START, motions)], { envelope }).outsideEnvelope.count).toBe(0);
  });
});

test("all are counted, the worst are kept", () => {
  const motions = Array.from({ length: 300 }, (_, i) => rapid(5, 5, 40 + (i % 150)));
  const { count, places, worst } = breachesOf([runOf(MILL, START, motions)]).outsideEnvelope;
  expect(count).toBe(300);
  expect(places).toHaveLength(100);
  // The envelope ends at z = 20: the last of each 150 lies 169 outside.
  expect(worst).toBe(169);
  expect(Math.min(...places.map(({ value }) => value))).toBe(120);
});

test("every run is measured, and the board below the stock does not count", () => {
  const through = runOf(MILL, { x: 5, y: 15, z: 10 }, [line(5, 15, -18.3)], 2);
  const { perRun, removedMm3 } = simulate([runOf(MILL, START, slot(1.5)), through], stockOf(30, 20));
  // Middles of pixels of 0.1 mm inside a disc of 1.5 mm about a corner of pixels: at odd multiples of 0.05.
  let disc = 0;
  for (let i = -29; i <= 29; i += 2) for (let j = -29; j <= 29; j += 2) if (i * i + j * j <= 900) disc++;
  expect(perRun.map(({ motions, lowestZ }) => [motions, lowestZ])).toEqual([
    [5, -1.5],
    [1, -18.3],
  ]);
  expect(perRun[0]?.removedMm3).toBeCloseTo((200 * 30 + disc) * 0.01 * 1.5, 3);
  expect(perRun[1]?.removedMm3).toBeCloseTo(disc * 0.01 * 18, 3);
  expect(perRun[0]?.deepestPassMm).toBeCloseTo(1.5, 4);
  expect(removedMm3).toBeCloseTo((perRun[0]?.removedMm3 ?? 0) + (perRun[1]?.removedMm3 ?? 0), 6);
});
