/**
 * Motions as lines of RS-274/NGC. Words are modal: G, F and coordinates are written when they
 * change. What a reader will draw is worked out from the rounded numbers.
 */
import { InternalError } from "../../base/internal-error.ts";
import type { Point } from "../../geometry/point.ts";
import type { ArcCourse, ArcMotion } from "../../output/motion-arc.ts";
import type { Motion, Place3 } from "../../output/toolpath.ts";
import { arcChords, arcForm, requireArc } from "./file-arc.ts";
import { formatSteps, fromSteps, toSteps } from "./file-grid.ts";

type MotionWord = "G0" | "G1" | "G2" | "G3";

/** Lines of one run, from a place that the cutter is brought to whatever it did before. */
export class MotionLines {
  readonly lines: string[] = [];
  readonly #origin: Point;
  /** Where the last motion was to end, before rounding, as the program has it. */
  #meantAt: Place3;
  /** Where the file has the cutter, in steps of its grid. */
  #x: number;
  #y: number;
  #z: number;
  #word: MotionWord = "G0";
  #feed: string | undefined;

  /** Up or down to the start's height first, then over. */
  constructor(start: Place3, origin: Point) {
    this.#origin = origin;
    this.#meantAt = start;
    this.#x = toSteps(start.x - origin.x);
    this.#y = toSteps(start.y - origin.y);
    this.#z = toSteps(start.z);
    this.lines.push(`G0 Z${formatSteps(this.#z)}`, `X${formatSteps(this.#x)} Y${formatSteps(this.#y)}`);
  }

  /** @throws InternalError for a number that is not finite, a feed of zero or less, an arc past half a turn. */
  add(motion: Motion): void {
    switch (motion.kind) {
      case "rapid":
        this.#straight("G0", motion);
        break;
      case "line":
        this.#straight("G1", motion, formatFeed(motion.feedMmPerMin));
        break;
      case "arc":
        this.#arc(motion);
        break;
    }
    this.#meantAt = motion;
  }

  /** Straight up to `z`, where the cutter is not as high already. */
  riseTo(z: number): void {
    if (this.#z < toSteps(z)) this.add({ kind: "rapid", x: this.#meantAt.x, y: this.#meantAt.y, z });
  }

  #straight(word: "G0" | "G1", { x, y, z }: Place3, feed?: string): void {
    this.#write(word, this.#placeWords(x, y, z), feed);
  }

  #arc(motion: ArcMotion): void {
    requireArc(this.#meantAt, motion);
    const feed = formatFeed(motion.feedMmPerMin);
    const meant = { from: this.#meantAt, arc: motion };
    const from = { x: fromSteps(this.#x), y: fromSteps(this.#y) };
    const i = toSteps(motion.centreX - this.#origin.x - from.x);
    const j = toSteps(motion.centreY - this.#origin.y - from.y);
    const drawn: ArcCourse = {
      x: fromSteps(toSteps(motion.x - this.#origin.x)),
      y: fromSteps(toSteps(motion.y - this.#origin.y)),
      centreX: from.x + fromSteps(i),
      centreY: from.y + fromSteps(j),
      clockwise: motion.clockwise,
    };
    switch (arcForm(from, drawn, meant)) {
      case "line":
        this.#straight("G1", motion, feed);
        break;
      case "chords":
        for (const { at, shareOfWay } of arcChords(meant.from, motion)) {
          const z = meant.from.z + (motion.z - meant.from.z) * shareOfWay;
          this.#straight("G1", { ...at, z: shareOfWay === 1 ? motion.z : z }, feed);
        }
        break;
      case "arc": {
        const words = this.#placeWords(motion.x, motion.y, motion.z);
        words.push(`I${formatSteps(i)}`, `J${formatSteps(j)}`);
        this.#write(motion.clockwise ? "G2" : "G3", words, feed);
        break;
      }
    }
  }

  /** The coordinates that change, and the change made; none for a motion that rounding leaves no way. */
  #placeWords(x: number, y: number, z: number): string[] {
    const to = [toSteps(x - this.#origin.x), toSteps(y - this.#origin.y), toSteps(z)] as const;
    const words: string[] = [];
    if (to[0] !== this.#x) words.push(`X${formatSteps(to[0])}`);
    if (to[1] !== this.#y) words.push(`Y${formatSteps(to[1])}`);
    if (to[2] !== this.#z) words.push(`Z${formatSteps(to[2])}`);
    [this.#x, this.#y, this.#z] = to;
    return words;
  }

  #write(word: MotionWord, words: readonly string[], feed: string | undefined): void {
    if (words.length === 0) return;
    const line = word === this.#word ? [...words] : [word, ...words];
    if (feed !== undefined && feed !== this.#feed) {
      line.push(`F${feed}`);
      this.#feed = feed;
    }
    this.#word = word;
    this.lines.push(line.join(" "));
  }
}

function formatFeed(feedMmPerMin: number): string {
  const steps = toSteps(feedMmPerMin);
  if (steps <= 0) throw new InternalError(`a cut at ${feedMmPerMin} mm/min`);
  return formatSteps(steps);
}
