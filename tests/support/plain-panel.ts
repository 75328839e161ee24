/** The text of a plain panel of `p` x `q` cells (DESIGN.md, "Lattice panels"). */
export function plainPanel(p: number, q: number): string[] {
  return Array.from({ length: 2 * q + 1 }, (_, row) =>
    Array.from({ length: 2 * p + 1 }, (_, column) => {
      if (row % 2 === column % 2) return row % 2 === 0 ? "+" : "o";
      if (row === 0 || row === 2 * q) return "-";
      return column === 0 || column === 2 * p ? "|" : "x";
    }).join(""),
  );
}

/** DESIGN.md's border of three strands round a hole that lies half a cell off. */
export const BORDER_OF_THREE = [
  "+-+-+-+-+-+-+",
  "|oxoxoxoxoxo|",
  "+x+x+x+x+x+x+",
  "|oxo-o-o-oxo|",
  "+x+|     |+x+",
  "|oxo     oxo|",
  "+x+|     |+x+",
  "|oxo-o-o-oxo|",
  "+x+x+x+x+x+x+",
  "|oxoxoxoxoxo|",
  "+-+-+-+-+-+-+",
];
