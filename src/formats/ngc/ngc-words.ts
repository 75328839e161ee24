/**
 * One line of RS-274/NGC taken apart into words: a letter and a plain number, in either case,
 * blanks between them, comments passed over. Strict: what the writer does not use (expressions,
 * parameters, line numbers, block delete) is refused. Shares nothing with the writer.
 */

/** Readers give up at 256 (NISTIR 6556, section 3.3) or a little before. */
const LONGEST_LINE = 249;

/** So that a number is exact before its point is set, and right to the last bit after. */
const MOST_DIGITS = 15;

const TENS = Array.from({ length: MOST_DIGITS + 1 }, (_, power) => 10 ** power);

/** Character codes. */
const CODE = { tab: 9, space: 32, open: 40, close: 41, plus: 43, minus: 45, point: 46 } as const;

/** The words of a line, in their order; filled anew for each line, as there may be millions. */
export class NgcWords {
  count = 0;
  /** Char codes of capitals. */
  readonly letters: number[] = [];
  readonly values: number[] = [];

  #at = 0;

  /** Reads `text` from `start` to before `end`; the answer is what is wrong with it, if anything. */
  read(text: string, start: number, end: number): string | undefined {
    this.count = 0;
    if (end - start > LONGEST_LINE) return `more than ${LONGEST_LINE} characters`;
    this.#at = start;
    while (this.#at < end) {
      const code = text.charCodeAt(this.#at);
      if (code === CODE.space || code === CODE.tab) this.#at++;
      else {
        const wrong = code === CODE.open ? this.#skipComment(text, end) : this.#word(text, end);
        if (wrong) return wrong;
      }
    }
    return undefined;
  }

  #skipComment(text: string, end: number): string | undefined {
    for (this.#at++; this.#at < end; this.#at++) {
      const code = text.charCodeAt(this.#at);
      if (code === CODE.close) {
        this.#at++;
        return undefined;
      }
      if (code === CODE.open) return "a comment within a comment";
      if ((code < CODE.space && code !== CODE.tab) || code > 126) return strange(code);
    }
    return "a comment without an end";
  }

  #word(text: string, end: number): string | undefined {
    const code = text.charCodeAt(this.#at);
    // Capitals and small letters differ by 32.
    const letter = code >= 97 && code <= 122 ? code - 32 : code;
    if (letter < 65 || letter > 90) return strange(code);
    this.#at++;
    this.#skipBlanks(text, end);
    const value = this.#number(text, end);
    if (value === undefined) return `${String.fromCharCode(letter)} without a plain number`;
    this.letters[this.count] = letter;
    this.values[this.count] = value;
    this.count++;
    return undefined;
  }

  #skipBlanks(text: string, end: number): void {
    while (this.#at < end) {
      const code = text.charCodeAt(this.#at);
      if (code !== CODE.space && code !== CODE.tab) return;
      this.#at++;
    }
  }

  /** Sign, digits, point, digits; at least one digit. */
  #number(text: string, end: number): number | undefined {
    const sign = text.charCodeAt(this.#at);
    if (sign === CODE.plus || sign === CODE.minus) this.#at++;
    let whole = 0;
    let digits = 0;
    let pointAt = -1;
    for (; this.#at < end; this.#at++) {
      const code = text.charCodeAt(this.#at);
      if (code >= 48 && code <= 57) {
        whole = whole * 10 + (code - 48);
        digits++;
      } else if (code === CODE.point && pointAt < 0) pointAt = digits;
      else break;
    }
    if (digits === 0 || digits > MOST_DIGITS) return undefined;
    const value = pointAt < 0 ? whole : whole / (TENS[digits - pointAt] ?? 1);
    // Not -value, which has a zero of its own.
    return sign === CODE.minus ? 0 - value : value;
  }
}

function strange(code: number): string {
  return code > 32 && code < 127
    ? `"${String.fromCharCode(code)}" where a word should begin`
    : `the character with the code ${code}`;
}
