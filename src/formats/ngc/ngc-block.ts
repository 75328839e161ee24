/**
 * The words of one line of RS-274/NGC sorted by what they set: one code of each modal group
 * (NISTIR 6556, Table 4), one word of each other letter. Everything else is refused.
 */
import type { NgcWords } from "./ngc-words.ts";

/** What must be settled before anything moves, and the only choice known here for each. */
export const SET_UP_CODES = [17, 21, 40, 54, 61, 90, 94] as const;

const SET_UP: ReadonlySet<number> = new Set(SET_UP_CODES);

/** Codes of the report that mean something else than the writer's; naming it helps more than "unknown". */
const OTHER_MEANING: ReadonlyMap<string, string> = new Map([
  ["G18", "another plane than XY"],
  ["G19", "another plane than XY"],
  ["G20", "inches"],
  ["G41", "cutter radius compensation"],
  ["G42", "cutter radius compensation"],
  ["G61.1", "exact stop"],
  ["G64", "rounded corners"],
  ["G91", "incremental distances"],
  ["G93", "inverse time feed"],
  ["M4", "the spindle turning backwards"],
  ["M30", "a pallet change"],
]);

const LETTER_G = 71;
const LETTER_M = 77;
const LETTER_A = 65;

/** Letters that carry a number of their own. */
const NUMBERED: ReadonlySet<number> = new Set([..."FIJPSTXYZ"].map((letter) => letter.charCodeAt(0)));

export type Motion = 0 | 1 | 2 | 3;

export class NgcBlock {
  /** By letter from A; NaN where the letter is absent. */
  readonly #numbers = new Float64Array(26);
  readonly setUp: number[] = [];
  /** Modal group 1; 80 is none at all. */
  motion: Motion | 80 | undefined;
  dwell = false;
  /** Group 4 (program flow), group 6 (cutter), group 7 (spindle). */
  flow: 0 | 2 | undefined;
  change = false;
  spindle: 3 | 5 | undefined;

  /** NaN where the line has no such word. */
  number(letter: string): number {
    return this.#numbers[letter.charCodeAt(0) - LETTER_A] ?? Number.NaN;
  }

  has(letter: string): boolean {
    return !Number.isNaN(this.number(letter));
  }

  /** Sorts a line's words in; the answer is what is wrong with them, if anything. */
  fill(words: NgcWords): string | undefined {
    this.#numbers.fill(Number.NaN);
    this.setUp.length = 0;
    this.motion = undefined;
    this.dwell = false;
    this.flow = undefined;
    this.change = false;
    this.spindle = undefined;
    for (let i = 0; i < words.count; i++) {
      const wrong = this.#sort(words.letters[i] ?? 0, words.values[i] ?? 0);
      if (wrong) return wrong;
    }
    return undefined;
  }

  #sort(letter: number, value: number): string | undefined {
    if (letter === LETTER_G) return this.#sortG(value);
    if (letter === LETTER_M) return this.#sortM(value);
    const name = String.fromCharCode(letter);
    if (!NUMBERED.has(letter)) return `words with ${name} are not known here`;
    if (!Number.isNaN(this.#numbers[letter - LETTER_A])) return `two words with ${name}`;
    this.#numbers[letter - LETTER_A] = value;
    return undefined;
  }

  #sortG(code: number): string | undefined {
    switch (code) {
      case 0:
      case 1:
      case 2:
      case 3:
      case 80:
        if (this.motion !== undefined) return twoOfAGroup(`G${this.motion}`, `G${code}`);
        this.motion = code;
        return undefined;
      case 4:
        if (this.dwell) return twoOfAGroup("G4", "G4");
        this.dwell = true;
        return undefined;
    }
    if (!SET_UP.has(code)) return unknown(`G${code}`);
    if (this.setUp.includes(code)) return twoOfAGroup(`G${code}`, `G${code}`);
    this.setUp.push(code);
    return undefined;
  }

  #sortM(code: number): string | undefined {
    switch (code) {
      case 0:
      case 2:
        if (this.flow !== undefined) return twoOfAGroup(`M${this.flow}`, `M${code}`);
        this.flow = code;
        return undefined;
      case 3:
      case 5:
        if (this.spindle !== undefined) return twoOfAGroup(`M${this.spindle}`, `M${code}`);
        this.spindle = code;
        return undefined;
      case 6:
        if (this.change) return twoOfAGroup("M6", "M6");
        this.change = true;
        return undefined;
    }
    return unknown(`M${code}`);
  }
}

function twoOfAGroup(one: string, other: string): string {
  return `${one} and ${other} of one modal group`;
}

function unknown(code: string): string {
  const meaning = OTHER_MEANING.get(code);
  return meaning ? `${code}, ${meaning}, is not known here` : `${code} is not known here`;
}
