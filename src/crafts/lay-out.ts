/** Parts laid out on sheets of material, each part in an upright rectangle. */
import { MaxRectsPacker } from "maxrects-packer/dist/maxrects-packer.mjs";

export interface PartSize {
  readonly width: number;
  readonly height: number;
}

export interface SheetSize {
  readonly width: number;
  readonly height: number;
  /** mm between parts. */
  readonly spacing: number;
}

/** One sheet: which part (by number) lies where, by its lower left corner. */
export interface LaidSheet {
  readonly width: number;
  readonly height: number;
  readonly places: readonly { readonly part: number; readonly x: number; readonly y: number }[];
}

/** The packer compares every part with every free place, so parts go to it by the sheetful. */
const FILL = 0.9;

/** Sheets are tried narrow first, so that a few parts ask for a scrap and not for the whole width. */
const WIDTHS = [1.1, 1.4, 2, 3];

/** Parts larger than a sheet get one of their own: the bed check has told of them. */
export function layOut(parts: readonly PartSize[], sheet: SheetSize): LaidSheet[] {
  const order = parts.map((_, i) => i).sort((a, b) => heightOf(parts, b) - heightOf(parts, a) || a - b);
  const sheets: LaidSheet[] = [];
  let batch: number[] = [];
  let area = 0;
  const flush = () => {
    if (batch.length > 0) sheets.push(...layOutBatch(parts, batch, sheet));
    batch = [];
    area = 0;
  };
  for (const part of order) {
    const { width, height } = parts[part] ?? { width: 0, height: 0 };
    const own = (width + sheet.spacing) * (height + sheet.spacing);
    if (area + own > FILL * sheet.width * sheet.height) flush();
    batch.push(part);
    area += own;
  }
  flush();
  return sheets;
}

function layOutBatch(parts: readonly PartSize[], batch: readonly number[], sheet: SheetSize): LaidSheet[] {
  const padded = batch.map((part) => parts[part] ?? { width: 0, height: 0 });
  const area = padded.reduce(
    (sum, { width, height }) => sum + (width + sheet.spacing) * (height + sheet.spacing),
    0,
  );
  const widest = padded.reduce((most, { width }) => Math.max(most, width), 0);
  for (const factor of WIDTHS) {
    const width = Math.min(sheet.width, Math.max(widest, factor * Math.sqrt(area)));
    const height = Math.min(sheet.height, 1.5 * Math.sqrt(area));
    const sheets = pack(parts, batch, width, height, sheet.spacing);
    if (sheets.length === 1) return sheets;
  }
  return pack(parts, batch, sheet.width, sheet.height, sheet.spacing);
}

function pack(
  parts: readonly PartSize[],
  batch: readonly number[],
  width: number,
  height: number,
  spacing: number,
): LaidSheet[] {
  const packer = new MaxRectsPacker<number>(width, height, spacing, {
    smart: false,
    pot: false,
    square: false,
    allowRotation: false,
    border: 0,
  });
  for (const part of batch) packer.add(parts[part]?.width ?? 0, parts[part]?.height ?? 0, part);
  return packer.bins.map(({ rects }) => ({
    width: rects.reduce((most, rect) => Math.max(most, rect.x + rect.width), 0),
    height: rects.reduce((most, rect) => Math.max(most, rect.y + rect.height), 0),
    places: rects.map(({ data, x, y }) => ({ part: data, x, y })),
  }));
}

function heightOf(parts: readonly PartSize[], part: number): number {
  return parts[part]?.height ?? 0;
}
