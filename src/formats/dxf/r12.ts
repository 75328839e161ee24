/**
 * Drawings as DXF R12 (AC1009) text for old controllers: POLYLINE entities with bulges, which
 * the exporter of makerjs writes. That exporter finds chains by the nearness of their ends and
 * sorts them by length, so it is given one chain at a time: the order of work stays, paths that
 * touch stay apart, and the cost grows with the number of chains and no faster.
 */
import makerjs from "makerjs";
import { InternalError } from "../../base/internal-error.ts";
import { OUTPUT_GRID_MM } from "../../base/tolerance.ts";
import type { Drawing } from "../../output/drawing.ts";
import { gridChain } from "../grid-chain.ts";
import { LAYER_LOOKS } from "../layer-look.ts";
import { chainModel } from "../maker-model.ts";
import { writeComments } from "./comments.ts";
import { TagText } from "./tag-text.ts";

type Pair = readonly [code: number, value: string];

/** The exporter rounds bulges and coordinates alike; the output grid is applied before. */
const EXPORTER_ACCURACY = 1e-9;

/** Less than a step of the grid, so that only ends that are one point are joined. */
const JOINING_DISTANCE_MM = OUTPUT_GRID_MM / 10;

/**
 * The drawing as DXF R12 text (ASCII, mm). An open chain of a single segment becomes a LINE
 * or an ARC, and one that touches itself may come out in several parts. Where a closed path
 * begins and which way a path runs is the exporter's choice; R2000 keeps both.
 *
 * @throws InternalError for a number that is not finite or a path without length.
 */
export function writeDxfR12(drawing: Drawing): string {
  const frame = exportModel(drawing, layerSamples(drawing));
  const text = new TagText();
  writeComments(text, drawing);
  text.start("HEADER");
  text.headerVariable("ACADVER", [[1, "AC1009"]]);
  pushAll(text, section(frame, "HEADER"));
  text.end();
  text.start("TABLES");
  pushAll(text, section(frame, "TABLES"));
  text.end();
  text.start("ENTITIES");
  for (const { name, paths } of drawing.layers) {
    for (const path of paths) {
      const model = { layer: name, ...chainModel(gridChain(path)) };
      pushAll(text, section(exportModel(drawing, model), "ENTITIES"));
    }
  }
  text.end();
  text.push(0, "EOF");
  return text.toString();
}

/** One line on each layer: the exporter defines just the layers that hold something. */
function layerSamples({ layers }: Drawing): makerjs.IModel {
  const samples = layers.map(({ name }): [string, makerjs.IPathLine] => [
    name,
    { type: "line", origin: [0, 0], end: [1, 0], layer: name },
  ]);
  return { paths: Object.fromEntries(samples) };
}

function exportModel({ layers }: Drawing, model: makerjs.IModel): Pair[] {
  const layerOptions: Record<string, makerjs.exporter.IDXFLayerOptions> = {};
  for (const { name, worked } of layers)
    layerOptions[name] = { color: LAYER_LOOKS[name].colourIndex, lineType: worked ? "CONTINUOUS" : "DASHED" };
  const text = makerjs.exporter.toDXF(model, {
    usePOLYLINE: true,
    units: "mm",
    accuracy: EXPORTER_ACCURACY,
    pointMatchingDistance: JOINING_DISTANCE_MM,
    layerOptions,
  });
  const lines = text.split("\n");
  const pairs: Pair[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) pairs.push([Number(lines[i]), lines[i + 1] ?? ""]);
  return pairs;
}

/** What stands inside one section of an export. */
function section(pairs: readonly Pair[], name: string): readonly Pair[] {
  const start = pairs.findIndex(([code, value]) => code === 2 && value === name);
  const length = pairs.slice(start).findIndex(([code, value]) => code === 0 && value === "ENDSEC");
  if (start < 0 || length < 0) throw new InternalError(`the exporter wrote no section ${name}`);
  return pairs.slice(start + 1, start + length);
}

function pushAll(text: TagText, pairs: readonly Pair[]): void {
  for (const [code, value] of pairs) text.push(code, holdsNumber(code) ? Number(value) : value);
}

/** The group codes of numbers among those that the exporter writes. */
function holdsNumber(code: number): boolean {
  return code >= 10 && code <= 79;
}
