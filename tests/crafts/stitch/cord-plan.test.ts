import { expect, test } from "vitest";
import { circleOutline } from "../../../src/crafts/panel-outline.ts";
import { cordPlan } from "../../../src/crafts/stitch/cord-plan.ts";
import { crossingCount } from "../../../src/diagram/knot-diagram.ts";
import { findStrands } from "../../../src/diagram/strands.ts";
import { wovenPanel } from "../../support/panel-piece.ts";
import { plainPanel } from "../../support/plain-panel.ts";

const RULE = { cordPerCrossingMm: 4, cordEndMm: 60 };

test("a ring that crosses nothing: its length and two ends", () => {
  const { diagram } = wovenPanel(plainPanel(2, 2));
  const alone = { ...diagram, x: new Float64Array(), y: new Float64Array(), twin: new Int32Array() };
  const ring = {
    ...alone,
    over: new Uint8Array(),
    curves: new Map(),
    loops: [circleOutline({ x: 0, y: 0 }, 20)],
  };
  // 2 pi 20 + 2 x 60.
  expect(cordPlan(ring, findStrands(ring), RULE)).toEqual([
    {
      strand: 0,
      name: "A",
      centrelineMm: expect.closeTo(125.664, 3),
      passes: 0,
      cordMm: expect.closeTo(245.664, 3),
    },
  ]);
});

test.each([
  [3, 2, 1],
  [3, 3, 3],
  [4, 2, 2],
])("a panel of %i x %i cells: %i strands pass twice through every crossing", (p, q, count) => {
  const { diagram, strands } = wovenPanel(plainPanel(p, q));
  const plan = cordPlan(diagram, strands, RULE);
  expect(plan).toHaveLength(count);
  expect(plan.reduce((sum, { passes }) => sum + passes, 0)).toBe(2 * crossingCount(diagram));
  for (const { centrelineMm, passes, cordMm } of plan)
    expect(cordMm).toBeCloseTo(centrelineMm + 4 * passes + 120, 9);
});

/**
 * Published: Pawson, Des Pawson's Knot Craft, 2nd ed. (2009), p. 100: mats laid in 3 or 4 passes take 1.24
 * to 1.55 times their area over the diameter of the rope (CHECKS 9). A plain panel is another knot, so only
 * the magnitude is compared, at the same closeness: lanes lie half a pitch apart, and are nearly filled.
 */
test("the cord of a closely filled mat is of the magnitude that is published", () => {
  const [ropeMm, passes] = [14, 4];
  const pitchMm = (passes * ropeMm) / 0.45;
  const { diagram, strands } = wovenPanel(plainPanel(3, 2), "Z", {
    pitchMm: { across: pitchMm, down: pitchMm },
    corner: "round",
  });
  const [only] = cordPlan(diagram, strands, { cordPerCrossingMm: ropeMm, cordEndMm: 0 });
  const ratio = (passes * (only?.cordMm ?? 0) * ropeMm) / (3 * pitchMm * 2 * pitchMm);
  expect(ratio).toBeGreaterThan(1);
  expect(ratio).toBeLessThan(1.8);
});
