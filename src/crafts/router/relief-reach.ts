/**
 * Where a ball cutter may go over a height field, and what it reaches. Its tip may come down at
 * (x, y) to the greatest of z + height of the ball above its tip, taken over the pixels under it:
 * dilation by the ball. Only the middles of pixels count, so the surface is known to a pixel.
 *
 * The ball's height is r - sqrt(r^2 - q) for the squared distance q: convex, so for pixels of a row
 * that lies dy away it is at least the row's own h(dx) plus h(dy). With each row dilated along
 * itself beforehand (`crests`), most rows under the ball are dismissed by one comparison.
 */
import type { HeightField } from "../../output/height-field.ts";

/** Pixels whose middles lie this share of a pixel outside the ball's rim count as under it: rounding must not part what lies on it. */
const RIM_SLACK = 1e-6;

/** Drops a ball on a height field along lines of constant y. */
export class BallDropper {
  readonly #field: HeightField;
  readonly #radius: number;
  /** For each pixel, the tip's height over it as far as its own row decides. */
  readonly #crests: Float32Array;
  /** For each column, the highest crest of all rows under the ball. */
  readonly #highest: Float32Array;
  /** The rows under the ball, nearest first: index of the first pixel, square of dy, height of the ball there, half the chord in pixels. */
  readonly #offsets: Int32Array;
  readonly #squares: Float64Array;
  readonly #heights: Float64Array;
  readonly #chords: Float64Array;
  #rowCount = 0;
  #y = Number.NaN;
  /** The pixel that the last ball came to rest on (its column, and which of the rows under the ball): the next one most often rests near it. */
  #restColumn = 0;
  #restRow = 0;

  constructor(field: HeightField, radiusMm: number) {
    this.#field = field;
    this.#radius = radiusMm;
    this.#crests = rowCrests(field, radiusMm);
    this.#highest = new Float32Array(field.columns);
    const most = 2 * Math.ceil(radiusMm / field.stepMm) + 2;
    this.#offsets = new Int32Array(most);
    this.#squares = new Float64Array(most);
    this.#heights = new Float64Array(most);
    this.#chords = new Float64Array(most);
  }

