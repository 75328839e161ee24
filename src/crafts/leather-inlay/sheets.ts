/**
 * Parts laid out beside the ground panel, a sheet (or several) for each strand's leather, each
 * part turned so that it takes little room.
 */
import { groupBy } from "../../base/group-by.ts";
import { strandName } from "../../diagram/strands.ts";
import { type ArcChain, chainBounds, reverseChain, segmentsOf } from "../../geometry/arc-chain.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { minus } from "../../geometry/point.ts";
import { segmentLength } from "../../geometry/segment.ts";
import {
  followedBy,
  mirrorAt,
  moveBy,
  type Transform,
  transformChain,
  turnBy,
} from "../../geometry/transform.ts";
import { letterChains, textWidth } from "../../output/lettering.ts";
import type { Shape } from "../../ribbon/ribbon.ts";
import { layOut } from "../lay-out.ts";
import { LABEL_CLEAR_MM, labelAlong } from "./labels.ts";
import type { InlayPart } from "./parts.ts";
import type { InlaySettings } from "./settings.ts";

export interface LaidPart {
  readonly part: InlayPart;
  readonly inlay: Shape;
  /** Crossing lines one by one, and the strokes of the label together. */
  readonly marks: readonly (readonly ArcChain[])[];
}

export interface InlaySheet {
  readonly name: string;
  readonly strand: number;
  /** Lower left corner, and size, mm. */
  readonly x: number;
  readonly width: number;
  readonly height: number;
  readonly parts: readonly LaidPart[];
  /** The sheet's own heading. */
  readonly marks: readonly ArcChain[];
}

/** mm between the ground and the first sheet, and between sheets. */
const BETWEEN_SHEETS_MM = 20;

/** Sheets begin `fromX` mm from the origin. */
export function laySheets(parts: readonly InlayPart[], settings: InlaySettings, fromX: number): InlaySheet[] {
  const byStrand = groupBy(parts, (part) => part.strand);
  const sheets: InlaySheet[] = [];
  let x = fromX + BETWEEN_SHEETS_MM;
  for (const [strand, group] of [...byStrand].sort(([a], [b]) => a - b)) {
    for (const sheet of laySheetsOf(group, strand, settings, x)) {
      sheets.push(sheet);
      x += sheet.width + BETWEEN_SHEETS_MM;
    }
  }
  return sheets;
}

function laySheetsOf(
  group: readonly InlayPart[],
  strand: number,
  settings: InlaySettings,
  fromX: number,
): InlaySheet[] {
  const { labelHeightMm: letters, spacingMm } = settings;
  const labelRoom = settings.cutFace === "front" ? letters + Math.max(LABEL_CLEAR_MM, spacingMm / 2) : 0;
  const turned = group.map((part) => ({ part, turn: compactTurn(part, settings.cutFace === "back") }));
  const boxes = turned.map(({ part, turn }) => chainBounds(transformChain(part.inlay.outline, turn)));
  const sizes = boxes.map((box, i) => ({
    width: Math.max(boundsWidth(box), labelRoom === 0 ? 0 : textWidth(group[i]?.label ?? "", letters)),
    height: boundsHeight(box) + labelRoom,
  }));
  const headingRoom = 2 * letters + Math.max(LABEL_CLEAR_MM, spacingMm);
  const laid = layOut(sizes, {
    width: settings.bedWidthMm,
    height: settings.bedHeightMm - headingRoom,
    spacing: spacingMm,
  });
  let x = fromX;
  return laid.map((sheet, i) => {
    const origin = x;
    const name = laid.length > 1 ? `${strandName(strand)}-${i + 1}` : strandName(strand);
    const width = Math.max(sheet.width, textWidth(`SHEET ${name}`, 2 * letters));
    x += width + BETWEEN_SHEETS_MM;
    return {
      name,
      strand,
      x: origin,
      width,
      height: sheet.height + headingRoom,
      marks: letterChains(`SHEET ${name}`, {
        at: { x: origin, y: sheet.height + Math.max(LABEL_CLEAR_MM, spacingMm) },
        heightMm: 2 * letters,
        turnRad: 0,
        anchor: "left",
      }),
      parts: sheet.places.flatMap(({ part: number, x: left, y: low }) => {
        const entry = turned[number];
        const box = boxes[number];
        if (!entry || !box) return [];
        const moved = moveBy(origin + left - box.minX, low + labelRoom - box.minY);
        return [laidPart(entry.part, followedBy(entry.turn, moved), settings, { x: origin + left, y: low })];
      }),
    };
  });
}

function laidPart(
  part: InlayPart,
  place: Transform,
  settings: InlaySettings,
  labelAt: { readonly x: number; readonly y: number },
): LaidPart {
  const inlay = transformShape(part.inlay, place);
  const lines = part.lines.map((line) => [transformChain(line, place)]);
  // On the back a label may stand on the part itself; the front is what will be seen.
  if (settings.cutFace === "back") {
    const label =
      part.centreline &&
      labelAlong(part.label, inlay, transformChain(part.centreline, place), settings.labelHeightMm);
    return { part, inlay, marks: label ? [...lines, label] : lines };
  }
  const label = letterChains(part.label, {
    at: labelAt,
    heightMm: settings.labelHeightMm,
    turnRad: 0,
    anchor: "left",
  });
  return { part, inlay, marks: [...lines, label] };
}

/** A mirrored chain runs the other way: turned round, its inside is on the left again. */
export function transformShape(shape: Shape, by: Transform): Shape {
  const flips = by.a * by.d - by.b * by.c < 0;
  const move = (chain: ArcChain) => {
    const moved = transformChain(chain, by);
    return flips ? reverseChain(moved) : moved;
  };
  return { outline: move(shape.outline), holes: shape.holes.map(move) };
}

/** The turn, upright or along the longest straight edge, whose upright box is smallest. */
function compactTurn(part: InlayPart, mirrored: boolean): Transform {
  const facing = mirrored ? mirrorAt(0) : moveBy(0, 0);
  const outline = transformChain(part.inlay.outline, facing);
  const longest = segmentsOf(outline)
    .filter((segment) => segment.bulge === 0)
    .reduce<{ length: number; angle: number }>(
      (best, segment) => {
        const length = segmentLength(segment);
        const { x, y } = minus(segment.to, segment.from);
        return length > best.length + 1e-9 ? { length, angle: Math.atan2(y, x) } : best;
      },
      { length: 0, angle: 0 },
    );
  const area = (turn: Transform) => {
    const box = chainBounds(transformChain(outline, turn));
    return boundsWidth(box) * boundsHeight(box);
  };
  const level = turnBy(-longest.angle);
  return followedBy(facing, area(level) < area(turnBy(0)) * 0.999 ? level : turnBy(0));
}
