/** Regions filled with parallel lines. */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import type { Region } from "../../geometry/region.ts";
import { transformPoint, turnBy } from "../../geometry/transform.ts";

export interface HatchOptions {
  readonly spacingMm: number;
  /** Direction of the lines, counter-clockwise from the x axis. */
  readonly turnRad: number;
}

/** Straight lines so far apart, cut at the region's edges; lines lie at whole multiples of the spacing, so that neighbouring fields match. */
export function hatchRegion({ rings }: Region, { spacingMm, turnRad }: HatchOptions): ArcChain[] {
  const back = turnBy(turnRad);
  const level = turnBy(-turnRad);
  const meets = new Map<number, number[]>();
  for (const ring of rings) {
    const turned = ring.map((point) => transformPoint(point, level));
    let before = turned.at(-1);
    for (const point of turned) {
      if (before) addMeets(meets, before, point, spacingMm);
      before = point;
    }
  }
  const lines: ArcChain[] = [];
  for (const row of [...meets.keys()].sort((a, b) => a - b)) {
    const xs = (meets.get(row) ?? []).sort((a, b) => a - b);
    for (let i = 0; i + 1 < xs.length; i += 2) {
      const ends = [xs[i] ?? 0, xs[i + 1] ?? 0].map((x) => transformPoint({ x, y: row * spacingMm }, back));
      lines.push(polyline(ends, false));
    }
  }
  return lines;
}

/** Where a side of a ring crosses hatch lines; its lower end counts, its upper one does not. */
function addMeets(meets: Map<number, number[]>, a: Point, b: Point, spacingMm: number): void {
  const low = Math.ceil(Math.min(a.y, b.y) / spacingMm);
  const high = Math.ceil(Math.max(a.y, b.y) / spacingMm);
  for (let row = low; row < high; row++) {
    const t = (row * spacingMm - a.y) / (b.y - a.y);
    const xs = meets.get(row) ?? [];
    xs.push(a.x + (b.x - a.x) * t);
    meets.set(row, xs);
  }
}
