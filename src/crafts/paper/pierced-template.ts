/** Pierced work: what is cut out, where the saw starts, which bridges stay; the same for a machine. */
import { formatMm } from "../../base/format-number.ts";
import type { CheckResult } from "../../checks/check.ts";
import { type ArcChain, chainBounds, polyline } from "../../geometry/arc-chain.ts";
import { growBounds, mergeBounds } from "../../geometry/bounds.ts";
import type { Point } from "../../geometry/point.ts";
import type { Drawing } from "../../output/drawing.ts";
import type { PaperItem } from "../../output/paper.ts";
import { circleOutline } from "../panel-outline.ts";
import { EDGE, FINE, FIRM, KEEP_FILL, WASTE_FILL } from "./looks.ts";
import { boxSize, layKnot, type PaperKnot, type WovenKnot } from "./paper-knot.ts";
import { checkPierced } from "./pierced-checks.ts";
import { type PiercedPiece, piercePanel } from "./pierced-piece.ts";
import type { PiercedSettings } from "./settings.ts";
import { lineGroup, lineItem, SAMPLE_HEIGHT_MM, SAMPLE_WIDTH_MM, type Template } from "./template.ts";

export interface PiercedJob {
  readonly knot: PaperKnot;
  readonly piece: PiercedPiece;
  readonly checks: readonly CheckResult[];
}

export function piercedJob(woven: WovenKnot, settings: PiercedSettings): PiercedJob {
  const knot = layKnot(woven, settings);
  const piece = piercePanel(knot, settings);
  return { knot, piece, checks: checkPierced({ knot, piece }, settings) };
}

export function piercedTemplate(title: string, { piece }: PiercedJob, settings: PiercedSettings): Template {
  const bounds = mergeBounds(piece.edges.map(chainBounds));
  const openings = piece.openings.map(({ edge }) => edge);
  const bridges = piece.bridges.map(({ outline }) => outline);
  const starts = piece.openings
    .filter(({ discMm }) => discMm >= settings.startHoleMm)
    .flatMap(({ widest }) => startMark(widest, settings.startHoleMm));
  return {
    title,
    description: `Template for pierced work, ${formatMm(boxSize(bounds).width)} wide and ${formatMm(boxSize(bounds).height)} high, ${openings.length} openings, ${bridges.length} bridges.`,
    size: boxSize(bounds),
    bounds: growBounds(bounds, EDGE.widthMm),
    groups: [
      {
        name: "openings",
        purpose: "cut out, falls away",
        items: [{ kind: "area", chains: openings, fill: WASTE_FILL, edge: FIRM }],
        sample: [{ kind: "area", chains: [sampleBox()], fill: WASTE_FILL, edge: FIRM }],
      },
      {
        name: "bridges",
        purpose: `leave standing: bridge, ${formatMm(settings.bridgeWidthMm)} wide`,
        items: bridges.length > 0 ? [bridgeItem(bridges)] : [],
        sample: [bridgeItem([sampleBox()])],
      },
      {
        name: "starts",
        purpose: `start hole, ${formatMm(settings.startHoleMm)}`,
        items: starts.length > 0 ? [lineItem(starts, FINE)] : [],
        sample: [
          lineItem(
            startMark({ x: SAMPLE_WIDTH_MM / 2, y: SAMPLE_HEIGHT_MM / 2 }, settings.startHoleMm),
            FINE,
          ),
        ],
      },
      lineGroup("edge", "edge of the piece: cut last", piece.edges, EDGE),
    ],
    notes: piercedNotes(piece, settings),
    tables: [],
  };
}

/** For a laser or a cutter, paths on the line: openings first, the outer edge last; bridges are shown. */
export function piercedDrawing(title: string, { piece }: PiercedJob, settings: PiercedSettings): Drawing {
  return {
    title,
    layers: [
      {
        name: "POCKET",
        purpose: "cut through: openings",
        worked: true,
        paths: piece.openings.map(({ edge }) => edge),
      },
      {
        name: "KEEP",
        purpose: "for reference, not cut: bridges that hold the piece together",
        worked: false,
        paths: piece.bridges.map(({ outline }) => outline),
      },
      {
        name: "PANEL",
        purpose: "cut through last: outer edge of the piece",
        worked: true,
        paths: piece.edges,
      },
    ],
    bounds: mergeBounds(piece.edges.map(chainBounds)),
    notes: [...piercedNotes(piece, settings), "Paths lie on the drawn line: no kerf is taken off."],
  };
}

function bridgeItem(chains: readonly ArcChain[]): PaperItem {
  return { kind: "area", chains, fill: KEEP_FILL };
}

function sampleBox(): ArcChain {
  return polyline(
    [
      { x: 0, y: 0 },
      { x: SAMPLE_WIDTH_MM, y: 0 },
      { x: SAMPLE_WIDTH_MM, y: SAMPLE_HEIGHT_MM },
      { x: 0, y: SAMPLE_HEIGHT_MM },
    ],
    true,
  );
}

/** A circle with a cross through it. */
function startMark({ x, y }: Point, holeMm: number): ArcChain[] {
  const arm = holeMm * 0.75;
  return [
    circleOutline({ x, y }, holeMm / 2),
    polyline(
      [
        { x: x - arm, y },
        { x: x + arm, y },
      ],
      false,
    ),
    polyline(
      [
        { x, y: y - arm },
        { x, y: y + arm },
      ],
      false,
    ),
  ];
}

function piercedNotes(
  { parts, bridges, openings, symmetries }: PiercedPiece,
  settings: PiercedSettings,
): string[] {
  const loose = parts.length - 1;
  const least = bridges.length === loose ? "the fewest that hold it" : `${loose} would hold it`;
  return [
    loose === 0
      ? `${openings.length} openings; the piece hangs together by itself.`
      : `${openings.length} openings; ${loose} ${loose === 1 ? "part" : "parts"} would fall out and hang on ${bridges.length} ${bridges.length === 1 ? "bridge" : "bridges"} of ${formatMm(settings.bridgeWidthMm)}, ${least}.`,
    ...(settings.symmetric && symmetries === 1
      ? ["The design has no symmetry: bridges stand where they are shortest."]
      : []),
    "Cut the openings first, the smallest ones before the large ones beside them, the outer edge last.",
  ];
}
