/**
 * Pieces as they lie. A copy is mirrored left to right, then turned, then moved so that the top
 * left corner of the box round it lands at `at`; the box is that of a panel's cells, and reaches
 * a quarter of the pitch past the strands of other pieces, as a panel's edge does. So panels of
 * whole cells laid at whole cells tile.
 *
 * Copies around a centre are turned about it clockwise, the second one a step further than the
 * first; all copies are numbered from `#1`, those of a repeat row by row.
 */
import { done, type Fault, type Result, refused } from "../base/fault.ts";
import { SAME_POINT_MM } from "../base/tolerance.ts";
import { edgeCurve, type KnotDiagram, twin } from "../diagram/knot-diagram.ts";
import { placeDiagram } from "../diagram/place-diagram.ts";
import type { Hand } from "../diagram/weave.ts";
import { type BoxedChain, BoxIndex, boxChain, chainNearness } from "../geometry/distance.ts";
import type { Point } from "../geometry/point.ts";
import { followedBy, mirrorAt, moveBy, type Transform, turnBy } from "../geometry/transform.ts";
import type { Composition, LayoutEntry } from "./composition.ts";
import { type DrawnPiece, drawPiece, type PieceContext } from "./draw-piece.ts";

export interface LaidPiece {
  readonly name: string;
  readonly diagram: KnotDiagram;
  /** Its own hand, as it lies: mirroring exchanges it. */
  readonly hand: Hand;
  /** From the piece's own mm to where it lies. */
  readonly place: Transform;
  /** mm of a site of its panel, for bends named by row and column. */
  readonly site: DrawnPiece["site"];
  readonly path: readonly (string | number)[];
}

/** Faults: those of the pieces; `name-twice`. */
export function layPieces({ pieces, layout }: Composition, context: PieceContext): Result<LaidPiece[]> {
  const laid: LaidPiece[] = [];
  const names = new Set<string>();
  const known = new Map<string, DrawnPiece>();
  for (const [i, entry] of layout.entries()) {
    const path = ["layout", i];
    let drawn = known.get(entry.piece);
    if (!drawn) {
      const made = drawPiece(entry.piece, pieces, context, [...path, "piece"]);
      if (!made.ok) return made;
      drawn = made.value;
      known.set(entry.piece, drawn);
    }
    const { diagram, hand, site } = drawn;
    for (const { suffix, place, mirrors } of copiesOf(entry, drawn, context)) {
      const name = `${entry.name ?? entry.piece}${suffix}`;
      if (names.has(name)) return refused({ code: "name-twice", found: name, path });
      names.add(name);
      const lies: Hand = mirrors ? (hand === "Z" ? "S" : "Z") : hand;
      laid.push({ name, diagram: placeDiagram(diagram, place), hand: lies, place, site, path });
    }
  }
  return done(laid);
}

interface Copy {
  readonly suffix: string;
  readonly place: Transform;
  readonly mirrors: boolean;
}

function copiesOf(entry: LayoutEntry, { extent }: DrawnPiece, { pitchMm }: PieceContext): Copy[] {
  const turn = turnBy(((entry.turn ?? 0) * Math.PI) / 180);
  const faced = [turn, followedBy(mirrorAt(0), turn)].map((by) => ({ by, box: extent(by) }));
  const place = (mirrors: boolean, [x, y]: readonly [number, number]): Transform => {
    const { by, box } = faced[mirrors ? 1 : 0] ?? { by: turn, box: extent(turn) };
    return followedBy(by, moveBy(x * pitchMm.across - box.minX, -y * pitchMm.down - box.maxY));
  };
  const own = entry.mirror ?? false;
  if (entry.around) {
    const { centre, times } = entry.around;
    const middle = { x: centre[0] * pitchMm.across, y: -centre[1] * pitchMm.down };
    const first = followedBy(place(own, entry.at), moveBy(-middle.x, -middle.y));
    return Array.from({ length: times }, (_, i) => ({
      suffix: `#${i + 1}`,
      mirrors: own,
      place: followedBy(followedBy(first, turnBy((-2 * Math.PI * i) / times)), moveBy(middle.x, middle.y)),
    }));
  }
  const { across = 1, down = 1, every = [0, 0], mirror = "none" } = entry.repeat ?? {};
  const copies: Copy[] = [];
  for (let row = 0; row < down; row++) {
    for (let column = 0; column < across; column++) {
      const mirrors = mirror === "alternate" && (row + column) % 2 === 1 ? !own : own;
      copies.push({
        suffix: across * down === 1 ? "" : `#${copies.length + 1}`,
        mirrors,
        place: place(mirrors, [entry.at[0] + column * every[0], entry.at[1] + row * every[1]]),
      });
    }
  }
  return copies;
}

/** The first place where strands of two pieces meet. */
export function findOverlap(
  pieces: readonly LaidPiece[],
  fromCorner: (at: Point) => Point,
): Fault | undefined {
  const owners: LaidPiece[] = [];
  const chains: BoxedChain[] = [];
  for (const piece of pieces) {
    const { diagram } = piece;
    for (let half = 0; half < diagram.twin.length; half++) {
      if (half > twin(diagram, half)) continue;
      owners.push(piece);
      chains.push(boxChain(edgeCurve(diagram, half)));
    }
    for (const loop of diagram.loops) {
      owners.push(piece);
      chains.push(boxChain(loop));
    }
  }
  const index = new BoxIndex(chains.map(({ bounds }) => bounds));
  for (const [i, chain] of chains.entries()) {
    for (const j of index.near(chain.bounds, SAME_POINT_MM)) {
      const a = owners[i];
      const b = owners[j];
      const other = chains[j];
      if (j <= i || !a || !b || !other || a === b) continue;
      const near = chainNearness(chain, other, SAME_POINT_MM);
      if (!near) continue;
      return { code: "pieces-overlap", a: a.name, b: b.name, atMm: fromCorner(near.onA), path: b.path };
    }
  }
  return undefined;
}
