/**
 * Patterns of breaklines on a plain lattice: every site inside holds a crossing or one of two
 * breaklines. Turning and mirroring the lattice moves sites, and exchanges the two kinds of
 * breakline where it exchanges rows and columns; patterns that come onto each other so are one
 * exercise.
 */

/** Cells across and down. */
export interface LatticeSize {
  readonly across: number;
  readonly down: number;
}

/** What stands at a site inside. */
export const SITE_CROSSING = 0;
export const SITE_LEVEL = 1;
const SITE_UPRIGHT = 2;

/** What stands at each site inside, row by row, as {@link innerSites} lists them. */
export type BreakPattern = readonly number[];

interface Site {
  readonly row: number;
  readonly column: number;
}

/** The places of the sites inside: 2pq - p - q of them. */
export function innerSites({ across, down }: LatticeSize): Site[] {
  const sites: Site[] = [];
  for (let row = 1; row < 2 * down; row++) {
    for (let column = 1 + (row % 2); column < 2 * across; column += 2) sites.push({ row, column });
  }
  return sites;
}

/** The panel as text (rows of places), its boundary written down. */
export function patternRows(size: LatticeSize, pattern: BreakPattern): string[] {
  const last = { row: 2 * size.down, column: 2 * size.across };
  const rows = Array.from({ length: last.row + 1 }, (_, row) =>
    Array.from({ length: last.column + 1 }, (_, column): string => {
      if (row % 2 === column % 2) return row % 2 === 0 ? "+" : "o";
      return row === 0 || row === last.row ? "-" : "|";
    }),
  );
  for (const [i, { row, column }] of innerSites(size).entries()) {
    const line = rows[row];
    if (line) line[column] = "x-|"[pattern[i] ?? SITE_CROSSING] ?? "x";
  }
  return rows.map((line) => line.join(""));
}

export interface LatticeSymmetry {
  /** The number of the site that each site comes to. */
  readonly to: readonly number[];
  /** Whether level and upright breaklines are exchanged. */
  readonly exchanges: boolean;
  /** Whether left and right hands are exchanged: mirrors do. */
  readonly mirrors: boolean;
}

/** Eight for a square lattice, four for any other (Weyl, "Symmetry", 1952, from memory: the groups D4 and D2). */
export function latticeSymmetries(size: LatticeSize): LatticeSymmetry[] {
  const right = 2 * size.across;
  const bottom = 2 * size.down;
  const moves: {
    readonly move: (at: Site) => Site;
    readonly exchanges: boolean;
    readonly mirrors: boolean;
  }[] = [
    { move: (at) => at, exchanges: false, mirrors: false },
    {
      move: ({ row, column }) => ({ row: bottom - row, column: right - column }),
      exchanges: false,
      mirrors: false,
    },
    { move: ({ row, column }) => ({ row, column: right - column }), exchanges: false, mirrors: true },
    { move: ({ row, column }) => ({ row: bottom - row, column }), exchanges: false, mirrors: true },
  ];
  if (size.across === size.down) {
    moves.push(
      { move: ({ row, column }) => ({ row: column, column: right - row }), exchanges: true, mirrors: false },
      { move: ({ row, column }) => ({ row: right - column, column: row }), exchanges: true, mirrors: false },
      { move: ({ row, column }) => ({ row: column, column: row }), exchanges: true, mirrors: true },
      {
        move: ({ row, column }) => ({ row: right - column, column: right - row }),
        exchanges: true,
        mirrors: true,
      },
    );
  }
  const sites = innerSites(size);
  const numbers = new Map(sites.map(({ row, column }, i) => [`${row} ${column}`, i]));
  return moves.map(({ move, exchanges, mirrors }) => ({
    to: sites.map((site) => {
      const { row, column } = move(site);
      return numbers.get(`${row} ${column}`) ?? -1;
    }),
    exchanges,
    mirrors,
  }));
}

/** The pattern as a symmetry brings it. */
export function movePattern(pattern: BreakPattern, { to, exchanges }: LatticeSymmetry): number[] {
  const moved = new Array<number>(pattern.length).fill(SITE_CROSSING);
  for (const [i, state] of pattern.entries()) moved[to[i] ?? -1] = exchanges ? exchanged(state) : state;
  return moved;
}

function exchanged(state: number): number {
  return state === SITE_CROSSING ? state : SITE_LEVEL + SITE_UPRIGHT - state;
}

/** The same text for all patterns that come onto each other, another for all others. */
export function patternKey(pattern: BreakPattern, symmetries: readonly LatticeSymmetry[]): string {
  const images = symmetries.map((symmetry) => movePattern(pattern, symmetry).join(""));
  return images.sort()[0] ?? "";
}

/**
 * How many patterns there are that do not come onto each other: the mean over all symmetries of
 * the patterns that each leaves as they are (Burnside's lemma; Burnside, "Theory of Groups of
 * Finite Order", 1897, section 118, from memory). Sites that a symmetry moves in a ring of k hold
 * the same; where it exchanges breaklines and k is odd that can only be a crossing.
 *
 * @param hands with them a pattern of each hand counts by itself, and mirrors exchange hands
 */
export function countPatterns(size: LatticeSize, hands: "alike" | "told-apart" = "alike"): bigint {
  const symmetries = latticeSymmetries(size);
  let fixed = 0n;
  for (const symmetry of symmetries) {
    const ofHand = hands === "alike" ? 1n : symmetry.mirrors ? 0n : 2n;
    fixed += ofHand * keptPatterns(symmetry);
  }
  return fixed / BigInt(symmetries.length);
}

function keptPatterns({ to, exchanges }: LatticeSymmetry): bigint {
  const isSeen = new Uint8Array(to.length);
  let kept = 1n;
  for (let first = 0; first < to.length; first++) {
    if (isSeen[first] === 1) continue;
    let length = 0;
    for (let at = first; isSeen[at] === 0; at = to[at] ?? -1) {
      isSeen[at] = 1;
      length++;
    }
    if (!exchanges || length % 2 === 0) kept *= 3n;
  }
  return kept;
}
