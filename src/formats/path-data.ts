/**
 * Arc chains as SVG path data (SVG 1.1, section 8.3): true arcs, absolute coordinates, each
 * rounded once. y grows downward in SVG, so it is turned over here, which makes a
 * counter-clockwise arc one of sweep flag 0.
 */
import { formatNumber } from "../base/format-number.ts";
import { InternalError } from "../base/internal-error.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import { distance, type Point } from "../geometry/point.ts";
import { type Segment, segmentPart } from "../geometry/segment.ts";

/** Fine enough that the rounding of a radius moves no point of a quarter turn off the output grid. */
const RADIUS_DECIMALS = 6;

/** Just over a quarter turn, so that a quarter turn with rounding noise is not split. */
const LONGEST_SWEEP_RAD = Math.PI / 2 + 1e-6;

/**
 * The chain as the text of a `d` attribute, coordinates in the chain's own unit and printed to
 * `decimals` places; y becomes `flipAtY` - y. Segments that vanish in the rounding are left out.
 *
 * @throws InternalError for a number that is not finite.
 */
export function pathData(chain: ArcChain, decimals: number, flipAtY: number): string {
  const page = new Page(decimals, flipAtY);
  const segments = segmentsOf(chain);
  const commands: string[] = [];
  for (const [index, segment] of segments.entries()) {
    if (index === 0) commands.push(`M${page.text(page.place(segment.from))}`);
    if (!Number.isFinite(segment.bulge))
      throw new InternalError(`a path to be written holds the bulge ${segment.bulge}`);
    // Closing the path draws the last straight line.
    const closes = chain.closed && index === segments.length - 1;
    if (!isStraight(segment)) commands.push(...arcCommands(segment, page));
    else if (!closes) commands.push(...lineCommand(segment, page));
  }
  if (chain.closed) commands.push("Z");
  return commands.join("");
}

/** The page's own coordinates: rounded, y down. */
class Page {
  readonly #decimals: number;
  readonly #stepsPerUnit: number;
  readonly #flipAtY: number;

  constructor(decimals: number, flipAtY: number) {
    this.#decimals = decimals;
    this.#stepsPerUnit = 10 ** decimals;
    this.#flipAtY = flipAtY;
  }

  place({ x, y }: Point): Point {
    return { x: this.#round(x), y: this.#round(this.#flipAtY - y) };
  }

  text({ x, y }: Point): string {
    return `${formatNumber(x, this.#decimals)} ${formatNumber(y, this.#decimals)}`;
  }

  #round(value: number): number {
    return Math.round(value * this.#stepsPerUnit) / this.#stepsPerUnit;
  }
}

/** Whether nobody could tell the arc from its chord: an arc's height is half chord times bulge. */
function isStraight({ from, to, bulge }: Segment): boolean {
  return bulge === 0 || (distance(from, to) * Math.abs(bulge)) / 2 < SAME_POINT_MM;
}

function lineCommand({ from, to }: Segment, page: Page): string[] {
  const end = page.place(to);
  return samePlace(page.place(from), end) ? [] : [`L${page.text(end)}`];
}

/**
 * Arc commands of at most a quarter turn each: at a half turn a radius rounded down is too
 * small for its chord, and one rounded up moves the centre far off.
 */
function arcCommands(segment: Segment, page: Page): string[] {
  const sweep = 4 * Math.atan(Math.abs(segment.bulge));
  const pieces = Math.ceil(sweep / LONGEST_SWEEP_RAD);
  const flag = segment.bulge > 0 ? 0 : 1;
  const commands: string[] = [];
  let from = page.place(segment.from);
  for (let piece = 0; piece < pieces; piece++) {
    const part = pieces === 1 ? segment : segmentPart(segment, piece / pieces, (piece + 1) / pieces);
    const to = page.place(part.to);
    if (samePlace(from, to)) continue;
    // From the rounded ends, so that the arc keeps its sweep.
    const bulge = Math.abs(part.bulge);
    const radius = formatNumber((distance(from, to) * (1 + bulge * bulge)) / (4 * bulge), RADIUS_DECIMALS);
    commands.push(`A${radius} ${radius} 0 0 ${flag} ${page.text(to)}`);
    from = to;
  }
  return commands;
}

/** Exact comparison is right here: both points come from the same rounding. */
function samePlace(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}
