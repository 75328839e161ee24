/** The direction of the grain, drawn above the piece. */
import { polyline } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsOf } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import type { PaperItem } from "../../output/paper.ts";
import { FIRM, TEXT_COLOUR, WORD_MM } from "./looks.ts";
import type { CarvingSettings } from "./settings.ts";
import { arrowHead } from "./slope-marks.ts";
import { lineItem, SAMPLE_HEIGHT_MM, SAMPLE_WIDTH_MM } from "./template.ts";

const LENGTH_MM = 24;
const HEAD_MM = 9;
const ASIDE_MM = 6;

/** An arrow to both sides. */
function doubleArrow(a: Point, b: Point): PaperItem[] {
  return [
    lineItem([polyline([a, b], false)], FIRM),
    { kind: "area", chains: [arrowHead(a, b, HEAD_MM), arrowHead(b, a, HEAD_MM)], fill: FIRM.colour },
  ];
}

export function grainSample(): PaperItem[] {
  const y = SAMPLE_HEIGHT_MM / 2;
  return doubleArrow({ x: 0, y }, { x: SAMPLE_WIDTH_MM, y });
}

export function grainArrow(
  size: { readonly width: number; readonly height: number },
  grain: CarvingSettings["grain"],
): { readonly items: readonly PaperItem[]; readonly bounds: Bounds } {
  if (grain === "none") return { items: [], bounds: boundsOf([{ x: 0, y: size.height }]) };
  const isUp = grain === "up";
  const length = Math.min(LENGTH_MM, isUp ? size.height : size.width);
  // Beside the panel on the right, or above it on the left: within its length, so that it adds little.
  const a: Point = isUp ? { x: size.width + ASIDE_MM, y: 0 } : { x: 0, y: size.height + ASIDE_MM };
  const b: Point = isUp ? { x: a.x, y: length } : { x: length, y: a.y };
  const words: Point = isUp ? { x: a.x + WORD_MM * 1.4, y: 0 } : { x: length + 2, y: a.y - WORD_MM / 3 };
  return {
    items: [
      ...doubleArrow(a, b),
      {
        kind: "text",
        text: "grain",
        at: words,
        sizeMm: WORD_MM,
        colour: TEXT_COLOUR,
        ...(isUp && { turnRad: Math.PI / 2 }),
      },
    ],
    bounds: boundsOf([a, b, words, { x: words.x + (isUp ? 0 : 3 * WORD_MM), y: words.y + WORD_MM }]),
  };
}
