/**
 * Circular arcs as cubic Bézier curves, for PDF has no others (ISO 32000-1, 8.5.2).
 *
 * The control points lie 4/3 tan(a/4) r along the tangents, a being the angle of one curve: ends,
 * middle and tangents are exact. Between them the curve strays outward only, by at most
 * r (sqrt(1 + 4/27 sin^6(a/4) / cos^2(a/4)) - 1), which follows from the distance of the curve's
 * points from the centre (Goldapp, "Approximation of circular arcs by cubic polynomials",
 * Computer Aided Geometric Design 8, 1991, measures this way). With bulge b = tan(a/4) and chord c
 * both are free of the centre: the controls are c (1 + b^2) / 3 away, and sin^6/cos^2 is
 * b^6 / (1 + b^2)^2.
 */
import { along, distance, type Point } from "../../geometry/point.ts";
import { endDirection, type Segment, segmentPart, startDirection } from "../../geometry/segment.ts";

/** The furthest that a drawn curve may stray from its arc: a tenth of what a printer's dot measures. */
export const CURVE_ERROR_MM = 1e-3;

/** One curve holds half a turn at most, as a segment does; this many are enough for any radius that paper holds. */
const MOST_CURVES = 64;

export interface CubicCurve {
  readonly first: Point;
  readonly second: Point;
  readonly to: Point;
}

/** The curves that follow an arc (bulge other than 0) within `errorMm`, each beginning where the one before ended. */
export function arcCurves(arc: Segment, errorMm: number): CubicCurve[] {
  let count = 1;
  while (count < MOST_CURVES && strayOf(segmentPart(arc, 0, 1 / count)) > errorMm) count++;
  const curves: CubicCurve[] = [];
  for (let i = 0; i < count; i++)
    curves.push(curveOf(count === 1 ? arc : segmentPart(arc, i / count, (i + 1) / count)));
  return curves;
}

function curveOf(part: Segment): CubicCurve {
  const reach = (distance(part.from, part.to) * (1 + part.bulge * part.bulge)) / 3;
  return {
    first: along(part.from, startDirection(part), reach),
    second: along(part.to, endDirection(part), -reach),
    to: part.to,
  };
}

/** How far one curve strays from the arc, mm. */
function strayOf({ from, to, bulge }: Segment): number {
  const square = 1 + bulge * bulge;
  const radius = (distance(from, to) * square) / (4 * Math.abs(bulge));
  return radius * (Math.sqrt(1 + (4 / 27) * (bulge ** 6 / (square * square))) - 1);
}
