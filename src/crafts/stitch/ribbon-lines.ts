/**
 * Ribbon pieces as lines to be sewn along. The sides of a piece stop short at the over-strand, by
 * the ribbons' gap, and those of the over-strand run through; the ends of a piece (its caps) are
 * not sewn, as a stitcher draws a knot.
 */
import { InternalError } from "../../base/internal-error.ts";
import { SAME_POINT_MM } from "../../base/tolerance.ts";
import { type ArcChain, chainBetween, segmentsOf, type Vertex } from "../../geometry/arc-chain.ts";
import { firstMeet, lastMeet } from "../../geometry/first-meet.ts";
import { nearestOn } from "../../geometry/meet.ts";
import { offsetThrough } from "../../geometry/offset.ts";
import { distance, type Point } from "../../geometry/point.ts";
import type { RibbonPiece, Ribbons } from "../../ribbon/ribbon.ts";

export interface RibbonLine {
  readonly strand: number;
  readonly chain: ArcChain;
}

export type LinesAlong = "edges" | "centre" | "both";

/** The lines of all pieces, in the pieces' order. */
export function ribbonLines({ pieces, widthMm }: Ribbons, along: LinesAlong): RibbonLine[] {
  return pieces.flatMap((piece) => {
    const chains = piece.centreline.closed ? closedLines(piece, along) : openLines(piece, widthMm, along);
    return chains.map((chain) => ({ strand: piece.strand, chain }));
  });
}

function closedLines({ outline, holes, centreline }: RibbonPiece, along: LinesAlong): ArcChain[] {
  return [...(along === "centre" ? [] : [outline, ...holes]), ...(along === "edges" ? [] : [centreline])];
}

function openLines(piece: RibbonPiece, widthMm: number, along: LinesAlong): ArcChain[] {
  const { right, left, startCap, endCap } = partsOf(piece, widthMm);
  if (along === "edges") return [right, left];
  const onCentre = segmentsOf(piece.centreline);
  const from = firstMeet(onCentre, segmentsOf(startCap));
  const to = lastMeet(onCentre, segmentsOf(endCap));
  if (!from || !to) throw new InternalError("a ribbon's middle does not run from end to end of it");
  const middle = chainBetween(piece.centreline, from.onA, to.onA);
  return along === "centre" ? [middle] : [right, left, middle];
}

interface PieceParts {
  readonly right: ArcChain;
  readonly left: ArcChain;
  readonly startCap: ArcChain;
  readonly endCap: ArcChain;
}

/** The outline's parts; it runs along the right side first, then round by the end and back along the left. */
function partsOf({ outline, centreline }: RibbonPiece, widthMm: number): PieceParts {
  const { vertices } = outline;
  const onRight = nearnessTo(offsetThrough(centreline, -widthMm / 2, "pointed"));
  const onLeft = nearnessTo(offsetThrough(centreline, widthMm / 2, "pointed"));
  const rightEnd = lastOfRun(vertices, 0, onRight);
  const leftEnd = vertices.findIndex((vertex, i) => i > rightEnd && onLeft(vertex));
  const leftStart = lastOfRun(vertices, leftEnd, onLeft);
  if (rightEnd < 1 || leftEnd < 0 || leftStart <= leftEnd)
    throw new InternalError("a ribbon's outline does not follow its sides");
  return {
    right: part(vertices, 0, rightEnd),
    endCap: part(vertices, rightEnd, leftEnd),
    left: part(vertices, leftEnd, leftStart),
    startCap: part(vertices, leftStart, vertices.length),
  };
}

/** Vertices are cut from the sides by calculation, each time with rounding of its own. */
const ON_SIDE_MM = 100 * SAME_POINT_MM;

function nearnessTo(side: ArcChain | undefined): (point: Point) => boolean {
  if (!side) throw new InternalError("a ribbon has an outline but no sides");
  const segments = segmentsOf(side);
  return (point) => segments.some((segment) => distance(nearestOn(segment, point), point) <= ON_SIDE_MM);
}

/** The last vertex up to which all, from `first`, lie on the side. */
function lastOfRun(vertices: readonly Vertex[], first: number, isOn: (point: Point) => boolean): number {
  let last = first - 1;
  for (let i = first; i >= 0 && i < vertices.length; i++) {
    const vertex = vertices[i];
    if (!vertex || !isOn(vertex)) break;
    last = i;
  }
  return last;
}

/** From one vertex of a closed chain to a later one; that one past the last is the first. */
function part(vertices: readonly Vertex[], from: number, to: number): ArcChain {
  const inside = vertices.slice(from, to);
  const end = vertices[to] ?? vertices[0];
  return { closed: false, vertices: end ? [...inside, { x: end.x, y: end.y, bulge: 0 }] : inside };
}
