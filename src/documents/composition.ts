/**
 * The parts of a design file that compose: pieces, how they are laid out, and how they are
 * joined (DESIGN "Design file", "Joining").
 */
import { z } from "zod";
import { issueOf, numberField, textField } from "./fields.ts";

/** Cells: places of a layout, x right, y down. */
const cell = numberField(-10_000, 10_000, "cells", "Cells; x to the right, y down");
const cellPair = z.tuple([cell, cell]);
const count = (most: number, description: string) => z.int().min(1).max(most).meta({ description });

/** Rows of a panel, and characters of a row: 10,000 cells and the boundary. */
const MOST_PLACES = 20_001;

export const rowsField = z
  .array(z.string().max(MOST_PLACES))
  .min(1)
  .max(MOST_PLACES)
  .meta({ description: "Rows of the panel, from the top" });

export const handField = z
  .enum(["Z", "S"])
  .meta({ description: "Hand of the weave, as textiles name twist (ISO 2)", default: "Z" });

const pieceName = textField(200, "Name of a piece: `wing`, or `knots/wing` of an included file");

/** A file that lies beside the document: a plain name, which leads to no other folder. */
export function besideField(ending: string, description: string) {
  return textField(120, description).check(({ value, issues }) => {
    if (!/^[^/\\:*?"<>|.][^/\\:*?"<>|]*$/.test(value) || !value.toLowerCase().endsWith(ending))
      issues.push(issueOf({ code: "not-beside", found: value, ending }, [], value));
  });
}

export const includeField = z
  .record(z.string().regex(/^[^/]{1,60}$/), besideField(".json", "A design file beside this one"))
  .meta({
    description:
      "Design files whose pieces may be used here, by a name each: their piece wing is knots/wing, and a design of one piece alone is knots",
  });

export const ringField = z
  .strictObject({
    around: count(10_000, "Cells round a plain ring").exactOptional(),
    rows: numberField(0.5, 5000, "cells", "Cells across a plain ring").exactOptional(),
    panel: rowsField.exactOptional(),
    inner: numberField(0.1, 100_000, "mm", "Radius of the inner edge"),
    angle: numberField(1, 350, "degrees", "Makes a fan of it: a panel bent over this angle").exactOptional(),
    spacing: z
      .enum(["conformal", "equal"])
      .exactOptional()
      .meta({ description: "Radii grow in proportion (crossings stay square), or by equal steps" }),
    hub: z.boolean().exactOptional().meta({ description: "One strand more, round a hub in the middle" }),
  })
  .meta({ description: "A panel bent round a centre" });

export const graphField = z
  .strictObject({
    points: z.array(cellPair).min(1).max(100_000),
    lines: z
      .array(
        z.union([
          z.tuple([z.int().min(0), z.int().min(0)]),
          z.tuple([z.int().min(0), z.int().min(0), numberField(-1, 1, "", "Bulge of an arc")]),
        ]),
      )
      .max(100_000),
  })
  .meta({ description: "Points and lines; a crossing lies on the middle of each line" });

