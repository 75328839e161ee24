/**
 * The leather inlay, from a woven diagram to everything that its files are written from:
 * parts, checks, cut drawing and counts.
 */
import type { CheckResult } from "../../checks/check.ts";
import type { Faces } from "../../diagram/faces.ts";
import { crossingPoint, edgeCurve, type KnotDiagram } from "../../diagram/knot-diagram.ts";
import { diagramBounds, moveDiagram } from "../../diagram/move-diagram.ts";
import type { Strands } from "../../diagram/strands.ts";
import { type ArcChain, chainBounds } from "../../geometry/arc-chain.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { laceRibbons } from "../../ribbon/laced.ts";
import { makeRibbons, type RibbonTrouble, type Shape } from "../../ribbon/ribbon.ts";
import { type CutDrawing, drawCuts, groundOutline } from "./cut-drawing.ts";
import { checkInlay } from "./inlay-checks.ts";
import { type InlayParts, lacedParts, pieceParts } from "./parts.ts";
import type { InlaySettings } from "./settings.ts";

export interface WovenDesign {
  readonly title: string;
  readonly diagram: KnotDiagram;
  readonly faces: Faces;
  readonly strands: Strands;
}

export interface InlayJob {
  /** The finished panel, mm; its lower left corner is the origin. */
  readonly size: { readonly width: number; readonly height: number };
  readonly parts: InlayParts;
  readonly checks: readonly CheckResult[];
  readonly cut: CutDrawing;
  readonly ground: ArcChain;
  /** Centrelines of pieces that could not be drawn as ribbons. */
  readonly counts: Readonly<Record<string, number>>;
}

/** What the finished panel measures: the knot, its ribbon and the border. */
function finishedSize(diagram: KnotDiagram, settings: InlaySettings) {
  const box = diagramBounds(diagram);
  const around = settings.ribbon.widthMm + 2 * settings.borderMm;
  return { width: boundsWidth(box) + around, height: boundsHeight(box) + around };
}

export function makeInlayJob(
  design: WovenDesign,
  settings: InlaySettings,
  notes: readonly string[],
): InlayJob {
  const size = finishedSize(design.diagram, settings);
  const box = diagramBounds(design.diagram);
  const inset = settings.ribbon.widthMm / 2 + settings.borderMm;
  const diagram = moveDiagram(design.diagram, inset - box.minX, inset - box.minY);
  const { parts, troubles, outlines, centrelines } = makeParts(diagram, design, settings);
  const ground = groundOutline(size, settings.borderRadiusMm, 0);
  const cut = drawCuts(parts.parts, { title: design.title, settings, size, notes });
  const checks = checkInlay(
    {
      parts,
      troubles,
      outlines,
      centrelines,
      crossingAt: (crossing) => crossingPoint(diagram, crossing),
      size,
      reach: reachOf(cut, groundOutline(size, settings.borderRadiusMm, settings.kerfMm / 2)),
    },
    settings,
  );
  return {
    size,
    parts,
    checks,
    cut,
    ground,
    counts: {
      crossings: diagram.x.length,
      strands: design.strands.count,
      faces: design.faces.count,
      parts: parts.parts.length,
      sheets: cut.sheets.length,
      unlabelled: cut.unlabelled,
    },
  };
}

function makeParts(
  diagram: KnotDiagram,
  { faces, strands }: WovenDesign,
  settings: InlaySettings,
): {
  readonly parts: InlayParts;
  readonly troubles: readonly RibbonTrouble[];
  readonly outlines: readonly Shape[];
  readonly centrelines: readonly ArcChain[];
} {
  const { widthMm, gapMm } = settings.ribbon;
  const centrelines = [...bentEdges(diagram), ...diagram.loops];
  if (settings.way === "laced") {
    const laced = laceRibbons(diagram, faces, widthMm);
    return {
      parts: lacedParts(laced, settings),
      troubles: laced.troubles,
      outlines: laced.bodies,
      centrelines,
    };
  }
  const ribbons = makeRibbons(diagram, strands, { widthMm, gapMm });
  return {
    parts: pieceParts(ribbons, settings),
    troubles: ribbons.troubles,
    outlines: ribbons.pieces,
    centrelines,
  };
}

function bentEdges(diagram: KnotDiagram): ArcChain[] {
  return [...diagram.curves.keys()].map((half) => edgeCurve(diagram, half));
}

/** The most room that the beam needs each way: for the panel's edge or for one of the sheets. */
function reachOf({ sheets }: CutDrawing, edge: ArcChain): { width: number; height: number } {
  const panel = chainBounds(edge);
  return {
    width: sheets.reduce((most, sheet) => Math.max(most, sheet.width), boundsWidth(panel)),
    height: sheets.reduce((most, sheet) => Math.max(most, sheet.height), boundsHeight(panel)),
  };
}
