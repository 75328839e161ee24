/** Plain polygons measured by plain means: distances, inside or outside, crossings. Knows no arcs and no code of ours. */

export interface Place {
  readonly x: number;
  readonly y: number;
}

export type Line = readonly Place[];

interface Side {
  readonly from: Place;
  readonly to: Place;
  readonly line: number;
  readonly index: number;
}

/** Sides are looked up by the cells of this size that their boxes touch. */
const CELL_MM = 2;

/** Many lines, closed or open, looked up by place. Distances of more than one cell are not told apart. */
export class SideField {
  readonly #cells = new Map<string, Side[]>();
  readonly #rows = new Map<number, Side[]>();
  readonly #sides: Side[] = [];
  readonly #counts: number[];
  readonly #closed: boolean;

  constructor(lines: readonly Line[], closed: boolean) {
    this.#closed = closed;
    this.#counts = lines.map((line) => line.length);
    for (const [number, line] of lines.entries()) {
      for (const [index, from] of line.entries()) {
        const to = line[index + 1] ?? (closed ? line[0] : undefined);
        if (to) this.#add({ from, to, line: number, index });
      }
    }
  }

  #add(side: Side): void {
    this.#sides.push(side);
    const { from, to } = side;
    for (let row = cellOf(Math.min(from.y, to.y)); row <= cellOf(Math.max(from.y, to.y)); row++)
      put(this.#rows, row, side);
    for (const key of cellsOf(from, to, 0)) put(this.#cells, key, side);
  }

  *#near(from: Place, to: Place, margin: number): Iterable<Side> {
    for (const key of cellsOf(from, to, margin)) yield* this.#cells.get(key) ?? [];
  }

  /** mm from the place to the nearest side, at most CELL_MM. */
  distance(place: Place, except = -1): number {
    let least = CELL_MM;
    for (const side of this.#near(place, place, CELL_MM))
      if (side.line !== except) least = Math.min(least, apart(place, side));
    return least;
  }

  /** Whether the place lies inside the closed lines, by the even-odd rule. */
  isInside({ x, y }: Place): boolean {
    let inside = false;
    for (const { from, to } of this.#rows.get(cellOf(y)) ?? []) {
      if (from.y > y !== to.y > y && x < from.x + ((y - from.y) / (to.y - from.y)) * (to.x - from.x))
        inside = !inside;
    }
    return inside;
  }

  /** mm between the nearest two of the lines, at most CELL_MM. */
  leastApart(): number {
    return Math.min(CELL_MM, ...this.#sides.map(({ from, line }) => this.distance(from, line)));
  }

  /** Places at which two sides that do not follow each other cross or touch. */
  meetings(): Place[] {
    const found: Place[] = [];
    for (const side of this.#sides) {
      for (const other of this.#near(side.from, side.to, 0)) {
        const later = other.line > side.line || (other.line === side.line && other.index > side.index);
        if (later && !this.#follow(side, other) && meet(side, other)) found.push(side.from);
      }
    }
    return found;
  }

  #follow(a: Side, b: Side): boolean {
    if (a.line !== b.line) return false;
    const between = Math.abs(a.index - b.index);
    return between <= 1 || (this.#closed && between === (this.#counts[a.line] ?? 0) - 1);
  }
}

function cellOf(value: number): number {
  return Math.floor(value / CELL_MM);
}

function put<K>(map: Map<K, Side[]>, key: K, side: Side): void {
  const known = map.get(key);
  if (known) known.push(side);
  else map.set(key, [side]);
}

function* cellsOf(from: Place, to: Place, margin: number): Iterable<string> {
  const right = cellOf(Math.max(from.x, to.x) + margin);
  const top = cellOf(Math.max(from.y, to.y) + margin);
  for (let x = cellOf(Math.min(from.x, to.x) - margin); x <= right; x++)
    for (let y = cellOf(Math.min(from.y, to.y) - margin); y <= top; y++) yield `${x},${y}`;
}

function apart(place: Place, { from, to }: Side): number {
  const x = to.x - from.x;
  const y = to.y - from.y;
  const squared = x * x + y * y;
  const along = squared === 0 ? 0 : ((place.x - from.x) * x + (place.y - from.y) * y) / squared;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(place.x - from.x - share * x, place.y - from.y - share * y);
}

function meet(a: Side, b: Side): boolean {
  const side = ({ from, to }: Side, p: Place) =>
    Math.sign((to.x - from.x) * (p.y - from.y) - (to.y - from.y) * (p.x - from.x));
  const boxesApart =
    Math.max(a.from.x, a.to.x) < Math.min(b.from.x, b.to.x) ||
    Math.max(b.from.x, b.to.x) < Math.min(a.from.x, a.to.x) ||
    Math.max(a.from.y, a.to.y) < Math.min(b.from.y, b.to.y) ||
    Math.max(b.from.y, b.to.y) < Math.min(a.from.y, a.to.y);
  return !boxesApart && side(a, b.from) * side(a, b.to) <= 0 && side(b, a.from) * side(b, a.to) <= 0;
}

/** Every corner of closed lines, and places along their sides no more than `step` mm apart. */
export function* placesAlong(lines: readonly Line[], step: number): Iterable<Place> {
  for (const line of lines) {
    for (const [i, from] of line.entries()) {
      const to = line[i + 1] ?? line[0] ?? from;
      const count = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / step));
      for (let j = 0; j < count; j++)
        yield { x: from.x + ((to.x - from.x) * j) / count, y: from.y + ((to.y - from.y) * j) / count };
    }
  }
}
