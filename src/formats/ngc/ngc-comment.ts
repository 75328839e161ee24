/**
 * Comments of RS-274/NGC: in round brackets, which may not be nested, on a line of limited
 * length, in ASCII.
 */

/** Shorter than any reader's line, and fit for a small screen. */
const LONGEST_LINE = 119;

/**
 * Every comment of ours begins with a mark: some readers take a first word such as LOGOPEN for
 * an order, and titles are other people's text.
 */
const FIRST_MARK = "- ";
const NEXT_MARK = ": ";

const SPELLINGS: ReadonlyMap<string, string> = new Map([
  ["(", "["],
  [")", "]"],
  ["{", "["],
  ["}", "]"],
  ["%", " percent"],
  // Controllers that are fed by a cable may act on these at once, wherever they stand.
  ["!", "."],
  ["?", "."],
  ["~", "-"],
  [";", ","],
  ["\u2010", "-"],
  ["\u2011", "-"],
  ["\u2012", "-"],
  ["\u2013", "-"],
  ["\u2014", "-"],
  ["\u2212", "-"],
  ["\u2018", "'"],
  ["\u2019", "'"],
  ["\u201c", '"'],
  ["\u201d", '"'],
  ["\u00ab", '"'],
  ["\u00bb", '"'],
  ["\u00d7", "x"],
  ["\u00b0", " degrees"],
  ["\u00b1", "+/-"],
  ["\u00bd", "1/2"],
  ["\u00df", "ss"],
  ["\u00e6", "ae"],
  ["\u00f8", "o"],
]);

const PLAIN = /^[A-Za-z0-9 .,:/+\-=*[\]'"<>&_]$/;

/** Text as comment lines, wrapped between words; none for text without a visible character. */
export function commentLines(text: string): string[] {
  const room = LONGEST_LINE - "()".length - FIRST_MARK.length;
  const rows: string[] = [];
  for (const word of plainText(text)
    .split(" ")
    .flatMap((whole) => pieces(whole, room))) {
    const row = rows.at(-1);
    if (row !== undefined && row.length + 1 + word.length <= room) rows[rows.length - 1] = `${row} ${word}`;
    else rows.push(word);
  }
  return rows.map((row, index) => `(${index === 0 ? FIRST_MARK : NEXT_MARK}${row})`);
}

/** A message to the person at the machine, cut off where the line is full. */
export function messageLine(text: string): string {
  const head = "(MSG, ";
  return `${head}${plainText(text).slice(0, LONGEST_LINE - head.length - 1)})`;
}

/** ASCII without brackets or control marks, single spaces between words; what has no spelling is an underscore. */
function plainText(text: string): string {
  let plain = "";
  // Accents come apart from their letters and are dropped.
  for (const character of text.normalize("NFKD").replace(/\p{M}/gu, "")) {
    if (PLAIN.test(character)) plain += character;
    else plain += /^[\s\p{C}]$/u.test(character) ? " " : (SPELLINGS.get(character) ?? "_");
  }
  return plain.replace(/ +/g, " ").trim();
}

function pieces(word: string, longest: number): string[] {
  return word.match(new RegExp(`.{1,${longest}}`, "g")) ?? [];
}
