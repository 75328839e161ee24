/**
 * The state of a machine that runs RS-274/NGC, line after line, in the order of execution that
 * the report gives (NISTIR 6556, Table 8): feed, speed, cutter, spindle, dwell, set-up, motion, stop.
 */
import type { Motion, Place3 } from "../../output/toolpath.ts";
import { type NgcArc, refuseArc } from "./ngc-arc.ts";
import { NgcBlock, SET_UP_CODES } from "./ngc-block.ts";
import type { NgcRun } from "./ngc-reading.ts";
import type { NgcWords } from "./ngc-words.ts";

/** A run while it grows. */
interface OpenRun {
  readonly toolNumber: number;
  readonly changeLine: number;
  spindleRpm: number;
  start: Place3 | undefined;
  readonly motions: Motion[];
  readonly lines: number[];
}

export class NgcMachine {
  readonly #block = new NgcBlock();
  readonly #runs: OpenRun[] = [];
  readonly #setUp = new Set<number>();
  #setUpRefused = false;
  #motion: 0 | 1 | 2 | 3 | undefined;
  #feed = 0;
  #speed = 0;
  #selected: number | undefined;
  #spinning = false;
  #ended = false;
  /** Unknown while NaN. */
  #x = Number.NaN;
  #y = Number.NaN;
  #z = Number.NaN;

  /** Does what a line says; the answer is why not, if anything on it is refused. */
  take(words: NgcWords, line: number): string | undefined {
    if (words.count === 0) return undefined;
    if (this.#ended) return "a line after M2";
    const block = this.#block;
    return (
      block.fill(words) ??
      this.#setFeed() ??
      this.#setSpeed() ??
      this.#select() ??
      this.#change(line) ??
      this.#turnSpindle() ??
      this.#dwell() ??
      this.#settle() ??
      this.#move(line) ??
      this.#stop()
    );
  }

  runs(): NgcRun[] {
    return this.#runs.flatMap(({ toolNumber, spindleRpm, start, motions, lines }) =>
      start ? [{ toolNumber, spindleRpm, start, motions, lines }] : [],
    );
  }

