/**
 * Stitches of one block as path data. A *stretch* is drawn in one go: stitches that follow one
 * another without a sharp turn, so that none lies across another. Within it, *runs* of nearly the
 * same direction share a sheen. Coordinates are whole hundredths of a millimetre, rounded once, y
 * down; path data is relative and as short as SVG allows.
 */
import { InternalError } from "../base/internal-error.ts";
import { ROLES, STITCH, type ThreadBlock } from "../output/stitches.ts";

/** Steps of a path's coordinates in one millimetre. */
const STEPS_PER_MM = 100;

export interface ThreadStretch {
  /** All its stitches, from hole to hole. */
  readonly thread: string;
  readonly runs: readonly ThreadRun[];
}

export interface ThreadRun {
  /** Which of `DIRECTIONS` the stitches run in, as a share of a half turn. */
  readonly direction: number;
  readonly thread: string;
  /** The middle of each stitch, where the thread lies highest; empty for short stitches and hidden ones. */
  readonly crest: string;
}

/** Directions that are told apart, over a half turn: a stitch looks the same both ways. */
export const DIRECTIONS = 18;
const CLASS_RAD = Math.PI / DIRECTIONS;

/** A run goes on until its direction strays this far from the middle of its class, so that it does not flicker between two. */
const STRAY_RAD = 0.75 * CLASS_RAD;

/** A turn of the general direction by more than this begins a new stretch; a larger slant to and fro is no satin. */
const SHARP_RAD = Math.PI / 8;

/** Which part of a stitch catches the light: it dives into the cloth at both ends. */
const CREST_FROM = 0.2;
const CREST_TO = 0.8;
/** Shorter stitches have no crest to be seen, in steps. */
const LEAST_CREST = 100;

export interface PageCorner {
  /** mm, in the plan's coordinates: what becomes (0, 0), y down. */
  readonly left: number;
  readonly top: number;
}

/** @throws InternalError for a place that is not finite. */
export function threadStretches(block: ThreadBlock, corner: PageCorner): ThreadStretch[] {
  const stitches = stitchesOf(block, corner);
  const stretches: ThreadStretch[] = [];
  let open: OpenStretch | undefined;
  let last: DrawnStitch | undefined;
  let lastTurn = 0;
  for (const [i, stitch] of stitches.entries()) {
    const turn = generalTurn(stitch, stitches[i + 1]);
    const goesOn = last && follows(stitch, last) && turnApart(turn, lastTurn) <= SHARP_RAD;
    if (!open || !goesOn) {
      if (open) stretches.push(open.made());
      open = new OpenStretch(stitch);
    }
    open.sew(stitch, turn);
    last = stitch;
    lastTurn = turn;
  }
  if (open) stretches.push(open.made());
  return stretches;
}

interface DrawnStitch {
  readonly fromX: number;
  readonly fromY: number;
  readonly x: number;
  readonly y: number;
  /** Direction, counter-clockwise as seen, radians. */
  readonly turn: number;
  readonly seen: boolean;
}

function stitchesOf({ x, y, kind, role }: ThreadBlock, corner: PageCorner): DrawnStitch[] {
  const stitches: DrawnStitch[] = [];
  let fromX = 0;
  let fromY = 0;
  for (let i = 0; i < x.length; i++) {
    const toX = toSteps((x[i] ?? Number.NaN) - corner.left);
    const toY = toSteps(corner.top - (y[i] ?? Number.NaN));
    if (i > 0 && kind[i] === STITCH && (toX !== fromX || toY !== fromY)) {
      const turn = Math.atan2(fromY - toY, toX - fromX);
      stitches.push({ fromX, fromY, x: toX, y: toY, turn, seen: SEEN.has(role[i] ?? -1) });
    }
    fromX = toX;
    fromY = toY;
  }
  return stitches;
}

/** Stitches that are not to be covered by others. */
const SEEN = new Set([ROLES.indexOf("cover"), ROLES.indexOf("mark")]);

function follows(stitch: DrawnStitch, last: DrawnStitch): boolean {
  return stitch.fromX === last.x && stitch.fromY === last.y && stitch.seen === last.seen;
}

