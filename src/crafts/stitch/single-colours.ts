/**
 * Which colours of thread need to be put in only once. Where colour A passes beneath colour B, a
 * block of A comes before a block of B; a colour that comes twice, first for what lies beneath
 * others and last for what lies over them, fits in anywhere. So those that come once may not be
 * beneath one another in a circle, and blocks = 2 x colours - those that come once: the largest
 * set without a circle is looked for. It is found by trying, with a bound as in searches for
 * cliques (Tomita and Seki, "An efficient branch-and-bound algorithm for finding a maximum
 * clique", 2003): of colours that pass beneath and over each other, pair by pair, only one can be
 * in the set.
 */

/** For each colour, those that it passes beneath somewhere. */
export type Beneath = readonly ReadonlySet<number>[];

export interface SingleColours {
  /** Colours that come once, each before those that it passes beneath. */
  readonly once: readonly number[];
  /** No set can be larger; as large as `once` unless the search was given up. */
  readonly mostOnce: number;
}

/** Sets that are tried before the search is given up; the best by then is a sound one. */
const MOST_TRIES = 20_000;

export function singleColours(beneath: Beneath): SingleColours {
  const colours = [...beneath.keys()].sort((a, b) => mutual(beneath, a) - mutual(beneath, b) || a - b);
  let best: readonly number[] = [];
  let tries = 0;
  const mostOnce = cliqueCount(beneath, colours);
  const search = (set: readonly number[], open: readonly number[]): void => {
    if (set.length > best.length) best = set;
    for (const [i, colour] of open.entries()) {
      const rest = open.slice(i);
      if (set.length + cliqueCount(beneath, rest) <= best.length || ++tries > MOST_TRIES) return;
      const grown = [...set, colour];
      if (!inOrder(beneath, grown)) continue;
      search(
        grown,
        rest.filter((other) => other !== colour && !crossBothWays(beneath, colour, other)),
      );
    }
  };
  search([], colours);
  return {
    once: inOrder(beneath, best) ?? [],
    mostOnce: tries > MOST_TRIES ? mostOnce : best.length,
  };
}

function crossBothWays(beneath: Beneath, a: number, b: number): boolean {
  return beneath[a]?.has(b) === true && beneath[b]?.has(a) === true;
}

function mutual(beneath: Beneath, colour: number): number {
  let count = 0;
  for (const other of beneath[colour] ?? []) if (beneath[other]?.has(colour)) count++;
  return count;
}

/** Groups, taken as they come, of colours that all cross each other both ways. */
function cliqueCount(beneath: Beneath, colours: readonly number[]): number {
  const cliques: number[][] = [];
  for (const colour of colours) {
    const clique = cliques.find((all) => all.every((other) => crossBothWays(beneath, colour, other)));
    if (clique) clique.push(colour);
    else cliques.push([colour]);
  }
  return cliques.length;
}

/** The set, each colour before those that it passes beneath; undefined if that goes round in a circle. */
function inOrder(beneath: Beneath, set: readonly number[]): readonly number[] | undefined {
  const left = [...set].sort((a, b) => a - b);
  const ordered: number[] = [];
  while (left.length > 0) {
    // Free to come next: nothing that is left passes beneath it.
    const next = left.findIndex(
      (colour) => !left.some((other) => other !== colour && beneath[other]?.has(colour)),
    );
    const [colour] = next < 0 ? [] : left.splice(next, 1);
    if (colour === undefined) return undefined;
    ordered.push(colour);
  }
  return ordered;
}
