/** Short programs for the simulation, and the stock that they are run on. */
import type { SimulatedRun, Stock } from "../../../src/crafts/router/simulate.ts";
import type { CutterShape, Motion, Place3 } from "../../../src/output/toolpath.ts";

const FEED = 1000;

export function line(x: number, y: number, z: number): Motion {
  return { kind: "line", x, y, z, feedMmPerMin: FEED };
}

export function rapid(x: number, y: number, z: number): Motion {
  return { kind: "rapid", x, y, z };
}

/** An arc about a centre that turns by `sweep` radians (negative: clockwise) from `from`, ending at the height z. */
export function arc(
  from: { readonly x: number; readonly y: number },
  centre: { readonly x: number; readonly y: number },
  { sweep, z }: { readonly sweep: number; readonly z: number },
): Motion {
  const dx = from.x - centre.x;
  const dy = from.y - centre.y;
  return {
    kind: "arc",
    x: centre.x + dx * Math.cos(sweep) - dy * Math.sin(sweep),
    y: centre.y + dx * Math.sin(sweep) + dy * Math.cos(sweep),
    z,
    centreX: centre.x,
    centreY: centre.y,
    clockwise: sweep < 0,
    feedMmPerMin: FEED,
  };
}

export function runOf(
  shape: CutterShape,
  start: Place3,
  motions: readonly Motion[],
  number = 1,
): SimulatedRun {
  return {
    cutter: { number, name: `cutter ${number}`, shape, flutes: 2, cuttingLengthMm: 20 },
    start,
    motions,
  };
}

/** A stock of this width and height, 18 mm thick, with its lower left corner at 0; any cutter may go 20 mm deep. */
export function stockOf(width: number, height: number, changes: Partial<Stock> = {}): Stock {
  return {
    box: { minX: 0, minY: 0, maxX: width, maxY: height },
    thicknessMm: 18,
    pixelMm: 0.1,
    envelope: { min: { x: -20, y: -20, z: -20 }, max: { x: width + 20, y: height + 20, z: 20 } },
    stepDownMm: new Map([1, 2, 3].map((number) => [number, 20])),
    ...changes,
  };
}

export const MILL: CutterShape = { kind: "end-mill", diameterMm: 3 };
export const BALL: CutterShape = { kind: "ball", diameterMm: 3 };
export const V60: CutterShape = { kind: "v", diameterMm: 6, angleDeg: 60, tipMm: 0 };
export const FLAT_V: CutterShape = { kind: "v", diameterMm: 3, angleDeg: 90, tipMm: 0.6 };
