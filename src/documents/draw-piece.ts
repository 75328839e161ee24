/** One piece of a composed design -> its flat diagram, in its own mm. */
import { done, type Result, refused } from "../base/fault.ts";
import type { KnotDiagram } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { placeDiagram } from "../diagram/place-diagram.ts";
import type { Hand } from "../diagram/weave.ts";
import { type Bounds, boundsOf, growBounds } from "../geometry/bounds.ts";
import type { Point } from "../geometry/point.ts";
import { type Transform, transformPoint } from "../geometry/transform.ts";
import { graphDiagram } from "../graph/graph-diagram.ts";
import { type FusedPart, fusePanels } from "../lattice/fuse.ts";
import { LEVEL_BREAK, parsePanel, placeAt, UPRIGHT_BREAK } from "../lattice/panel.ts";
import { panelDiagram } from "../lattice/panel-diagram.ts";
import { fanDiagram, ringDiagram } from "../lattice/ring.ts";
import { curvesDiagram } from "../readers/curves-diagram.ts";
import { readSvgCurves } from "../readers/svg-curves.ts";
import type { Composition, PieceEntry } from "./composition.ts";

export interface PieceContext {
  readonly pitchMm: { readonly across: number; readonly down: number };
  readonly corner: "pointed" | "round";
  /** The text of a file beside the design. */
  readonly readBeside: (name: string) => Result<string>;
}

export interface DrawnPiece {
  readonly diagram: KnotDiagram;
  readonly hand: Hand;
  /** The box round the piece once it is turned or mirrored by `by`, mm. */
  readonly extent: (by: Transform) => Bounds;
  /** For panels: where a place of its text lies, mm; undefined for places that are no breakline. */
  readonly site: ((row: number, column: number) => Point | undefined) | undefined;
}

type Path = readonly (string | number)[];
type RingEntry = NonNullable<PieceEntry["ring"]>;

/** Faults: those of the kind of piece, at its place in the document. */
export function drawPiece(
  name: string,
  pieces: Composition["pieces"],
  context: PieceContext,
  path: Path,
): Result<DrawnPiece> {
  const piece = pieces[name];
  if (!piece || !Object.hasOwn(pieces, name))
    return refused({ code: "piece-unknown", found: name, known: Object.keys(pieces), path });
  const at: Path = ["pieces", name];
  const kinds = (["panel", "ring", "graph", "strands", "fuse"] as const).filter(
    (kind) => piece[kind] !== undefined,
  );
  if (kinds.length === 0)
    return refused({ code: "no-piece", known: ["panel", "ring", "graph", "strands", "fuse"], path: at });
  if (kinds.length > 1) return refused({ code: "several-pieces", found: kinds, path: at });
  const hand: Hand = piece.hand ?? "Z";
  const rows = rowsOf(piece, pieces, at);
  if (rows && !rows.ok) return rows;
  if (rows) return drawPanel(rows.value, hand, context, [...at, piece.panel ? "panel" : "fuse"]);
  const drawn = drawOther(piece, context, at);
  if (!drawn.ok) return drawn;
  const { value: diagram } = drawn;
  const extent = (by: Transform) => {
    const box = diagramBounds(placeDiagram(diagram, by));
    return growBounds(box, Math.min(context.pitchMm.across, context.pitchMm.down) / 4);
  };
  return done({ diagram, hand, extent, site: undefined });
}

function drawPanel(
  rows: readonly string[],
  hand: Hand,
  { pitchMm, corner }: PieceContext,
  path: Path,
): Result<DrawnPiece> {
  const panel = parsePanel(rows, path);
  if (!panel.ok) return panel;
  const lowest = panel.value.rows - 1;
  const point = (row: number, column: number): Point => ({
    x: (column * pitchMm.across) / 2,
    y: ((lowest - row) * pitchMm.down) / 2,
  });
  const last = panel.value.columns - 1;
  const corners = [point(0, 0), point(0, last), point(lowest, 0), point(lowest, last)];
  return done({
    diagram: panelDiagram(panel.value, { pitchMm, corner }),
    hand,
    extent: (by) => boundsOf(corners.map((each) => transformPoint(each, by))),
    site: (row, column) => {
      const found = placeAt(panel.value, row, column);
      return found === LEVEL_BREAK || found === UPRIGHT_BREAK ? point(row, column) : undefined;
    },
  });
}

/** The rows of a panel, or of several fused; undefined for other kinds. */
function rowsOf(
  piece: PieceEntry,
  pieces: Composition["pieces"],
  path: Path,
): Result<readonly string[]> | undefined {
  if (piece.panel) return done(piece.panel);
  if (!piece.fuse) return undefined;
  const parts: FusedPart[] = [];
  for (const [i, { piece: name, at }] of piece.fuse.parts.entries()) {
    const part = Object.hasOwn(pieces, name) ? pieces[name] : undefined;
    const where = [...path, "fuse", "parts", i];
    if (!part)
      return refused({
        code: "piece-unknown",
        found: name,
        known: Object.keys(pieces),
        path: [...where, "piece"],
      });
    if (!part.panel) return refused({ code: "fuse-not-panel", found: name, path: [...where, "piece"] });
    const panel = parsePanel(part.panel, ["pieces", name, "panel"]);
    if (!panel.ok) return panel;
    const [column, row] = [2 * at[0], 2 * at[1]];
    if (!Number.isInteger(row) || !Number.isInteger(column) || (row + column) % 2 !== 0)
      return refused({ code: "fuse-off-lattice", part: name, at, path: [...where, "at"] });
    parts.push({ name, panel: panel.value, row, column });
  }
  const { open = "middle" } = piece.fuse;
  const openings = typeof open === "string" ? open : open.map(([row, placeColumn]) => ({ row, placeColumn }));
  return fusePanels(parts, openings, [...path, "fuse"]);
}

function drawOther(piece: PieceEntry, context: PieceContext, path: Path): Result<KnotDiagram> {
  const { ring, graph, strands } = piece;
  const { pitchMm, corner } = context;
  if (ring) return drawRing(ring, corner, [...path, "ring"]);
  if (graph) {
    const points = graph.points.map(([x, y]) => ({ x: x * pitchMm.across, y: -y * pitchMm.down }));
    const lines = graph.lines.map(([from, to, bulge = 0]) => ({ from, to, bulge }));
    const drawn = graphDiagram(
      { points, lines },
      { corner, pitchMm: Math.min(pitchMm.across, pitchMm.down) },
    );
    if (drawn.ok) return drawn;
    return refused(
      ...drawn.faults.map((fault) => ({ ...fault, path: [...path, "graph", ...(fault.path ?? [])] })),
    );
  }
  const file = strands ?? "";
  const text = context.readBeside(file);
  if (!text.ok) return text;
  const curves = readSvgCurves(text.value, file);
  return curves.ok ? curvesDiagram(curves.value) : curves;
}

function drawRing(ring: RingEntry, corner: PieceContext["corner"], path: Path): Result<KnotDiagram> {
  const { around, rows, panel, inner: innerMm, angle, spacing = "conformal", hub = false } = ring;
  if (angle !== undefined) {
    if (!panel) return refused({ code: "missing-key", key: "panel", path });
    return fanDiagram({ panel, innerMm, angleDeg: angle, spacing }, { corner, path });
  }
  if (panel) return ringDiagram({ panel, innerMm, spacing, hub }, { corner, path });
  if (around === undefined || rows === undefined)
    return refused({ code: "missing-key", key: around === undefined ? "around" : "rows", path });
  return ringDiagram({ panel: { around, rows }, innerMm, spacing, hub }, { corner, path });
}
