import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { groundRegion } from "../../../src/crafts/router/ground.ts";
import type { Leftover } from "../../../src/crafts/router/leftover.ts";
import {
  endMills,
  largestReaching,
  planReach,
  REACH_ERROR_MM,
  reachedBy,
} from "../../../src/crafts/router/reach.ts";
import { layPanel } from "../../../src/crafts/router/router-panel.ts";
import type { LoadedCutter } from "../../../src/crafts/router/settings.ts";
import type { Point } from "../../../src/geometry/point.ts";
import {
  insideOf,
  partsOf,
  type Region,
  regionArea,
  regionHolds,
  ringArea,
  subtract,
} from "../../../src/geometry/region.ts";
import { externalTest, runReader, withFiles } from "../../support/external.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { starChain } from "../../support/random-chain.ts";
import { groundSettings, MILL_1, MILL_3, MILL_6, sampleCutter, V_60 } from "./sample-settings.ts";

const CHORD_MM = 1e-3;

function mill(diameterMm: number): LoadedCutter {
  return sampleCutter(9, { kind: "end-mill", diameterMm });
}

function polygon(...points: readonly (readonly [number, number])[]): Region {
  return { rings: [points.map(([x, y]) => ({ x, y }))] };
}

const SQUARE = polygon([0, 0], [20, 0], [20, 20], [0, 20]);

/** Two rooms of 12 x 12 mm, joined by a channel. */
function rooms(channelMm: number, lengthMm: number): Region {
  const [low, high] = [6 - channelMm / 2, 6 + channelMm / 2];
  const second = 12 + lengthMm;
  return polygon(
    ...([
      [0, 0],
      [12, 0],
      [12, low],
      [second, low],
      [second, 0],
      [second + 12, 0],
    ] as const),
    ...([
      [second + 12, 12],
      [second, 12],
      [second, high],
      [12, high],
      [12, 12],
      [0, 12],
    ] as const),
  );
}

const kindsOf = (leftovers: readonly Leftover[]) => leftovers.map(({ kind }) => kind).sort();

describe("closed forms", () => {
  // A disc of radius r in a wedge of half-angle a stands r / sin a from the tip and ends r nearer.
  test.each([
    [30, 3],
    [45, 1],
    [20, 0.5],
    [75, 3],
  ])("a wedge of half-angle %d degrees, radius %d: r(1/sin a - 1) at the tip", (halfDeg, radius) => {
    const half = (halfDeg * Math.PI) / 180;
    const wedge = polygon(
      [0, 0],
      [30 * Math.cos(half), -30 * Math.sin(half)],
      [30 * Math.cos(half), 30 * Math.sin(half)],
    );
    const { rounded } = planReach(wedge, [mill(2 * radius)], 100);
    const tip = rounded.find(({ at }) => Math.hypot(at.x, at.y) < 0.01);
    expect(Math.abs((tip?.depthMm ?? 0) - radius * (1 / Math.sin(half) - 1))).toBeLessThanOrEqual(
      REACH_ERROR_MM + CHORD_MM,
    );
  });

  test.each([6, 3, 1])("square corners and a cutter of %d mm: r^2 (1 - pi/4) each", (diameterMm) => {
    const r = diameterMm / 2;
    const { rounded, missed, parts } = planReach(SQUARE, [mill(diameterMm)], 100);
    expect(missed).toEqual([]);
    expect(rounded.length).toBe(4);
    // Off by no more than the error all along the arc that the cutter leaves.
    const off = (REACH_ERROR_MM * Math.PI * r) / 2;
    for (const { areaMm2, depthMm } of rounded) {
      expect(Math.abs(areaMm2 - r * r * (1 - Math.PI / 4))).toBeLessThanOrEqual(off);
      expect(Math.abs(depthMm - r * (Math.SQRT2 - 1))).toBeLessThanOrEqual(REACH_ERROR_MM + CHORD_MM);
    }
    expect(
      Math.abs((parts[0]?.reachedMm2[0] ?? 0) - (400 - 4 * r * r * (1 - Math.PI / 4))),
    ).toBeLessThanOrEqual(4 * off);
  });

  test("a channel narrower than the cutter is not entered at all, one wider is", () => {
    const region = rooms(2, 10);
    const tooWide = planReach(region, [mill(2.02)], 1);
    expect(kindsOf(tooWide.missed)).toEqual(["channel"]);
    // The channel, and from its mouths what a disc that rests on both of an end's corners leaves:
    // width (r - sqrt(r^2 - 1)) at the most, for the disc is hardly wider.
    expect(tooWide.missed[0]?.areaMm2).toBeGreaterThan(20 - 2 * 2 * 1.01);
    expect(tooWide.missed[0]?.areaMm2).toBeLessThan(20);
    expect(regionHolds(tooWide.uncut, { x: 17, y: 6 })).toBe(true);
    expect(kindsOf(planReach(region, [mill(1.98)], 1).missed)).toEqual([]);
  });
});

