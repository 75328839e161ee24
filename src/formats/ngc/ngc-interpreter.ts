/**
 * An interpreter of the RS-274/NGC that router programs are written in (NISTIR 6556, 2000): what
 * a machine will do, from the text alone, as a second opinion on the writer, with which it shares
 * no code. One pass. What it does not know it refuses; it never guesses.
 *
 * Stricter than the report: units, plane, distance and feed mode, offsets and path mode must be
 * stated before the first motion; an arc has I and J and turns through half a turn at most; after
 * a cutter change the place is unknown until all three axes were moved.
 */
import { NgcMachine } from "./ngc-machine.ts";
import type { NgcReading, NgcRefusal } from "./ngc-reading.ts";
import { NgcWords } from "./ngc-words.ts";

/** So many say enough; reading ends there. */
const MOST_REFUSALS = 50;

const CARRIAGE_RETURN = 13;

/** Reads a whole program, lines ended by LF or CR LF. Never throws for a text. */
export function readNgc(text: string): NgcReading {
  const refusals: NgcRefusal[] = [];
  const words = new NgcWords();
  const machine = new NgcMachine();
  let line = 0;
  for (let start = 0; start < text.length && refusals.length < MOST_REFUSALS; ) {
    line++;
    const feed = text.indexOf("\n", start);
    const next = feed < 0 ? text.length : feed;
    const end = feed > start && text.charCodeAt(feed - 1) === CARRIAGE_RETURN ? feed - 1 : next;
    const reason = words.read(text, start, end) ?? machine.take(words, line);
    if (reason) refusals.push({ line, reason });
    start = next + 1;
  }
  if (refusals.length < MOST_REFUSALS)
    for (const { line: at, reason } of machine.unfinished()) refusals.push({ line: at ?? line, reason });
  return { runs: machine.runs(), refusals };
}
