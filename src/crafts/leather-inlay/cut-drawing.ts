/** Ground, openings, parts and marks as the layers that a machine follows, in working order. */
import { type ArcChain, chainBounds, chainEnd, chainLength, signedArea } from "../../geometry/arc-chain.ts";
import { type Bounds, growBounds, mergeBounds } from "../../geometry/bounds.ts";
import { BoxIndex } from "../../geometry/distance.ts";
import { insideChain } from "../../geometry/inside.ts";
import type { Point } from "../../geometry/point.ts";
import { mirrorAt, moveBy, type Transform, transformChain } from "../../geometry/transform.ts";
import type { Drawing, DrawingLayer } from "../../output/drawing.ts";
import type { Shape } from "../../ribbon/ribbon.ts";
import { type Cut, orderCuts, travelLength } from "../cut-order.ts";
import { boxOutline } from "../panel-outline.ts";
import { labelAlong } from "./labels.ts";
import type { InlayPart } from "./parts.ts";
import type { InlaySettings } from "./settings.ts";
import { type InlaySheet, laySheets, transformShape } from "./sheets.ts";

export interface CutDrawing {
  readonly drawing: Drawing;
  readonly sheets: readonly InlaySheet[];
  readonly cutting: {
    readonly lengthMm: number;
    readonly travelMm: number;
    readonly travelInFileOrderMm: number;
  };
  /** Parts whose label found no room. */
  readonly unlabelled: number;
}

export interface CutDrawingOptions {
  readonly title: string;
  readonly settings: InlaySettings;
  /** The finished panel, its lower left corner at the origin. */
  readonly size: { readonly width: number; readonly height: number };
  readonly notes: readonly string[];
}

const ORIGIN: Point = { x: 0, y: 0 };

export function drawCuts(parts: readonly InlayPart[], options: CutDrawingOptions): CutDrawing {
  const { settings, size } = options;
  const facing = settings.cutFace === "back" ? mirrorAt(size.width / 2) : moveBy(0, 0);
  const openings = parts.map((part) => transformShape(part.opening, facing));
  const sheets = laySheets(parts, settings, size.width);
  const panel = groundOutline(size, settings.borderRadiusMm, settings.kerfMm / 2);

  const marks: ArcChain[][] = [];
  let unlabelled = 0;
  for (const [i, part] of parts.entries()) {
    const label = openingLabel(part, openings[i], facing, settings);
    if (label) marks.push(label);
    else unlabelled++;
  }
  for (const sheet of sheets) {
    marks.push([...sheet.marks]);
    for (const part of sheet.parts) marks.push(...part.marks.map((strokes) => [...strokes]));
  }

  const groups: {
    readonly name: DrawingLayer["name"];
    readonly purpose: string;
    readonly cuts: readonly Cut[];
  }[] = [
    {
      name: "MARK",
      purpose: "engrave lightly, before cutting: labels in the waste or on the back, crossing lines",
      cuts: marks.map((chains) => ({ chains, depth: 0 })),
    },
    { name: "POCKET", purpose: "cut through: openings in the ground", cuts: nestedCuts(openings) },
    {
      name: "INLAY",
      purpose: "cut through: inlay parts, from their own leather",
      cuts: nestedCuts(sheets.flatMap((sheet) => sheet.parts.map((part) => part.inlay))),
    },
    {
      name: "PANEL",
      purpose: "cut through last: outer edge of the ground",
      cuts: [{ chains: [panel], depth: 0 }],
    },
  ];
  const layers: DrawingLayer[] = [
    {
      name: "RIBBON",
      purpose: "for reference, not cut: the finished ribbon",
      worked: false,
      paths: parts.flatMap((part) => shapeChains(transformShape(part.nominal, facing))),
    },
  ];
  let at = ORIGIN;
  for (const { name, purpose, cuts } of groups) {
    const paths = orderCuts(cuts, at);
    const last = paths.at(-1);
    if (last) at = chainEnd(last);
    layers.push({ name, purpose, worked: true, paths });
  }
  const worked = layers.filter((layer) => layer.worked).flatMap((layer) => layer.paths);
  const inFileOrder = groups.flatMap(({ cuts }) => cuts.flatMap((cut) => cut.chains));
  const cut = layers.filter((layer) => layer.worked && layer.name !== "MARK").flatMap((layer) => layer.paths);
  return {
    drawing: {
      title: options.title,
      layers,
      bounds: mergeBounds(worked.map(chainBounds)),
      notes: options.notes,
    },
    sheets,
    cutting: {
      lengthMm: cut.reduce((sum, chain) => sum + chainLength(chain), 0),
      travelMm: travelLength(worked, ORIGIN),
      travelInFileOrderMm: travelLength(inFileOrder, ORIGIN),
    },
    unlabelled,
  };
}

/** What falls out of an opening is waste: there a label is never seen, whichever face is cut. */
function openingLabel(
  part: InlayPart,
  opening: Shape | undefined,
  facing: Transform,
  settings: InlaySettings,
): ArcChain[] | undefined {
  if (!part.centreline || !opening) return undefined;
  return labelAlong(part.label, opening, transformChain(part.centreline, facing), settings.labelHeightMm);
}

/** The finished panel's rounded outline moved outward by `out` mm. */
export function groundOutline(
  size: { readonly width: number; readonly height: number },
  radiusMm: number,
  out: number,
): ArcChain {
  const { width, height } = size;
  const radius = Math.min(radiusMm, width / 2, height / 2);
  const box = growBounds({ minX: 0, minY: 0, maxX: width, maxY: height }, out);
  return boxOutline(box, radius > 0 ? radius + out : 0);
}

function shapeChains({ outline, holes }: Shape): ArcChain[] {
  return [outline, ...holes];
}

/**
 * Each path with the number of others round it: what lies inside a ring is cut while the ring
 * still holds it.
 */
function nestedCuts(shapes: readonly Shape[]): Cut[] {
  const rings = shapes.filter((shape) => shape.holes.length > 0);
  const bounds: Bounds[] = rings.map((shape) => chainBounds(shape.outline));
  const index = new BoxIndex(bounds);
  const cuts: Cut[] = [];
  for (const shape of shapes) {
    const own = chainBounds(shape.outline);
    const at = shape.outline.vertices[0] ?? ORIGIN;
    let depth = 0;
    for (const i of index.near(own, 0)) {
      const ring = rings[i];
      if (!ring || ring === shape) continue;
      if (ring.holes.some((hole) => insideChain(hole, at))) depth += 2;
    }
    for (const hole of shape.holes) cuts.push({ chains: [hole], depth: depth + 1 });
    cuts.push({ chains: [shape.outline], depth });
  }
  return cuts;
}

/** mm2 of leather in a shape. */
export function shapeArea({ outline, holes }: Shape): number {
  return holes.reduce((sum, hole) => sum + signedArea(hole), signedArea(outline));
}
