/**
 * The nearest right word to a mistyped one, by edit distance (Wagner & Fischer,
 * "The String-to-String Correction Problem", J. ACM 21, 1974), letter case ignored.
 */

/** Nobody mistypes one of our short words this long; it also bounds the work, which is a product of lengths. */
const LONGEST_WORD = 64;

/** Fewer shared letters than this at the start say nothing. */
const LEAST_STEM = 3;

/** The known word nearest to `found`, or undefined when none is near enough to be meant. */
export function nearestWord(found: string, known: readonly string[]): string | undefined {
  if (found.length > LONGEST_WORD) return undefined;
  const wanted = found.toLowerCase();
  let best: string | undefined;
  let bestDistance = Math.max(2, Math.ceil(found.length / 3)) + 1;
  for (const word of known) {
    const distance = editDistance(wanted, word.toLowerCase());
    const sharesNothing = distance >= Math.max(wanted.length, word.length);
    if (distance < bestDistance && !sharesNothing) {
      best = word;
      bestDistance = distance;
    }
  }
  return best ?? known.find((word) => haveOneStem(wanted, word.toLowerCase()));
}

/** Whether one is the other with an ending left off, as `width` is of `widthPerPitch`. */
function haveOneStem(a: string, b: string): boolean {
  return Math.min(a.length, b.length) >= LEAST_STEM && (a.startsWith(b) || b.startsWith(a));
}

function editDistance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const replaced = (previous[column - 1] ?? 0) + (a[row - 1] === b[column - 1] ? 0 : 1);
      current.push(Math.min((previous[column] ?? 0) + 1, (current[column - 1] ?? 0) + 1, replaced));
    }
    previous = current;
  }
  return previous[b.length] ?? 0;
}
