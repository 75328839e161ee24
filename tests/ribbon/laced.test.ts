import fc from "fast-check";
import { expect, test } from "vitest";
import { crossingCount, edgeCurve, twin } from "../../src/diagram/knot-diagram.ts";
import { chainLength, segmentsOf, signedArea } from "../../src/geometry/arc-chain.ts";
import { selfMeets } from "../../src/geometry/self-meets.ts";
import { laceRibbons } from "../../src/ribbon/laced.ts";
import { PITCH, wovenPanel } from "../support/panel-piece.ts";
import { plainPanel } from "../support/plain-panel.ts";
import { band, differenceArea, grow, polygonOf, without } from "../support/polygon-oracle.ts";
import { randomPanel } from "../support/random-panel.ts";

const WIDTH = 0.3 * PITCH;

test.each(["pointed", "round"] as const)(
  "bodies are the union of all widened edges (%s corners)",
  (corner) => {
    fc.assert(
      fc.property(randomPanel(5), (rows) => {
        const { diagram, faces } = wovenPanel(rows, "Z", { pitchMm: { across: PITCH, down: PITCH }, corner });
        const laced = laceRibbons(diagram, faces, WIDTH);
        expect(laced.troubles).toEqual([]);
        expect(laced.bodies.length).toBe(faces.parts);
        expect(laced.bodies.reduce((sum, { crossingLines }) => sum + crossingLines.length, 0)).toBe(
          2 * crossingCount(diagram),
        );
        const chains = laced.bodies.flatMap(({ outline, holes }) => [outline, ...holes]);
        // Each bounded face and the ground round each part: one closed curve; a loop has two.
        expect(chains.length).toBe(faces.first.length + 2 * diagram.loops.length);
        for (const chain of chains) expect(selfMeets(segmentsOf(chain), true)).toEqual([]);
        const edges = Array.from(diagram.twin.keys()).filter((half) => twin(diagram, half) > half);
        const widened = [
          ...edges.flatMap((half) => band(polygonOf(edgeCurve(diagram, half)), WIDTH, "pointed")),
          ...diagram.loops.flatMap((loop) => {
            const line = polygonOf(signedArea(loop) > 0 ? loop : { ...loop, vertices: [...loop.vertices] });
            return without(grow([line], WIDTH / 2, "pointed"), grow([line], -WIDTH / 2, "pointed"));
          }),
        ];
        const length = chains.reduce((sum, chain) => sum + chainLength(chain), 0);
        expect(differenceArea(chains.map(polygonOf), widened)).toBeLessThan(1e-3 * length);
      }),
      { numRuns: 40 },
    );
  },
);

/*
 * By hand, a plain panel's inner face lies between four crossings P/sqrt 2 apart: a square that
 * loses half a ribbon on every side.
 */
test("the holes inside a plain panel are squares", () => {
  const { diagram, faces } = wovenPanel(plainPanel(6, 6));
  const [body] = laceRibbons(diagram, faces, WIDTH).bodies;
  const side = PITCH / Math.SQRT2 - WIDTH;
  const squares = (body?.holes ?? []).filter(
    ({ vertices }) => vertices.length === 4 && vertices.every(({ bulge }) => bulge === 0),
  );
  expect(squares.length).toBeGreaterThan(20);
  for (const hole of squares) expect(signedArea(hole)).toBeCloseTo(-side * side, 9);
});
