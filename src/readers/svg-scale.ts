/** From the width, height and viewBox of an SVG file to mm, y up (SVG 1.1, chapter 7). */
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import type { Transform } from "../geometry/transform.ts";
import { MM_PER_PX, parseLength, parseNumbers, STILL } from "./svg-numbers.ts";
import type { Attributes } from "./svg-shapes.ts";

/**
 * The map of user units to mm, y up. Where the drawing lies on its page does not matter to a
 * knot, so there is no offset, and of preserveAspectRatio only none, meet and slice count.
 * Without a viewBox a unit is a pixel (1/96 inch); with one, but without width and height or
 * with percentages, it is taken as a pixel too.
 *
 * Faults: `svg-attribute`.
 */
export function svgScale(attributes: Attributes): Result<Transform> {
  const faults: Fault[] = [];
  const refuse = (attribute: string, found: string, wanted: string): undefined => {
    faults.push({ code: "svg-attribute", element: "svg", attribute, found, wanted });
    return undefined;
  };
  const size = (attribute: string): number | undefined => {
    const text = attributes(attribute)?.trim() ?? "";
    if (text === "" || text === "auto" || text.endsWith("%")) return undefined;
    const length = parseLength(text);
    if (length !== undefined && length > 0) return length;
    return refuse(attribute, text, "a length of more than 0, for example `120mm`");
  };
  const box = attributes("viewBox");
  const [, , boxWidth = 0, boxHeight = 0] = parseNumbers(box ?? "0 0 1 1") ?? [];
  if (boxWidth <= 0 || boxHeight <= 0)
    refuse("viewBox", box ?? "", "four numbers, of which the last two are more than 0");
  const width = size("width");
  const height = size("height");
  if (faults.length > 0) return refused(...faults);
  if (box === undefined) return done(scaled(1, 1));
  const x = width === undefined ? undefined : width / boxWidth;
  const y = height === undefined ? undefined : height / boxHeight;
  const across = x ?? y ?? 1;
  const down = y ?? x ?? 1;
  const fit = attributes("preserveAspectRatio") ?? "";
  if (/^\s*(defer\s+)?none\b/.test(fit)) return done(scaled(across, down));
  const even = /\bslice\b/.test(fit) ? Math.max(across, down) : Math.min(across, down);
  return done(scaled(even, even));
}

function scaled(across: number, down: number): Transform {
  return { ...STILL, a: across * MM_PER_PX, d: -down * MM_PER_PX };
}
