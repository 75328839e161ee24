/**
 * Drawings as DXF R2000 (AC1015) text: millimetres, a layer for each purpose, every chain
 * one LWPOLYLINE with bulges, in the order of work.
 *
 * The package `dxf-writer` makes the tables, blocks and dictionary. What it gets wrong for
 * R2000 is put right here: handles start anew for each file (same drawing, same bytes),
 * owners are block records, the header says release, unit and extents.
 */
import DxfDrawing from "dxf-writer/src/Drawing.js";
import Handle from "dxf-writer/src/Handle.js";
import Table from "dxf-writer/src/Table.js";
import type { Bounds } from "../../geometry/bounds.ts";
import type { Drawing } from "../../output/drawing.ts";
import { gridChain } from "../grid-chain.ts";
import { LAYER_LOOKS } from "../layer-look.ts";
import { writeComments } from "./comments.ts";
import { BlockRecord, LightPolyline } from "./objects.ts";
import { TagText } from "./tag-text.ts";

const MODEL_SPACE = "*Model_Space";
const UNIT_MM = 4;
const METRIC = 1;

/**
 * The drawing as DXF R2000 text (ASCII, mm). Layers that are only for reference are dashed.
 *
 * @throws InternalError for a number that is not finite or a path without length.
 */
export function writeDxf(drawing: Drawing): string {
  return withOwnHandles(() => {
    const frame = new DxfDrawing();
    for (const { name, worked } of drawing.layers)
      frame.addLayer(name, LAYER_LOOKS[name].colourIndex, worked ? "CONTINUOUS" : "DASHED");
    const lineTypes = tableOf("LTYPE", Object.values(frame.lineTypes));
    const layers = tableOf("LAYER", Object.values(frame.layers));
    const { blockRecords, modelSpaceHandle } = ownBlocks(frame);
    const entities = entitySection(drawing, modelSpaceHandle);

    const text = new TagText();
    writeComments(text, drawing);
    // The header names the first free handle, so it comes after every object is made.
    writeHeader(text, drawing.bounds);
    text.start("CLASSES");
    text.end();
    text.start("TABLES");
    for (const table of [lineTypes, layers, ...Object.values(frame.tables), blockRecords]) table.tags(text);
    text.end();
    text.start("BLOCKS");
    for (const block of Object.values(frame.blocks)) block.tags(text);
    text.end();
    text.append(entities);
    text.start("OBJECTS");
    frame.dictionary.tags(text);
    text.end();
    text.push(0, "EOF");
    return text.toString();
  });
}

/** Runs `make` with the process-wide handle counter at zero, and puts the counter back. */
function withOwnHandles<T>(make: () => T): T {
  const seed = Handle.seed;
  Handle.seed = 0;
  try {
    return make();
  } finally {
    Handle.seed = seed;
  }
}

function tableOf(name: string, elements: readonly Parameters<Table["add"]>[0][]): Table {
  const table = new Table(name);
  for (const element of elements) table.add(element);
  return table;
}

/** A record for each block, each block owned by its record. */
function ownBlocks(frame: DxfDrawing): { blockRecords: Table; modelSpaceHandle: string } {
  const blockRecords = new Table("BLOCK_RECORD");
  let modelSpaceHandle = "0";
  for (const block of Object.values(frame.blocks)) {
    const record = new BlockRecord(block.name);
    blockRecords.add(record);
    block.ownerObjectHandle = record.handle;
    block.end.ownerObjectHandle = record.handle;
    if (block.name === MODEL_SPACE) modelSpaceHandle = record.handle;
  }
  return { blockRecords, modelSpaceHandle };
}

function entitySection(drawing: Drawing, ownerHandle: string): TagText {
  const text = new TagText();
  text.start("ENTITIES");
  for (const { name, paths } of drawing.layers)
    for (const path of paths) new LightPolyline(gridChain(path), name, ownerHandle).tags(text);
  text.end();
  return text;
}

function writeHeader(text: TagText, { minX, minY, maxX, maxY }: Bounds): void {
  text.start("HEADER");
  text.headerVariable("ACADVER", [[1, "AC1015"]]);
  text.headerVariable("DWGCODEPAGE", [[3, "ANSI_1252"]]);
  text.headerVariable("HANDSEED", [[5, Handle.peek()]]);
  text.headerVariable("INSUNITS", [[70, UNIT_MM]]);
  text.headerVariable("MEASUREMENT", [[70, METRIC]]);
  text.headerVariable("EXTMIN", [
    [10, minX],
    [20, minY],
    [30, 0],
  ]);
  text.headerVariable("EXTMAX", [
    [10, maxX],
    [20, maxY],
    [30, 0],
  ]);
  text.end();
}
