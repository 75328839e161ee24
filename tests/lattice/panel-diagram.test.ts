/** Curves of panels: legs and fillets (DESIGN.md). */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  crossingCount,
  crossingOf,
  crossingPoint,
  edgeCurve,
  type KnotDiagram,
  twin,
} from "../../src/diagram/knot-diagram.ts";
import { strandLengths } from "../../src/diagram/strands.ts";
import {
  type ArcChain,
  chainBounds,
  chainEnd,
  chainLength,
  chainStart,
  segmentsOf,
} from "../../src/geometry/arc-chain.ts";
import { distance, turnBetween } from "../../src/geometry/point.ts";
import { arcOf, endDirection, startDirection } from "../../src/geometry/segment.ts";
import { selfMeets } from "../../src/geometry/self-meets.ts";
import { hasSquare } from "../../src/lattice/panel.ts";
import { samplesOf } from "../support/chorded.ts";
import { PITCH, wovenPanel } from "../support/panel-piece.ts";
import { BORDER_OF_THREE, plainPanel } from "../support/plain-panel.ts";
import { randomPanel } from "../support/random-panel.ts";

type Corner = "pointed" | "round";
const square = (corner: Corner) => ({ pitchMm: { across: PITCH, down: PITCH }, corner });

function allCurves(diagram: KnotDiagram): ArcChain[] {
  const edges: ArcChain[] = [];
  for (let half = 0; half < diagram.twin.length; half++) {
    if (twin(diagram, half) > half) edges.push(edgeCurve(diagram, half));
  }
  return [...edges, ...diagram.loops];
}

function kinks(chain: ArcChain): number[] {
  const segments = segmentsOf(chain);
  return segments.flatMap((segment, i) => {
    const next = segments[i + 1] ?? (chain.closed ? segments[0] : undefined);
    return next ? [Math.abs(turnBetween(endDirection(segment), startDirection(next)))] : [];
  });
}

/*
 * By hand, pitch P, a strand turned back by the border (2 x 2 cells, say). Between the two
 * crossings next to a border breakline the legs are: the diagonal from the crossing to the
 * quarter point, P/4 from the border, a lane along the border, the other diagonal. Crossings
 * beside a border breakline lie one cell apart, P; quarter points halfway, so each diagonal is
 * half of a diagonal step, (P/2)/sqrt 2 = P/(2 sqrt 2), and the lane P/2. Both corners turn by
 * 45 degrees, so the lane is shared in halves: reach P/4 each, and the diagonal's length
 * P/(2 sqrt 2) = 0.354 P holds it (the crossing takes nothing). Radius = reach / tan(turn/2)
 * = (P/4)/tan(22.5 deg).
 */
const BORDER_RADIUS = PITCH / 4 / Math.tan(Math.PI / 8);

test("a plain panel's border bends have the radius worked out by hand", () => {
  const { diagram } = wovenPanel(plainPanel(4, 3), "Z", square("round"));
  // Edges off one border breakline only: two arcs with one end point between them.
  const bends = allCurves(diagram).filter(
    (chain) => segmentsOf(chain).filter(({ bulge }) => bulge !== 0).length === 2,
  );
  // A side of p cells has p breaklines; the outermost two belong to the corners' longer turns, so
  // p - 2 have a bend of their own between two crossings.
  expect(bends.length).toBe(2 * (4 - 2) + 2 * (3 - 2));
  for (const bend of bends) {
    for (const arc of segmentsOf(bend).filter(({ bulge }) => bulge !== 0)) {
      expect(arcOf(arc).radius).toBeCloseTo(BORDER_RADIUS, 9);
      expect(Math.abs(arcOf(arc).sweep)).toBeCloseTo(Math.PI / 4, 9);
    }
    // Two diagonals less their reach, two arcs, no straight lane left.
    const length = 2 * (PITCH / (2 * Math.SQRT2) - PITCH / 4) + (2 * BORDER_RADIUS * Math.PI) / 4;
    expect(chainLength(bend)).toBeCloseTo(length, 9);
  }
});

test("a pointed corner is the only kink", () => {
  const { diagram } = wovenPanel(plainPanel(4, 3), "Z", square("pointed"));
  const sharp = allCurves(diagram)
    .flatMap(kinks)
    .filter((turn) => turn > 1e-7);
  expect(sharp.length).toBe(4);
  for (const turn of sharp) expect(turn).toBeCloseTo(Math.PI / 2, 9);
});

