import makerjs from "makerjs";
import { expect, test } from "vitest";
import { InternalError } from "../../src/base/internal-error.ts";
import { makerModel } from "../../src/formats/maker-model.ts";
import {
  BAD_PATHS,
  CIRCLE_LENGTH,
  drawingOf,
  OPEN_LENGTH,
  OPEN_LINE,
  ROUNDED_LENGTH,
  SAMPLE,
  STADIUM_LENGTH,
} from "./sample-drawing.ts";

test("makerjs finds every chain on its layer with the length of the closed form", () => {
  const found = new Map<string, { length: number; closed: boolean }[]>();
  makerjs.model.findChains(
    makerModel(SAMPLE),
    (chains, loose, layer) => {
      expect(loose).toEqual([]);
      found.set(
        layer,
        chains.map(({ pathLength, endless }) => ({ length: pathLength, closed: endless ?? false })),
      );
    },
    { byLayers: true },
  );
  // makerjs lists the longest chain first.
  const expected: readonly (readonly [string, readonly (readonly [number, boolean])[]])[] = [
    ["RIBBON", [[ROUNDED_LENGTH, true]]],
    ["MARK", [[OPEN_LENGTH, false]]],
    [
      "POCKET",
      [
        [STADIUM_LENGTH, true],
        [CIRCLE_LENGTH, true],
      ],
    ],
    ["PANEL", [[ROUNDED_LENGTH, true]]],
  ];
  expect([...found.keys()]).toEqual(expected.map(([layer]) => layer));
  for (const [layer, chains] of expected) {
    expect(found.get(layer)?.map(({ closed }) => closed)).toEqual(chains.map(([, closed]) => closed));
    for (const [index, [length]] of chains.entries())
      expect(found.get(layer)?.[index]?.length).toBeCloseTo(length, 6);
  }
});

test("a clockwise arc becomes the counter-clockwise arc between the exchanged ends", () => {
  // From (35, 65) clockwise to (47, 53): centre (35, 53), radius 12, angles 90 down to 0 degrees.
  const paths = makerModel(drawingOf(OPEN_LINE)).models?.["POCKET"]?.models?.["0"]?.paths;
  expect(paths?.["0"]).toEqual({ type: "line", origin: [5, 65], end: [35, 65] });
  const arc = paths?.["1"] as makerjs.IPathArc;
  expect(arc.origin[0]).toBeCloseTo(35, 9);
  expect(arc.origin[1]).toBeCloseTo(53, 9);
  expect(arc.radius).toBeCloseTo(12, 9);
  expect(arc.startAngle).toBeCloseTo(0, 9);
  expect(arc.endAngle).toBeCloseTo(90, 9);
});

test("the model says its unit", () => {
  expect(makerModel(SAMPLE).units).toBe(makerjs.unitType.Millimeter);
});

test.each(BAD_PATHS)("a path that no machine could follow is a fault of ours: %s", (_, path) => {
  expect(() => makerModel(drawingOf(path))).toThrow(InternalError);
});
