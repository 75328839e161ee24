import { expect, test } from "vitest";
import { InternalError } from "../../../src/base/internal-error.ts";
import { writeDxfR12 } from "../../../src/formats/dxf/r12.ts";
import type { ArcChain } from "../../../src/geometry/arc-chain.ts";
import { externalTest, runTool, withFiles } from "../../support/external.ts";
import {
  BAD_PATHS,
  CIRCLE_AREA,
  CIRCLE_LENGTH,
  drawingOf,
  OPEN_LENGTH,
  ROUNDED_AREA,
  ROUNDED_LENGTH,
  SAMPLE,
  STADIUM_AREA,
  STADIUM_LENGTH,
} from "../sample-drawing.ts";
import { agrees, dxfReport } from "./dxf-report.ts";

externalTest(
  "ezdxf reads R12 with closed polylines, mm and layers, and mends nothing",
  ["python:ezdxf"],
  () => {
    const report = dxfReport(writeDxfR12(SAMPLE));
    expect(report.errors).toEqual([]);
    expect(report.fixes).toEqual([]);
    expect(report.version).toBe("AC1009");
    expect(report.units).toBe(4);
    expect(report.finite).toBe(true);
    expect(report.order).toEqual(["RIBBON", "MARK", "POCKET", "PANEL"]);
    expect(report.layers["POCKET"]).toMatchObject({ closed: 2, open: 0, kinds: { POLYLINE: 2 } });
    expect(report.layers["MARK"]).toMatchObject({ closed: 0, open: 1, kinds: { POLYLINE: 1 } });
    expect(report.table["RIBBON"]?.lineType).toBe("DASHED");
  },
);

externalTest("ezdxf reads R12 lengths and areas that agree with closed forms", ["python:ezdxf"], () => {
  const { layers } = dxfReport(writeDxfR12(SAMPLE));
  const area = (layer: string, index: number) => Math.abs(layers[layer]?.areas[index] ?? 0);
  const figures: readonly (readonly [number | undefined, number])[] = [
    [area("POCKET", 0), CIRCLE_AREA],
    [layers["POCKET"]?.lengths[0], CIRCLE_LENGTH],
    [area("POCKET", 1), STADIUM_AREA],
    [layers["POCKET"]?.lengths[1], STADIUM_LENGTH],
    [area("PANEL", 0), ROUNDED_AREA],
    [layers["PANEL"]?.lengths[0], ROUNDED_LENGTH],
    [layers["MARK"]?.lengths[0], OPEN_LENGTH],
  ];
  for (const [actual, expected] of figures)
    expect([actual, agrees(actual, expected)]).toEqual([actual, true]);
});

externalTest("paths that touch each other stay apart, in their order", ["python:ezdxf"], () => {
  // Squares of 10 and 20 with a whole corner in common; the exporter alone would mix their sides.
  const square = (size: number): ArcChain => ({
    closed: true,
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: size, y: 0, bulge: 0 },
      { x: size, y: size, bulge: 0 },
      { x: 0, y: size, bulge: 0 },
    ],
  });
  const drawing = drawingOf(square(10));
  const layers = drawing.layers.map((layer) => ({ ...layer, paths: [square(10), square(20)] }));
  const report = dxfReport(writeDxfR12({ ...drawing, layers }));
  expect(report.layers["POCKET"]?.areas.map(Math.abs)).toEqual([100, 400]);
});

externalTest(
  "an open path of one arc keeps its length, and one that touches itself keeps all of it",
  ["python:ezdxf"],
  () => {
    // Chord 5, bulge -1/2: radius 5 * 1.25 / 2 = 3.125, length 3.125 * 4 atan(1/2).
    const arc: ArcChain = {
      closed: false,
      vertices: [
        { x: 0, y: 0, bulge: -0.5 },
        { x: 5, y: 0, bulge: 0 },
      ],
    };
    const arcLengths = dxfReport(writeDxfR12(drawingOf(arc))).layers["POCKET"]?.lengths ?? [];
    expect(agrees(arcLengths[0], 12.5 * Math.atan(0.5))).toBe(true);
    // Two circles of radius 5, drawn in one go through the point where they touch.
    const eight: ArcChain = {
      closed: true,
      vertices: [
        { x: 5, y: 0, bulge: -1 },
        { x: 15, y: 0, bulge: -1 },
        { x: 5, y: 0, bulge: 1 },
        { x: -5, y: 0, bulge: 1 },
      ],
    };
    const lengths = dxfReport(writeDxfR12(drawingOf(eight))).layers["POCKET"]?.lengths ?? [];
    expect(
      agrees(
        lengths.reduce((sum, length) => sum + length, 0),
        20 * Math.PI,
      ),
    ).toBe(true);
  },
);

externalTest("GDAL reads R12 without a complaint", ["ogrinfo"], () => {
  withFiles({ "sample.dxf": writeDxfR12(SAMPLE) }, (pathOf) => {
    const run = runTool("ogrinfo", ["-ro", "-q", "-al", pathOf("sample.dxf")]);
    expect(run.stderr).toBe("");
    expect(run.stdout.match(/^OGRFeature/gm)).toHaveLength(5);
  });
});

test("the same drawing gives the same bytes, in pairs of ASCII lines", () => {
  const text = writeDxfR12(SAMPLE);
  expect(writeDxfR12(SAMPLE)).toBe(text);
  expect(text).toMatch(/^[ -~\n]*$/);
  expect(text.split("\n").length % 2).toBe(1);
});

test.each(BAD_PATHS)("a path that no machine could follow is a fault of ours: %s", (_, path) => {
  expect(() => writeDxfR12(drawingOf(path))).toThrow(InternalError);
});
