import { expect, test } from "vitest";
import { TileContent } from "../../../src/crafts/paper/tile-content.ts";
import { type ArcChain, chainLength, polyline } from "../../../src/geometry/arc-chain.ts";
import { mirrorAt, moveBy } from "../../../src/geometry/transform.ts";
import type { PaperItem } from "../../../src/output/paper.ts";

const TILE = { minX: 0, minY: 0, maxX: 100, maxY: 100 };

function line(chain: ArcChain, more: object = {}): PaperItem {
  return { kind: "line", chains: [chain], colour: "#000", widthMm: 0.2, ...more };
}

function straight(x0: number, y0: number, x1: number, y1: number): ArcChain {
  return polyline(
    [
      { x: x0, y: y0 },
      { x: x1, y: y1 },
    ],
    false,
  );
}

/** A zigzag of 1 mm steps along y = 50. */
function zigzag(fromX: number, toX: number): ArcChain {
  const points = Array.from({ length: toX - fromX + 1 }, (_, i) => ({ x: fromX + i, y: 50 + (i % 2) }));
  return polyline(points, false);
}

function chainsOf(items: readonly PaperItem[]): readonly ArcChain[] {
  return items.flatMap((item) => {
    if (item.kind === "group") return chainsOf(item.items);
    return item.kind === "line" || item.kind === "area" ? item.chains : [];
  });
}

test("what misses the tile is left out, order is kept", () => {
  const items = [
    line(straight(10, 10, 20, 10)),
    line(straight(200, 0, 300, 0)),
    line(straight(-50, 50, 150, 60)),
  ];
  const chains = chainsOf(new TileContent(items).within(TILE));
  expect(chains.map((chain) => chain.vertices[0]?.x)).toEqual([10, -50]);
});

test("a line as wide as a brush is seen from beside the tile", () => {
  expect(new TileContent([line(straight(-3, 0, -3, 100), { widthMm: 8 })]).within(TILE)).toHaveLength(1);
  expect(new TileContent([line(straight(-5, 0, -5, 100), { widthMm: 8 })]).within(TILE)).toHaveLength(0);
});

test("a hole away from the tile is left out, the outline round the tile stays", () => {
  const square = (x: number, size: number) =>
    polyline(
      [
        { x, y: -200 },
        { x: x + size, y: -200 },
        { x: x + size, y: size - 200 },
        { x, y: size - 200 },
      ],
      true,
    );
  const area: PaperItem = { kind: "area", chains: [square(-300, 700), square(380, 10)], fill: "#000" };
  const [only] = new TileContent([area]).within(TILE);
  expect(only?.kind === "area" ? only.chains.length : 0).toBe(1);
});

test("a long line is cut where it leaves the tile, and its dashes go on", () => {
  const chain = zigzag(-1000, 1000);
  const dash = { lengthsMm: [3, 2], phaseMm: 1 };
  const [piece, ...others] = new TileContent([line(chain, { dash })]).within(TILE);
  expect(others).toEqual([]);
  if (piece?.kind !== "line") throw new Error("a line was wanted");
  const [cut] = piece.chains;
  expect(cut?.vertices.length).toBeLessThan(110);
  expect(cut?.vertices[0]?.x).toBeLessThanOrEqual(0);
  expect(cut?.vertices.at(-1)?.x).toBeGreaterThanOrEqual(100);
  // Every step of the zigzag is sqrt 2 long.
  const steps = (cut?.vertices[0]?.x ?? 0) + 1000;
  expect(piece.dash?.phaseMm).toBeCloseTo(1 + steps * Math.SQRT2, 9);
});

test("a closed line is cut where it is away, not where it begins", () => {
  // A ring of 200 straight pieces that begins within the tile and leaves it on the right.
  const points = Array.from({ length: 200 }, (_, i) => ({
    x: 250 - 200 * Math.cos((i * Math.PI) / 100),
    y: 50 + 200 * Math.sin((i * Math.PI) / 100),
  }));
  const chains = chainsOf(new TileContent([line(polyline(points, true))]).within(TILE));
  expect(chains).toHaveLength(1);
  expect(chains[0]?.closed).toBe(false);
  const whole = chainsOf(
    new TileContent([line(polyline(points, true))]).within({ ...TILE, maxX: 500, minY: -200, maxY: 300 }),
  );
  expect(whole.map(({ closed }) => closed)).toEqual([true]);
  expect(chainLength(chains[0] ?? polyline([], false))).toBeLessThan(250);
});

test("groups are taken apart: moved, mirrored, scaled, and clipped by their own boxes", () => {
  const scaled = { a: 2, b: 0, c: 0, d: 2, e: 0, f: 0 };
  const content = new TileContent(
    [
      {
        kind: "group",
        transform: scaled,
        items: [line(straight(10, 10, 20, 10), { dash: { lengthsMm: [1, 1] } })],
      },
      { kind: "group", clip: { minX: 0, minY: 0, maxX: 5, maxY: 5 }, items: [line(straight(0, 0, 5, 5))] },
      { kind: "group", transform: moveBy(1000, 0), items: [line(straight(0, 0, 5, 5))] },
    ],
    mirrorAt(50),
  );
  const [first, second, ...others] = content.within(TILE);
  expect(others).toEqual([]);
  if (first?.kind !== "line") throw new Error("a line was wanted");
  expect(first.chains[0]?.vertices.map(({ x, y }) => [x, y])).toEqual([
    [80, 20],
    [60, 20],
  ]);
  expect([first.widthMm, first.dash?.lengthsMm]).toEqual([0.4, [2, 2]]);
  expect(second?.kind === "group" && second.clip).toEqual({ minX: 95, minY: 0, maxX: 100, maxY: 5 });
});

test("words come with the tile that their letters may reach", () => {
  const words: PaperItem = {
    kind: "text",
    text: "long words",
    at: { x: -20, y: 50 },
    sizeMm: 4,
    colour: "#000",
  };
  expect(new TileContent([words]).within(TILE)).toHaveLength(1);
  expect(new TileContent([{ ...words, at: { x: -300, y: 50 } }]).within(TILE)).toHaveLength(0);
});
