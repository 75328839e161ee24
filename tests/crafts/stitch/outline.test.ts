import fc from "fast-check";
import { expect, test } from "vitest";
import { outlineBlocks, outlineLines } from "../../../src/crafts/stitch/outline.ts";
import { ribbonLines } from "../../../src/crafts/stitch/ribbon-lines.ts";
import type { OutlineSettings } from "../../../src/crafts/stitch/settings.ts";
import {
  type ArcChain,
  chainEnd,
  chainLength,
  chainStart,
  pointAtLength,
  segmentsOf,
} from "../../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import { JUMP, ROLES, STITCH, type ThreadBlock, TRIM } from "../../../src/output/stitches.ts";
import { makeRibbons, type RibbonPiece, type Ribbons } from "../../../src/ribbon/ribbon.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";
import { randomPanel } from "../../support/random-panel.ts";
import { sampleOutline } from "./sample-hand-work.ts";

const WIDTH = 3.2;
const GAP = 1;

function ribbonsOf(rows: readonly string[]): Ribbons {
  const { diagram, strands } = wovenPanel(rows);
  return makeRibbons(diagram, strands, { widthMm: WIDTH, gapMm: GAP });
}

const BOUNDS = { minX: 0, minY: 0, maxX: 40, maxY: 30 };

function sewn(ribbons: Ribbons, changes: Partial<OutlineSettings>) {
  const settings = sampleOutline(changes);
  const lines = outlineLines(ribbons, settings, BOUNDS);
  return { lines, blocks: outlineBlocks(lines, settings) };
}

function stitches({ x, y, kind, role }: ThreadBlock, name: (typeof ROLES)[number]): [Point, Point][] {
  return [...x.keys()].flatMap((i): [Point, Point][] =>
    i > 0 && kind[i] === STITCH && ROLES[role[i] ?? -1] === name
      ? [
          [
            { x: x[i - 1] ?? 0, y: y[i - 1] ?? 0 },
            { x: x[i] ?? 0, y: y[i] ?? 0 },
          ],
        ]
      : [],
  );
}

test("the sides of a straight piece run from gap to gap", () => {
  // Crossings of a plain panel of pitch 10 lie 10 / sqrt 2 apart along a strand, at right angles. A piece runs
  // from one to the next but one; at each end half a ribbon and the gap are missing.
  const side = (2 * 10) / Math.SQRT2 - 2 * (WIDTH / 2 + GAP);
  const ribbons = ribbonsOf(plainPanel(6, 6));
  // In the middle of the panel all neighbours are straight too.
  const straight = ribbons.pieces.filter(
    ({ centreline }) => distance(pointAtLength(centreline, 7), { x: 30, y: 30 }) < 15,
  );
  expect(straight.length).toBeGreaterThan(3);
  const lines = ribbonLines({ ...ribbons, pieces: straight }, "both");
  expect(lines).toHaveLength(3 * straight.length);
  for (const { chain } of lines) expect(chainLength(chain)).toBeCloseTo(side, 6);
});

const apart = (chain: ArcChain, point: Point) =>
  Math.min(...segmentsOf(chain).map((part) => distance(nearestOn(part, point), point)));

test("on any panel the sides lie beside their ribbon, and end at the gap from the strands above", () => {
  fc.assert(
    fc.property(randomPanel(5), (rows) => {
      const ribbons = ribbonsOf(rows);
      for (const piece of ribbons.pieces) {
        const lines = ribbonLines({ ...ribbons, pieces: [piece] }, "both").map(({ chain }) => chain);
        expect(lines).toHaveLength(3);
        // A point of a pointed corner lies further off than half the width.
        for (const side of lines.slice(0, 2)) {
          for (const share of [0.02, 0.3, 0.5, 0.9, 0.98])
            expect(apart(piece.centreline, pointAtLength(side, share * chainLength(side)))).toBeLessThan(
              WIDTH,
            );
        }
        if (!piece.centreline.closed) expectClear(piece, lines, ribbons);
      }
    }),
    { numRuns: 40 },
  );
});

function expectClear(piece: RibbonPiece, lines: readonly ArcChain[], { pieces }: Ribbons): void {
  const isAbove = ({ over }: RibbonPiece) => piece.ends.some((end) => over.includes(end));
  const ends = lines.flatMap((chain) => [chainStart(chain), chainEnd(chain)]);
  for (const above of pieces.filter((other) => other !== piece && isAbove(other))) {
    for (const end of ends) expect(apart(above.centreline, end)).toBeGreaterThan(WIDTH / 2 + GAP - 1e-6);
  }
}

