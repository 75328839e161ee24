/** Design files (`*.plait.json`, format version 1): what is to be drawn, and how large. */
import { z } from "zod";
import { done, type Fault, type Result } from "../base/fault.ts";
import {
  graphField,
  handField,
  includeField,
  joinsField,
  layoutField,
  piecesField,
  ringField,
  rowsField,
  strandsField,
  type WrittenComposition,
} from "./composition.ts";
import { numberField, textField } from "./fields.ts";
import { type JsonText, parseJson } from "./json-text.ts";
import { checkDocument, type PathFault, placeFaults } from "./zod-faults.ts";

export type Corner = "pointed" | "round";
export type Hand = "Z" | "S";

export interface Design {
  readonly title?: string;
  /** Between neighbouring cell centres. */
  readonly pitchMm: { readonly across: number; readonly down: number };
  /** What the design leaves open, the profile gives. */
  readonly ribbon: { readonly widthMm?: number; readonly gapMm?: number; readonly corner?: Corner };
  /** Rows of characters, from the top; their meaning is the lattice's. Empty where the design is composed. */
  readonly panel: readonly string[];
  readonly hand: Hand;
  /** Pieces laid out and joined; a ring, graph or drawing by itself is a piece laid out alone. */
  readonly composition?: WrittenComposition;
  /** Given where the whole is woven in this hand, whatever the hands of its pieces. */
  readonly wholeHand?: Hand;
}

/** The ways to say what is drawn; a design has exactly one of them. */
const PIECE_KEYS = ["panel", "ring", "graph", "strands", "pieces"] as const;

export const PITCH_MM = { least: 0.5, greatest: 5000 } as const;

const pitch = numberField(
  PITCH_MM.least,
  PITCH_MM.greatest,
  "mm",
  "Distance between neighbouring cell centres",
);

export const designSchema = z
  .strictObject({
    plaitwright: z.literal(1).meta({ description: "Version of the design format" }),
    title: textField(200, "Name of the design, for people").exactOptional(),
    pitch: z
      .union([pitch, z.tuple([pitch, pitch])])
      .meta({ description: "Distance between neighbouring cell centres, mm: one number, or [across, down]" }),
    ribbon: z
      .strictObject({
        width: numberField(0.01, 5000, "mm", "Width of the ribbon").exactOptional(),
        gap: numberField(0.01, 5000, "mm", "Clear space beside a crossing ribbon").exactOptional(),
        corner: z.enum(["pointed", "round"]).exactOptional(),
      })
      .exactOptional()
      .meta({ description: "The ribbon; what is left out, the profile gives" }),
    panel: rowsField.exactOptional(),
    ring: ringField.exactOptional(),
    graph: graphField.exactOptional(),
    strands: strandsField.exactOptional(),
    hand: handField.exactOptional(),
    include: includeField.exactOptional(),
    pieces: piecesField.exactOptional(),
    layout: layoutField.exactOptional(),
    joins: joinsField.exactOptional(),
  })
  .meta({ title: "plaitwright design", description: "A knotwork design: *.plait.json" });

/**
 * Reads a design file; `file` is its name as the person gave it, for messages.
 *
 * Faults: those of the JSON text; unknown, missing and doubled keys; values of the wrong kind
 * or out of range; `wrong-version` (alone: the rest can't be judged then); `no-piece`,
 * `several-pieces`. All that are found, in the order of the text.
 */
export function parseDesign(text: string, file: string): Result<Design> {
  return readDocument(text, file, "layout");
}

/** As `parseDesign`, for a file that is included: pieces need no layout there. */
export function parseIncluded(text: string, file: string): Result<Design> {
  return readDocument(text, file, "pieces");
}

function readDocument(text: string, file: string, needs: "layout" | "pieces"): Result<Design> {
  const json = parseJson(text, file);
  if (!json.ok) return json;
  const checked = checkDocument(designSchema, json.value, file);
  const faults = [
    ...(checked.ok ? [] : checked.faults.map(asPanelFault)),
    ...pieceFaults(json.value, file, needs),
  ];
  const version = faults.filter((fault) => fault.code === "wrong-version");
  if (!checked.ok || faults.length > 0) {
    return { ok: false, faults: version.length > 0 ? version : inTextOrder(faults) };
  }
  const { title, pitch: size, ribbon, panel = [], hand = "Z" } = checked.value;
  const composition = compositionOf(checked.value);
  const [across, down] = typeof size === "number" ? [size, size] : size;
  return done({
    ...(title === undefined ? {} : { title }),
    pitchMm: { across, down },
    ribbon: {
      ...(ribbon?.width === undefined ? {} : { widthMm: ribbon.width }),
      ...(ribbon?.gap === undefined ? {} : { gapMm: ribbon.gap }),
      ...(ribbon?.corner === undefined ? {} : { corner: ribbon.corner }),
    },
    panel,
    hand,
    ...(composition === undefined ? {} : { composition }),
  });
}

/** Pieces with their layout and joins; a single piece other than a panel is laid out alone. */
function compositionOf(document: z.output<typeof designSchema>): WrittenComposition | undefined {
  const { include, pieces, layout = [], joins = [], ring, graph, strands, hand } = document;
  if (pieces || include) return { pieces: pieces ?? {}, layout, joins, ...(include && { include }) };
  const own = { ...(ring && { ring }), ...(graph && { graph }), ...(strands && { strands }) };
  const [name] = Object.keys(own);
  if (name === undefined) return undefined;
  return {
    pieces: { [name]: { ...own, ...(hand && { hand }) } },
    layout: [{ piece: name, at: [0, 0] }],
    joins: [],
    alone: name,
  };
}

/** A panel without rows is the same fault as a panel without cells. */
function asPanelFault(fault: Fault): Fault {
  if (fault.code !== "too-short" || fault.path?.[0] !== "panel") return fault;
  const { length: _length, least: _least, of: _of, ...where } = fault;
  return { ...where, code: "panel-empty" };
}

/** Faults of the whole: that it says once what is drawn, and in a way that we draw. */
function pieceFaults(json: JsonText, file: string, needs: "layout" | "pieces"): Fault[] {
  const { value } = json;
  if (typeof value !== "object" || value === null || Array.isArray(value)) return [];
  const faults: PathFault[] = [];
  const own = PIECE_KEYS.filter((key) => Object.hasOwn(value, key));
  // What is included takes the place of pieces, or stands beside them.
  const includes = Object.hasOwn(value, "include") && !own.includes("pieces");
  const found = includes ? [...own, "include"] : own;
  if (found.length === 0) faults.push({ code: "no-piece", known: PIECE_KEYS, path: [] });
  if (found.length > 1) faults.push({ code: "several-pieces", found, path: [] });
  const composed = Object.hasOwn(value, "pieces") || includes;
  if (needs === "layout" && composed && !Object.hasOwn(value, "layout"))
    faults.push({ code: "missing-key", key: "layout", path: [] });
  return placeFaults(faults, json, file);
}

function inTextOrder(faults: readonly Fault[]): Fault[] {
  const before = (a: number | undefined, b: number | undefined) => (a ?? 0) - (b ?? 0);
  return faults.toSorted((a, b) => before(a.line, b.line) || before(a.column, b.column));
}
