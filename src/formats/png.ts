/**
 * PNG files (ISO/IEC 15948): heights in 65536 steps of grey, and coloured pictures. The pixels
 * go through fast-png; what it does not write, the size of a pixel and texts before the pixels,
 * is added by png-chunks.ts.
 */
import { encode } from "fast-png";
import { formatNumber } from "../base/format-number.ts";
import { InternalError } from "../base/internal-error.ts";
import type { HeightField } from "../output/height-field.ts";
import type { RgbImage } from "../output/rgb-image.ts";
import { insertChunks, pixelSizeChunk, textChunk } from "./png-chunks.ts";

const WHITE_16 = 65535;
const SOFTWARE = "plaitwright";
/** Of zlib's nine: beyond this, files hardly get smaller and take many times as long. */
const COMPRESSION = 6;
/** A nanometre for lengths, a thousandth of that for steps of grey: nothing is lost in the text. */
const LENGTH_DECIMALS = 6;
const GREY_STEP_DECIMALS = 9;
/** A palette holds no more. */
const MOST_COLOURS = 256;

export interface GreyScale {
  readonly title: string;
  /** Height of black and of white, mm; heights beyond are clipped to them. */
  readonly lowZMm: number;
  readonly highZMm: number;
}

/**
 * A height field as 16-bit grey, black lowest, white highest, the top row (greatest y) first.
 * The file says how large a pixel and a step of grey are: pHYs in whole pixels to the metre, the
 * Description in mm.
 *
 * @throws InternalError if white is not above black or a height is no number.
 */
export function writePng16(field: HeightField, { title, lowZMm, highZMm }: GreyScale): Uint8Array {
  const { columns, rows, stepMm, z } = field;
  if (!(highZMm > lowZMm)) throw new InternalError(`heights from ${lowZMm} to ${highZMm}`);
  const data = new Uint16Array(columns * rows);
  const scale = WHITE_16 / (highZMm - lowZMm);
  for (let row = 0; row < rows; row++) {
    const from = row * columns;
    const to = (rows - 1 - row) * columns;
    for (let column = 0; column < columns; column++) {
      const grey = Math.round(((z[from + column] ?? 0) - lowZMm) * scale);
      if (Number.isNaN(grey)) throw new InternalError("a height that is no number");
      data[to + column] = Math.min(Math.max(grey, 0), WHITE_16);
    }
  }
  const png = encode(
    { width: columns, height: rows, data, depth: 16, channels: 1 },
    { zlib: { level: COMPRESSION } },
  );
  return insertChunks(png, [
    pixelSizeChunk(stepMm),
    textChunk("Title", title),
    textChunk("Description", scaleText(stepMm, lowZMm, highZMm)),
    textChunk("Software", SOFTWARE),
  ]);
}

/** What the job sheet says as well. */
function scaleText(stepMm: number, lowZMm: number, highZMm: number): string {
  const mm = (length: number) => `${formatNumber(length, LENGTH_DECIMALS)} mm`;
  const greyStep = formatNumber((highZMm - lowZMm) / WHITE_16, GREY_STEP_DECIMALS);
  return [
    `Height map. Black: z = ${mm(lowZMm)}; white: z = ${mm(highZMm)}; z = 0 is the upper face of the stock.`,
    `1 step of grey = ${greyStep} mm; 1 pixel = ${mm(stepMm)}.`,
  ].join("\n");
}

export interface RgbPngFacts {
  readonly title?: string;
  /** Size of a pixel on the piece, mm. */
  readonly stepMm?: number;
}

/** A picture with 8 bits for each colour; as a palette where it has few enough colours, which is a third of the size. */
export function writePngRgb(image: RgbImage, { title, stepMm }: RgbPngFacts = {}): Uint8Array {
  const { width, height, data } = image;
  if (data.length !== 3 * width * height)
    throw new InternalError(`${data.length} bytes for ${width} x ${height} pixels`);
  const few = paletteOf(data);
  const png = encode(
    few
      ? { width, height, data: few.indices, depth: 8, channels: 1, palette: few.palette }
      : { width, height, data, depth: 8, channels: 3 },
    { zlib: { level: COMPRESSION } },
  );
  return insertChunks(png, [
    ...(stepMm === undefined ? [] : [pixelSizeChunk(stepMm)]),
    ...(title === undefined ? [] : [textChunk("Title", title)]),
    textChunk("Software", SOFTWARE),
  ]);
}

interface FewColours {
  readonly palette: [number, number, number][];
  readonly indices: Uint8Array;
}

/** The picture's colours in the order of their first use; nothing where they are too many. */
function paletteOf(data: Uint8Array): FewColours | undefined {
  const numbers = new Map<number, number>();
  const palette: [number, number, number][] = [];
  const indices = new Uint8Array(data.length / 3);
  for (let i = 0; i < indices.length; i++) {
    const [red = 0, green = 0, blue = 0] = [data[3 * i], data[3 * i + 1], data[3 * i + 2]];
    const colour = (red << 16) | (green << 8) | blue;
    let index = numbers.get(colour);
    if (index === undefined) {
      index = palette.length;
      if (index === MOST_COLOURS) return undefined;
      numbers.set(colour, index);
      palette.push([red, green, blue]);
    }
    indices[i] = index;
  }
  return { palette, indices };
}
