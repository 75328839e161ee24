import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type GrooveLines, linesForPass } from "../../../src/crafts/router/groove-lines.ts";
import { walkLines } from "../../../src/crafts/router/groove-walk.ts";
import { simplifyLine } from "../../../src/crafts/router/simplify-line.ts";
import { wallDistances } from "../../../src/crafts/router/wall-distances.ts";
import { type Region, regionHolds } from "../../../src/geometry/region.ts";
import type { Place3 } from "../../../src/output/toolpath.ts";
import { edgeDistance } from "./cone-oracle.ts";

/** A cross: four lines from tips at the surface to a node 4 mm down. */
const CROSS: GrooveLines = {
  nodeCount: 5,
  onFloor: new Map(),
  lines: [
    [10, 0],
    [-10, 0],
    [0, 10],
    [0, -10],
  ].map(([x = 0, y = 0], i) => ({
    from: i + 1,
    to: 0,
    points: [
      { x, y, z: 0 },
      { x: 0, y: 0, z: -4 },
    ],
  })),
};

describe("passes", () => {
  test("the first holds lines up at its depth, the next has what lies deeper", () => {
    const first = linesForPass(CROSS, 0, -2);
    expect(first.lines).toHaveLength(4);
    // 4 mm in 10: 2 mm down after 5, level from there.
    expect(first.lines[0]?.points).toEqual([
      { x: 10, y: 0, z: 0 },
      { x: 5, y: 0, z: -2 },
      { x: 0, y: 0, z: -2 },
    ]);
    const second = linesForPass(CROSS, -2, -4);
    expect(second.lines[0]?.points).toEqual([
      { x: 5, y: 0, z: -2 },
      { x: 0, y: 0, z: -4 },
    ]);
    // Lines still meet in the middle; where they come out of the first pass they end by themselves.
    expect(new Set(second.lines.map(({ to }) => to))).toEqual(new Set([0]));
    expect(new Set(second.lines.map(({ from }) => from)).size).toBe(4);
    expect(second.lines.every(({ from }) => from >= 5)).toBe(true);
    expect(linesForPass(CROSS, -4, -6).lines).toHaveLength(0);
  });
});

describe("order", () => {
  const rules = { surfaceZ: 0, retraceMm: 15, from: { x: 12, y: 0 }, bridges: [] };

  test("a cross is one stroke that begins at the nearest tip", () => {
    const strokes = walkLines(CROSS, rules);
    expect(strokes).toHaveLength(1);
    expect(strokes[0]?.open).toBe(true);
    expect(strokes[0]?.points[0]).toEqual({ x: 10, y: 0, z: 0 });
  });

  test("where going back is too far the cutter is lifted", () => {
    expect(walkLines(CROSS, { ...rules, retraceMm: 5 }).length).toBeGreaterThan(1);
  });

  test("every line is cut, in whatever tangle", () => {
    const place = fc.record({ x: fc.integer({ min: 0, max: 30 }), y: fc.integer({ min: 0, max: 30 }) });
    const tangle = fc.record({
      places: fc.array(place, { minLength: 2, maxLength: 12 }),
      pairs: fc.array(fc.tuple(fc.nat(11), fc.nat(11)), { minLength: 1, maxLength: 20 }),
    });
    fc.assert(
      fc.property(tangle, ({ places, pairs }) => {
        const at = (i: number): Place3 => ({ x: 0, y: 0, ...places[i % places.length], z: -1 });
        const lines = pairs.map(([a, b], i) => {
          const middle = { x: 40 + i, y: i, z: -1 };
          return { from: a % places.length, to: b % places.length, points: [at(a), middle, at(b)] };
        });
        const strokes = walkLines({ lines, nodeCount: places.length, onFloor: new Map() }, rules);
        const passed = new Set(strokes.flatMap(({ points }) => points.map(({ x, y }) => `${x} ${y}`)));
        // Each line has a middle of its own.
        for (const [i] of lines.entries()) expect(passed).toContain(`${40 + i} ${i}`);
      }),
      { numRuns: 40 },
    );
  });
});

test("a simplified line keeps its ends and strays no further than it may", () => {
  const arc = Array.from({ length: 200 }, (_, i) => ({
    x: 5 * Math.cos(i / 70),
    y: 5 * Math.sin(i / 70),
    z: -i / 100,
  }));
  const simple = simplifyLine(arc, 0.01);
  expect(simple[0]).toEqual(arc[0]);
  expect(simple.at(-1)).toEqual(arc.at(-1));
  expect(simple.length).toBeLessThan(60);
  for (const point of arc) {
    const near = simple.map((b, i) => {
      const a = simple[i - 1] ?? b;
      const d = { x: b.x - a.x, y: b.y - a.y, z: b.z - a.z };
      const squared = d.x ** 2 + d.y ** 2 + d.z ** 2 || 1;
      const t = ((point.x - a.x) * d.x + (point.y - a.y) * d.y + (point.z - a.z) * d.z) / squared;
      const held = Math.min(1, Math.max(0, t));
      return Math.hypot(point.x - a.x - d.x * held, point.y - a.y - d.y * held, point.z - a.z - d.z * held);
    });
    expect(Math.min(...near)).toBeLessThan(0.01 + 1e-9);
  }
});

describe("distances of pixels from walls", () => {
  const star = Array.from({ length: 10 }, (_, i) => ({
    x: 6 + (i % 2 === 0 ? 5.5 : 2.2) * Math.cos((Math.PI * i) / 5 + 0.1),
    y: 6 + (i % 2 === 0 ? 5.5 : 2.2) * Math.sin((Math.PI * i) / 5 + 0.1),
  }));
  const hole = Array.from({ length: 40 }, (_, i) => ({
    x: 6 + Math.cos((-Math.PI * i) / 20),
    y: 6 + Math.sin((-Math.PI * i) / 20),
  }));

  test.each([0.6, 2, 20])("are those of all edges, up to %f mm", (limit) => {
    const region: Region = { rings: [star, hole] };
    const grid = { columns: 120, rows: 120, stepMm: 0.1, minX: 0, minY: 0 };
    const found = wallDistances(region.rings, grid, limit);
    let asked = 0;
    for (const [i, far] of found.entries()) {
      const at = { x: ((i % 120) + 0.5) * 0.1, y: (Math.floor(i / 120) + 0.5) * 0.1 };
      if (!regionHolds(region, at)) continue;
      asked++;
      if (Math.abs(far - Math.min(limit, edgeDistance(region, at))) > 1e-5)
        expect.fail(JSON.stringify({ at, far }));
    }
    expect(asked).toBeGreaterThan(3000);
  });
});