describe("what is left, by kind", () => {
  test("a channel is barred however short it is", () => {
    // From each room the disc comes 1.5 - sqrt(1.5^2 - 1) = 0.38 mm into it.
    const { missed, rounded } = planReach(rooms(2, 1), [mill(3)], 1);
    expect(kindsOf(missed)).toEqual(["channel"]);
    expect(missed[0]?.depthMm).toBeLessThan(1);
    expect(kindsOf(rounded)).toEqual(new Array(8).fill("corner"));
  });

  test("a corner that reaches too far is no small rest", () => {
    // 3 (sqrt 2 - 1) = 1.243 mm.
    expect(kindsOf(planReach(SQUARE, [mill(6)], 1.25).rounded)).toEqual(new Array(4).fill("corner"));
    expect(kindsOf(planReach(SQUARE, [mill(6)], 1.23).missed)).toEqual(new Array(4).fill("deep-corner"));
  });

  test("a pocket that no cutter enters", () => {
    const region: Region = { rings: [...SQUARE.rings, ...polygon([30, 0], [32, 0], [32, 9], [30, 9]).rings] };
    const { missed, parts, uncut } = planReach(region, [mill(3)], 1);
    expect(kindsOf(missed)).toEqual(["pocket"]);
    expect(missed[0]?.areaMm2).toBeCloseTo(18, 6);
    expect(regionHolds(uncut, missed[0]?.at ?? { x: 0, y: 0 })).toBe(true);
    expect(parts.map(({ areaMm2 }) => Math.round(areaMm2)).sort()).toEqual([18, 400]);
    expect(parts.find(({ areaMm2 }) => areaMm2 < 20)?.reachedMm2).toEqual([0]);
  });
});

describe("which cutter does what", () => {
  const region = rooms(2, 10);

  test("the large one the rooms, the small one the channel and a little more", () => {
    const { steps, missed } = planReach(region, [mill(1.8), V_60, mill(8)], 2);
    expect(steps.map(({ cutter }) => cutter.shape.diameterMm)).toEqual([8, 1.8]);
    expect(missed).toEqual([]);
    const small = steps[1]?.region ?? region;
    expect(partsOf(small).length).toBe(1);
    // 2 x 10 mm, and at both mouths no more than the large cutter's own 8 mm across and an overlap.
    expect(regionArea(small)).toBeGreaterThan(20);
    expect(regionArea(small)).toBeLessThan(20 + 2 * 8);
    for (const point of [
      { x: 3, y: 6 },
      { x: 31, y: 6 },
    ])
      expect(regionHolds(small, point)).toBe(false);
    expect(regionHolds(small, { x: 17, y: 6 })).toBe(true);
  });

  test("a cutter that adds nothing is left out", () => {
    const { steps } = planReach(region, [mill(8), mill(7.9), mill(3), mill(1.8)], 2);
    expect(steps.map(({ cutter }) => cutter.shape.diameterMm)).toEqual([8, 1.8]);
  });

  test("without a cutter all stays", () => {
    const { steps, uncut, mills } = planReach(region, [V_60], 1);
    expect([steps.length, mills.length]).toEqual([0, 0]);
    expect(regionArea(uncut)).toBeCloseTo(regionArea(region), 6);
  });
});

test("the largest cutter that reaches all: as wide as the channel, less the error", () => {
  const range = { leastMm: 0.2, mostMm: 8 };
  expect(largestReaching(rooms(2, 10), 5, range)).toBe(1.95);
  expect(largestReaching(rooms(2.4, 4), 5, range)).toBe(2.35);
  // Corners of r (sqrt 2 - 1) <= 0.5: a diameter of 2.414 mm.
  expect(largestReaching(SQUARE, 0.5, range)).toBe(2.4);
  expect(largestReaching(rooms(2, 10), 5, { leastMm: 2.5, mostMm: 8 })).toBeUndefined();
});

