/** RS-274/NGC texts through the interpreter `rs274`, and the canonical moves that it makes of them. */
import type { Motion, Place3 } from "../../../src/output/toolpath.ts";
import { type ToolRun as Ended, runTool, withFiles } from "../../support/external.ts";

/** Its tool numbers only: the diameters are not asked for. */
const TOOL_TABLE = [1, 2, 3, 4, 5].map((number) => `T${number} P${number} Z0 D6 ;\n`).join("");

/** Motions between one cutter change and the next, the feed beside each cut. */
export type CanonicalRun = readonly Motion[];

export function interpret(text: string): Ended {
  return withFiles({ "tool.tbl": TOOL_TABLE, "program.ngc": text }, (pathOf) =>
    runTool("rs274", ["-t", pathOf("tool.tbl"), "-g", pathOf("program.ngc")]),
  );
}

/**
 * The moves of each run. Before the first two traverses of a run, which bring the cutter to its
 * start, the interpreter supposes a place of its own: they are left out.
 */
export function canonicalRuns(text: string): CanonicalRun[] {
  const { code, stdout, stderr } = interpret(text);
  if (code !== 0) throw new Error(`rs274 ended with ${code}: ${stderr}`);
  const runs: Motion[][] = [];
  let feedMmPerMin = Number.NaN;
  for (const [, name, words] of stdout.matchAll(/^ *\d+ N\S* +([A-Z0-9_]+)\(([^)]*)\)/gm)) {
    const numbers = (words ?? "").split(",").map(Number);
    if (name === "CHANGE_TOOL") runs.push([]);
    if (name === "SET_FEED_RATE") feedMmPerMin = numbers[0] ?? Number.NaN;
    if (name === "USE_LENGTH_UNITS" && words !== "CANON_UNITS_MM") throw new Error(`units ${words}`);
    const motion = motionOf(name ?? "", numbers, feedMmPerMin);
    if (motion) runs.at(-1)?.push(motion);
  }
  return runs.map((motions) => motions.slice(2));
}

function motionOf(name: string, numbers: readonly number[], feedMmPerMin: number): Motion | undefined {
  const [a = 0, b = 0, c = 0, d = 0, turn = 0, f = 0] = numbers;
  switch (name) {
    case "STRAIGHT_TRAVERSE":
      return { kind: "rapid", x: a, y: b, z: c };
    case "STRAIGHT_FEED":
      return { kind: "line", x: a, y: b, z: c, feedMmPerMin };
    case "ARC_FEED":
      return {
        kind: "arc",
        ...{ x: a, y: b, z: f },
        ...{ centreX: c, centreY: d },
        clockwise: turn < 0,
        feedMmPerMin,
      };
    default:
      return undefined;
  }
}

/**
 * How two lists of motions differ most: places and feeds, and the radii at both ends of arcs.
 * Infinite where the motions are not of the same kinds.
 */
export function worstDifference(
  from: Place3,
  ours: readonly Motion[],
  theirs: readonly Motion[],
): { readonly place: number; readonly radius: number; readonly feed: number } {
  const worst = { place: 0, radius: 0, feed: 0 };
  let at = from;
  for (let i = 0; i < Math.max(ours.length, theirs.length); i++) {
    const [a, b] = [ours[i], theirs[i]];
    if (!a || !b || a.kind !== b.kind || turnOf(a) !== turnOf(b))
      return { place: Number.POSITIVE_INFINITY, radius: Number.POSITIVE_INFINITY, feed: 0 };
    worst.place = Math.max(worst.place, Math.abs(a.x - b.x), Math.abs(a.y - b.y), Math.abs(a.z - b.z));
    if (a.kind !== "rapid" && b.kind !== "rapid")
      worst.feed = Math.max(worst.feed, Math.abs(a.feedMmPerMin - b.feedMmPerMin));
    if (a.kind === "arc" && b.kind === "arc") {
      const start = Math.abs(radiusAt(at, a) - radiusAt(at, b));
      worst.radius = Math.max(worst.radius, start, Math.abs(radiusAt(a, a) - radiusAt(b, b)));
    }
    at = a;
  }
  return worst;
}

function turnOf(motion: Motion): boolean | undefined {
  return motion.kind === "arc" ? motion.clockwise : undefined;
}

export function radiusAt(
  { x, y }: { readonly x: number; readonly y: number },
  arc: { readonly centreX: number; readonly centreY: number },
): number {
  return Math.hypot(x - arc.centreX, y - arc.centreY);
}
