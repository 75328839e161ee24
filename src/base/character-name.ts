/**
 * Characters by name, for messages: many look alike on the screen, and some cannot be
 * seen at all. Names follow the Unicode character database.
 */

const NAMES: ReadonlyMap<string, string> = new Map([
  ["\t", "a tab"],
  [" ", "a space"],
  ["\n", "a line break"],
  ["\r", "a line break"],
  ["\u001b", "an escape character"],
  ["\u0000", "a null character"],
  ["\u007f", "a delete character"],
  ["\u00a0", "a non-breaking space"],
  ["\u00ad", "a soft hyphen"],
  ["\u00d7", "a multiplication sign"],
  ["\u200b", "a zero-width space"],
  ["\u200e", "a left-to-right mark"],
  ["\u200f", "a right-to-left mark"],
  ["\u2010", "a typographic hyphen"],
  ["\u2011", "a non-breaking hyphen"],
  ["\u2013", "an en dash"],
  ["\u2014", "an em dash"],
  ["\u2018", "a curly quote"],
  ["\u2019", "a curly quote"],
  ["\u201c", "a curly quote"],
  ["\u201d", "a curly quote"],
  ["\u2212", "a minus sign"],
  ["\u2500", "a box-drawing line"],
  ["\u2502", "a box-drawing line"],
  ["\u253c", "a box-drawing cross"],
  ["\u3000", "an ideographic space"],
  ["\ufeff", "a byte-order mark"],
]);

const SCRIPTS: readonly (readonly [string, RegExp])[] = [
  ["Cyrillic", /^\p{Script=Cyrillic}$/u],
  ["Greek", /^\p{Script=Greek}$/u],
  ["full-width", /^[\uff01-\uff5e]$/],
];

/** Characters that a screen shows as nothing, or that change how what follows is shown. */
const UNSEEN = /[\p{C}\p{Zl}\p{Zp}]|(?! )\p{Zs}/gu;

/**
 * One character in words, e.g. "a tab (U+0009)", "the Cyrillic character `х` (U+0445)"; plain
 * ASCII is shown as it is: "`q`". No text at all is "nothing".
 */
export function characterName(text: string): string {
  const [character] = text;
  if (character === undefined) return "nothing";
  const name = NAMES.get(character);
  if (name !== undefined) return `${name} (${codePoint(character)})`;
  if (/^[!-~]$/.test(character)) return `\`${character}\``;
  if (readable(character) !== character) return `an unprintable character (${codePoint(character)})`;
  const script = SCRIPTS.find(([, pattern]) => pattern.test(character))?.[0];
  const shown = script ? `the ${script} character ` : "";
  return `${shown}\`${readable(character)}\` (${codePoint(character)})`;
}

/** Text from a file made safe and short for a message: what cannot be seen is shown by its code point. */
export function readable(text: string, most = 60): string {
  const characters = [...text.slice(0, 2 * most + 2)];
  const clipped = characters.length > most ? `${characters.slice(0, most - 1).join("")}…` : text;
  return clipped.replace(UNSEEN, (character) => `<${codePoint(character)}>`);
}

function codePoint(character: string): string {
  return `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}`;
}
