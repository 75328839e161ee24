/**
 * The order in which lines are cut: on from where the last one ended, dead ends first; back along
 * what is cut where that is shorter than lifting the cutter, else over to the nearest line, best
 * where it begins at the surface that the pass starts from or in a groove already cut.
 */
import { InternalError } from "../../base/internal-error.ts";
import type { Point } from "../../geometry/point.ts";
import type { Place3 } from "../../output/toolpath.ts";
import type { GrooveLine, GrooveLines } from "./groove-lines.ts";

/** Cut in one go. */
export interface Stroke {
  readonly points: readonly Place3[];
  /** Whether the cutter can come straight down on its start: nothing is left to cut there. */
  readonly open: boolean;
}

export interface WalkRules {
  /** The height that all was cut to before. */
  readonly surfaceZ: number;
  /** Going back further than this along cut grooves takes longer than lifting. */
  readonly retraceMm: number;
  /** Where the cutter stands. */
  readonly from: Point;
  /** Ways over ground that is cut already, between nodes of the lines. */
  readonly bridges: readonly Bridge[];
}

export interface Bridge {
  readonly from: number;
  readonly to: number;
}

/** Every line once, in strokes. */
export function walkLines(grooves: GrooveLines, rules: WalkRules): Stroke[] {
  const walk = new Walk(grooves, rules);
  const strokes: Stroke[] = [];
  for (let at = walk.nearestStart(rules.from); at !== undefined; at = walk.nearestStart(walk.at)) {
    strokes.push(walk.strokeFrom(at));
  }
  return strokes;
}

/** A solid start counts as this much further away: about what ramping in takes. */
const SOLID_DETOUR_MM = 40;
/** Nothing is left to cut above the surface, but for rounding. */
const SURFACE_SLACK_MM = 1e-6;

class Walk {
  readonly #lines: readonly GrooveLine[];
  readonly #lengths: readonly number[];
  readonly #rules: WalkRules;
  /** Lines that end at each node, and the node's place. */
  readonly #at = new Map<number, { readonly place: Place3; readonly lines: number[] }>();
  readonly #isCut: Uint8Array;
  readonly #reached: Set<number>;
  /** Nodes that still have lines to cut, roughly: cleared out when looked at. */
  readonly #waiting: Set<number>;
  at: Point;

  constructor({ lines, onFloor }: GrooveLines, rules: WalkRules) {
    this.#rules = rules;
    this.at = rules.from;
    this.#reached = new Set(onFloor.keys());
    for (const [i, { from, to, points }] of lines.entries()) {
      this.#join(from, points[0], i);
      if (to !== from) this.#join(to, points.at(-1), i);
    }
    this.#waiting = new Set(this.#at.keys());
    this.#lines = [...lines, ...this.#bridgeLines(lines.length)];
    this.#lengths = this.#lines.map(({ points }) => lengthOf(points));
    this.#isCut = new Uint8Array(this.#lines.length).fill(1, lines.length);
  }

