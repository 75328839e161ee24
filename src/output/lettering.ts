/**
 * Single-stroke lettering: capitals, digits, full stop and hyphen as open chains of lines and
 * quarter or half circles, so that a label needs no font and can be engraved in one pass.
 *
 * Glyphs stand on a grid of which a capital is 8 steps high and mostly 5 wide; every turn has
 * a radius of 2 steps or more, so that counters stay open at 1.5 mm. The zero is slashed, to be
 * told from the letter.
 */
import { InternalError } from "../base/internal-error.ts";
import type { ArcChain, Vertex } from "../geometry/arc-chain.ts";
import type { Point } from "../geometry/point.ts";
import { followedBy, moveBy, scaleBy, transformChain, turnBy } from "../geometry/transform.ts";

export interface LetterPlace {
  readonly at: Point;
  /** Height of a capital. */
  readonly heightMm: number;
  /** Direction of the line of writing, counter-clockwise from the x axis. */
  readonly turnRad: number;
  /** What lies at `at`: the middle of the text, or the left end of its baseline. */
  readonly anchor: "centre" | "left";
}

interface Glyph {
  readonly width: number;
  /**
   * Each stroke lists its points as two digits, x and y in steps; a letter tells how the pen
   * goes on from there: l, r a quarter turn to the left or right, L, R half a turn, else straight.
   */
  readonly strokes: readonly string[];
}

const STEPS_HIGH = 8;
const STEPS_BETWEEN = 2;

const QUARTER = Math.SQRT2 - 1;
const BULGES: Readonly<Record<string, number>> = { l: QUARTER, r: -QUARTER, L: 1, R: -1 };

const GLYPHS: Readonly<Record<string, Glyph>> = {
  " ": { width: 2, strokes: [] },
  "-": { width: 3, strokes: ["04 34"] },
  ".": { width: 0, strokes: ["01 00"] },
  "0": { width: 4, strokes: ["02 06R 46 42R 02", "13 35"] },
  "1": { width: 2, strokes: ["06 28 20"] },
  "2": { width: 4, strokes: ["06R 46 45 00 40"] },
  "3": { width: 4, strokes: ["06r 28R 24R 20r 02"] },
  "4": { width: 5, strokes: ["40 48 02 52"] },
  "5": { width: 4, strokes: ["48 08 05 25r 43 42r 20 00"] },
  "6": { width: 4, strokes: ["48l 04 02L 42L 02"] },
  "7": { width: 4, strokes: ["08 48 10"] },
  "8": { width: 4, strokes: ["24L 20L 24", "24R 28R 24"] },
  "9": { width: 4, strokes: ["00l 44 46L 06L 46"] },
  A: { width: 4, strokes: ["00 28 40", "14 34"] },
  B: { width: 5, strokes: ["00 08 38R 34", "04 34R 30 00"] },
  C: { width: 5, strokes: ["56l 38 28l 06 02l 20 30l 52"] },
  D: { width: 5, strokes: ["00 08 28r 55 53r 20 00"] },
  E: { width: 4, strokes: ["48 08 00 40", "04 34"] },
  F: { width: 4, strokes: ["48 08 00", "04 34"] },
  G: { width: 5, strokes: ["56l 38 28l 06 02l 20 30l 52 54 34"] },
  H: { width: 5, strokes: ["00 08", "50 58", "04 54"] },
  I: { width: 2, strokes: ["10 18", "00 20", "08 28"] },
  J: { width: 4, strokes: ["48 42R 02"] },
  K: { width: 5, strokes: ["00 08", "58 03", "25 50"] },
  L: { width: 4, strokes: ["08 00 40"] },
  M: { width: 6, strokes: ["00 08 33 68 60"] },
  N: { width: 5, strokes: ["00 08 50 58"] },
  O: { width: 6, strokes: ["03 05r 38r 65 63r 30r 03"] },
  P: { width: 5, strokes: ["00 08 38R 34 04"] },
  Q: { width: 6, strokes: ["03 05r 38r 65 63r 30r 03", "42 60"] },
  R: { width: 5, strokes: ["00 08 38R 34 04", "24 50"] },
  S: { width: 5, strokes: ["56l 38 28L 24 34R 30 20r 02"] },
  T: { width: 6, strokes: ["30 38", "08 68"] },
  U: { width: 5, strokes: ["08 02l 20 30l 52 58"] },
  V: { width: 6, strokes: ["08 30 68"] },
  W: { width: 8, strokes: ["08 20 46 60 88"] },
  X: { width: 5, strokes: ["00 58", "08 50"] },
  Y: { width: 6, strokes: ["08 34 68", "34 30"] },
  Z: { width: 5, strokes: ["08 58 00 50"] },
};

/**
 * The strokes of one line of text; small letters are drawn as capitals.
 *
 * @throws InternalError for a character other than A-Z, 0-9, full stop, hyphen and blank.
 */
export function letterChains(text: string, { at, heightMm, turnRad, anchor }: LetterPlace): ArcChain[] {
  const scale = heightMm / STEPS_HIGH;
  const start = anchor === "left" ? moveBy(0, 0) : moveBy(-textWidth(text, heightMm) / 2, -heightMm / 2);
  const toPlace = followedBy(followedBy(start, turnBy(turnRad)), moveBy(at.x, at.y));
  const chains: ArcChain[] = [];
  let step = 0;
  for (const { width, strokes } of glyphsOf(text)) {
    const place = followedBy(followedBy(moveBy(step, 0), scaleBy(scale)), toPlace);
    for (const stroke of strokes) chains.push(transformChain(strokeChain(stroke), place));
    step += width + STEPS_BETWEEN;
  }
  return chains;
}

/**
 * The width of a line of text, mm, from the left of its first glyph to the right of its last.
 *
 * @throws InternalError for a character that has no glyph, see `letterChains`.
 */
export function textWidth(text: string, heightMm: number): number {
  let steps = -STEPS_BETWEEN;
  for (const { width } of glyphsOf(text)) steps += width + STEPS_BETWEEN;
  return (Math.max(0, steps) * heightMm) / STEPS_HIGH;
}

function glyphsOf(text: string): Glyph[] {
  return Array.from(text.toUpperCase(), (character) => {
    const glyph = GLYPHS[character];
    if (!glyph) throw new InternalError(`the lettering has no glyph for ${JSON.stringify(character)}`);
    return glyph;
  });
}

function strokeChain(stroke: string): ArcChain {
  const vertices = stroke
    .split(" ")
    .map(([x, y, turn]): Vertex => ({ x: Number(x), y: Number(y), bulge: turn ? (BULGES[turn] ?? 0) : 0 }));
  return { closed: false, vertices };
}
