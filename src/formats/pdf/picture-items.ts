/**
 * A picture for people as items of paper, in the picture's own mm: the same drawing as
 * picture-svg.ts makes, with letters of real widths.
 */

import { formatMm } from "../../base/format-number.ts";
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import {
  type Bounds,
  boundsHeight,
  boundsOf,
  boundsWidth,
  growBounds,
  mergeBounds,
} from "../../geometry/bounds.ts";
import { circleChain, rectangleChain } from "../../geometry/plain-shapes.ts";
import { along, between, distance, leftOf, minus, type Point, unit, type Vec } from "../../geometry/point.ts";
import type { PaperItem } from "../../output/paper.ts";
import type { Picture, PictureItem } from "../../output/picture.ts";
import {
  ABOVE_THE_LINE,
  ARROW_HALF_WIDTH,
  ARROW_LENGTH,
  BAR_HEIGHT,
  CAPITAL_HEIGHT,
  CLEAR_OF_PIECE,
  FAILED_INK,
  fieldCount,
  INK,
  LINE_WIDTH,
  PAST_THE_LINE,
  RING_RADIUS,
  readsForward,
  WARNED_INK,
} from "../picture-marks.ts";
import { LEAST_LETTER_MM, LETTER_SHARE, MARGIN_LETTERS } from "../picture-svg.ts";
import type { Typesetter } from "./typesetter.ts";

export interface DrawnPicture {
  readonly items: readonly PaperItem[];
  /** What the items take, the picture's mm. */
  readonly room: Bounds;
}

type ItemOf<Kind extends PictureItem["kind"]> = Extract<PictureItem, { readonly kind: Kind }>;

/** White round letters, so that a line that they cross does not spoil them. */
const RIM = 0.12;

/** All items of a picture, and the room that they take. */
export function pictureItems({ bounds, items }: Picture, type: Typesetter): DrawnPicture {
  const longer = Math.max(boundsWidth(bounds), boundsHeight(bounds));
  if (!Number.isFinite(longer)) throw new InternalError("a picture without bounds");
  const textMm = Math.max(LETTER_SHARE * longer, LEAST_LETTER_MM);
  const drawn = items.map((item) => drawItem(item, textMm, type));
  const rooms = [bounds, ...drawn.map(({ room }) => room).filter((room) => room !== undefined)];
  return {
    items: drawn.flatMap((part) => part.items),
    room: growBounds(mergeBounds(rooms), MARGIN_LETTERS * textMm),
  };
}

interface Drawn {
  readonly items: readonly PaperItem[];
  readonly room?: Bounds;
}

function drawItem(item: PictureItem, textMm: number, type: Typesetter): Drawn {
  switch (item.kind) {
    case "area": {
      const { chains, fill, edge } = item;
      return { items: [{ kind: "area", chains, fill, ...(edge ? { edge } : {}) }] };
    }
    case "line": {
      const { chains, colour, widthMm, dashed } = item;
      const dash = dashed ? { dash: { lengthsMm: [6 * widthMm, 4 * widthMm] } } : {};
      return { items: [{ kind: "line", chains, colour, widthMm, ...dash }] };
    }
    case "fade":
      // Soft shadows are for screens; on paper a drawing is clearer without.
      return { items: [] };
    case "image":
      return { items: [{ kind: "image", bounds: item.bounds, image: item.image }], room: item.bounds };
    case "dimension":
      return dimension(item, textMm, type);
    case "label":
      return label(item, textMm, type);
    case "place":
      return place(item, textMm, type);
    case "ruler":
      return ruler(item, textMm, type);
  }
}

function dimension(
  { from, to, asideMm, text }: ItemOf<"dimension">,
  textMm: number,
  type: Typesetter,
): Drawn {
  const length = distance(from, to);
  const dir: Vec = length > SAME_POINT_MM ? unit(minus(to, from)) : { x: 1, y: 0 };
  const start = along(from, leftOf(dir), asideMm);
  const end = along(to, leftOf(dir), asideMm);
  const arrow = ARROW_LENGTH * textMm;
  const width = type.width(text, { sizeMm: textMm });
  const roomy = length >= Math.max(width, 4 * arrow);

  const forward = readsForward(dir);
  const reading: Vec = forward ? dir : { x: -dir.x, y: -dir.y };
  const [left, right] = forward ? [start, end] : [end, start];
  const ends = roomy
    ? [along(left, reading, arrow / 2), along(right, reading, -arrow / 2)]
    : [along(left, reading, -2 * arrow), along(right, reading, 2 * arrow + width)];
  const lines = [...extension(from, start, textMm), ...extension(to, end, textMm), polyline(ends, false)];
  const inward = roomy ? -1 : 1;
  const heads = [arrowHead(left, reading, inward, textMm), arrowHead(right, reading, -inward, textMm)];
  const foot = roomy
    ? along(between(left, right, 0.5), reading, -width / 2)
    : along(right, reading, 1.6 * arrow);
  const at = along(foot, leftOf(reading), ABOVE_THE_LINE * textMm);
  const far = along(at, leftOf(reading), CAPITAL_HEIGHT * textMm);
  return {
    items: [
      { kind: "line", chains: lines, colour: INK, widthMm: LINE_WIDTH * textMm },
      { kind: "area", chains: heads, fill: INK },
      words(text, at, textMm, { turnRad: Math.atan2(reading.y, reading.x) }),
    ],
    room: growBounds(
      boundsOf([at, far, along(at, reading, width), along(far, reading, width), start, end, ...ends]),
      PAST_THE_LINE * textMm,
    ),
  };
}

