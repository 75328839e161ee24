import fc from "fast-check";
import { expect, test } from "vitest";
import { arcCurves, type CubicCurve } from "../../../src/formats/pdf/arc-bezier.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import { arcOf, type Segment } from "../../../src/geometry/segment.ts";

const QUARTER = Math.SQRT2 - 1;
const quarterTurn: Segment = { from: { x: 1, y: 0 }, to: { x: 0, y: 1 }, bulge: QUARTER };

/** Bernstein form. */
function onCurve(from: Point, { first, second, to }: CubicCurve, t: number): Point {
  const [a, b, c, d] = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3];
  return {
    x: a * from.x + b * first.x + c * second.x + d * to.x,
    y: a * from.y + b * first.y + c * second.y + d * to.y,
  };
}

/** How far the curves stray from the arc's circle at most, sampled. */
function stray(arc: Segment, curves: readonly CubicCurve[]): number {
  const { centre, radius } = arcOf(arc);
  let worst = 0;
  let from = arc.from;
  for (const curve of curves) {
    for (let i = 0; i <= 100; i++)
      worst = Math.max(worst, Math.abs(distance(onCurve(from, curve, i / 100), centre) - radius));
    from = curve.to;
  }
  return worst;
}

// Control points 4/3 (sqrt 2 - 1) = 0.5522847 along the tangents, and a greatest error of 0.02725 %
// of the radius: widely published, e.g. Goldapp 1991 (value from memory: 2.7e-4).
test("a quarter turn has the well-known control points and error", () => {
  const [curve, ...others] = arcCurves(quarterTurn, 2.73e-4);
  expect(others).toEqual([]);
  expect(curve?.first.x).toBeCloseTo(1, 12);
  expect(curve?.first.y).toBeCloseTo(0.5522847498, 9);
  expect(curve?.second.x).toBeCloseTo(0.5522847498, 9);
  expect(curve?.second.y).toBeCloseTo(1, 12);
  expect(stray(quarterTurn, curve ? [curve] : [])).toBeCloseTo(2.725e-4, 7);
  expect(arcCurves(quarterTurn, 2.72e-4)).toHaveLength(2);
});

test("curves join, end where the arc ends, and keep within the error asked for", () => {
  const coordinate = fc.double({ min: -500, max: 500, noNaN: true });
  const bulge = fc.double({ min: -1, max: 1, noNaN: true }).filter((b) => Math.abs(b) > 1e-4);
  fc.assert(
    fc.property(coordinate, coordinate, coordinate, coordinate, bulge, (x0, y0, x1, y1, b) => {
      const arc: Segment = { from: { x: x0, y: y0 }, to: { x: x1, y: y1 }, bulge: b };
      fc.pre(distance(arc.from, arc.to) > 0.01);
      const curves = arcCurves(arc, 1e-3);
      expect(curves.at(-1)?.to).toEqual(arc.to);
      expect(stray(arc, curves)).toBeLessThan(1e-3 + 1e-7);
    }),
    { numRuns: 200 },
  );
});
