/**
 * An SVG of ours as pixels. The renderer is machine code, another for each kind of computer: it is
 * loaded only when it is wanted, so that nothing else hangs on it.
 */
import { createRequire } from "node:module";
import { done, type Result, refused } from "../base/fault.ts";
import { MOST_PX } from "./options.ts";

export interface Png {
  readonly content: Uint8Array;
  readonly pixels: readonly [width: number, height: number];
}

/** Of all pixels together: painting and packing them takes some ten bytes each, 1 GB in all. */
const MOST_PIXELS = 100e6;

/** The picture `widthPx` wide, with what is transparent left so. Faults: `bad-option`. */
export function pngFromSvg(svg: string, widthPx: number): Result<Png> {
  const { width, height } = sizeOf(svg);
  const heightPx = Math.round((widthPx * height) / width);
  const most = Math.floor(
    Math.min(MOST_PX, (MOST_PX * width) / height, Math.sqrt((MOST_PIXELS * width) / height)),
  );
  if (widthPx > most || heightPx < 1)
    return refused({
      code: "bad-option",
      option: "--width-px",
      found: `${widthPx}`,
      wanted:
        heightPx < 1
          ? "more: the picture would be less than a pixel high"
          : `${most} at most for this design: the picture would be ${heightPx} pixels high, and the most is ${MOST_PX} a side and ${MOST_PIXELS / 1e6} million in all`,
    });
  const { Resvg } = loadRenderer();
  const image = new Resvg(svg, {
    fitTo: { mode: "width", value: widthPx },
    font: { loadSystemFonts: false },
  }).render();
  return done({ content: image.asPng(), pixels: [image.width, image.height] });
}

function loadRenderer(): typeof import("@resvg/resvg-js") {
  return createRequire(import.meta.url)("@resvg/resvg-js");
}

/** Of its view box, which all pictures of ours have. */
function sizeOf(svg: string): { readonly width: number; readonly height: number } {
  const [, width = "", height = ""] = /viewBox="\S+ \S+ (\S+) (\S+)"/.exec(svg) ?? [];
  return { width: Number(width), height: Number(height) };
}
