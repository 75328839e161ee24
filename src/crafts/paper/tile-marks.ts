/**
 * Marks by which sheets are trimmed and joined. Register marks stand on the edge that lies on top,
 * at the same points of the drawing on both sheets, so that their halves meet when that edge is
 * trimmed and laid in place, and lie over each other against a lit window.
 */
import { type Bounds, boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { circleChain } from "../../geometry/plain-shapes.ts";
import type { Point } from "../../geometry/point.ts";
import { moveBy, type Transform, transformPoint } from "../../geometry/transform.ts";
import type { PaperItem } from "../../output/paper.ts";
import { BODY_TYPE_MM, FAINT_INK, INK, lines, SMALL_TYPE_MM, SOFT_INK, straight } from "./mark-look.ts";
import { type Tile, type TileGrid, tileAt, tileBox } from "./tile-grid.ts";

const CROP = { gapMm: 1, lengthMm: 5 };
/** On an edge longer than `shortMm` at least two, no further apart than `furthestMm`. */
const REGISTER = { radiusMm: 2, reachMm: 3.5, shortMm: 40, furthestMm: 200 };
const HATCH_STEP_MM = 5;
/** A strip narrower than its words stays without them. */
const LEAST_WORDY_STRIP_MM = 5;

/** From the drawing's mm to those of the tile's page. */
export function tilePlace(grid: TileGrid, tile: Tile): Transform {
  const { minX, minY } = tileBox(grid, tile);
  return moveBy(minX - tile.shows.minX, minY - tile.shows.minY);
}

interface Neighbours {
  readonly left?: Tile | undefined;
  readonly right?: Tile | undefined;
  readonly above?: Tile | undefined;
  readonly below?: Tile | undefined;
}

function neighboursOf(grid: TileGrid, { row, column }: Tile): Neighbours {
  return {
    left: tileAt(grid, row, column - 1),
    right: tileAt(grid, row, column + 1),
    above: tileAt(grid, row - 1, column),
    below: tileAt(grid, row + 1, column),
  };
}

/** Below the drawing: the strips that go under the neighbours, lightly hatched. */
export function gluedStrips(grid: TileGrid, tile: Tile): PaperItem[] {
  const { right, below } = neighboursOf(grid, tile);
  const box = tileBox(grid, tile);
  const { overlapMm } = grid;
  if (overlapMm === 0) return [];
  const items: PaperItem[] = [];
  if (right)
    items.push(...strip({ ...box, minX: box.maxX - overlapMm }, `${right.label} lies over this strip`, true));
  if (below)
    items.push(
      ...strip({ ...box, maxY: box.minY + overlapMm }, `${below.label} lies over this strip`, false),
    );
  return items;
}

function strip(box: Bounds, words: string, upright: boolean): PaperItem[] {
  const [wide, high] = [boundsWidth(box), boundsHeight(box)];
  const hatch = [];
  for (let at = box.minX - high; at < box.maxX; at += HATCH_STEP_MM)
    hatch.push(straight({ x: at, y: box.minY }, { x: at + high, y: box.maxY }));
  const edge = upright
    ? straight({ x: box.minX, y: box.minY }, { x: box.minX, y: box.maxY })
    : straight({ x: box.minX, y: box.maxY }, { x: box.maxX, y: box.maxY });
  const items: PaperItem[] = [
    { kind: "group", clip: box, items: [lines(hatch, FAINT_INK, 0.1)] },
    { kind: "line", chains: [edge], colour: SOFT_INK, widthMm: 0.15, dash: { lengthsMm: [2, 1.5] } },
  ];
  if (Math.min(wide, high) >= LEAST_WORDY_STRIP_MM)
    items.push({
      kind: "text",
      text: words,
      at: upright
        ? { x: (box.minX + box.maxX) / 2 + SMALL_TYPE_MM * 0.36, y: box.minY + high * 0.4 }
        : { x: box.minX + wide * 0.4, y: (box.minY + box.maxY) / 2 - SMALL_TYPE_MM * 0.36 },
      sizeMm: SMALL_TYPE_MM,
      colour: SOFT_INK,
      anchor: "middle",
      clearMm: 0.4,
      mostMm: 0.4 * (upright ? high : wide),
      ...(upright ? { turnRad: Math.PI / 2 } : {}),
    });
  return items;
}

/** Above the drawing: crop and register marks, and the names of the neighbours. */
export function tileMarks(grid: TileGrid, tile: Tile): PaperItem[] {
  const box = tileBox(grid, tile);
  const near = neighboursOf(grid, tile);
  return [
    lines(cropMarks(box, near, grid.overlapMm), INK),
    ...registerMarks(grid, tile, near),
    ...neighbourNames(box, near),
  ];
}

/** At the four corners, and where the neighbours' edges come to lie. */
function cropMarks({ minX, minY, maxX, maxY }: Bounds, { right, below }: Neighbours, overlapMm: number) {
  const { gapMm, lengthMm } = CROP;
  const xs = [minX, maxX, ...(right && overlapMm > 0 ? [maxX - overlapMm] : [])];
  const ys = [minY, maxY, ...(below && overlapMm > 0 ? [minY + overlapMm] : [])];
  return [
    ...xs.flatMap((x) => [
      straight({ x, y: maxY + gapMm }, { x, y: maxY + gapMm + lengthMm }),
      straight({ x, y: minY - gapMm }, { x, y: minY - gapMm - lengthMm }),
    ]),
    ...ys.flatMap((y) => [
      straight({ x: minX - gapMm, y }, { x: minX - gapMm - lengthMm, y }),
      straight({ x: maxX + gapMm, y }, { x: maxX + gapMm + lengthMm, y }),
    ]),
  ];
}

/** On each edge of a sheet that lies over another: both sheets show the mark. */
function registerMarks(grid: TileGrid, tile: Tile, { left, right, above, below }: Neighbours): PaperItem[] {
  const { shows } = tile;
  const points: Point[] = [];
  const heights = marksAlong(shows.minY, shows.maxY);
  for (const seam of [left && shows.minX, right?.shows.minX])
    if (seam !== undefined) points.push(...heights.map((y) => ({ x: seam, y })));
  const widths = marksAlong(shows.minX, shows.maxX);
  for (const seam of [above && shows.maxY, below?.shows.maxY])
    if (seam !== undefined) points.push(...widths.map((x) => ({ x, y: seam })));
  const place = tilePlace(grid, tile);
  const chains = points.flatMap((point) => registerMark(transformPoint(point, place)));
  return chains.length > 0 ? [lines(chains, INK)] : [];
}

/** In the middles of equal parts of an edge: one where it is short, else two or more. */
function marksAlong(from: number, to: number): number[] {
  const length = to - from;
  const count = length < REGISTER.shortMm ? 1 : Math.max(2, Math.ceil(length / REGISTER.furthestMm));
  return Array.from({ length: count }, (_, i) => from + ((i + 0.5) / count) * length);
}

function registerMark({ x, y }: Point) {
  const { radiusMm, reachMm } = REGISTER;
  return [
    circleChain({ x, y }, radiusMm),
    straight({ x: x - reachMm, y }, { x: x + reachMm, y }),
    straight({ x, y: y - reachMm }, { x, y: y + reachMm }),
  ];
}

/** Beside the middle of each edge, with an arrow head that points there. */
function neighbourNames({ minX, minY, maxX, maxY }: Bounds, near: Neighbours): PaperItem[] {
  const [midX, midY] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const sides = [
    { tile: near.left, at: { x: minX - 2.2, y: midY }, turnRad: Math.PI / 2, points: Math.PI },
    { tile: near.right, at: { x: maxX + 4.6, y: midY }, turnRad: Math.PI / 2, points: 0 },
    { tile: near.above, at: { x: midX, y: maxY + 2.2 }, turnRad: 0, points: Math.PI / 2 },
    { tile: near.below, at: { x: midX, y: minY - 4.6 }, turnRad: 0, points: -Math.PI / 2 },
  ];
  return sides.flatMap(({ tile, at, turnRad, points }): PaperItem[] => {
    if (!tile) return [];
    const beside = 3 + tile.label.length * 1.3;
    const middle =
      turnRad === 0
        ? { x: at.x + beside, y: at.y + BODY_TYPE_MM * 0.36 }
        : { x: at.x - BODY_TYPE_MM * 0.36, y: at.y + beside };
    return [
      {
        kind: "text",
        text: tile.label,
        at,
        sizeMm: BODY_TYPE_MM,
        colour: INK,
        weight: "bold",
        anchor: "middle",
        turnRad,
      },
      { kind: "area", chains: [arrowHead(middle, points)], fill: INK },
    ];
  });
}

function arrowHead({ x, y }: Point, turnRad: number) {
  const corner = (angle: number) => ({
    x: x + 1.3 * Math.cos(turnRad + angle),
    y: y + 1.3 * Math.sin(turnRad + angle),
    bulge: 0,
  });
  return { closed: true, vertices: [0, 2.3, -2.3].map(corner) };
}
