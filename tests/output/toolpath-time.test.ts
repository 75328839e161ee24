import fc from "fast-check";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import type { Motion, Place3 } from "../../src/output/toolpath.ts";
import { estimateTime } from "../../src/output/toolpath-time.ts";
import { millionths } from "../support/random-chain.ts";

const START: Place3 = { x: 0, y: 0, z: 0 };

/** mm/s2; rapid 50 mm/s. */
const A = 500;
const MACHINE = { rapidMmPerMin: 3000, accelerationMmPerS2: A };

/** The deviation at corners that the model states, mm. */
const D = 0.01;

/** 1200 mm/min is 20 mm/s: reached within 20^2/(2 A) = 0.4 mm, in 0.04 s. */
const line = (x: number, y: number, z = 0, feedMmPerMin = 1200): Motion => ({
  kind: "line",
  ...{ x, y, z },
  feedMmPerMin,
});

const seconds = (motions: readonly Motion[], machine = MACHINE) =>
  estimateTime({ start: START, motions }, machine).seconds;

/** Of one straight leg by its speeds, all ramps complete: ramps, and the rest at full speed. */
function trapezoid(lengthMm: number, enter: number, top: number, leave: number): number {
  const rampMm = (top ** 2 - enter ** 2) / (2 * A) + (top ** 2 - leave ** 2) / (2 * A);
  return (top - enter) / A + (top - leave) / A + (lengthMm - rampMm) / top;
}

test.each<[string, number, readonly Motion[]]>([
  // L/v + v/a = 5 + 0.04
  ["a trapezoid", 5.04, [line(100, 0)]],
  // Too short for full speed: 2 sqrt(L/a)
  ["a triangle", 2 * Math.sqrt(0.4 / A), [line(0, 0, -0.4)]],
  // 50 mm/s: 100/50 + 50/500
  ["a rapid motion", 2.1, [{ kind: "rapid", x: 60, y: 80, z: 0 }]],
  ["no motion", 0, []],
  ["a motion to where it is", 0, [line(0, 0)]],
  ["there and back, with a stop", 10.08, [line(100, 0), line(0, 0)]],
  // The circle that touches both legs of a right angle D from its corner: R (sqrt 2 - 1) = D.
  [
    "a right angle",
    2 * trapezoid(100, 0, 20, Math.sqrt((A * D) / (Math.SQRT2 - 1))),
    [line(100, 0), line(100, 100)],
  ],
  [
    "a right angle between down and sideways",
    2 * trapezoid(50, 0, 20, Math.sqrt((A * D) / (Math.SQRT2 - 1))),
    [line(0, 0, -50), line(50, 0, -50)],
  ],
  [
    "straight on at half the feed",
    trapezoid(50, 0, 20, 10) + trapezoid(50, 10, 10, 0),
    [line(50, 0), line(100, 0, 0, 600)],
  ],
  // v = sqrt(a r) = 20 mm/s for r 0.8, less than the feed of 50 mm/s; length pi r.
  [
    "a tight half turn",
    trapezoid(0.8 * Math.PI, 0, 20, 0),
    [
      {
        kind: "arc",
        ...{ x: 0, y: 1.6, z: 0, centreX: 0, centreY: 0.8 },
        clockwise: false,
        feedMmPerMin: 3000,
      },
    ],
  ],
  // Level speed is held to 20 mm/s: along the helix to 20 times length / level length.
  [
    "a tight half turn down a helix at 45 degrees",
    trapezoid(0.8 * Math.PI * Math.SQRT2, 0, 20 * Math.SQRT2, 0),
    [
      {
        kind: "arc",
        ...{ x: 0, y: -1.6, z: -0.8 * Math.PI, centreX: 0, centreY: -0.8 },
        clockwise: true,
        feedMmPerMin: 3000,
      },
    ],
  ],
  // Tangent joints: no slowing at all, 10 + 5 pi + 10 mm in one go.
  [
    "a half turn between two lines that touch it",
    trapezoid(20 + 5 * Math.PI, 0, 20, 0),
    [
      line(10, 0),
      {
        kind: "arc",
        ...{ x: 10, y: 10, z: 0, centreX: 10, centreY: 5 },
        clockwise: false,
        feedMmPerMin: 1200,
      },
      line(0, 10),
    ],
  ],
])("%s takes %d s", (_, expected, motions) => {
  expect(seconds(motions)).toBeCloseTo(expected, 9);
});

test("lengths at a feed and at rapid speed, a helix by its slope", () => {
  const motions: readonly Motion[] = [
    { kind: "rapid", x: 3, y: 4, z: 0 },
    line(3, 4, -2),
    // A quarter of radius 2 and 3 mm down.
    {
      kind: "arc",
      ...{ x: 5, y: 6, z: -5, centreX: 3, centreY: 6 },
      clockwise: false,
      feedMmPerMin: 600,
    },
    { kind: "rapid", x: 5, y: 6, z: 0 },
  ];
  const { cutMm, rapidMm } = estimateTime({ start: START, motions }, MACHINE);
  expect(rapidMm).toBeCloseTo(10, 12);
  expect(cutMm).toBeCloseTo(2 + Math.hypot(Math.PI, 3), 12);
});