  /** Bridges between nodes that have lines in this pass, as lines that are cut already, numbered from `first` on. */
  #bridgeLines(first: number): GrooveLine[] {
    const lines: GrooveLine[] = [];
    for (const { from, to } of this.#rules.bridges) {
      const a = this.#at.get(from);
      const b = this.#at.get(to);
      if (!a || !b) continue;
      a.lines.push(first + lines.length);
      b.lines.push(first + lines.length);
      lines.push({ from, to, points: [a.place, b.place] });
    }
    return lines;
  }

  #join(node: number, place: Place3 | undefined, line: number): void {
    if (!place) throw new InternalError("a groove without points");
    const known = this.#at.get(node);
    if (known) known.lines.push(line);
    else this.#at.set(node, { place, lines: [line] });
  }

  nearestStart(from: Point): number | undefined {
    let best: number | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const node of this.#waiting) {
      const there = this.#at.get(node);
      if (!there || this.#left(node).length === 0) {
        this.#waiting.delete(node);
        continue;
      }
      const apart = Math.hypot(there.place.x - from.x, there.place.y - from.y);
      const cost = apart + (this.#isOpen(node) ? 0 : SOLID_DETOUR_MM);
      if (cost < least) {
        least = cost;
        best = node;
      }
    }
    return best;
  }

  strokeFrom(start: number): Stroke {
    const open = this.#isOpen(start);
    const points: Place3[] = [];
    let node = start;
    for (;;) {
      this.#reached.add(node);
      const next = this.#nextLine(node);
      if (next !== undefined) {
        this.#isCut[next] = 1;
        node = this.#goAlong(points, next, node);
        continue;
      }
      const back = this.#wayBack(node);
      if (back.length === 0) break;
      for (const line of back) node = this.#goAlong(points, line, node);
    }
    const end = points.at(-1);
    if (end) this.at = end;
    return { points, open };
  }

  #isOpen(node: number): boolean {
    const z = this.#at.get(node)?.place.z ?? 0;
    return this.#reached.has(node) || z >= this.#rules.surfaceZ - SURFACE_SLACK_MM;
  }

  #left(node: number): number[] {
    return (this.#at.get(node)?.lines ?? []).filter((line) => this.#isCut[line] === 0);
  }

  /** A line to cut from here: dead ends first, then the shortest. */
  #nextLine(node: number): number | undefined {
    let best: number | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const line of this.#left(node)) {
      const isDeadEnd = this.#at.get(this.#otherEnd(line, node))?.lines.length === 1;
      const rank = (this.#lengths[line] ?? 0) + (isDeadEnd ? 0 : LONGEST_MM);
      if (rank < least) {
        least = rank;
        best = line;
      }
    }
    return best;
  }

  #otherEnd(line: number, node: number): number {
    const { from, to } = this.#lines[line] ?? { from: node, to: node };
    return from === node ? to : from;
  }

  /** Adds the line's points, from the given end of it; the node at its other end. */
  #goAlong(points: Place3[], line: number, node: number): number {
    const { from, points: own } = this.#lines[line] ?? { from: node, points: [] };
    const ordered = from === node ? own : own.toReversed();
    points.push(...(points.length > 0 ? ordered.slice(1) : ordered));
    return this.#otherEnd(line, node);
  }

  /** Along lines already cut to the nearest node with lines to cut (Dijkstra 1959); none where that is too far. */
  #wayBack(start: number): number[] {
    const steps = new Map<number, Step>();
    const open = new Map<number, number>([[start, 0]]);
    const done = new Set<number>();
    for (let nearest = leastOf(open); nearest; nearest = leastOf(open)) {
      const [node, length] = nearest;
      open.delete(node);
      done.add(node);
      if (node !== start && this.#left(node).length > 0) return wayTo(node, start, steps);
      for (const line of this.#at.get(node)?.lines ?? []) {
        const next = this.#otherEnd(line, node);
        const far = length + (this.#lengths[line] ?? 0);
        if (this.#isCut[line] === 0 || done.has(next) || far > this.#rules.retraceMm) continue;
        if (far >= (open.get(next) ?? Number.POSITIVE_INFINITY)) continue;
        open.set(next, far);
        steps.set(next, { line, from: node });
      }
    }
    return [];
  }
}

/** The last step of a way: along which line, from which node. */
interface Step {
  readonly line: number;
  readonly from: number;
}

function leastOf(open: ReadonlyMap<number, number>): readonly [number, number] | undefined {
  let best: readonly [number, number] | undefined;
  for (const entry of open) if (!best || entry[1] < best[1]) best = entry;
  return best;
}

/** Longer than any line. */
const LONGEST_MM = 1e6;

function wayTo(node: number, start: number, steps: ReadonlyMap<number, Step>): number[] {
  const lines: number[] = [];
  for (let at = node; at !== start; ) {
    const step = steps.get(at);
    if (!step) throw new InternalError("a way back that does not begin");
    lines.unshift(step.line);
    at = step.from;
  }
  return lines;
}

function lengthOf(points: readonly Place3[]): number {
  let length = 0;
  let before: Place3 | undefined;
  for (const point of points) {
    if (before) length += Math.hypot(point.x - before.x, point.y - before.y, point.z - before.z);
    before = point;
  }
  return length;
}
