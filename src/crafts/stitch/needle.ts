/**
 * Running lines made into stitches of even length. Lines are gathered first, for their corners
 * must be known: the needle goes in where one line ends and the next begins, unless that would
 * make a stitch shorter than the machine sews well; then the two are divided as one.
 */
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { between, distance, type Point } from "../../geometry/point.ts";
import { type JUMP, STITCH, type StitchMaker, type StitchRole, type TRIM } from "../../output/stitches.ts";
import type { SatinSettings } from "./settings.ts";
import { isTight, splitAtTurns } from "./sharp-turns.ts";
import type { RunLine } from "./underlay.ts";
import { pathLength } from "./unit-lines.ts";

export class Needle {
  readonly #maker: StitchMaker;
  readonly #settings: SatinSettings;
  #waiting: RunLine[] = [];
  #at: Point = { x: 0, y: 0 };

  constructor(maker: StitchMaker, settings: SatinSettings) {
    this.#maker = maker;
    this.#settings = settings;
  }

  /** Where the needle went in last. */
  get at(): Point {
    return this.#at;
  }

  /** Whether running lines wait to be sewn. */
  get isRunning(): boolean {
    return this.#waiting.length > 0;
  }

  /** Over to a place without sewing. */
  moveTo({ x, y }: Point, kind: typeof JUMP | typeof TRIM): void {
    this.#maker.add(x, y, kind, "tie");
    this.#at = { x, y };
  }

  /** One stitch, however short. */
  stitchTo({ x, y }: Point, role: StitchRole): void {
    this.#maker.add(x, y, STITCH, role);
    this.#at = { x, y };
  }

  /** A line from where the last one ended, straight to its first point and along it. */
  run(line: RunLine): void {
    const from = this.#waiting.at(-1)?.points.at(-1) ?? this.#at;
    const [first] = line.points;
    if (first && distance(from, first) > SAME_POINT_MM) {
      this.#waiting.push({ ...line, points: [from, first] });
    }
    if (line.points.length < 2) return;
    for (const points of splitAtTurns(line.points)) this.#waiting.push({ ...line, points });
  }

  /** Sews the lines that wait; the needle ends at the end of the last. */
  finishRun(): void {
    const role = this.#waiting.at(-1)?.role ?? "travel";
    const lines = this.#joined(this.#waiting);
    this.#waiting = [];
    const least = this.#settings.leastStitchMm - SAME_POINT_MM;
    const stitches = lines.flatMap((line) => this.#divided(line));
    const end = stitches.pop();
    const kept: RunPoint[] = [];
    // Chords across bends and corners may come out too short.
    for (const stitch of stitches)
      if (distance(kept.at(-1)?.point ?? this.#at, stitch.point) >= least) kept.push(stitch);
    for (let last = kept.at(-1); last && end && distance(last.point, end.point) < least; last = kept.at(-1))
      kept.pop();
    for (const stitch of kept) this.stitchTo(stitch.point, stitch.role);
    if (end) this.stitchTo(end.point, role);
  }

  /** Lines shorter than the least stitch joined to the one before; the first to the one after. */
  #joined(lines: readonly RunLine[]): RunLine[] {
    const least = this.#settings.leastStitchMm;
    const joined: RunLine[] = [];
    for (const line of lines) {
      const before = joined.at(-1);
      const isShort = pathLength(line.points) < least;
      if (before && (isShort || pathLength(before.points) < least)) {
        const points = [...before.points, ...line.points.slice(1)];
        joined[joined.length - 1] = { ...(isShort ? before : line), points };
      } else joined.push(line);
    }
    return joined;
  }

  #divided({ points, stitchMm, role }: RunLine): RunPoint[] {
    const { leastStitchMm, runStitchTightMm } = this.#settings;
    const length = pathLength(points);
    if (length <= SAME_POINT_MM) return [];
    const longest = isTight(points) ? Math.min(stitchMm, runStitchTightMm) : stitchMm;
    const wanted = Math.ceil((length - SAME_POINT_MM) / longest);
    const count = Math.max(1, Math.min(wanted, Math.floor(length / leastStitchMm)));
    return evenPoints(points, length, count).map((point) => ({ point, role }));
  }
}

interface RunPoint {
  readonly point: Point;
  readonly role: StitchRole;
}

/** `count` points that divide a line evenly, its end the last of them. */
function evenPoints(points: readonly Point[], length: number, count: number): Point[] {
  const found: Point[] = [];
  let gone = 0;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    if (!a || !b) continue;
    const own = distance(a, b);
    while (found.length < count - 1 && ((found.length + 1) * length) / count <= gone + own) {
      const along = ((found.length + 1) * length) / count - gone;
      found.push(own === 0 ? b : between(a, b, along / own));
    }
    gone += own;
  }
  const end = points.at(-1);
  if (end) found.push(end);
  return found;
}
