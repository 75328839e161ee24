/**
 * What shows whether a print is true: a square of 100 mm and a ruler, on every page, with the
 * words that set the printer right.
 */
import type { Bounds } from "../../geometry/bounds.ts";
import { rectangleChain } from "../../geometry/plain-shapes.ts";
import type { Point } from "../../geometry/point.ts";
import type { PaperItem } from "../../output/paper.ts";
import { INK, lines, MARK_LINE_MM, SMALL_TYPE_MM, SOFT_INK, straight } from "./mark-look.ts";
import { CHECK_SQUARE_MM } from "./tile-grid.ts";

export const PRINT_WORDS = "print at 100 %, no scaling";

const TICK_MM = { every: 2, fifth: 3, tenth: 4 };
/** Figures stand below the ruler's line. */
export const RULER_HIGH_MM = 7.5;
const RULER_FOOT_MM = 3.3;

/** The square with its lower left corner at a point; its sides are the middles of the lines. */
export function checkSquare({ x, y }: Point, colour = SOFT_INK): PaperItem[] {
  const box = { minX: x, minY: y, maxX: x + CHECK_SQUARE_MM, maxY: y + CHECK_SQUARE_MM };
  return [
    lines([rectangleChain(box)], colour),
    {
      kind: "text",
      text: `Check square, ${CHECK_SQUARE_MM} mm each way; no part of the design`,
      at: { x: x + 2, y: y + 2 },
      sizeMm: SMALL_TYPE_MM,
      colour,
      mostMm: CHECK_SQUARE_MM - 4,
    },
  ];
}

/** A ruler in mm along the foot of a box, as long as whole centimetres fit. */
export function ruler({ minX, minY, maxX }: Bounds): PaperItem[] {
  // The last figure needs some room on the right, the first on the left.
  const length = Math.floor((maxX - minX - 2 * SMALL_TYPE_MM) / 10) * 10;
  const left = minX + SMALL_TYPE_MM;
  const foot = minY + RULER_FOOT_MM;
  const ticks = Array.from({ length: length + 1 }, (_, mm) => {
    const high = mm % 10 === 0 ? TICK_MM.tenth : mm % 5 === 0 ? TICK_MM.fifth : TICK_MM.every;
    return straight({ x: left + mm, y: foot }, { x: left + mm, y: foot + high });
  });
  const figures = Array.from(
    { length: length / 10 + 1 },
    (_, cm): PaperItem => ({
      kind: "text",
      text: cm * 10 === length ? `${cm * 10} mm` : String(cm * 10),
      at: { x: left + cm * 10, y: minY + 0.6 },
      sizeMm: SMALL_TYPE_MM,
      colour: INK,
      anchor: "middle",
    }),
  );
  const base = straight({ x: left, y: foot }, { x: left + length, y: foot });
  return [lines([base, ...ticks], INK, MARK_LINE_MM), ...figures];
}
