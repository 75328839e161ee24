/**
 * Drawings as SVG: a group for each layer of purpose, a path for each chain, true arcs,
 * one user unit = 1 mm. y grows downward in SVG, so it is flipped here, which makes a
 * counter-clockwise arc one of sweep flag 0 (SVG 1.1, section 8.3.8).
 */
import { formatNumber } from "../base/format-number.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import { moveBy, transformChain } from "../geometry/transform.ts";
import type { Drawing, DrawingLayer } from "../output/drawing.ts";
import { GRID_DECIMALS, gridChain } from "./grid-chain.ts";
import { LAYER_LOOKS } from "./layer-look.ts";
import { pathData } from "./path-data.ts";
import { xmlText } from "./xml-text.ts";

const HAIRLINE_MM = 0.1;
const DASH_MM = "2 1";

/**
 * The drawing as SVG text, as large as its bounds, for UTF-8.
 *
 * @throws InternalError for a number that is not finite or a path without length.
 */
export function writeSvg(drawing: Drawing): string {
  const width = formatNumber(boundsWidth(drawing.bounds), GRID_DECIMALS);
  const height = formatNumber(boundsHeight(drawing.bounds), GRID_DECIMALS);
  const lines = [
    `<?xml version="1.0" encoding="UTF-8"?>`,
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `<title>${xmlText(drawing.title)}</title>`,
  ];
  if (drawing.notes.length > 0) lines.push(`<desc>${xmlText(drawing.notes.join("\n"))}</desc>`);
  for (const layer of drawing.layers) writeLayer(lines, layer, drawing);
  lines.push("</svg>", "");
  return lines.join("\n");
}

function writeLayer(
  lines: string[],
  { name, purpose, worked, paths }: DrawingLayer,
  { bounds }: Drawing,
): void {
  const dashes = worked ? "" : ` stroke-dasharray="${DASH_MM}"`;
  lines.push(
    `<g id="${name}" fill="none" stroke="${LAYER_LOOKS[name].colour}" stroke-width="${HAIRLINE_MM}"${dashes}>`,
    `<title>${name}</title>`,
    `<desc>${xmlText(purpose)}</desc>`,
  );
  // Only moved here: y turns over when it is printed, so that bulges keep their meaning until then.
  const toPage = moveBy(-bounds.minX, -bounds.maxY);
  for (const path of paths)
    lines.push(`<path d="${pathData(gridChain(transformChain(path, toPage)), GRID_DECIMALS, 0)}"/>`);
  lines.push("</g>");
}