  /** What is missing after the last line; without a line of its own it belongs to the last. */
  unfinished(): { readonly line?: number; readonly reason: string }[] {
    const idle = this.#runs.flatMap(({ start, spindleRpm, changeLine, toolNumber }) => {
      if (!start) return [{ line: changeLine, reason: `cutter ${toolNumber} is never brought to a place` }];
      if (spindleRpm === 0) return [{ line: changeLine, reason: `cutter ${toolNumber} never turns` }];
      return [];
    });
    if (this.#runs.length === 0) idle.push({ line: 1, reason: "no cutter is put in (T with M6)" });
    return this.#ended ? idle : [...idle, { reason: "the program has no end (M2)" }];
  }

  #setFeed(): string | undefined {
    const feed = this.#block.number("F");
    if (Number.isNaN(feed)) return undefined;
    if (feed <= 0) return `a feed of ${feed}`;
    this.#feed = feed;
    return undefined;
  }

  #setSpeed(): string | undefined {
    const speed = this.#block.number("S");
    if (Number.isNaN(speed)) return undefined;
    if (speed <= 0) return `a spindle speed of ${speed}`;
    if (this.#spinning && speed !== this.#speed) return "the speed changes while the spindle turns";
    this.#speed = speed;
    return undefined;
  }

  #select(): string | undefined {
    const tool = this.#block.number("T");
    if (Number.isNaN(tool)) return undefined;
    if (!(Number.isInteger(tool) && tool > 0)) return `no cutter has the number ${tool}`;
    this.#selected = tool;
    return undefined;
  }

  #change(line: number): string | undefined {
    if (!this.#block.change) return undefined;
    if (this.#selected === undefined) return "M6 before any T word";
    if (this.#spinning) return "M6 while the spindle turns";
    const run = { toolNumber: this.#selected, changeLine: line, spindleRpm: 0, start: undefined };
    this.#runs.push({ ...run, motions: [], lines: [] });
    this.#x = this.#y = this.#z = Number.NaN;
    return undefined;
  }

  #turnSpindle(): string | undefined {
    const { spindle } = this.#block;
    if (spindle === undefined) return undefined;
    this.#spinning = spindle === 3;
    if (!this.#spinning) return undefined;
    const run = this.#runs.at(-1);
    if (!run) return "M3 without a cutter";
    if (this.#speed === 0) return "M3 without a speed";
    if (run.spindleRpm !== 0 && run.spindleRpm !== this.#speed) return "a second speed with one cutter";
    run.spindleRpm = this.#speed;
    return undefined;
  }

  #dwell(): string | undefined {
    const seconds = this.#block.number("P");
    if (!this.#block.dwell) return Number.isNaN(seconds) ? undefined : "P without G4";
    return seconds >= 0 ? undefined : "G4 without a time (P)";
  }

  #settle(): string | undefined {
    for (const code of this.#block.setUp) this.#setUp.add(code);
    return undefined;
  }

  #stop(): string | undefined {
    const { flow } = this.#block;
    if (flow === 0 && this.#spinning) return "a stop while the spindle turns";
    if (flow === 2) this.#ended = true;
    return undefined;
  }

  #move(line: number): string | undefined {
    const block = this.#block;
    const hasPlace = block.has("X") || block.has("Y") || block.has("Z");
    const hasCentre = block.has("I") || block.has("J");
    if (block.motion === 80) this.#motion = undefined;
    else if (block.motion !== undefined) {
      this.#motion = block.motion;
      if (!hasPlace) return `G${block.motion} without a place to go`;
    }
    if (!hasPlace && !hasCentre) return undefined;
    if (this.#motion === undefined) return "coordinates without a motion (G0 to G3)";
    if (hasCentre && this.#motion < 2) return `I or J with G${this.#motion}`;
    const before = this.#refuseState();
    // Made all the same: the lines behind it are judged by themselves.
    const wrong = this.#motion === 0 ? this.#rapid(line) : this.#cut(line, this.#motion);
    return before ?? wrong;
  }

  #refuseState(): string | undefined {
    if (this.#runs.length === 0) return "a motion without a cutter";
    if (this.#setUpRefused) return undefined;
    const missing = SET_UP_CODES.filter((code) => !this.#setUp.has(code));
    // Said once: it would be true of every line from here.
    this.#setUpRefused = missing.length > 0;
    return missing.length > 0 ? `a motion before ${missing.map((code) => `G${code}`).join(" ")}` : undefined;
  }

  #rapid(line: number): string | undefined {
    const known = this.#isPlaced();
    const from = this.#place();
    this.#go();
    const to = this.#place();
    const run = this.#runs.at(-1);
    if (!run) return undefined;
    if (!known && this.#isPlaced()) run.start = to;
    if (known && !isSame(from, to)) {
      run.motions.push({ kind: "rapid", ...to });
      run.lines.push(line);
    }
    return undefined;
  }

  #cut(line: number, motion: 1 | 2 | 3): string | undefined {
    const known = this.#isPlaced();
    const from = this.#place();
    this.#go();
    const to = this.#place();
    const run = this.#runs.at(-1);
    if (!known || !run) return "a cut from a place that is not known";
    if (!this.#spinning) return "a cut with the spindle standing";
    if (this.#feed === 0) return "a cut without a feed";
    const arc = motion === 1 ? undefined : this.#arc(from, to, motion);
    const wrong = arc && refuseArc(arc, this.#block);
    if (wrong) return wrong;
    if (isSame(from, to)) return undefined;
    const feedMmPerMin = this.#feed;
    run.motions.push(
      arc
        ? {
            kind: "arc",
            ...to,
            centreX: arc.centreX,
            centreY: arc.centreY,
            clockwise: arc.clockwise,
            feedMmPerMin,
          }
        : { kind: "line", ...to, feedMmPerMin },
    );
    run.lines.push(line);
    return undefined;
  }

  #arc(from: Place3, to: Place3, motion: 2 | 3): NgcArc {
    return {
      from,
      to,
      centreX: from.x + this.#block.number("I"),
      centreY: from.y + this.#block.number("J"),
      clockwise: motion === 2,
    };
  }

  #place(): Place3 {
    return { x: this.#x, y: this.#y, z: this.#z };
  }

  #isPlaced(): boolean {
    return !Number.isNaN(this.#x + this.#y + this.#z);
  }

  #go(): void {
    const block = this.#block;
    if (block.has("X")) this.#x = block.number("X");
    if (block.has("Y")) this.#y = block.number("Y");
    if (block.has("Z")) this.#z = block.number("Z");
  }
}

/** Exact: these are the file's own numbers. */
function isSame(a: Place3, b: Place3): boolean {
  return a.x === b.x && a.y === b.y && a.z === b.z;
}
