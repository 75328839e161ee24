/** A drawing in every vector format: the files that go to a machine. */
import { writeDxfR12 } from "../formats/dxf/r12.ts";
import { writeDxf } from "../formats/dxf/r2000.ts";
import { makerModel } from "../formats/maker-model.ts";
import { writeSvg } from "../formats/svg.ts";
import type { Drawing } from "../output/drawing.ts";
import type { ExtraFormat, PlannedFile } from "./craft.ts";

/** @param what the drawing in words, e.g. "the cuts" */
export function drawingFiles(
  name: string,
  drawing: Drawing,
  what: string,
  extras: readonly ExtraFormat[],
): PlannedFile[] {
  const files: PlannedFile[] = [
    {
      path: `${name}.dxf`,
      kind: "dxf",
      purpose: `${what}, for the machine (DXF 2000, mm)`,
      content: () => writeDxf(drawing),
    },
    {
      path: `${name}.svg`,
      kind: "svg",
      purpose: `${what}, for the machine (SVG, mm)`,
      content: () => writeSvg(drawing),
    },
  ];
  if (extras.includes("dxf-r12"))
    files.push({
      path: `${name}-r12.dxf`,
      kind: "dxf",
      purpose: `${what}, for old controllers (DXF R12, mm)`,
      content: () => writeDxfR12(drawing),
    });
  if (extras.includes("maker-model"))
    files.push({
      path: `${name}.model.json`,
      kind: "model",
      purpose: `${what}, as a makerjs model for people who go on in code`,
      content: () => `${JSON.stringify(makerModel(drawing))}\n`,
    });
  return files;
}