export const strandsField = textField(120, "An SVG file of centrelines beside the design file").check(
  ({ value, issues }) => {
    if (!/^[^/\\:*?"<>|]+\.svg$/i.test(value))
      issues.push(issueOf({ code: "unsafe-name", found: value }, [], value));
  },
);

const fuseField = z
  .strictObject({
    parts: z
      .array(
        z.strictObject({
          piece: pieceName,
          at: z.tuple([numberField(0, 10_000, "cells", "Cells"), numberField(0, 10_000, "cells", "Cells")]),
        }),
      )
      .min(2)
      .max(1000),
    open: z
      .union([z.enum(["all", "middle"]), z.array(z.tuple([z.int().min(0), z.int().min(0)])).max(10_000)])
      .exactOptional()
      .meta({
        description:
          "Where shared edges open to a crossing: all, the middle, or [row, column] of the fused panel",
      }),
  })
  .meta({ description: "Panels on one lattice made into one" });

const twistsField = z
  .int()
  .min(0)
  .max(99)
  .meta({ description: "Crossings of the tie; around a point: 0 or 1 on each arm" });

const pieceField = z.strictObject({
  panel: rowsField.exactOptional(),
  ring: ringField.exactOptional(),
  graph: graphField.exactOptional(),
  strands: strandsField.exactOptional(),
  fuse: fuseField.exactOptional(),
  hand: handField.exactOptional(),
});

export const piecesField = z
  .record(z.string().min(1).max(60), pieceField)
  .meta({ description: "Pieces by name" });

const frameField = z
  .strictObject({
    corner: pieceName.meta({ description: "The piece at the top left corner; turned at the others" }),
    side: pieceName.meta({ description: "The piece repeated along the top; turned along the other sides" }),
    across: count(1000, "Side pieces along the top, and along the bottom"),
    down: count(1000, "Side pieces along the left, and along the right"),
    gap: numberField(0, 1000, "cells", "Between neighbouring pieces").exactOptional(),
    form: z.enum(["turned", "mirrored"]).exactOptional().meta({
      description:
        "The other corners and sides: by quarter turns, or those opposite each other as mirror images",
    }),
    join: z
      .enum(["none", "tie"])
      .exactOptional()
      .meta({ description: "Tie each piece to the next, all round" }),
    twists: twistsField.exactOptional(),
  })
  .meta({ description: "Corner pieces, and side pieces repeated between them, round an opening" });

export const layoutField = z
  .array(
    z.strictObject({
      name: pieceName.exactOptional(),
      piece: pieceName.exactOptional(),
      frame: frameField.exactOptional(),
      at: cellPair
        .exactOptional()
        .meta({ description: "Where the top left corner of the turned piece's box lands; of a frame 0, 0" }),
      turn: numberField(-360, 360, "degrees", "Counter-clockwise").exactOptional(),
      mirror: z.boolean().exactOptional().meta({ description: "Left and right exchanged, before the turn" }),
      repeat: z
        .strictObject({
          across: count(1000, "Copies side by side").exactOptional(),
          down: count(1000, "Copies one below the other").exactOptional(),
          every: cellPair.meta({ description: "From one copy to the next, cells across and down" }),
          mirror: z
            .enum(["none", "alternate"])
            .exactOptional()
            .meta({ description: "Mirror every second copy" }),
        })
        .exactOptional(),
      around: z
        .strictObject({ centre: cellPair, times: z.int().min(2).max(360) })
        .exactOptional()
        .meta({ description: "Copies turned clockwise about a point" }),
    }),
  )
  .min(1)
  .max(10_000)
  .meta({ description: "Pieces as they lie" });

const bendField = z.strictObject({
  in: textField(80, "Name in the layout"),
  bend: z
    .tuple([z.int().min(0), z.int().min(0)])
    .exactOptional()
    .meta({ description: "Row and column of its breakline" }),
  near: cellPair.exactOptional().meta({ description: "The outer bend nearest to this place" }),
});

export const joinsField = z
  .array(
    z.strictObject({
      tie: z.array(bendField).min(2).max(64).exactOptional(),
      hook: z.array(bendField).min(2).max(2).exactOptional(),
      twists: twistsField.exactOptional(),
      match: z.enum(["exchange", "strict"]).exactOptional().meta({
        description:
          "What to do when hands differ: exchange overs and unders of the part named second, or refuse",
      }),
    }),
  )
  .max(10_000)
  .meta({ description: "Ties and hooks, in order" });

export type PieceEntry = z.infer<typeof pieceField>;
export type JoinEntry = z.infer<typeof joinsField>[number];
export type BendEntry = z.infer<typeof bendField>;
export type FrameEntry = z.infer<typeof frameField>;
/** An entry of the layout as it is written: a piece, or a frame of many. */
export type WrittenEntry = z.infer<typeof layoutField>[number];
/** An entry that lays one piece, or copies of it. */
export type LayoutEntry = Omit<WrittenEntry, "frame"> & Required<Pick<WrittenEntry, "piece" | "at">>;

/** What is drawn: pieces, every one of them laid by its own entry, and joins between them. */
export interface Composition {
  readonly pieces: Readonly<Record<string, PieceEntry>>;
  readonly layout: readonly LayoutEntry[];
  readonly joins: readonly JoinEntry[];
}

/** A composition as the document has it, with frames and includes yet to be resolved. */
export interface WrittenComposition {
  readonly pieces: Readonly<Record<string, PieceEntry>>;
  readonly layout: readonly WrittenEntry[];
  readonly joins: readonly JoinEntry[];
  readonly include?: Readonly<Record<string, string>>;
  /** The name of its one piece, of a design that is written as a piece alone. */
  readonly alone?: string;
}
