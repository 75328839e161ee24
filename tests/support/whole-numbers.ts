/** Exact linear algebra on small matrices. */

/** The determinant by fraction-free elimination (Bareiss, Math. Comp. 22, 1968). */
export function determinant(matrix: readonly (readonly bigint[])[]): bigint {
  const rows = matrix.map((row) => [...row]);
  let sign = 1n;
  let before = 1n;
  for (let k = 0; k < rows.length; k++) {
    const swap = rows.findIndex((row, i) => i >= k && row[k] !== 0n);
    const pivotRow = rows[swap];
    const here = rows[k];
    if (!pivotRow || !here) return 0n;
    if (swap !== k) {
      rows[swap] = here;
      rows[k] = pivotRow;
      sign = -sign;
    }
    const pivot = pivotRow[k] ?? 0n;
    for (const row of rows.slice(k + 1)) {
      const lead = row[k] ?? 0n;
      // Where both are 0 nothing changes but the factor.
      for (let j = k + 1; j < row.length; j++)
        row[j] = (pivot * (row[j] ?? 0n) - lead * (pivotRow[j] ?? 0n)) / before;
      row[k] = 0n;
    }
    before = pivot;
  }
  return sign * before;
}

/** How many rows too few the matrix has, counted modulo 2, to be of full rank. */
export function corankModulo2(matrix: readonly (readonly bigint[])[]): number {
  let rows = matrix.map((row) =>
    row.reduce((bits, value, i) => ((value & 1n) === 1n ? bits | (1n << BigInt(i)) : bits), 0n),
  );
  let rank = 0;
  while (rows.length > 0) {
    const [first = 0n, ...others] = rows;
    if (first !== 0n) {
      rank++;
      const lowest = first & -first;
      rows = others.map((row) => ((row & lowest) !== 0n ? row ^ first : row));
    } else rows = others;
  }
  return matrix.length - rank;
}

export function zeros(rows: number, columns: number): bigint[][] {
  return Array.from({ length: rows }, () => new Array<bigint>(columns).fill(0n));
}

export function addTo(matrix: bigint[][], row: number, column: number, value: bigint): void {
  const line = matrix[row];
  if (line) line[column] = (line[column] ?? 0n) + value;
}

/** The matrix without its last row and column. */
export function firstMinor(matrix: readonly (readonly bigint[])[]): bigint[][] {
  return matrix.slice(0, -1).map((row) => row.slice(0, -1));
}
