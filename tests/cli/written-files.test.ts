/** The files of whole jobs through readers that are not ours. */
import { Resvg } from "@resvg/resvg-js";
import { expect, test } from "vitest";
import { OUTPUT_GRID_MM } from "../../src/base/tolerance.ts";
import { readFonts } from "../../src/cli/read-fonts.ts";
import { COUPON_KERFS_MM } from "../../src/crafts/leather-inlay/coupon.ts";
import { makeCouponFiles } from "../../src/documents/coupon-files.ts";
import { makeJobFiles, type WrittenFile } from "../../src/documents/job-files.ts";
import { prepareJob } from "../../src/documents/prepare-job.ts";
import { gridChain } from "../../src/formats/grid-chain.ts";
import { chainLength, signedArea } from "../../src/geometry/arc-chain.ts";
import {
  leatherProfile,
  type PreparedInlay,
  prepared,
  SAMPLE_NAMES,
  sampleDesign,
} from "../crafts/leather-inlay/inlay-case.ts";
import { type DxfReport, dxfReport } from "../formats/dxf/dxf-report.ts";
import { externalTest, runTool, withFiles } from "../support/external.ts";

const TOOL = { name: "plaitwright", version: "0" };

interface Written {
  readonly prepared: PreparedInlay;
  readonly textOf: (path: string) => string;
}

const written = new Map<string, Written>();

/** A sample's job, made once for all tests. */
function jobOf(name: (typeof SAMPLE_NAMES)[number]): Written {
  const known = written.get(name);
  if (known) return known;
  const design = sampleDesign(name);
  const job = prepareJob(design, "Test", leatherProfile());
  if (!job.ok) throw new Error(JSON.stringify(job.faults));
  const { files } = makeJobFiles(job.value, {
    design: { file: `${name}.plait.json`, sha256: "0".repeat(64) },
    tool: TOOL,
    extras: ["dxf-r12", "maker-model"],
    despiteChecks: false,
    sha256: () => "0".repeat(64),
    fonts: readFonts,
  });
  const made = { prepared: prepared(design), textOf: (path: string) => textOf(files, path) };
  written.set(name, made);
  return made;
}

function textOf(files: readonly WrittenFile[], path: string): string {
  const file = files.find((one) => one.path === path);
  if (typeof file?.content !== "string") throw new Error(`no text file ${path}`);
  return file.content;
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}

/** Rounding to the output grid moves a vertex by half a diagonal of the grid at most. */
const GRID_MOVE_MM = (OUTPUT_GRID_MM / 2) * Math.SQRT2;

/**
 * What the reader measures in each layer against the drawing: as written, on the output grid,
 * to a millionth; as drawn, within what the grid may move.
 */
function expectSameFigures(report: DxfReport, { prepared: { job } }: Written): void {
  expect([report.errors, report.fixes, report.finite, report.units]).toEqual([[], [], true, 4]);
  const { layers } = job.cut.drawing;
  expect(report.order).toEqual(layers.map(({ name }) => name));
  for (const { name, paths } of layers) {
    const found = report.layers[name];
    if (!found) throw new Error(`the reader found no layer ${name}`);
    const onGrid = paths.map(gridChain);
    const near = (actual: number, ours: number, within: number) =>
      expect(Math.abs(actual - ours)).toBeLessThanOrEqual(within);
    const length = sum(onGrid.map(chainLength));
    near(sum(found.lengths), length, 1e-6 * length);
    near(
      length,
      sum(paths.map(chainLength)),
      2 * GRID_MOVE_MM * sum(paths.map(({ vertices }) => vertices.length)),
    );
    // Strokes of letters are open, and the older format's writer may split them; cuts are closed.
    if (name === "MARK") continue;
    expect([found.closed, found.open]).toEqual([paths.length, 0]);
    // The older format's writer runs some paths the other way round.
    const area = sum(onGrid.map((path) => Math.abs(signedArea(path))));
    near(sum(found.areas.map(Math.abs)), area, 1e-6 * area);
    near(area, sum(paths.map((path) => Math.abs(signedArea(path)))), GRID_MOVE_MM * length);
  }
}