test.each([
  ["running", 1],
  ["back", 3],
] as const)("%s: each stitch of each line is sewn %i times", (line, times) => {
  const { lines, blocks } = sewn(ribbonsOf(plainPanel(4, 3)), { line, along: "both" });
  const nameOf = ([a, b]: readonly [Point, Point]) =>
    [a, b]
      .map(({ x, y }) => `${x.toFixed(6)},${y.toFixed(6)}`)
      .sort()
      .join(" ");
  const wanted = lines.flatMap(({ holes, closed }) =>
    holes.flatMap((hole, i) => {
      const next = holes[i + 1] ?? (closed ? holes[0] : undefined);
      return next ? Array.from({ length: times }, () => nameOf([hole, next])) : [];
    }),
  );
  const found = blocks.flatMap((block) => stitches(block, "cover").map(nameOf));
  expect(found.sort()).toEqual(wanted.sort());
});

test("the thread is tied where each line begins and where it ends", () => {
  const { lines, blocks } = sewn(ribbonsOf(plainPanel(4, 3)), {});
  // Every line of this panel stands alone; three ties of 0.7 mm at each end.
  const ties = blocks.flatMap((block) => stitches(block, "tie"));
  expect(ties).toHaveLength(2 * 3 * lines.length);
  for (const [from, to] of ties) {
    // Half the stitch beside it where that is shorter than 1.4 mm.
    expect(distance(from, to)).toBeLessThanOrEqual(0.7 + 1e-9);
    expect(distance(from, to)).toBeGreaterThanOrEqual(0.5);
  }
  const moves = blocks.flatMap(({ kind }) => [...kind].filter((how) => how !== STITCH));
  expect(moves).toHaveLength(lines.length);
  expect(moves.filter((how) => how === JUMP).length).toBeGreaterThanOrEqual(1);
});

test("longer ways are trims, short ones jumps", () => {
  const { blocks } = sewn(ribbonsOf(plainPanel(4, 3)), { along: "both" });
  for (const { x, y, kind } of blocks) {
    for (let i = 1; i < x.length; i++) {
      const way = Math.hypot((x[i] ?? 0) - (x[i - 1] ?? 0), (y[i] ?? 0) - (y[i - 1] ?? 0));
      // Ties may add 0.7 mm at both ends to the 3 mm.
      if (kind[i] === JUMP) expect(way).toBeLessThanOrEqual(3 + 1.4);
      if (kind[i] === TRIM) expect(way).toBeGreaterThan(3 - 1.4);
    }
  }
});

test.each([
  ["one", 1],
  ["two", 2],
  ["strands", 3],
] as const)("%s: a panel of three strands is sewn in %i blocks", (colours, count) => {
  const { blocks } = sewn(ribbonsOf(plainPanel(3, 3)), { colours });
  expect(blocks).toHaveLength(count);
  expect(new Set(blocks.map(({ thread }) => thread.colour)).size).toBe(count);
  expect(new Set(blocks.map(({ thread }) => thread.name)).size).toBe(count);
});

test("on any panel no stitch is longer than set, and none shorter than the least", () => {
  fc.assert(
    fc.property(randomPanel(5), fc.constantFrom("edges" as const, "centre" as const), (rows, along) => {
      const { blocks } = sewn(ribbonsOf(rows), { along });
      for (const [from, to] of blocks.flatMap((block) => stitches(block, "cover"))) {
        expect(distance(from, to)).toBeLessThanOrEqual(2.4 + 1e-6);
        expect(distance(from, to)).toBeGreaterThanOrEqual(1 - 1e-6);
      }
    }),
    { numRuns: 40 },
  );
});

test("on counted cloth there are no ties, and every stitch goes from hole to hole", () => {
  const { blocks } = sewn(ribbonsOf(plainPanel(4, 3)), { clothCount: 28 });
  const middle = { x: 20, y: 15 };
  for (const block of blocks) {
    expect(stitches(block, "tie")).toEqual([]);
    expect(stitches(block, "cover").length).toBeGreaterThan(100);
    for (const ends of stitches(block, "cover")) {
      for (const { x, y } of ends) {
        for (const holes of [((x - middle.x) / 25.4) * 28, ((y - middle.y) / 25.4) * 28])
          expect(Math.abs(holes - Math.round(holes))).toBeLessThan(1e-6);
      }
    }
  }
});
