/** Numbers, number lists, lengths and transform lists of SVG 1.1 (sections 4.2, 7.6, 8.3.9 and 9.7.1). */
import { followedBy, type Transform } from "../geometry/transform.ts";

/** A number as SVG writes it at the place where the last match ended: no word, no hexadecimal. */
const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const SEPARATOR = /[ \t\r\n]*(?:,[ \t\r\n]*)?/y;

/** CSS pixels in one of each unit, and mm in one pixel (CSS Values and Units, absolute lengths). */
const UNIT_PX: ReadonlyMap<string, number> = new Map([
  ["", 1],
  ["px", 1],
  ["in", 96],
  ["mm", 96 / 25.4],
  ["cm", 96 / 2.54],
  ["pt", 96 / 72],
  ["pc", 16],
]);
export const MM_PER_PX = 25.4 / 96;

/** The numbers of a list parted by spaces or single commas; undefined where anything else stands in it. */
export function parseNumbers(text: string): number[] | undefined {
  const plain = text.trim();
  const numbers: number[] = [];
  let at = 0;
  while (at < plain.length) {
    NUMBER.lastIndex = at;
    const found = NUMBER.exec(plain)?.[0];
    if (found === undefined || !Number.isFinite(Number(found))) return undefined;
    numbers.push(Number(found));
    SEPARATOR.lastIndex = at + found.length;
    const gap = SEPARATOR.exec(plain)?.[0] ?? "";
    at += found.length + gap.length;
    if (at === plain.length && gap !== "") return undefined;
  }
  return numbers;
}

/** A length in px (user units); undefined for a percentage, a unit that hangs on a font, or no length. */
export function parseLength(text: string): number | undefined {
  const [, digits = "", unit = ""] = /^(.*?[\d.])([a-z]*)$/is.exec(text.trim()) ?? [];
  const [value, ...more] = parseNumbers(digits) ?? [];
  const factor = UNIT_PX.get(unit.toLowerCase());
  return value === undefined || more.length > 0 || factor === undefined ? undefined : value * factor;
}

const STEP = /([a-zA-Z]+)\s*\(([^()]*)\)[ \t\r\n]*,?[ \t\r\n]*/y;

/** A transform list as one affine map; undefined where it is not one (SVG 1.1, 7.6). */
export function parseTransform(text: string): Transform | undefined {
  const plain = text.trim();
  let whole: Transform = STILL;
  let at = 0;
  while (at < plain.length) {
    STEP.lastIndex = at;
    const [all = "", name = "", list = ""] = STEP.exec(plain) ?? [];
    const step = transformStep(name, parseNumbers(list) ?? []);
    if (!step) return undefined;
    // The list is nested from the left: its last step is the first to be done.
    whole = followedBy(step, whole);
    at += all.length;
  }
  return whole;
}

export const STILL: Transform = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** The steps of a list by name: how many numbers each takes, and its map. */
const STEPS: ReadonlyMap<string, readonly [readonly number[], (numbers: readonly number[]) => Transform]> =
  new Map([
    ["matrix", [[6], ([a = 0, b = 0, c = 0, d = 0, e = 0, f = 0]) => ({ a, b, c, d, e, f })]],
    ["translate", [[1, 2], ([e = 0, f = 0]) => ({ ...STILL, e, f })]],
    ["scale", [[1, 2], ([a = 0, d = a]) => ({ ...STILL, a, d })]],
    ["rotate", [[1, 3], ([turn = 0, x = 0, y = 0]) => turnAbout(turn, x, y)]],
    ["skewX", [[1], ([turn = 0]) => ({ ...STILL, c: Math.tan(radians(turn)) })]],
    ["skewY", [[1], ([turn = 0]) => ({ ...STILL, b: Math.tan(radians(turn)) })]],
  ]);

function transformStep(name: string, numbers: readonly number[]): Transform | undefined {
  const [counts, map] = STEPS.get(name) ?? [];
  return counts?.includes(numbers.length) ? map?.(numbers) : undefined;
}

function turnAbout(degrees: number, x: number, y: number): Transform {
  const cos = Math.cos(radians(degrees));
  const sin = Math.sin(radians(degrees));
  return { a: cos, b: sin, c: -sin, d: cos, e: x - cos * x + sin * y, f: y - sin * x - cos * y };
}

function radians(degrees: number): number {
  return (degrees / 180) * Math.PI;
}
