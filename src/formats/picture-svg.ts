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
export const LETTER_SHARE = 1 / 40;
/** So that a picture of nothing still has a size. */
export const LEAST_LETTER_MM = 0.1;
export const MARGIN_LETTERS = 0.5;

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
export function pictureElement({
  title,
  description,
  bounds,
  items,
  ground,
  decimals = DECIMALS,
}: Picture): string {
  const textMm = Math.max(
    LETTER_SHARE * Math.max(boundsWidth(bounds), boundsHeight(bounds)),
    LEAST_LETTER_MM,
  );
  const body: string[] = [];
  const rooms: Bounds[] = [bounds];
  for (const [number, run] of runsOfOneStyle(items, decimals).entries()) {
    if (run.open) body.push(run.open);
    for (const [i, item] of run.items.entries()) {
      if (item.kind === "fade") {
        body.push(fadeGroup(item, `fade${number}-${i}`, decimals));
        continue;
      }
      const drawn = drawItem(item, textMm, decimals);
      if (typeof drawn === "string") body.push(drawn);
      else {
        body.push(drawn.svg);
        rooms.push(drawn.room);
      }
    }
    if (run.open) body.push("</g>");
  }
  const page = growBounds(mergeBounds(rooms), ground?.marginMm ?? MARGIN_LETTERS * textMm);
  const place = (value: number) => formatNumber(value, decimals);
  const size = { width: place(boundsWidth(page)), height: place(boundsHeight(page)) };
  const corner = { x: place(page.minX), y: place(-page.maxY) };
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${size.width}mm" height="${size.height}mm" viewBox="${corner.x} ${corner.y} ${size.width} ${size.height}" role="img" font-family="Helvetica, Arial, sans-serif" font-size="${formatNumber(textMm, MARK_DECIMALS)}" text-anchor="middle">`,
    `<title>${xmlText(title)}</title>`,
    `<desc>${xmlText(description)}</desc>`,
    ...groundRect(ground, `x="${corner.x}" y="${corner.y}" width="${size.width}" height="${size.height}"`),
    ...body,
    "</svg>",
  ].join("\n");
}

/** White below everything where nothing is said: a viewer's own ground may be dark. */
function groundRect(ground: Picture["ground"], box: string): string[] {
  const colour = ground ? ground.colour : "#fff";
  return colour === undefined ? [] : [`<rect ${box} fill="${xmlText(colour)}"/>`];
}

interface Run {
  /** The start tag of the group that gives all items of the run their look; empty for marks. */
  readonly open: string;
  readonly items: PictureItem[];
}

/** Neighbours that look alike share one group, so that a look is written once for thousands of areas. */
function runsOfOneStyle(items: readonly PictureItem[], decimals: number): Run[] {
  const runs: Run[] = [];
  for (const item of items) {
    const open = groupTag(item, decimals);
    const last = runs.at(-1);
    if (last && last.open === open) last.items.push(item);
    else runs.push({ open, items: [item] });
  }
  return runs;
}

function groupTag(item: PictureItem, decimals: number): string {
  switch (item.kind) {
    case "area": {
      const edge = item.edge
        ? ` stroke="${xmlText(item.edge.colour)}" stroke-width="${formatNumber(item.edge.widthMm, decimals)}" stroke-linejoin="round"`
        : "";
      return `<g fill="${xmlText(item.fill)}" fill-rule="evenodd"${opacity("fill", item.opacity)}${edge}>`;
    }
    case "line": {
      const dashes = item.dashed ? ` stroke-dasharray="${mm(6 * item.widthMm)} ${mm(4 * item.widthMm)}"` : "";
      const ends = item.roundEnds ? ` stroke-linecap="round"` : "";
      return `<g fill="none" stroke="${xmlText(item.colour)}" stroke-width="${formatNumber(item.widthMm, decimals)}" stroke-linejoin="round"${ends}${opacity("stroke", item.opacity)}${dashes}>`;
    }
    case "fade":
    case "image":
    case "dimension":
    case "label":
    case "place":
    case "ruler":
      return "";
  }
}

function opacity(of: "fill" | "stroke" | "stop", share: number | undefined): string {
  return share === undefined ? "" : ` ${of}-opacity="${formatNumber(share, OPACITY_DECIMALS)}"`;
}

/** Finer than the 256 steps of a pixel. */
const OPACITY_DECIMALS = 3;

type Fade = Extract<PictureItem, { readonly kind: "fade" }>;

function drawItem(item: Exclude<PictureItem, Fade>, textMm: number, decimals: number): string | Mark {
  switch (item.kind) {
    case "area": {
      const path = `<path d="${data(item.chains, decimals)}"`;
      return item.name === undefined ? `${path}/>` : `${path}><title>${xmlText(item.name)}</title></path>`;
    }
    case "line":
      return `<path d="${data(item.chains, decimals)}"/>`;
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

/**
 * One gradient for the look, and for each field one that says where it lies. They fall off
 * quickly at first, as the shadow of a round edge does.
 */
function fadeGroup({ colour, opacity: most, fields }: Fade, id: string, decimals: number): string {
  const number = (value: number) => formatNumber(value, decimals);
  const stops = FADE_STOPS.map(
    ([offset, share]) =>
      `<stop offset="${offset}" stop-color="${xmlText(colour)}"${opacity("stop", share * most)}/>`,
  );
  const drawn = fields.map(({ outline, from, to }, i) => {
    const way = `x1="${number(from.x)}" y1="${number(-from.y)}" x2="${number(to.x)}" y2="${number(-to.y)}"`;
    return `<linearGradient id="${id}-${i}" xlink:href="#${id}" gradientUnits="userSpaceOnUse" ${way}/><path fill="url(#${id}-${i})" d="${data([outline], decimals)}"/>`;
  });
  return [
    `<g xmlns:xlink="http://www.w3.org/1999/xlink"><linearGradient id="${id}">${stops.join("")}</linearGradient>`,
    ...drawn,
    "</g>",
  ].join("\n");
}

/** Share of the way, share of the opacity: a cosine's foot. */
const FADE_STOPS = [
  [0, 1],
  [0.25, 0.62],
  [0.5, 0.3],
  [0.75, 0.08],
  [1, 0],
] as const;

/** The pixels as a PNG within the file. `href` alone would be SVG 2; the older name is read everywhere. */
function imageMark({ bounds, image, name }: Extract<PictureItem, { readonly kind: "image" }>): Mark {
  const box = `x="${mm(bounds.minX)}" y="${mm(-bounds.maxY)}" width="${mm(boundsWidth(bounds))}" height="${mm(boundsHeight(bounds))}"`;
  const href = `xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="data:image/png;base64,${base64(writePngRgb(image))}"`;
  const svg = `<image ${box} preserveAspectRatio="none" ${href}><title>${xmlText(name)}</title></image>`;
  return { svg, room: bounds };
}

function data(chains: readonly ArcChain[], decimals: number): string {
  return chains.map((chain) => pathData(chain, decimals, 0)).join("");
}

function mm(value: number): string {
  return formatNumber(value, DECIMALS);
}
