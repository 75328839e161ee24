import dxfParser from "dxf-parser";
import { expect, test } from "vitest";
import { InternalError } from "../../../src/base/internal-error.ts";
import { writeDxf } from "../../../src/formats/dxf/r2000.ts";
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
  STADIUM,
  STADIUM_AREA,
  STADIUM_LENGTH,
} from "../sample-drawing.ts";
import { agrees, dxfReport } from "./dxf-report.ts";

// At run time the package's export is the class itself; its types tell of a named export.
const Parser = dxfParser as unknown as typeof import("dxf-parser").DxfParser;

externalTest(
  "ezdxf finds nothing to report or to mend, and reads header and layers",
  ["python:ezdxf"],
  () => {
    const report = dxfReport(writeDxf(SAMPLE));
    expect(report.errors).toEqual([]);
    expect(report.fixes).toEqual([]);
    expect(report.version).toBe("AC1015");
    expect(report.units).toBe(4);
    expect(report.metric).toBe(1);
    expect(report.extents).toEqual([
      [0, 0, 0],
      [120, 65, 0],
    ]);
    expect(report.finite).toBe(true);
    expect(report.owned).toBe(true);
    expect(report.order).toEqual(["RIBBON", "MARK", "POCKET", "PANEL"]);
    const colours = SAMPLE.layers.map(({ name }) => report.table[name]?.colour);
    expect(new Set(colours).size).toBe(4);
    expect(report.table["RIBBON"]?.lineType).toBe("DASHED");
    expect(report.table["POCKET"]?.lineType).toBe("CONTINUOUS");
  },
);

externalTest("ezdxf reads lengths and areas that agree with closed forms", ["python:ezdxf"], () => {
  const { layers } = dxfReport(writeDxf(SAMPLE));
  expect(layers["PANEL"]).toMatchObject({ closed: 1, open: 0, kinds: { LWPOLYLINE: 1 } });
  expect(layers["POCKET"]).toMatchObject({ closed: 2, open: 0, kinds: { LWPOLYLINE: 2 } });
  expect(layers["MARK"]).toMatchObject({ closed: 0, open: 1, kinds: { LWPOLYLINE: 1 } });
  // Path order within a layer: the circle first, then the stadium.
  const figures: readonly (readonly [number | undefined, number])[] = [
    [layers["POCKET"]?.areas[0], CIRCLE_AREA],
    [layers["POCKET"]?.lengths[0], CIRCLE_LENGTH],
    [layers["POCKET"]?.areas[1], STADIUM_AREA],
    [layers["POCKET"]?.lengths[1], STADIUM_LENGTH],
    [layers["PANEL"]?.areas[0], ROUNDED_AREA],
    [layers["PANEL"]?.lengths[0], ROUNDED_LENGTH],
    [layers["MARK"]?.lengths[0], OPEN_LENGTH],
  ];
  for (const [actual, expected] of figures)
    expect([actual, agrees(actual, expected)]).toEqual([actual, true]);
});

externalTest("GDAL reads the same number of paths and the same length on each layer", ["ogrinfo"], () => {
  withFiles({ "sample.dxf": writeDxf(SAMPLE) }, (pathOf) => {
    const run = runTool("ogrinfo", [
      ...["--config", "OGR_ARC_STEPSIZE", "0.1", "-ro", "-q", "-al", pathOf("sample.dxf")],
      ...["-dialect", "SQLite", "-sql"],
      "select Layer, count(*) as n, sum(st_length(geometry)) as len from entities group by Layer",
    ]);
    expect(run.stderr).toBe("");
    const rows = [
      ...run.stdout.matchAll(/Layer \(String\) = (\w+)\s+n \(Integer\) = (\d+)\s+len \(Real\) = ([\d.]+)/g),
    ];
    const read = new Map(rows.map(([, layer, count, length]) => [layer, [Number(count), Number(length)]]));
    const expected: readonly (readonly [string, number, number])[] = [
      ["RIBBON", 1, ROUNDED_LENGTH],
      ["MARK", 1, OPEN_LENGTH],
      ["POCKET", 2, CIRCLE_LENGTH + STADIUM_LENGTH],
      ["PANEL", 1, ROUNDED_LENGTH],
    ];
    expect(read.size).toBe(expected.length);
    for (const [layer, count, length] of expected) {
      expect(read.get(layer)?.[0]).toBe(count);
      expect(agrees(read.get(layer)?.[1], length)).toBe(true);
    }
  });
});

test("a third reader sees closed polylines with their bulges in the order of work", () => {
  const document = new Parser().parseSync(writeDxf(SAMPLE));
  const entities = document?.entities ?? [];
  expect(entities.map(({ layer }) => layer)).toEqual(["RIBBON", "MARK", "POCKET", "POCKET", "PANEL"]);
  expect(entities[2]).toMatchObject({
    type: "LWPOLYLINE",
    shape: true,
    vertices: [
      { x: 20, y: 50, bulge: 1 },
      { x: 40, y: 50, bulge: 1 },
    ],
  });
  expect(entities[1]).toMatchObject({ shape: false });
});

test("the same drawing gives the same bytes, whatever was written before", () => {
  const first = writeDxf(SAMPLE);
  writeDxf(drawingOf(STADIUM));
  expect(writeDxf(SAMPLE)).toBe(first);
});

test("the text is pairs of a code and an ASCII value; notes break no line and stay at the head", () => {
  const text = writeDxf(SAMPLE);
  expect(text).toMatch(/^[ -~\n]*$/);
  const lines = text.split("\n");
  expect(lines.pop()).toBe("");
  expect(lines.length % 2).toBe(0);
  const codes = lines.filter((_, index) => index % 2 === 0);
  expect(codes.every((code) => /^\d{1,4}$/.test(code))).toBe(true);
  // Title, three notes of which one has four lines, four purposes: 1 + 6 + 4.
  expect(codes.filter((code) => code === "999")).toHaveLength(11);
  expect(codes.lastIndexOf("999")).toBe(10);
  expect(lines).toContain("Wear eye protection \\U+2013 \\U+201Calways\\U+201D.");
});

test("vertices are rounded to the output grid, bulges kept, segments that vanish there left out", () => {
  // 0.0004 mm rounds to nothing: the third vertex falls on the second.
  const chain: ArcChain = {
    closed: true,
    vertices: [
      { x: 0.00049, y: -0.0004, bulge: 0.1234567891 },
      { x: 10.00051, y: 0, bulge: 0 },
      { x: 10.0009, y: 0.0001, bulge: 0 },
      { x: 10, y: 10, bulge: 0 },
    ],
  };
  const lines = writeDxf(drawingOf(chain)).split("\n");
  const start = lines.indexOf("LWPOLYLINE");
  expect(lines.slice(lines.indexOf("AcDbPolyline", start) + 1, lines.indexOf("ENDSEC", start) - 1)).toEqual([
    ...["90", "3", "70", "1", "43", "0"],
    ...["10", "0", "20", "0", "42", "0.123456789"],
    ...["10", "10.001", "20", "0"],
    ...["10", "10", "20", "10"],
  ]);
});

test.each(BAD_PATHS)("a path that no machine could follow is a fault of ours: %s", (_, path) => {
  expect(() => writeDxf(drawingOf(path))).toThrow(InternalError);
});

test("extents that are not finite are a fault of ours", () => {
  const bounds = { minX: 0, minY: 0, maxX: Number.NEGATIVE_INFINITY, maxY: 1 };
  expect(() => writeDxf(drawingOf(STADIUM, bounds))).toThrow(InternalError);
});
