/** Design files (`*.plait.json`, format version 1): what is to be drawn, and how large. */
import { z } from "zod";
import { done, type Fault, type Result } from "../base/fault.ts";
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
  /** Rows of characters, from the top; their meaning is the lattice's. */
  readonly panel: readonly string[];
  readonly hand: Hand;
}

/** Rows of a panel, and characters of a row: 10,000 cells and the boundary. */
const MOST_PLACES = 20_001;

/** The ways to say what is drawn; a design has exactly one of them. */
const PIECE_KEYS = ["panel", "ring", "graph", "strands", "pieces"] as const;

/** Parts of the format that this version does not draw. */
const NOT_YET_KEYS = ["pieces", "layout", "joins", "ring", "graph", "strands"] as const;

/** Outside these a pitch can only be a slip. */
export const PITCH_MM = { least: 0.5, greatest: 5000 } as const;

const pitch = numberField(
  PITCH_MM.least,
  PITCH_MM.greatest,
  "mm",
  "Distance between neighbouring cell centres",
);

const notYet = z.unknown().exactOptional().meta({ description: "Part of the format; not drawn yet" });

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
    panel: z
      .array(z.string().max(MOST_PLACES))
      .min(1)
      .max(MOST_PLACES)
      .exactOptional()
      .meta({ description: "Rows of the panel, from the top" }),
    hand: z
      .enum(["Z", "S"])
      .exactOptional()
      .meta({ description: "Hand of the weave, as textiles name twist (ISO 2)", default: "Z" }),
    pieces: notYet,
    layout: notYet,
    joins: notYet,
    ring: notYet,
    graph: notYet,
    strands: notYet,
  })
  .meta({ title: "plaitwright design", description: "A knotwork design: *.plait.json" });

/**
 * Reads a design file; `file` is its name as the person gave it, for messages.
 *
 * Faults: those of the JSON text; unknown, missing and doubled keys; values of the wrong kind
 * or out of range; `wrong-version` (alone: the rest can't be judged then); `no-piece`,
 * `several-pieces`, `not-yet`. All that are found, in the order of the text.
 */
export function parseDesign(text: string, file: string): Result<Design> {
  const json = parseJson(text, file);
  if (!json.ok) return json;
  const checked = checkDocument(designSchema, json.value, file);
  const faults = [...(checked.ok ? [] : checked.faults.map(asPanelFault)), ...pieceFaults(json.value, file)];
  const version = faults.filter((fault) => fault.code === "wrong-version");
  if (!checked.ok || faults.length > 0) {
    return { ok: false, faults: version.length > 0 ? version : inTextOrder(faults) };
  }
  const { title, pitch: size, ribbon, panel = [], hand = "Z" } = checked.value;
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
  });
}

/** A panel without rows is the same fault as a panel without cells. */
function asPanelFault(fault: Fault): Fault {
  if (fault.code !== "too-short" || fault.path?.[0] !== "panel") return fault;
  const { length: _length, least: _least, of: _of, ...where } = fault;
  return { ...where, code: "panel-empty" };
}

/** Faults of the whole: that it says once what is drawn, and in a way that we draw. */
function pieceFaults(json: JsonText, file: string): Fault[] {
  const { value } = json;
  if (typeof value !== "object" || value === null || Array.isArray(value)) return [];
  const faults: PathFault[] = NOT_YET_KEYS.filter((key) => Object.hasOwn(value, key)).map((key) => ({
    code: "not-yet",
    feature: key,
    path: [key],
  }));
  const found = PIECE_KEYS.filter((key) => Object.hasOwn(value, key));
  if (found.length === 0) faults.push({ code: "no-piece", known: ["panel"], path: [] });
  if (found.length > 1) faults.push({ code: "several-pieces", found, path: [] });
  return placeFaults(faults, json, file);
}

function inTextOrder(faults: readonly Fault[]): Fault[] {
  const before = (a: number | undefined, b: number | undefined) => (a ?? 0) - (b ?? 0);
  return faults.toSorted((a, b) => before(a.line, b.line) || before(a.column, b.column));
}
