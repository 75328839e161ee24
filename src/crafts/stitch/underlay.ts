/**
 * What is sewn beneath a unit's cover, by the width of its column: a run along the middle, which is
 * the needle's way as well; a run along each edge, inset; and a zig-zag there and back. The lines
 * follow one another, and the last ends where the cover begins: out, back, out, back, out.
 */
import { between, distance, minus, type Point, turnBetween } from "../../geometry/point.ts";
import type { StitchRole } from "../../output/stitches.ts";
import type { SatinSettings } from "./settings.ts";
import { stepByStep, type UnitLines } from "./unit-lines.ts";
import { farPort, type Port, type SewUnit } from "./units.ts";

export interface RunLine {
  readonly points: readonly Point[];
  readonly stitchMm: number;
  readonly role: StitchRole;
}

type Side = "left" | "right";

export function underlayLines(
  lines: UnitLines,
  unit: SewUnit,
  from: Port,
  settings: SatinSettings,
): readonly RunLine[] {
  const { underlay, underlayStitchMm, edgeRunFromMm, zigzagFromMm } = settings;
  const out = lines.rungNumbers(unit, from);
  const middle = out.map((number) => lines.centre(unit, number));
  // The way along a bean line goes from hole to hole: off its threads it would show.
  if (lines.isBean(unit)) return stitchByStitch(middle, settings.greatestStitchMm, "travel");
  if (underlay === "none") return [{ points: middle, stitchMm: settings.runStitchMm, role: "travel" }];
  const found: RunLine[] = [{ points: middle, stitchMm: settings.runStitchMm, role: "underlay" }];
  const width = lines.units.columns[unit.column]?.widthMm ?? 0;
  const back = lines.rungNumbers(unit, farPort(from));
  const edge = (numbers: readonly number[], side: Side) =>
    numbers
      .filter((number) => reachesEdge(lines, unit, number, side))
      .map((number) =>
        isTightInside(lines, unit, number, side, settings.underlayInsetMm)
          ? lines.centre(unit, number)
          : insetPoint(lines, unit, number, side, settings.underlayInsetMm),
      );
  const add = (points: readonly Point[], stitchMm: number) =>
    found.push({ points, stitchMm, role: "underlay" });
  if (width >= edgeRunFromMm) {
    add(edge(back, "left"), underlayStitchMm);
    add(edge(out, "right"), underlayStitchMm);
  }
  if (width >= zigzagFromMm) {
    // Each line of the zig-zag is one stitch, or as few as the machine can sew.
    for (const [numbers, side] of [
      [back, "left"],
      [out, "right"],
    ] as const) {
      const points = zigzag(lines, unit, numbers, side, settings);
      found.push(...stitchByStitch(points, settings.greatestStitchMm, "underlay"));
    }
  }
  return found;
}

/** A line for each stitch, so that the needle goes in at every point. */
function stitchByStitch(points: readonly Point[], stitchMm: number, role: StitchRole): RunLine[] {
  return [[...points.slice(0, 1)], ...stepByStep(points)].map((step) => ({ points: step, stitchMm, role }));
}

/** Rungs that were shortened, cut at a mitre or at the column's end fall short of the edge by more than this share. */
const SHORT_SHARE = 0.1;

function reachesEdge(lines: UnitLines, unit: SewUnit, number: number, side: Side): boolean {
  const width = lines.units.columns[unit.column]?.widthMm ?? 0;
  const own = distance(lines.centre(unit, number), lines.rung(unit, number)[side]);
  return own >= (width / 2) * (1 - SHORT_SHARE);
}

/** On a smaller radius than this a run of stitches is a few chords that leave the ribbon. */
const LEAST_RUN_RADIUS_MM = 1.5;

/** Whether the run along an edge would go round the inside of a bend too tightly: it keeps to the middle there. */
function isTightInside(
  lines: UnitLines,
  unit: SewUnit,
  number: number,
  side: Side,
  insetMm: number,
): boolean {
  const [before, after] = [Math.max(unit.first, number - 1), Math.min(unit.last, number + 1)];
  const across = (at: number) => minus(lines.rung(unit, at).left, lines.rung(unit, at).right);
  const turn = turnBetween(across(before), across(after));
  if (turn === 0 || turn > 0 !== (side === "left")) return false;
  const radius = distance(lines.centre(unit, before), lines.centre(unit, after)) / Math.abs(turn);
  const width = lines.units.columns[unit.column]?.widthMm ?? 0;
  return radius - (width / 2 - insetMm) < LEAST_RUN_RADIUS_MM;
}

/** The end of a rung drawn in; a rung too short for that gives its middle. */
function insetPoint(lines: UnitLines, unit: SewUnit, number: number, side: Side, insetMm: number): Point {
  const centre = lines.centre(unit, number);
  const end = lines.rung(unit, number)[side];
  const half = distance(centre, end);
  return half <= insetMm ? centre : between(centre, end, 1 - insetMm / half);
}

/** From edge to edge, a line every so many mm along the column; it ends in the middle of the last rung. */
function zigzag(
  lines: UnitLines,
  unit: SewUnit,
  numbers: readonly number[],
  firstSide: Side,
  { zigzagSpacingMm, underlayInsetMm }: SatinSettings,
): Point[] {
  const points: Point[] = [];
  let side = firstSide;
  let gone = 0;
  let before: Point | undefined;
  for (const number of numbers) {
    const centre = lines.centre(unit, number);
    gone += before ? distance(before, centre) : zigzagSpacingMm;
    before = centre;
    if (gone < zigzagSpacingMm) continue;
    gone = 0;
    points.push(insetPoint(lines, unit, number, side, underlayInsetMm));
    side = side === "left" ? "right" : "left";
  }
  return points;
}
