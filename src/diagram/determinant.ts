/**
 * The determinant of a link, exactly: the determinant of its Goeritz matrix, the Laplacian of
 * the checkerboard graph in which a line counts +1 or -1 as its crossing is of hand S or Z,
 * less one row and column (Goeritz 1933; Gordon and Litherland, On the signature of a link,
 * Invent. Math. 47, 1978). In an alternating diagram all signs agree and it counts spanning
 * trees (Kirchhoff 1847; Crowell, Genus of alternating link types, 1959).
 */
import { InternalError } from "../base/internal-error.ts";
import { checkerboardGraph } from "./checkerboard.ts";
import type { Faces } from "./faces.ts";
import { crossingCount, type KnotDiagram } from "./knot-diagram.ts";

export type LinkDeterminant =
  | { readonly kind: "known"; readonly value: bigint }
  /** More crossings than can be reckoned with in a few seconds. */
  | { readonly kind: "too-large"; readonly crossings: number; readonly most: number };

/** The answer has about 500 digits then and takes some three seconds; twice as many take ten times as long. */
export const MOST_CROSSINGS = 2000;

/**
 * 0 for a diagram in several parts (they can be pulled apart, so the link is split), 1 for a
 * closed strand without a crossing.
 */
export function linkDeterminant(diagram: KnotDiagram, faces: Faces): LinkDeterminant {
  const crossings = crossingCount(diagram);
  if (faces.parts > 1) return { kind: "known", value: 0n };
  if (crossings === 0) return { kind: "known", value: 1n };
  if (crossings > MOST_CROSSINGS) return { kind: "too-large", crossings, most: MOST_CROSSINGS };
  const { vertices, lines } = checkerboardGraph(diagram, faces);
  const matrix = new SparseMatrix(vertices - 1);
  for (const [crossing, [a, b]] of lines.entries()) {
    if (a === b) continue;
    // weave.ts: the faces that the over-strand sweeps are dark in hand S, light in hand Z.
    const swept = 4 * crossing + (diagram.over[crossing] ?? 0);
    const weight = faces.dark[faces.faceOf[swept] ?? -1] === 1 ? 1n : -1n;
    matrix.add(a, a, weight);
    matrix.add(b, b, weight);
    matrix.add(a, b, -weight);
    matrix.add(b, a, -weight);
  }
  return { kind: "known", value: matrix.takeDeterminant() };
}

/**
 * A square matrix of whole numbers, most of them 0, and its fraction-free elimination (Bareiss,
 * Math. Comp. 22, 1968): after each step every entry is a minor of the matrix, so that the
 * division by the pivot before the last leaves no rest. A row that a step does not touch would
 * only change its factor from one pivot to the next; that is made up for when it is touched.
 * Pivots are taken where rows and columns are short, which keeps a planar graph's matrix sparse
 * (Markowitz, Management Science 3, 1957).
 */
class SparseMatrix {
  readonly #rows: Map<number, bigint>[];
  /** The rows, of those still to be eliminated, in which each column has an entry. */
  readonly #columns: Set<number>[];
  /** The pivot of the step that touched each row last, and of the last step of all. */
  readonly #factors: bigint[];
  #before = 1n;

  constructor(size: number) {
    this.#rows = Array.from({ length: size }, () => new Map<number, bigint>());
    this.#columns = Array.from({ length: size }, () => new Set<number>());
    this.#factors = new Array<bigint>(size).fill(1n);
  }

  /** Entries outside the matrix are left out, which takes the minor. */
  add(row: number, column: number, value: bigint): void {
    if (row < this.#rows.length && column < this.#columns.length)
      this.#put(row, column, (this.#row(row).get(column) ?? 0n) + value);
  }

  /** The determinant without its sign. The matrix is used up. */
  takeDeterminant(): bigint {
    const left = new Set(this.#rows.keys());
    while (left.size > 0) {
      const row = leastBy(left, (one) => this.#row(one).size);
      if (this.#row(row).size === 0) return 0n;
      left.delete(row);
      this.#eliminate(row);
    }
    return this.#before < 0n ? -this.#before : this.#before;
  }

  #eliminate(pivotRow: number): void {
    const ahead = this.#brought(pivotRow);
    const pivotColumn = leastBy(ahead.keys(), (one) => this.#column(one).size);
    const pivot = ahead.get(pivotColumn) ?? 0n;
    for (const column of ahead.keys()) this.#column(column).delete(pivotRow);
    ahead.delete(pivotColumn);
    for (const row of [...this.#column(pivotColumn)]) {
      const line = this.#brought(row);
      const lead = line.get(pivotColumn) ?? 0n;
      this.#put(row, pivotColumn, 0n);
      for (const [column, value] of line) line.set(column, value * pivot);
      for (const [column, value] of ahead) this.#put(row, column, (line.get(column) ?? 0n) - lead * value);
      for (const [column, value] of line) line.set(column, value / this.#before);
      this.#factors[row] = pivot;
    }
    this.#before = pivot;
  }

  /** The row with the factor that the last step gave to all. */
  #brought(row: number): Map<number, bigint> {
    const line = this.#row(row);
    const factor = this.#factors[row] ?? 1n;
    for (const [column, value] of line) line.set(column, (value * this.#before) / factor);
    return line;
  }

  #put(row: number, column: number, value: bigint): void {
    if (value === 0n) {
      this.#row(row).delete(column);
      this.#column(column).delete(row);
    } else {
      this.#row(row).set(column, value);
      this.#column(column).add(row);
    }
  }

  #row(row: number): Map<number, bigint> {
    const found = this.#rows[row];
    if (!found) throw new InternalError(`there is no row ${row}`);
    return found;
  }

  #column(column: number): Set<number> {
    const found = this.#columns[column];
    if (!found) throw new InternalError(`there is no column ${column}`);
    return found;
  }
}

function leastBy(among: Iterable<number>, size: (one: number) => number): number {
  let least = -1;
  let best = Number.POSITIVE_INFINITY;
  for (const one of among) {
    const own = size(one);
    if (own >= best) continue;
    best = own;
    least = one;
  }
  return least;
}
