/**
 * Which curves of a drawing meet where they should not. Exact for lines and arcs, and through a
 * spatial index, so that it stays quick for many.
 */
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { type ArcChain, segmentsOf } from "../geometry/arc-chain.ts";
import { BoxIndex } from "../geometry/distance.ts";
import { meet } from "../geometry/meet.ts";
import { distance, type Point } from "../geometry/point.ts";
import { type Segment, segmentBounds } from "../geometry/segment.ts";

/** A curve, and the places at which it may meet others: those at which they end too. */
export interface EndedCurve {
  readonly chain: ArcChain;
  readonly ends: readonly Point[];
}

interface Piece {
  readonly segment: Segment;
  readonly owner: number;
  /** Its place along its curve. */
  readonly step: number;
}

/** The curves that meet another, themselves, or one of the lines elsewhere than at their ends. */
export function tangledCurves(curves: readonly EndedCurve[], lines: readonly Segment[]): Set<number> {
  const pieces = curves.flatMap(({ chain }, owner) =>
    segmentsOf(chain).map((segment, step): Piece => ({ segment, owner, step })),
  );
  const boxes = pieces.map(({ segment }) => segmentBounds(segment));
  const index = new BoxIndex(boxes);
  const lineIndex = new BoxIndex(lines.map(segmentBounds));
  const tangled = new Set<number>();
  for (const [i, piece] of pieces.entries()) {
    const box = boxes[i];
    const own = curves[piece.owner];
    if (!box || !own) continue;
    for (const j of index.near(box, SAME_POINT_MM)) {
      const other = pieces[j];
      if (other && j > i && areTangled(curves, piece, other)) tangled.add(piece.owner).add(other.owner);
    }
    for (const j of lineIndex.near(box, SAME_POINT_MM)) {
      const line = lines[j];
      if (line && meetElsewhere(piece.segment, line, own.ends)) tangled.add(piece.owner);
    }
  }
  return tangled;
}

function areTangled(curves: readonly EndedCurve[], a: Piece, b: Piece): boolean {
  const own = curves[a.owner];
  const other = curves[b.owner];
  if (!own || !other) return false;
  if (a.owner === b.owner) {
    const steps = Math.abs(a.step - b.step);
    const last = segmentsOf(own.chain).length - 1;
    if (steps <= 1 || (own.chain.closed && steps === last)) return false;
  }
  const shared = own.ends.filter((end) => other.ends.some((there) => isAt(end, there)));
  return meetElsewhere(a.segment, b.segment, shared);
}

function meetElsewhere(a: Segment, b: Segment, allowed: readonly Point[]): boolean {
  const found = meet(a, b);
  return found.kind !== "none" && found.at.some(({ point }) => !allowed.some((end) => isAt(end, point)));
}

/** Where smooth curves run on into each other, rounding spreads their meeting point a little. */
function isAt(a: Point, b: Point): boolean {
  return distance(a, b) <= 10 * SAME_POINT_MM;
}
