/**
 * Pictures for people as SVG: one user unit = 1 mm, the piece's own coordinates with y turned
 * over (y' = -y). What stands beside the piece (picture-marks.ts) is made room for, and its
 * letters grow with the picture, so that they can be read when it is shown 700 pixels wide.
 */
import { formatNumber } from "../base/format-number.ts";
import type { ArcChain } from "../geometry/arc-chain.ts";
import { type Bounds, boundsHeight, boundsWidth, growBounds, mergeBounds } from "../geometry/bounds.ts";
import type { Picture, PictureItem } from "../output/picture.ts";
import { base64 } from "./base64.ts";
import { pathData } from "./path-data.ts";
import { dimensionMark, labelMark, MARK_DECIMALS, type Mark, placeMark, rulerMark } from "./picture-marks.ts";
import { writePngRgb } from "./png.ts";
import { xmlText } from "./xml-text.ts";

/** A hundredth of a millimetre: finer than any screen or printer shows. */
const DECIMALS = 2;

/** Letters are this share of the longer side of what must be in view: 15 of 700 pixels or so. */
const LETTER_SHARE = 1 / 40;
/** So that a picture of nothing still has a size. */
const LEAST_LETTER_MM = 0.1;
const MARGIN_LETTERS = 0.5;

/**
 * The picture as an SVG file for UTF-8, as large as its bounds and the marks round them.
 *
 * @throws InternalError for a number that is not finite.
 */
export function writePictureSvg(picture: Picture): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${pictureElement(picture)}\n`;
}

/**
 * The same as an element alone, to stand within a page.
 *
 * @throws InternalError for a number that is not finite.
 */
export function pictureElement({ title, description, bounds, items }: Picture): string {
  const textMm = Math.max(
    LETTER_SHARE * Math.max(boundsWidth(bounds), boundsHeight(bounds)),
    LEAST_LETTER_MM,
  );
  const body: string[] = [];
  const rooms: Bounds[] = [bounds];
  for (const run of runsOfOneStyle(items)) {
    if (run.open) body.push(run.open);
    for (const item of run.items) {
      const drawn = drawItem(item, textMm);
      if (typeof drawn === "string") body.push(drawn);
      else {
        body.push(drawn.svg);
        rooms.push(drawn.room);
      }
    }
    if (run.open) body.push("</g>");
  }
  const page = growBounds(mergeBounds(rooms), MARGIN_LETTERS * textMm);
  const size = { width: mm(boundsWidth(page)), height: mm(boundsHeight(page)) };
  const corner = { x: mm(page.minX), y: mm(-page.maxY) };
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${size.width}mm" height="${size.height}mm" viewBox="${corner.x} ${corner.y} ${size.width} ${size.height}" role="img" font-family="Helvetica, Arial, sans-serif" font-size="${formatNumber(textMm, MARK_DECIMALS)}" text-anchor="middle">`,
    `<title>${xmlText(title)}</title>`,
    `<desc>${xmlText(description)}</desc>`,
    // White below everything: a viewer's own ground may be dark.
    `<rect x="${corner.x}" y="${corner.y}" width="${size.width}" height="${size.height}" fill="#fff"/>`,
    ...body,
    "</svg>",
  ].join("\n");
}

interface Run {
  /** The start tag of the group that gives all items of the run their look; empty for marks. */
  readonly open: string;
  readonly items: PictureItem[];
}

/** Neighbours that look alike share one group, so that a look is written once for thousands of areas. */
function runsOfOneStyle(items: readonly PictureItem[]): Run[] {
  const runs: Run[] = [];
  for (const item of items) {
    const open = groupTag(item);
    const last = runs.at(-1);
    if (last && last.open === open) last.items.push(item);
    else runs.push({ open, items: [item] });
  }
  return runs;
}

function groupTag(item: PictureItem): string {
  switch (item.kind) {
    case "area": {
      const edge = item.edge
        ? ` stroke="${xmlText(item.edge.colour)}" stroke-width="${mm(item.edge.widthMm)}" stroke-linejoin="round"`
        : "";
      return `<g fill="${xmlText(item.fill)}" fill-rule="evenodd"${edge}>`;
    }
    case "line": {
      const dashes = item.dashed ? ` stroke-dasharray="${mm(6 * item.widthMm)} ${mm(4 * item.widthMm)}"` : "";
      return `<g fill="none" stroke="${xmlText(item.colour)}" stroke-width="${mm(item.widthMm)}" stroke-linejoin="round"${dashes}>`;
    }
    case "image":
    case "dimension":
    case "label":
    case "place":
    case "ruler":
      return "";
  }
}

function drawItem(item: PictureItem, textMm: number): string | Mark {
  switch (item.kind) {
    case "area": {
      const path = `<path d="${data(item.chains)}"`;
      return item.name === undefined ? `${path}/>` : `${path}><title>${xmlText(item.name)}</title></path>`;
    }
    case "line":
      return `<path d="${data(item.chains)}"/>`;
    case "image":
      return imageMark(item);
    case "dimension":
      return dimensionMark(item, textMm);
    case "label":
      return labelMark(item, textMm);
    case "place":
      return placeMark(item, textMm);
    case "ruler":
      return rulerMark(item, textMm);
  }
}

/** The pixels as a PNG within the file. `href` alone would be SVG 2; the older name is read everywhere. */
function imageMark({ bounds, image, name }: Extract<PictureItem, { readonly kind: "image" }>): Mark {
  const box = `x="${mm(bounds.minX)}" y="${mm(-bounds.maxY)}" width="${mm(boundsWidth(bounds))}" height="${mm(boundsHeight(bounds))}"`;
  const href = `xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="data:image/png;base64,${base64(writePngRgb(image))}"`;
  const svg = `<image ${box} preserveAspectRatio="none" ${href}><title>${xmlText(name)}</title></image>`;
  return { svg, room: bounds };
}

function data(chains: readonly ArcChain[]): string {
  return chains.map((chain) => pathData(chain, DECIMALS, 0)).join("");
}

function mm(value: number): string {
  return formatNumber(value, DECIMALS);
}
