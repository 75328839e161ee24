import fc from "fast-check";
import makerjs from "makerjs";
import { expect, test } from "vitest";
import { type ArcChain, chainLength, segmentsOf, signedArea } from "../../src/geometry/arc-chain.ts";
import { easeCorners, filletPoints } from "../../src/geometry/fillet.ts";
import { turnBetween } from "../../src/geometry/point.ts";
import { arcOf, endDirection, type Segment, startDirection } from "../../src/geometry/segment.ts";
import { variantsOf } from "../support/variants.ts";

function kinks(chain: ArcChain): number[] {
  const segments = segmentsOf(chain);
  return segments.flatMap((segment, i) => {
    const next = segments[i + 1] ?? (chain.closed ? segments[0] : undefined);
    return next ? [Math.abs(turnBetween(endDirection(segment), startDirection(next)))] : [];
  });
}

test("a square's corners rounded by r lose (4 - pi) r^2 and (8 - 2 pi) r", () => {
  const square = [0, 10].flatMap((y) => (y === 0 ? [0, 10] : [10, 0]).map((x) => ({ x, y })));
  const chain = filletPoints(square, [2, 2, 2, 2], true);
  expect(signedArea(chain)).toBeCloseTo(100 - (4 - Math.PI) * 4, 10);
  expect(chainLength(chain)).toBeCloseTo(40 - (8 - 2 * Math.PI) * 2, 10);
  expect(chain.vertices.length).toBe(8);
  // The greatest radius uses up every side: a circle.
  expect(filletPoints(square, [5, 5, 5, 5], true).vertices.length).toBe(4);
});

test("fillets join without a kink", () => {
  const turn = fc.double({ min: -2.5, max: 2.5, noNaN: true }).filter((angle) => Math.abs(angle) > 0.01);
  fc.assert(
    fc.property(fc.array(turn, { minLength: 1, maxLength: 8 }), (turns) => {
      let heading = 0;
      let at = { x: 0, y: 0 };
      const points = [at];
      for (const by of [0, ...turns]) {
        heading += by;
        at = { x: at.x + 10 * Math.cos(heading), y: at.y + 10 * Math.sin(heading) };
        points.push(at);
      }
      // Each side gives half its length.
      const radii = [0, ...turns.map((by) => 5 / Math.tan(Math.abs(by) / 2)), 0].map((r) => Math.min(r, 20));
      const chain = filletPoints(points, radii, false);
      expect(Math.max(...kinks(chain))).toBeLessThan(1e-7);
      for (const [i, arc] of segmentsOf(chain)
        .filter(({ bulge }) => bulge !== 0)
        .entries())
        expect(arcOf(arc).radius).toBeCloseTo(radii[i + 1] ?? 0, 6);
    }),
  );
});

function toMaker({ from, to, bulge }: Segment): makerjs.IPathLine | makerjs.IPathArc {
  if (bulge === 0) return new makerjs.paths.Line([from.x, from.y], [to.x, to.y]);
  const { centre, radius } = arcOf({ from, to, bulge });
  const degrees = (p: { x: number; y: number }) =>
    (Math.atan2(p.y - centre.y, p.x - centre.x) * 180) / Math.PI;
  const [start, end] = bulge > 0 ? [from, to] : [to, from];
  return new makerjs.paths.Arc([centre.x, centre.y], radius, degrees(start), degrees(end));
}

/** Two sides of a closed chain whose other corners are smooth or far away: only the corner at 10, 0 is looked at. */
const CORNERS: readonly (readonly [string, ArcChain])[] = [
  [
    "line and line",
    {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 10, y: 0, bulge: 0 },
        { x: 14, y: 10, bulge: 0 },
      ],
    },
  ],
  [
    "line and arc",
    {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 10, y: 0, bulge: 0.3 },
        { x: 6, y: 12, bulge: 0 },
      ],
    },
  ],
  [
    "line and hollow arc",
    {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 10, y: 0, bulge: -0.3 },
        { x: 12, y: 12, bulge: 0 },
      ],
    },
  ],
  [
    "arc and arc",
    {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0.2 },
        { x: 10, y: 0, bulge: 0.25 },
        { x: 6, y: 12, bulge: 0 },
      ],
    },
  ],
];

test.each(CORNERS)("the corner of %s is rounded as makerjs rounds it", (_, chain) => {
  const [a, b] = segmentsOf(chain);
  if (!a || !b) throw new Error("two sides are needed");
  const fillet = makerjs.path.fillet(toMaker(a), toMaker(b), 1);
  expect(fillet).toBeTruthy();
  for (const { chain: variant, move } of variantsOf(chain)) {
    const eased = easeCorners(variant, 1);
    expect(eased.sharp).toEqual([]);
    expect(Math.max(...kinks(eased.chain))).toBeLessThan(1e-6);
    const { 0: x = 0, 1: y = 0 } = fillet?.origin ?? {};
    const centre = { x: move.a * x + move.c * y + move.e, y: move.b * x + move.d * y + move.f };
    const near = segmentsOf(eased.chain).filter(
      (segment) =>
        segment.bulge !== 0 &&
        Math.hypot(arcOf(segment).centre.x - centre.x, arcOf(segment).centre.y - centre.y) < 1e-4,
    );
    expect(near.length).toBe(1);
    expect(near[0] && arcOf(near[0]).radius).toBeCloseTo(1, 6);
  }
});

test("a corner without room is told", () => {
  const needle: ArcChain = {
    closed: true,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 10, y: 0, bulge: 0 },
      { x: 10, y: 0.5, bulge: 0 },
    ],
  };
  const eased = easeCorners(needle, 3);
  expect(eased.sharp.length).toBeGreaterThan(0);
  expect(eased.chain.vertices.every(({ x, y, bulge }) => [x, y, bulge].every(Number.isFinite))).toBe(true);
});