for (const name of SAMPLE_NAMES) {
  externalTest(`${name}: ezdxf reads cut.dxf to our figures and mends nothing`, ["python:ezdxf"], () => {
    const job = jobOf(name);
    const report = dxfReport(job.textOf("cut.dxf"));
    expect([report.version, report.metric, report.owned]).toEqual(["AC1015", 1, true]);
    expectSameFigures(report, job);
  });

  externalTest(`${name}: ezdxf reads cut-r12.dxf to our figures and mends nothing`, ["python:ezdxf"], () => {
    const job = jobOf(name);
    const report = dxfReport(job.textOf("cut-r12.dxf"));
    expect(report.version).toBe("AC1009");
    expectSameFigures(report, job);
  });

  externalTest(`${name}: GDAL counts and measures the layers of cut.dxf`, ["ogrinfo"], () => {
    const job = jobOf(name);
    withFiles({ "cut.dxf": job.textOf("cut.dxf") }, (pathOf) => {
      const sql =
        "select Layer, count(*) as paths, sum(st_length(geometry)) as total from entities group by Layer";
      const read = runTool("ogrinfo", [
        ...["-ro", "-q", "--config", "OGR_ARC_STEPSIZE", "0.1"],
        ...["-dialect", "SQLite", "-sql", sql, pathOf("cut.dxf")],
      ]);
      // Its exit code is 0 even when it could not read a thing.
      expect([read.code, read.stderr]).toEqual([0, ""]);
      const found = new Map(
        read.stdout
          .split("OGRFeature")
          .slice(1)
          .map((text) => {
            const field = (name: string) => new RegExp(`${name} \\(\\w+\\) = (\\S+)`).exec(text)?.[1] ?? "";
            return [field("Layer"), { paths: Number(field("paths")), total: Number(field("total")) }];
          }),
      );
      const { layers } = job.prepared.job.cut.drawing;
      expect([...found.keys()].sort()).toEqual(layers.map((layer) => layer.name).sort());
      for (const { name: layer, paths } of layers) {
        const { paths: count = 0, total = 0 } = found.get(layer) ?? {};
        expect(count).toBe(paths.length);
        // Its arcs are chords of a tenth of a degree, and text has three decimals.
        expect(Math.abs(total / sum(paths.map(chainLength)) - 1)).toBeLessThan(1e-4);
      }
    });
  });

  externalTest(`${name}: xmllint reads both pictures`, ["xmllint"], () => {
    const job = jobOf(name);
    const files = { "cut.svg": job.textOf("cut.svg"), "preview.svg": job.textOf("preview.svg") };
    withFiles(files, (pathOf) => {
      for (const file of Object.keys(files))
        expect(runTool("xmllint", ["--noout", "--nonet", pathOf(file)])).toEqual({
          code: 0,
          stdout: "",
          stderr: "",
        });
    });
  });

  test(`${name}: the openings of cut.svg, drawn, cover the area that was computed`, () => {
    const job = jobOf(name);
    const svg = job.textOf("cut.svg");
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    const style =
      "<style>g { display: none } #POCKET { display: inline; fill: #000; stroke: none }</style></svg>";
    const { bounds, layers } = job.prepared.job.cut.drawing;
    const pixelsPerMm = 10;
    const width = Math.round((bounds.maxX - bounds.minX) * pixelsPerMm);
    const filled = svg
      .replace("</svg>", style)
      .replaceAll('fill="none"', "")
      .replaceAll(/stroke="[^"]*"/g, "");
    const { pixels } = new Resvg(filled, { fitTo: { mode: "width", value: width } }).render();
    let covered = 0;
    for (let i = 3; i < pixels.length; i += 4) covered += (pixels[i] ?? 0) / 255;
    const scale = width / (bounds.maxX - bounds.minX);
    const pockets = layers.find((layer) => layer.name === "POCKET")?.paths ?? [];
    expect(Math.abs(covered / scale ** 2 / sum(pockets.map(signedArea)) - 1)).toBeLessThan(1e-3);
  });
}

externalTest("the coupon's pairs are compensated for their kerfs", ["python:ezdxf"], () => {
  const { files, manifest } = makeCouponFiles(leatherProfile(), TOOL, () => "0".repeat(64), readFonts);
  const report = dxfReport(textOf(files, "coupon.dxf"));
  expect([report.errors, report.fixes, report.finite, report.units]).toEqual([[], [], true, 4]);
  expect(manifest.counts).toEqual({ pairs: COUPON_KERFS_MM.length });
  for (const [layer, sense] of [
    ["INLAY", 1],
    ["POCKET", -1],
  ] as const) {
    const { areas = [], lengths = [] } = report.layers[layer] ?? {};
    expect(areas).toHaveLength(COUPON_KERFS_MM.length);
    for (const [i, kerf] of COUPON_KERFS_MM.entries()) {
      // 8 x 20 mm with corners of 1 mm once a beam of that kerf has taken half of it on each side.
      const [width, height, radius] = [8 + sense * kerf, 20 + sense * kerf, 1 + (sense * kerf) / 2];
      expect(areas[i]).toBeCloseTo(width * height - (4 - Math.PI) * radius ** 2, 2);
      expect(lengths[i]).toBeCloseTo(2 * (width + height) - (8 - 2 * Math.PI) * radius, 2);
    }
  }
});
