import { expect, test } from "vitest";
import type { CheckResult } from "../../../src/checks/check.ts";
import { checkGroove } from "../../../src/crafts/router/groove-checks.ts";
import { planGroove } from "../../../src/crafts/router/groove-plan.ts";
import type { GrooveSettings } from "../../../src/crafts/router/settings.ts";
import { holePanel, wovenGrooves } from "./groove-panels.ts";
import { grooveSettings, MILL_1, MILL_3, sampleCutter, V_60 } from "./sample-settings.ts";

function checked(changes: Partial<GrooveSettings>): Map<string, CheckResult> {
  const { panel, settings } = wovenGrooves(changes);
  return new Map(checkGroove(settings, planGroove(panel, settings)).map((result) => [result.rule, result]));
}

test("without a V cutter there is nothing to plan", () => {
  const found = checked({ cutters: [MILL_3] });
  expect([...found.keys()]).toEqual(["v-cutter"]);
  expect(found.get("v-cutter")?.verdict).toBe("fail");
});

test("a groove deeper than the cutter's cone is refused, with the width that would do", () => {
  // 60 degrees, 6 mm across: no deeper than 5.1962 mm (CHECKS.md, section 5), which is 6 mm wide.
  const small = sampleCutter(4, { kind: "v", diameterMm: 6, angleDeg: 60, tipMm: 0 });
  const depth = checked({ fill: "outlines", grooveWidthMm: 7, cutters: [small] }).get("groove-depth");
  expect(depth?.verdict).toBe("fail");
  expect(depth?.limit).toBeCloseTo(5.1962, 4);
  expect(depth?.measured).toBeCloseTo(7 / (2 * Math.tan(Math.PI / 6)), 6);
  // The whole cone, as wide as the cutter.
  expect(depth?.remedies.map(({ value }) => value)).toEqual([6]);
  expect(checked({ fill: "outlines", grooveWidthMm: 6, cutters: [small] }).get("groove-depth")?.verdict).toBe(
    "pass",
  );
});

test("a groove wider than the gap between ribbons is said to be narrower there", () => {
  // The sample's gap is 1.2 mm.
  const width = checked({ fill: "outlines", grooveWidthMm: 1.6 }).get("groove-width");
  expect(width?.verdict).toBe("warning");
  expect(width?.measured).toBeCloseTo(1.2, 2);
  expect(width?.count).toBeGreaterThan(0);
  expect(checked({ fill: "outlines", grooveWidthMm: 1.2 }).get("groove-width")?.verdict).toBe("pass");
});

test.each([
  { grooveWidthMm: 0.4, verdict: "fail" },
  { grooveWidthMm: 0.6, verdict: "pass" },
])("a tip of 0.5 mm, a groove of $grooveWidthMm mm: $verdict", ({ grooveWidthMm, verdict }) => {
  const blunt = sampleCutter(4, { kind: "v", diameterMm: 6, angleDeg: 60, tipMm: 0.5 });
  expect(checked({ fill: "outlines", grooveWidthMm, cutters: [blunt] }).get("groove-tip")?.verdict).toBe(
    verdict,
  );
});

test("the outermost groove needs its width of the border", () => {
  const narrow = checked({ fill: "outlines", grooveWidthMm: 1.2, borderMm: 1 }).get("groove-on-panel");
  expect(narrow?.verdict).toBe("fail");
  expect(narrow?.remedies.map(({ value }) => value)).toEqual([1.2]);
});

test("a place too wide for the depth is a warning with the depth that it asks for", () => {
  const square = [
    { x: 2, y: 2 },
    { x: 8, y: 2 },
    { x: 8, y: 8 },
    { x: 2, y: 8 },
  ];
  const panel = holePanel(square, { width: 10, height: 10 });
  const settings = grooveSettings({ deepestMm: 2, fieldMarginMm: 0, cutters: [V_60, MILL_1] });
  const floor = checkGroove(settings, planGroove(panel, settings)).find(({ rule }) => rule === "flat-floor");
  expect(floor?.verdict).toBe("warning");
  expect(floor?.count).toBe(1);
  // The largest disc has a radius of 3: 3 / tan 30 deep.
  expect(floor?.measured).toBeCloseTo(3 / Math.tan(Math.PI / 6), 4);
  expect(floor?.places[0]?.x).toBeCloseTo(5, 4);
  expect(floor?.places[0]?.y).toBeCloseTo(5, 4);
  expect(floor?.note).toContain(MILL_1.name);
  const deep = { ...settings, deepestMm: 6 };
  const pointed = checkGroove(deep, planGroove(panel, deep)).find(({ rule }) => rule === "flat-floor");
  expect(pointed?.verdict).toBe("pass");
});

test("wood has to stay below the deepest groove", () => {
  const keep = checked({ deepestMm: 3, stockThicknessMm: 8, keepBelowMm: 6 }).get("groove-keep");
  expect(keep?.verdict).toBe("fail");
  expect(keep?.measured).toBeCloseTo(5, 9);
  expect(keep?.remedies.map(({ change, value }) => [change, value])).toEqual([
    ["stockThicknessMm", 9],
    ["deepestMm", 2],
  ]);
});