test("one cell is a loop that crosses nothing", () => {
  // By hand: four lanes P/2 long; pointed 2 P, with fillets a circle of radius P/4.
  const pointed = wovenPanel(plainPanel(1, 1), "Z", square("pointed"));
  expect(crossingCount(pointed.diagram)).toBe(0);
  expect(pointed.diagram.loops.length).toBe(1);
  expect(pointed.strands.count).toBe(1);
  expect(pointed.faces.count).toBe(2);
  expect(strandLengths(pointed.diagram, pointed.strands)[0]).toBeCloseTo(2 * PITCH, 9);
  const round = wovenPanel(plainPanel(1, 1), "Z", square("round")).diagram.loops[0];
  expect(round && chainLength(round)).toBeCloseTo((Math.PI * PITCH) / 2, 9);
});

test.each(["pointed", "round"] as const)(
  "every curve is smooth, leaves at the diagonal and stays in its panel (%s)",
  (corner) => {
    const stretch = fc.constantFrom(1, 0.7, 1.3);
    fc.assert(
      fc.property(randomPanel(), stretch, (rows, factor) => {
        const across = PITCH * factor;
        const { diagram, panel } = wovenPanel(rows, "Z", { pitchMm: { across, down: PITCH }, corner });
        for (const chain of allCurves(diagram)) {
          const sharp = kinks(chain).filter((turn) => turn > 1e-7);
          // Only corners of two lanes, level and upright, may stay sharp.
          if (corner === "round") expect(sharp).toEqual([]);
          for (const turn of sharp) expect(turn).toBeCloseTo(Math.PI / 2, 6);
          // An edge may come back to the crossing that it left.
          const crossed = selfMeets(segmentsOf(chain), chain.closed).filter(
            ({ point }) => chain.closed || distance(point, chainStart(chain)) > 1e-6,
          );
          expect(crossed).toEqual([]);
          for (const { x, y } of samplesOf(chain, 4)) {
            const column = Math.floor(x / (across / 2));
            const row = Math.floor(panel.rows - 1 - y / (PITCH / 2));
            expect(hasSquare(panel, row, column), `${x}, ${y}`).toBe(true);
          }
        }
        const diagonal = Math.atan2(PITCH, across);
        for (let half = 0; half < diagram.twin.length; half++) {
          const chain = edgeCurve(diagram, half);
          expect(distance(chainStart(chain), crossingPoint(diagram, crossingOf(half)))).toBeLessThan(1e-9);
          expect(
            distance(chainEnd(chain), crossingPoint(diagram, crossingOf(twin(diagram, half)))),
          ).toBeLessThan(1e-9);
          const [first] = segmentsOf(chain);
          const { x = 0, y = 0 } = first ? startDirection(first) : {};
          // Slots counter-clockwise from the upper right.
          const angle = [diagonal, Math.PI - diagonal, Math.PI + diagonal, -diagonal][half & 3] ?? 0;
          expect(Math.hypot(x - Math.cos(angle), y - Math.sin(angle))).toBeLessThan(1e-7);
        }
      }),
      { numRuns: 150 },
    );
  },
);

test("lanes on both sides of a breakline lie half a pitch apart", () => {
  // Two cells side by side, parted by a breakline for their whole height: two loops.
  const { diagram } = wovenPanel(["+-+-+", "|o|o|", "+-+-+"], "Z", square("pointed"));
  expect(diagram.loops.length).toBe(2);
  const boxes = diagram.loops.map(chainBounds).sort((a, b) => a.minX - b.minX);
  expect((boxes[1]?.minX ?? 0) - (boxes[0]?.maxX ?? 0)).toBeCloseTo(PITCH / 2, 9);
  expect(boxes[0]?.minX).toBeCloseTo(PITCH / 4, 9);
});

// DESIGN.md's samples, traced by hand in their text.
test("the border round a hole hangs together, and its hole is a face", () => {
  const frame = BORDER_OF_THREE;
  const { diagram, faces } = wovenPanel(frame);
  expect(crossingCount(diagram)).toBe(frame.join("").match(/x/g)?.length);
  expect(faces.parts).toBe(1);
  // The hole is one face of the drawing like any other.
  expect(faces.count).toBe(crossingCount(diagram) + 2);
});