test("a straight way in pieces takes as long as the whole", () => {
  const cuts = fc.array(millionths(0.001, 0.999), { maxLength: 30 });
  const end = fc.record({ x: millionths(-40, 40), y: millionths(-40, 40), z: millionths(1, 5) });
  fc.assert(
    fc.property(cuts, end, (shares, to) => {
      const sorted = [...shares, 1].sort((a, b) => a - b);
      const pieces = sorted.map((share) => line(to.x * share, to.y * share, to.z * share));
      expect(seconds(pieces)).toBeCloseTo(seconds([line(to.x, to.y, to.z)]), 6);
    }),
    { numRuns: 100 },
  );
});

test("a curve in chords as far off as corners may be takes about as long as the arc", () => {
  // Bow D on radius 5: chords of 2 acos(1 - D/r); at 100 mm/s the arc's own pull is the limit.
  const count = Math.round(Math.PI / (2 * Math.acos(1 - D / 5)));
  const chords = Array.from({ length: count }, (_, i) => {
    const angle = (Math.PI * (i + 1)) / count;
    return line(5 - 5 * Math.cos(angle), 5 * Math.sin(angle), 0, 6000);
  });
  const arc: Motion = {
    kind: "arc",
    ...{ x: 10, y: 0, z: 0, centreX: 5, centreY: 0 },
    clockwise: true,
    feedMmPerMin: 6000,
  };
  expect(Math.abs(seconds(chords) / seconds([arc]) - 1)).toBeLessThan(0.03);
});

/**
 * The same model without look-ahead: the square of the speed at any place is the least of what each
 * corner and each leg allows, v^2 + 2 a (distance along the way). The integral of ds/v by many strips.
 */
function byStrips(points: readonly Place3[], speeds: readonly number[]): number {
  const legs = points.slice(1).map((to, i) => {
    const from = points[i] ?? START;
    return { x: to.x - from.x, y: to.y - from.y, z: to.z - from.z };
  });
  const lengths = legs.map(({ x, y, z }) => Math.hypot(x, y, z));
  const at = [0];
  for (const length of lengths) at.push((at.at(-1) ?? 0) + length);
  const corners = at.map((_, i) => {
    const [a, b] = [legs[i - 1], legs[i]];
    if (!a || !b) return 0;
    const cosine = (a.x * b.x + a.y * b.y + a.z * b.z) / ((lengths[i - 1] ?? 0) * (lengths[i] ?? 0));
    const half = Math.acos(Math.max(-1, Math.min(1, cosine))) / 2;
    return Math.sqrt((A * D * Math.cos(half)) / (1 - Math.cos(half)));
  });
  const total = at.at(-1) ?? 0;
  const strips = 20_000;
  let seconds = 0;
  for (let strip = 0; strip < strips; strip++) {
    const s = ((strip + 0.5) / strips) * total;
    let square = Number.POSITIVE_INFINITY;
    for (const [i, corner] of corners.entries())
      square = Math.min(square, corner ** 2 + 2 * A * Math.abs(s - (at[i] ?? 0)));
    for (const [i, speed] of speeds.entries()) {
      const outside = Math.max((at[i] ?? 0) - s, s - (at[i + 1] ?? 0), 0);
      square = Math.min(square, speed ** 2 + 2 * A * outside);
    }
    seconds += total / strips / Math.sqrt(square);
  }
  return seconds;
}

test("look-ahead finds the fastest way that every corner and leg allows", () => {
  const leg = fc.record({
    // Short and long: some speeds are never reached, some brakings go over many legs.
    length: millionths(-1.5, 1).map((power) => 10 ** power),
    turn: fc.oneof(millionths(-0.2, 0.2), millionths(-2.5, 2.5)),
    slope: millionths(-0.5, 0.5),
    feedMmPerMin: fc.integer({ min: 60, max: 6000 }),
  });
  fc.assert(
    fc.property(fc.array(leg, { minLength: 1, maxLength: 12 }), (legs) => {
      const points: Place3[] = [START];
      let heading = 0;
      for (const { length, turn, slope } of legs) {
        const from = points.at(-1) ?? START;
        heading += turn;
        points.push({
          x: from.x + length * Math.cos(slope) * Math.cos(heading),
          y: from.y + length * Math.cos(slope) * Math.sin(heading),
          z: from.z + length * Math.sin(slope),
        });
      }
      const motions = points.slice(1).map(({ x, y, z }, i) => line(x, y, z, legs[i]?.feedMmPerMin));
      const expected = byStrips(
        points,
        legs.map(({ feedMmPerMin }) => feedMmPerMin / 60),
      );
      expect(Math.abs(seconds(motions) / expected - 1)).toBeLessThan(0.01);
    }),
    { numRuns: 40 },
  );
});

test.each<[string, () => number]>([
  ["no acceleration", () => seconds([line(1, 0)], { ...MACHINE, accelerationMmPerS2: 0 })],
  ["no rapid speed", () => seconds([line(1, 0)], { ...MACHINE, rapidMmPerMin: Number.NaN })],
  ["no feed", () => seconds([line(1, 0, 0, 0)])],
  ["a place that is not a number", () => seconds([line(Number.NaN, 0)])],
  ["an infinite place", () => seconds([{ kind: "rapid", x: Number.POSITIVE_INFINITY, y: 0, z: 0 }])],
])("%s is a fault of ours", (_, estimate) => {
  expect(estimate).toThrow(InternalError);
});