/** From beside the measured point to a little past the dimension line; none where there is no way to go. */
function extension(from: Point, to: Point, textMm: number): ArcChain[] {
  if (distance(from, to) <= CLEAR_OF_PIECE * textMm) return [];
  const dir = unit(minus(to, from));
  return [
    polyline([along(from, dir, CLEAR_OF_PIECE * textMm), along(to, dir, PAST_THE_LINE * textMm)], false),
  ];
}

function arrowHead(tip: Point, dir: Vec, side: number, textMm: number): ArcChain {
  const back = along(tip, dir, -side * ARROW_LENGTH * textMm);
  const half = ARROW_HALF_WIDTH * textMm;
  return polyline([tip, along(back, leftOf(dir), half), along(back, leftOf(dir), -half)], true);
}

function label({ at, text, swatch }: ItemOf<"label">, textMm: number, type: Typesetter): Drawn {
  const side = CAPITAL_HEIGHT * textMm;
  const foot = { x: at.x + (swatch ? 1.8 * side : 0), y: at.y };
  const field = { minX: at.x, minY: at.y, maxX: at.x + side, maxY: at.y + side };
  const edge = { colour: INK, widthMm: LINE_WIDTH * textMm };
  return {
    items: [
      ...(swatch ? [{ kind: "area", chains: [rectangleChain(field)], fill: swatch, edge } as const] : []),
      words(text, foot, textMm),
    ],
    room: growBounds(
      boundsOf([at, { x: foot.x + type.width(text, { sizeMm: textMm }), y: at.y + side }]),
      0.25 * textMm,
    ),
  };
}

/** A heavy solid ring where a check fails, a lighter dashed one elsewhere, its number beside it. */
function place({ at, text, failed }: ItemOf<"place">, textMm: number, type: Typesetter): Drawn {
  const colour = failed ? FAILED_INK : WARNED_INK;
  const widthMm = (failed ? 0.2 : 0.13) * textMm;
  const radius = RING_RADIUS * textMm;
  const dash = failed ? {} : { dash: { lengthsMm: [0.3 * textMm, 0.2 * textMm] } };
  const ring = circleChain(at, radius);
  const foot = { x: at.x + 1.05 * radius, y: at.y + 0.95 * radius };
  const wide = type.width(text, { sizeMm: textMm, weight: "bold" });
  const box = boundsOf([foot, { x: foot.x + wide, y: foot.y + CAPITAL_HEIGHT * textMm }]);
  return {
    items: [
      // A white ring below keeps the mark clear of dark leather and wood.
      { kind: "line", chains: [ring], colour: "#fff", widthMm: widthMm + 0.16 * textMm },
      { kind: "line", chains: [ring], colour, widthMm, ...dash },
      { ...words(text, foot, textMm), colour, weight: "bold" },
    ],
    room: growBounds(mergeBounds([growBounds(boundsOf([at]), radius), box]), widthMm + RIM * textMm),
  };
}

function ruler({ at, lengthMm }: ItemOf<"ruler">, textMm: number, type: Typesetter): Drawn {
  const fields = fieldCount(lengthMm);
  const wide = lengthMm / fields;
  const high = BAR_HEIGHT * textMm;
  const field = (from: number, to: number) =>
    rectangleChain({ minX: at.x + from, minY: at.y - high, maxX: at.x + to, maxY: at.y });
  const dark = Array.from({ length: Math.ceil(fields / 2) }, (_, i) =>
    field(2 * i * wide, (2 * i + 1) * wide),
  );
  const foot = at.y - high - 1.15 * textMm;
  const text = formatMm(lengthMm);
  const edge = { colour: INK, widthMm: LINE_WIDTH * textMm };
  const half = type.width(text, { sizeMm: textMm }) / 2;
  return {
    items: [
      { kind: "area", chains: [field(0, lengthMm)], fill: "#fff", edge },
      { kind: "area", chains: dark, fill: INK },
      words("0", { x: at.x, y: foot }, textMm, { anchor: "middle" }),
      words(text, { x: at.x + lengthMm, y: foot }, textMm, { anchor: "middle" }),
    ],
    room: boundsOf([
      { x: at.x - textMm / 2, y: at.y + edge.widthMm },
      { x: at.x + lengthMm + half, y: foot - 0.25 * textMm },
    ]),
  };
}

type Words = Extract<PaperItem, { readonly kind: "text" }>;

function words(text: string, at: Point, sizeMm: number, more: Pick<Words, "turnRad" | "anchor"> = {}): Words {
  return { kind: "text", text, at, sizeMm, colour: INK, clearMm: RIM * sizeMm, ...more };
}