/** Midway to the next stitch's: the lines of satin slant to and fro. */
function generalTurn(stitch: DrawnStitch, next: DrawnStitch | undefined): number {
  if (!next || !follows(next, stitch) || turnApart(stitch.turn, next.turn) > SHARP_RAD) return stitch.turn;
  const x = Math.cos(2 * stitch.turn) + Math.cos(2 * next.turn);
  const y = Math.sin(2 * stitch.turn) + Math.sin(2 * next.turn);
  return Math.atan2(y, x) / 2;
}

/** Between two directions of lines, 0 to a quarter turn. */
function turnApart(a: number, b: number): number {
  const off = Math.abs(a - b) % Math.PI;
  return Math.min(off, Math.PI - off);
}

export function toSteps(mm: number): number {
  const steps = Math.round(mm * STEPS_PER_MM);
  if (!Number.isFinite(steps)) throw new InternalError("a stitch to be drawn lies nowhere");
  return steps;
}

class OpenStretch {
  readonly #thread = new RelativePath();
  readonly #runs: OpenRun[] = [];

  constructor({ fromX, fromY }: DrawnStitch) {
    this.#thread.moveTo(fromX, fromY);
  }

  sew(stitch: DrawnStitch, turn: number): void {
    this.#thread.lineTo(stitch.x, stitch.y);
    let run = this.#runs.at(-1);
    if (!run || turnApart(turn, run.direction * CLASS_RAD) > STRAY_RAD) {
      run = new OpenRun(turn, stitch);
      this.#runs.push(run);
    }
    run.sew(stitch);
  }

  made(): ThreadStretch {
    return { thread: this.#thread.data, runs: this.#runs.map((run) => run.made()) };
  }
}

class OpenRun {
  readonly direction: number;
  readonly #thread = new RelativePath();
  readonly #crest = new RelativePath();

  constructor(turn: number, { fromX, fromY }: DrawnStitch) {
    this.direction = ((Math.round(turn / CLASS_RAD) % DIRECTIONS) + DIRECTIONS) % DIRECTIONS;
    this.#thread.moveTo(fromX, fromY);
  }

  sew({ fromX, fromY, x, y, seen }: DrawnStitch): void {
    this.#thread.lineTo(x, y);
    const dx = x - fromX;
    const dy = y - fromY;
    if (!seen || dx * dx + dy * dy < LEAST_CREST * LEAST_CREST) return;
    this.#crest.moveTo(Math.round(fromX + dx * CREST_FROM), Math.round(fromY + dy * CREST_FROM));
    this.#crest.lineTo(Math.round(fromX + dx * CREST_TO), Math.round(fromY + dy * CREST_TO));
  }

  made(): ThreadRun {
    return { direction: this.direction, thread: this.#thread.data, crest: this.#crest.data };
  }
}

/** Path data (SVG 1.1, section 8.3) with relative commands; a letter that repeats is left out. */
export class RelativePath {
  readonly #parts: string[] = [];
  #x = 0;
  #y = 0;
  #letter = "";

  get data(): string {
    return this.#parts.join("");
  }

  moveTo(x: number, y: number): void {
    this.#add("m", x, y);
    // Pairs that follow a move without a letter are lines.
    this.#letter = "l";
  }

  lineTo(x: number, y: number): void {
    this.#add("l", x, y);
  }

  #add(letter: "m" | "l", x: number, y: number): void {
    const dx = stepText(x - this.#x);
    const dy = stepText(y - this.#y);
    const opens = letter === this.#letter ? (dx.startsWith("-") ? "" : " ") : letter;
    this.#parts.push(opens, dx, dy.startsWith("-") ? "" : " ", dy);
    this.#letter = letter;
    this.#x = x;
    this.#y = y;
  }
}

/** Hundredths as millimetres, without a leading zero: 7 is ".07", -120 is "-1.2". */
function stepText(steps: number): string {
  const size = Math.abs(steps);
  const whole = Math.floor(size / STEPS_PER_MM);
  const rest = size % STEPS_PER_MM;
  const sign = steps < 0 ? "-" : "";
  if (rest === 0) return `${sign}${whole}`;
  const digits = rest < 10 ? `0${rest}` : rest % 10 === 0 ? `${rest / 10}` : `${rest}`;
  return `${sign}${whole === 0 ? "" : whole}.${digits}`;
}
