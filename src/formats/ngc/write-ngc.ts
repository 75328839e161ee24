/**
 * Router programs as RS-274/NGC text (Kramer, Proctor & Messina, NISTIR 6556, 2000): the words
 * that the report defines and nothing that a single controller adds to them. Millimetres,
 * absolute coordinates from the carver's zero, arcs by their centre.
 */
import { formatNumber } from "../../base/format-number.ts";
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import type { Point } from "../../geometry/point.ts";
import type { Cutter, CutterShape, ToolProgram, ToolRun } from "../../output/toolpath.ts";
import { MotionLines } from "./motion-lines.ts";
import { commentLines, messageLine } from "./ngc-comment.ts";

/**
 * G61, exact path: the machine slows or stops where it must to keep to the path. G64 would let
 * it round corners, by how much the report leaves to the machine (a tolerance after G64 is an
 * addition of some controllers), and a ribbon's corner is what a carver looks at.
 */
const SET_UP = "G21 G17 G90 G94 G40 G80 G54 G61";

/** For the spindle to come to speed. Common practice, no source. */
const SPIN_UP_S = 5;

/**
 * The text of these runs of a program, one after another; a stop for the person at the machine
 * stands between two.
 *
 * @throws InternalError for no runs, a run that starts below the clearance height, a speed or
 *   feed of zero or less, an arc past half a turn, a number that is not finite.
 */
export function writeNgc(program: ToolProgram, runs: readonly ToolRun[]): string {
  if (runs.length === 0) throw new InternalError("a program without runs");
  const lines = [...head(program, runs), SET_UP];
  for (const [index, run] of runs.entries()) {
    lines.push(...change(run, index > 0));
    // One by one: arguments are limited, and a run may have a million lines.
    for (const line of motionLines(program, run)) lines.push(line);
    lines.push("M5");
  }
  lines.push("M2");
  return `${lines.join("\n")}\n`;
}

function head(program: ToolProgram, runs: readonly ToolRun[]): string[] {
  const { title, originAt, envelope, clearanceZMm, notes } = program;
  const texts = [
    title,
    "Unit: millimetre. Feeds in mm per minute.",
    `Zero: ${zeroPlace(originAt)}. Z zero on the upper face of the stock, cuts are below it.`,
    `The cutter's tip stays within X ${span(envelope, "x", originAt.x)}, Y ${span(envelope, "y", originAt.y)}, Z ${span(envelope, "z", 0)}.`,
    `Rapid moves sideways between cuts at Z ${formatNumber(clearanceZMm, 3)}.`,
    ...notes,
    ...runs.map(
      ({ cutter, spindleRpm, purpose }) =>
        `Cutter ${cutter.number}: ${cutterName(cutter)}, ${formatNumber(spindleRpm, 0)} rpm: ${purpose}`,
    ),
    ...(runs.length > 1 ? ["The program stops for each further cutter."] : []),
  ];
  return texts.flatMap(commentLines);
}

function zeroPlace({ x, y }: Point): string {
  const corner = "lower left corner of the finished piece";
  if (x === 0 && y === 0) return corner;
  return `${formatNumber(x, 3)} mm right of and ${formatNumber(y, 3)} mm above the ${corner}`;
}

function span({ min, max }: ToolProgram["envelope"], axis: "x" | "y" | "z", zero: number): string {
  return `${formatNumber(min[axis] - zero, 3)} to ${formatNumber(max[axis] - zero, 3)}`;
}

function cutterName({ name, shape, flutes }: Cutter): string {
  return `${name} [${shapeName(shape)}, ${flutes} ${flutes === 1 ? "flute" : "flutes"}]`;
}

function shapeName(shape: CutterShape): string {
  const across = `${formatNumber(shape.diameterMm, 3)} mm`;
  switch (shape.kind) {
    case "end-mill":
      return `end mill ${across}`;
    case "ball":
      return `ball ${across}`;
    case "v":
      return `V ${formatNumber(shape.angleDeg, 3)} degrees, ${across}, tip ${formatNumber(shape.tipMm, 3)} mm`;
  }
}

/**
 * The report changes the cutter at M6. Where the cutter is changed by hand, a controller may
 * pass over M6 or wait at it; the stop after it serves both, before the spindle starts.
 */
function change({ cutter, spindleRpm, purpose }: ToolRun, stop: boolean): string[] {
  if (!(Number.isInteger(cutter.number) && cutter.number > 0))
    throw new InternalError(`no place of a tool table has the number ${cutter.number}`);
  const speed = formatNumber(spindleRpm, 0);
  if (!(Number(speed) > 0)) throw new InternalError(`a spindle at ${spindleRpm} rpm`);
  return [
    ...commentLines(`Cutter ${cutter.number}: ${purpose}`),
    `T${cutter.number} M6`,
    ...(stop
      ? [messageLine(`Fit cutter ${cutter.number}, set Z zero on the stock's face: ${cutter.name}`), "M0"]
      : []),
    `S${speed} M3`,
    `G4 P${SPIN_UP_S}`,
  ];
}

function motionLines(
  { originAt, clearanceZMm }: ToolProgram,
  { start, motions }: ToolRun,
): readonly string[] {
  if (!(start.z >= clearanceZMm - SAME_POINT_MM))
    throw new InternalError(`a run starts at z ${start.z}, below the clearance height ${clearanceZMm}`);
  const lines = new MotionLines(start, originAt);
  for (const motion of motions) lines.add(motion);
  lines.riseTo(clearanceZMm);
  return lines.lines;
}
