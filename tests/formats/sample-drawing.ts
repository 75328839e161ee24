/**
 * A small drawing made by hand, with figures from closed forms (shared/CHECKS.md section 2
 * and the formulas beside each shape), for every vector writer to be tested on.
 */
import type { ArcChain, Vertex } from "../../src/geometry/arc-chain.ts";
import type { Drawing } from "../../src/output/drawing.ts";

/** tan(90 deg / 4), the bulge of a quarter turn: CHECKS.md section 2, table. */
const QUARTER = 0.41421356237309503;

function chain(closed: boolean, ...vertices: readonly (readonly [number, number, number?])[]): ArcChain {
  return { closed, vertices: vertices.map(([x, y, bulge = 0]): Vertex => ({ x, y, bulge })) };
}

/** Straight sides of 100, ends of radius 10. Area 100 * 20 + 100 pi, length 2 * 100 + 20 pi. */
export const STADIUM = chain(true, [10, 0], [110, 0, 1], [110, 20], [10, 20, 1]);
export const STADIUM_AREA = 2000 + 100 * Math.PI;
export const STADIUM_LENGTH = 200 + 20 * Math.PI;

/** Radius 10, two bulge-1 vertices. Area 314.159265359 (CHECKS.md), length 20 pi. */
export const CIRCLE = chain(true, [20, 50, 1], [40, 50, 1]);
export const CIRCLE_AREA = 314.159265359;
export const CIRCLE_LENGTH = 20 * Math.PI;

/** 100 x 60, corner radius 10: area 5914.159265359, perimeter 302.831853072 (CHECKS.md). */
export const ROUNDED = chain(
  true,
  [10, 0],
  [90, 0, QUARTER],
  [100, 10],
  [100, 50, QUARTER],
  [90, 60],
  [10, 60, QUARTER],
  [0, 50],
  [0, 10, QUARTER],
);
export const ROUNDED_AREA = 5914.159265359;
export const ROUNDED_LENGTH = 302.831853072;

/** A line of 30, then a clockwise quarter turn of radius 12: length 30 + 6 pi. */
export const OPEN_LINE = chain(false, [5, 65], [35, 65, -QUARTER], [47, 53]);
export const OPEN_LENGTH = 30 + 6 * Math.PI;

export const SAMPLE: Drawing = {
  title: "Sample & <proof>",
  layers: [
    { name: "RIBBON", purpose: "nominal outline, not cut", worked: false, paths: [ROUNDED] },
    { name: "MARK", purpose: "engrave", worked: true, paths: [OPEN_LINE] },
    { name: "POCKET", purpose: "cut first", worked: true, paths: [CIRCLE, STADIUM] },
    { name: "PANEL", purpose: "cut last", worked: true, paths: [ROUNDED] },
  ],
  bounds: { minX: 0, minY: 0, maxX: 120, maxY: 65 },
  notes: ["Wear eye protection – “always”.", "first line\nsecond line\r\n0\nEOF", "a < b & c > d"],
};

/** A drawing of one path alone. */
export function drawingOf(path: ArcChain, bounds = SAMPLE.bounds): Drawing {
  return {
    title: "one path",
    layers: [{ name: "POCKET", purpose: "cut", worked: true, paths: [path] }],
    bounds,
    notes: [],
  };
}

/** Paths that no file may hold: numbers that are not finite, and a path without length. */
export const BAD_PATHS: readonly (readonly [string, ArcChain])[] = [
  ["NaN x", chain(true, [Number.NaN, 0], [1, 0], [1, 1])],
  ["infinite y", chain(true, [0, Number.POSITIVE_INFINITY], [1, 0], [1, 1])],
  ["NaN bulge", chain(false, [0, 0, Number.NaN], [1, 0])],
  ["no length", chain(false, [5, 5], [5.0001, 5])],
  ["no vertex", chain(true)],
];