/** A star of 3 to 10 mm round a hole. */
const starWithHole = () =>
  starChain().map(
    (chain): Region => subtract(insideOf(chain, CHORD_MM), polygon([-1, -1], [1.5, -1], [1, 2])),
  );

test("laws: reach shrinks with the cutter; what is reached is reached; nothing is lost", () => {
  fc.assert(
    fc.property(
      starWithHole(),
      fc.constantFrom(0.5, 1, 2),
      fc.constantFrom(1.05, 1.5, 2),
      (region, diameterMm, more) => {
        const length = region.rings.reduce((sum, ring) => sum + lengthOf(ring), 0);
        const off = REACH_ERROR_MM * 2 * length;
        const reached = reachedBy(region, diameterMm);
        const larger = reachedBy(region, diameterMm * more);
        expect(regionArea(subtract(larger, reached))).toBeLessThanOrEqual(off);
        expect(
          Math.abs(regionArea(reachedBy(reached, diameterMm)) - regionArea(reached)),
        ).toBeLessThanOrEqual(off);
        expect(regionArea(subtract(reached, region))).toBeLessThanOrEqual(CHORD_MM);
        const { uncut, corners } = planReach(region, [mill(diameterMm)], 1);
        expect(
          Math.abs(regionArea(reached) + regionArea(uncut) + regionArea(corners) - regionArea(region)),
        ).toBeLessThanOrEqual(1e-4 * length);
      },
    ),
    { numRuns: 25 },
  );
});

function lengthOf(ring: readonly Point[]): number {
  return ring.reduce((sum, { x, y }, i) => {
    const before = ring.at(i - 1) ?? { x, y };
    return sum + Math.hypot(x - before.x, y - before.y);
  }, 0);
}

externalTest("a geometry library opens the same regions to the same areas", ["python:shapely"], () => {
  const regions = fc.sample(starWithHole(), { numRuns: 12, seed: 5 });
  const cases = regions.flatMap((region) =>
    partsOf(region).flatMap((part) => [0.4, 1.1].map((radius) => ({ part, radius }))),
  );
  const asked = cases.map(({ part: { rings }, radius }) => {
    const [outline = [], ...holes] = rings.map((ring) => ring.map(({ x, y }) => [x, y]));
    return { outline, holes, radius };
  });
  const { areas } = withFiles({ "cases.json": JSON.stringify(asked) }, (pathOf) =>
    runReader("openings_report.py", [pathOf("cases.json")]),
  ) as { readonly areas: readonly number[] };
  expect(areas.length).toBe(cases.length);
  for (const [i, { part, radius }] of cases.entries()) {
    const length = part.rings.reduce((sum, ring) => sum + lengthOf(ring), 0);
    expect(Math.abs(regionArea(reachedBy(part, 2 * radius)) - (areas[i] ?? 0))).toBeLessThanOrEqual(
      REACH_ERROR_MM * length,
    );
  }
});

describe("the ground of a panel", () => {
  const { diagram, strands } = wovenPanel(plainPanel(3, 2));
  const panel = layPanel(diagram, strands, groundSettings());

  test("field less all that stands", () => {
    const ground = groundRegion(panel, groundSettings({ frameMm: 5 }));
    // The panel is rounded by 6 mm: a frame of 5 mm leaves corners of 1 mm.
    const { width, height } = panel.size;
    const field = (width - 10) * (height - 10) - (4 - Math.PI);
    expect(Math.abs(regionArea(ground) - (field - regionArea(panel.standing)))).toBeLessThan(0.05);
    expect(ground.rings.filter((ring) => ringArea(ring) > 0).length).toBe(1);
  });

  test("without a frame it runs out over the edge by the largest end mill's radius", () => {
    const ground = groundRegion(
      panel,
      groundSettings({ frameMm: 0, cutters: [MILL_1, MILL_6, V_60, MILL_3] }),
    );
    const { width, height } = panel.size;
    // Grown by 3 mm, the corners of 6 mm become 9 mm.
    const field = (width + 6) * (height + 6) - 81 * (4 - Math.PI);
    expect(Math.abs(regionArea(ground) - (field - regionArea(panel.standing)))).toBeLessThan(0.5);
  });

  test("end mills come largest first, others not at all", () => {
    expect(endMills([MILL_1, V_60, MILL_6, MILL_3])).toEqual([MILL_6, MILL_3, MILL_1]);
  });
});