  /** The line that `tipAt` drops on from now on. */
  moveTo(y: number): void {
    if (y === this.#y) return;
    this.#y = y;
    const { minY, stepMm, rows, columns } = this.#field;
    const r = this.#radius;
    const place = (y - minY) / stepMm - 0.5;
    const reach = r / stepMm + RIM_SLACK;
    const under: { row: number; off: number }[] = [];
    for (let row = Math.max(0, Math.ceil(place - reach)); row <= Math.min(rows - 1, place + reach); row++)
      under.push({ row, off: Math.abs(row - place) });
    under.sort((a, b) => a.off - b.off);
    this.#highest.fill(Number.NEGATIVE_INFINITY);
    for (const [i, { row, off }] of under.entries()) {
      const square = (off * stepMm) ** 2;
      this.#offsets[i] = row * columns;
      this.#squares[i] = square;
      this.#heights[i] = r - Math.sqrt(Math.max(0, r * r - square));
      this.#chords[i] = Math.sqrt(Math.max(0, reach * reach - off * off));
      raiseBy(this.#highest, this.#crests, row * columns);
    }
    this.#rowCount = under.length;
    this.#restRow = 0;
  }

  /** The lowest that the ball's tip may come at x; minus infinity where no pixel lies under it. */
  tipAt(x: number): number {
    const { minX, stepMm, columns } = this.#field;
    const crests = this.#crests;
    const place = (x - minX) / stepMm - 0.5;
    // Between two pixels no pixel's own arc has its top: the crest is at most the higher one's.
    const left = Math.min(columns - 1, Math.max(0, Math.floor(place + RIM_SLACK)));
    const right = Math.min(columns - 1, Math.max(0, Math.ceil(place - RIM_SLACK)));
    const most = Math.max(this.#highest[left] ?? 0, this.#highest[right] ?? 0);
    let best = this.#restHeight(place);
    for (let i = 0; i < this.#rowCount; i++) {
      const down = this.#heights[i] ?? 0;
      if (most - down <= best) break;
      const offset = this.#offsets[i] ?? 0;
      const crest = Math.max(crests[offset + left] ?? 0, crests[offset + right] ?? 0);
      if (crest - down > best) best = this.#alongRow(i, place, best);
    }
    return best;
  }

  /** The tip's height as row `i` decides it, if that is above `above`. */
  #alongRow(i: number, place: number, above: number): number {
    const { stepMm, columns, z } = this.#field;
    const r = this.#radius;
    const offset = this.#offsets[i] ?? 0;
    const down = this.#heights[i] ?? 0;
    const chord = this.#chords[i] ?? 0;
    const room = r * r - (this.#squares[i] ?? 0);
    const last = Math.min(columns - 1, Math.floor(place + chord));
    let best = above;
    for (let column = Math.max(0, Math.ceil(place - chord)); column <= last; column++) {
      const height = z[offset + column] ?? 0;
      if (height - down <= best) continue;
      const dx = (column - place) * stepMm;
      const tip = height - r + Math.sqrt(Math.max(0, room - dx * dx));
      if (tip <= best) continue;
      best = tip;
      this.#restColumn = column;
      this.#restRow = i;
    }
    return best;
  }

  /** The tip's height as the pixel that the last ball rested on decides it. */
  #restHeight(place: number): number {
    const column = this.#restColumn;
    const row = this.#restRow;
    const nothing = Number.NEGATIVE_INFINITY;
    const off = column - place;
    if (row >= this.#rowCount || Math.abs(off) > (this.#chords[row] ?? 0)) return nothing;
    const { z, stepMm } = this.#field;
    const r = this.#radius;
    const dx = off * stepMm;
    const height = z[(this.#offsets[row] ?? 0) + column] ?? nothing;
    return height - r + Math.sqrt(Math.max(0, r * r - (this.#squares[row] ?? 0) - dx * dx));
  }
}

function raiseBy(highest: Float32Array, crests: Float32Array, offset: number): void {
  for (let i = 0; i < highest.length; i++) {
    const crest = crests[offset + i] ?? 0;
    if (crest > (highest[i] ?? 0)) highest[i] = crest;
  }
}

/** Every row dilated along itself by the ball's middle section. */
function rowCrests({ z, columns, rows, stepMm }: HeightField, radius: number): Float32Array {
  const crests = new Float32Array(z.length);
  const reach = Math.floor(radius / stepMm + RIM_SLACK);
  const heights = Float64Array.from({ length: reach + 1 }, (_, i) => {
    const dx = i * stepMm;
    return radius - Math.sqrt(Math.max(0, radius * radius - dx * dx));
  });
  for (let row = 0; row < rows; row++) {
    const start = row * columns;
    for (let column = 0; column < columns; column++) {
      let best = z[start + column] ?? 0;
      const most = Math.min(reach, Math.max(column, columns - 1 - column));
      for (let i = 1; i <= most; i++) {
        const down = heights[i] ?? 0;
        if (column >= i) best = Math.max(best, (z[start + column - i] ?? 0) - down);
        if (column + i < columns) best = Math.max(best, (z[start + column + i] ?? 0) - down);
      }
      crests[start + column] = best;
    }
  }
  // Rounded up, so that a crest never dismisses a row that would have raised the ball.
  for (let i = 0; i < crests.length; i++) crests[i] = (crests[i] ?? 0) + CREST_ROUNDING_MM;
  return crests;
}

/** More than single precision loses at the heights of a panel. */
const CREST_ROUNDING_MM = 1e-5;

/** The lowest that the ball's tip may come at one place. */
export function tipAtPlace(field: HeightField, radiusMm: number, x: number, y: number): number {
  const { columns, rows, stepMm, minX, minY, z } = field;
  const reach = radiusMm / stepMm + RIM_SLACK;
  const across = (x - minX) / stepMm - 0.5;
  const up = (y - minY) / stepMm - 0.5;
  let best = Number.NEGATIVE_INFINITY;
  for (let row = Math.max(0, Math.ceil(up - reach)); row <= Math.min(rows - 1, up + reach); row++) {
    const chord = Math.sqrt(Math.max(0, reach * reach - (row - up) ** 2));
    const last = Math.min(columns - 1, Math.floor(across + chord));
    for (let column = Math.max(0, Math.ceil(across - chord)); column <= last; column++) {
      const square = ((row - up) ** 2 + (column - across) ** 2) * stepMm * stepMm;
      const tip =
        (z[row * columns + column] ?? best) - radiusMm + Math.sqrt(Math.max(0, radiusMm * radiusMm - square));
      if (tip > best) best = tip;
    }
  }
  return best;
}

/** The lowest that the ball's tip may come over each pixel. */
export function tipField(field: HeightField, radiusMm: number): HeightField {
  const dropper = new BallDropper(field, radiusMm);
  const { columns, rows, stepMm, minX, minY } = field;
  const z = new Float32Array(field.z.length);
  for (let row = 0; row < rows; row++) {
    dropper.moveTo(minY + (row + 0.5) * stepMm);
    for (let column = 0; column < columns; column++)
      z[row * columns + column] = dropper.tipAt(minX + (column + 0.5) * stepMm);
  }
  return { ...field, z };
}

/** What is left when the ball's tip has been at each pixel's height: erosion by the ball. */
export function sweptField(tips: HeightField, radiusMm: number): HeightField {
  const swept = tipField({ ...tips, z: negated(tips.z) }, radiusMm);
  return { ...swept, z: negated(swept.z) };
}

/**
 * The surface as the ball can make it, with lines as close as pixels: the closing of the field,
 * nowhere below it. In inner edges the ball's radius stays.
 */
export function reachableField(field: HeightField, radiusMm: number): HeightField {
  return sweptField(tipField(field, radiusMm), radiusMm);
}

function negated(z: Float32Array): Float32Array {
  return z.map((height) => -height);
}
