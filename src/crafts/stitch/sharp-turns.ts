/** Where a drawn line turns so sharply that a long stitch would leave the ribbon. */
import { distance, minus, type Point, turnBetween } from "../../geometry/point.ts";

/** Directions are taken over this much of the line, so that small jags do not count. */
const REACH_MM = 1;
const SHARP_RAD = Math.PI / 4;
const TIGHT_RAD = 0.4;

/** The line in pieces that end at its sharp turns. */
export function splitAtTurns(points: readonly Point[]): readonly (readonly Point[])[] {
  const turns = points.map((_, i) => turnAt(points, i));
  const pieces: Point[][] = [];
  let from = 0;
  for (const [i, turn] of turns.entries()) {
    const isSharpest = turn > SHARP_RAD && turn >= (turns[i - 1] ?? 0) && turn > (turns[i + 1] ?? 0);
    if (!isSharpest || i === from) continue;
    pieces.push(points.slice(from, i + 1));
    from = i;
  }
  pieces.push(points.slice(from));
  return pieces;
}

/** Whether the line turns somewhere on a radius of less than about 2.5 mm: it takes short stitches. */
export function isTight(points: readonly Point[]): boolean {
  return points.some((_, i) => turnAt(points, i) > TIGHT_RAD);
}

/** How far the line turns at a point, radians; 0 near its ends. */
function turnAt(points: readonly Point[], i: number): number {
  const here = points[i];
  const before = here && reach(points, i, -1);
  const after = here && reach(points, i, 1);
  return before && after ? Math.abs(turnBetween(minus(here, before), minus(after, here))) : 0;
}

/** The first point that lies far enough away, looking one way along the line. */
function reach(points: readonly Point[], from: number, step: 1 | -1): Point | undefined {
  const start = points[from];
  for (let i = from + step; start && i >= 0 && i < points.length; i += step) {
    const point = points[i];
    if (point && distance(start, point) >= REACH_MM) return point;
  }
  return undefined;
}
