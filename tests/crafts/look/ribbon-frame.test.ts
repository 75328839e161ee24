import { describe, expect, test } from "vitest";
import { CLOSED_GAP_SHARE, finishedKnot, framesOf } from "../../../src/crafts/look/finished-knot.ts";
import { makeFrame } from "../../../src/crafts/look/make-frame.ts";
import { capEdge, fieldBetween, lineAlong, runPoint } from "../../../src/crafts/look/ribbon-frame.ts";
import { crossingPoint, edgeCurve, halfEdge } from "../../../src/diagram/knot-diagram.ts";
import { polyline, segmentsOf, signedArea } from "../../../src/geometry/arc-chain.ts";
import { nearestOn } from "../../../src/geometry/meet.ts";
import { distance, type Point } from "../../../src/geometry/point.ts";
import type { Segment } from "../../../src/geometry/segment.ts";
import { closedPiece, makeRibbons } from "../../../src/ribbon/ribbon.ts";
import { wovenSample } from "./woven-sample.ts";

const SAMPLES = ["sea-chest-lid", "lantern-wreath", "tiller-triad"];

/** A square of 40 mm as a strand that crosses nothing, its ribbon 6 mm wide. */
function squareFrame() {
  const corners = [
    { x: 0, y: 0 },
    { x: 40, y: 0 },
    { x: 40, y: 40 },
    { x: 0, y: 40 },
  ];
  const sample = wovenSample("sea-chest-lid");
  const piece = closedPiece(0, polyline(corners, true), [], 6);
  const frame = "kind" in piece ? undefined : makeFrame(sample.woven.diagram, piece, 6);
  if (!frame) throw new Error("no frame");
  return frame;
}

describe("a square ribbon", () => {
  test.each([
    // Parallels of a square of side 40 are squares of side 40 - 2 x 3 u (left is inside).
    { u: 1, side: 34 },
    { u: 0.5, side: 37 },
    { u: 0, side: 40 },
    { u: -1, side: 46 },
  ])("the line at $u is a square of $side mm", ({ u, side }) => {
    const line = lineAlong(squareFrame(), u);
    expect(line.closed).toBe(true);
    expect(signedArea(line)).toBeCloseTo(side * side, 6);
  });

  test("lines across lie on the mitre at corners and square in the middle", () => {
    const [run] = squareFrame().runs;
    if (!run) throw new Error("no run");
    expect(run.lengthMm).toBe(40);
    const off = (s: number, u: number, x: number, y: number) => distance(runPoint(run, s, u), { x, y });
    expect(off(0, 1, 3, 3)).toBeLessThan(1e-9);
    expect(off(0, -1, -3, -3)).toBeLessThan(1e-9);
    expect(off(20, 1, 20, 3)).toBeLessThan(1e-9);
    expect(off(20, -1, 20, -3)).toBeLessThan(1e-9);
  });

  test("a field round it has the area of the band: 46^2 - 34^2", () => {
    const frame = squareFrame();
    const field = fieldBetween(frame, { from: 0, to: frame.lengthMm }, -1, 1);
    expect(signedArea(field)).toBeCloseTo(46 ** 2 - 34 ** 2, 6);
  });
});

describe.each(SAMPLES)("ribbons of %s", (name) => {
  const sample = wovenSample(name);
  const { woven, widthMm } = sample;
  const gapMm = CLOSED_GAP_SHARE * widthMm;
  const { diagram } = woven;
  const frames = framesOf(woven, finishedKnot(woven, { widthMm, gapMm }));
  const { pieces } = makeRibbons(diagram, woven.strands, { widthMm, gapMm });

  test("every piece has a frame, its middle line on the centreline", () => {
    expect(frames).toHaveLength(pieces.length);
    for (const [i, frame] of frames.entries()) {
      const centre = segmentsOf(pieces[i]?.centreline ?? polyline([], false));
      for (const { x, y } of lineAlong(frame, 0).vertices)
        expect(farFrom({ x, y }, centre)).toBeLessThan(1e-6);
    }
  });

  test("ends lie on the edge of the strand that passes over", () => {
    for (const [i, frame] of frames.entries()) {
      for (const [k, at] of (["start", "end"] as const).entries()) {
        const crossing = pieces[i]?.ends[k] ?? -1;
        const half = halfEdge(crossing, diagram.over[crossing] ?? 0);
        const over = [half, half ^ 2].flatMap((way) => segmentsOf(edgeCurve(diagram, way)));
        // The outermost points are taken a little further in, and moved out along the piece.
        const edge = capEdge(frame, at);
        expect(edge).toHaveLength(5);
        for (const point of edge)
          expect(Math.abs(farFrom(point, over) - widthMm / 2 - gapMm)).toBeLessThan(0.03 * widthMm);
        expect(distance(edge[2] ?? { x: 0, y: 0 }, crossingPoint(diagram, crossing))).toBeLessThan(
          2 * widthMm,
        );
      }
    }
  });

  test("whole fields are as large as the pieces", () => {
    for (const [i, frame] of frames.entries()) {
      const field = fieldBetween(frame, { from: 0, to: frame.lengthMm }, -1, 1);
      const { outline } = pieces[i] ?? { outline: polyline([], true) };
      // Ends are straight here, where over-strands may bow.
      expect(Math.abs(signedArea(field) - signedArea(outline))).toBeLessThan(0.04 * widthMm ** 2);
    }
  });
});

function farFrom(point: Point, segments: readonly Segment[]): number {
  return Math.min(...segments.map((segment) => distance(nearestOn(segment, point), point)));
}
