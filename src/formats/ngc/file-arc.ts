/**
 * Arcs as an RS-274/NGC file can say them: start, end and centre are rounded to the file's grid,
 * and what a reader draws from the rounded numbers is measured before it is written.
 */
import { InternalError } from "../../base/internal-error.ts";
import { OUTPUT_GRID_MM, SAME_POINT_MM } from "../../base/tolerance.ts";
import { cross, distance, minus, type Point } from "../../geometry/point.ts";
import { type ArcCourse, arcSweep } from "../../output/motion-arc.ts";
import { FILE_GRID_MM } from "./file-grid.ts";

/** Start and end may lie this far apart in their distance to the centre (NISTIR 6556, section 3.5.3.2). */
const RADII_APART_MM = 0.002;

/** How far a drawn radius may be off, and chords off their arc, where the file cannot hold the arc. */
const ARC_ERROR_MM = OUTPUT_GRID_MM;

/** An arc may end this far past half a turn: at a half turn, rounding alone may carry it over. */
const PAST_HALF_TURN_MM = OUTPUT_GRID_MM;

/** Some readers refuse arcs of next to no radius (about 0.0013 mm), and no machine can tell them from lines. */
const LEAST_RADIUS_MM = 0.01;

/** @throws InternalError for an arc that is none, or that turns through more than half a turn. */
export function requireArc(from: Point, arc: ArcCourse): void {
  const centre = { x: arc.centreX, y: arc.centreY };
  const start = distance(from, centre);
  const end = distance(arc, centre);
  // Written this way round, not-a-number fails too.
  if (!(Math.abs(start - end) < RADII_APART_MM))
    throw new InternalError(`an arc begins ${start} mm and ends ${end} mm from its centre`);
  if (pastHalfTurn(from, arc) > PAST_HALF_TURN_MM)
    throw new InternalError(`an arc of more than half a turn to ${arc.x}, ${arc.y}`);
}

/** How a motion from `from` (on the grid) along `drawn` (rounded) stands in for the `meant` arc. */
export function arcForm(
  from: Point,
  drawn: ArcCourse,
  meant: { readonly from: Point; readonly arc: ArcCourse },
): "arc" | "line" | "chords" {
  const centre = { x: drawn.centreX, y: drawn.centreY };
  const start = distance(from, centre);
  const end = distance(drawn, centre);
  if (bow(distance(from, drawn), Math.min(start, end)) < FILE_GRID_MM) return "line";
  const radius = meanRadius(meant.from, meant.arc);
  const holds =
    Math.abs(start - end) < RADII_APART_MM &&
    Math.max(Math.abs(start - radius), Math.abs(end - radius)) <= ARC_ERROR_MM &&
    Math.min(start, end) >= LEAST_RADIUS_MM &&
    pastHalfTurn(from, drawn) <= PAST_HALF_TURN_MM;
  return holds ? "arc" : "chords";
}

/** Corners of chords that stray from the arc by at most `ARC_ERROR_MM`, its end the last; z in even steps by `shareOfWay`. */
export function arcChords(
  from: Point,
  arc: ArcCourse,
): { readonly at: Point; readonly shareOfWay: number }[] {
  const sweep = arcSweep(from, arc);
  const centre = { x: arc.centreX, y: arc.centreY };
  const start = distance(from, centre);
  const end = distance(arc, centre);
  const step = 2 * Math.acos(Math.max(-1, 1 - ARC_ERROR_MM / Math.max(start, end)));
  const count = Math.max(1, Math.ceil(sweep / step));
  const first = Math.atan2(from.y - centre.y, from.x - centre.x);
  const corners = Array.from({ length: count - 1 }, (_, i) => {
    const shareOfWay = (i + 1) / count;
    const angle = first + (arc.clockwise ? -sweep : sweep) * shareOfWay;
    const radius = start + (end - start) * shareOfWay;
    return {
      at: { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) },
      shareOfWay,
    };
  });
  return [...corners, { at: { x: arc.x, y: arc.y }, shareOfWay: 1 }];
}

function meanRadius(from: Point, arc: ArcCourse): number {
  const centre = { x: arc.centreX, y: arc.centreY };
  return (distance(from, centre) + distance(arc, centre)) / 2;
}

/** How far the centre lies beyond the chord, on the side where the arc is: 0 or less up to half a turn. */
function pastHalfTurn(from: Point, arc: ArcCourse): number {
  const centre = { x: arc.centreX, y: arc.centreY };
  const chord = distance(from, arc);
  // It ends where it began: a full circle.
  if (chord <= SAME_POINT_MM) return distance(from, centre);
  const leftBy = cross(minus(arc, from), minus(centre, from)) / chord;
  return arc.clockwise ? leftBy : -leftBy;
}

/** The most that an arc strays from its chord, at half a turn at most. */
function bow(chord: number, radius: number): number {
  const half = Math.min(chord / 2, radius);
  return radius === 0 ? 0 : (half * half) / (radius + Math.sqrt(radius * radius - half * half));
}
