/** The bends of laid pieces, as a design names them or as the tool may choose from. */

import { diagramBounds } from "../diagram/move-diagram.ts";
import { distance, type Point } from "../geometry/point.ts";
import { transformPoint } from "../geometry/transform.ts";
import { type Bend, bendNear, outerBends, placesRound } from "../join/bend.ts";
import type { BendPair } from "../join/choose-bends.ts";
import type { Cuttable } from "../join/wiring.ts";
import type { Assembly } from "./assembly.ts";
import type { BendEntry } from "./composition.ts";
import type { PieceContext } from "./draw-piece.ts";
import type { LaidPiece } from "./laid-piece.ts";

/** Places tried round a loop that bends everywhere alike. */
const PLACES_ROUND = 24;

export class BendFinder {
  readonly #assembly: Assembly;
  readonly #pitchMm: PieceContext["pitchMm"];
  /** A place this near to a bend, mm, means the bend. */
  readonly #snap: number;

  constructor(assembly: Assembly, pitchMm: PieceContext["pitchMm"]) {
    this.#assembly = assembly;
    this.#pitchMm = pitchMm;
    this.#snap = Math.min(pitchMm.across, pitchMm.down) / 8;
  }

  /** The bend that an entry names, or that of its piece nearest to the middle. */
  named({ bend, near }: BendEntry, piece: LaidPiece, middle: Point): Bend | undefined {
    const { across, down } = this.#pitchMm;
    if (!bend) {
      const target = near ? { x: near[0] * across, y: -near[1] * down } : middle;
      return this.#nearest(piece, target);
    }
    const site = piece.site?.(bend[0], bend[1]);
    const target = site && transformPoint(site, piece.place);
    const found = target && this.#nearest(piece, target);
    // The lane along a breakline lies half a step beside it.
    return found && distance(found.at, target) < Math.max(across, down) / 2 ? found : undefined;
  }

  #nearest(piece: LaidPiece, target: Point): Bend | undefined {
    const parts = [...this.#assembly.partsOf(piece)];
    const outsides = parts.map((part) => this.#assembly.outsideOf(part));
    // Tied to others, a piece still has its own strands.
    const isOwn = (cut: Cuttable) => this.#assembly.isOwn(piece, cut);
    return bendNear(this.#assembly.diagram, outsides, target, this.#snap, isOwn);
  }

  /** Every bend of a piece; of a loop that bends everywhere alike, places round it and the one nearest to `towards`. */
  all(piece: LaidPiece, towards?: Bend): Bend[] {
    const { diagram } = this.#assembly;
    return [...this.#assembly.partsOf(piece)].flatMap((part) => {
      const outside = this.#assembly.outsideOf(part);
      const bends = [...outerBends(diagram, outside, (cut) => this.#assembly.isOwn(piece, cut))];
      if (!("loop" in outside)) return bends;
      const facing = towards && bendNear(diagram, [outside], towards.at, 0);
      return [...bends, ...placesRound(diagram, outside.loop, PLACES_ROUND), ...(facing ? [facing] : [])];
    });
  }

  /** A bend on a loop is moved to where it faces the other best. */
  aimed([a, b]: BendPair): BendPair {
    const { diagram } = this.#assembly;
    const aim = (own: Bend, at: Point) =>
      ("loop" in own.cut && bendNear(diagram, [own.cut], at, this.#snap)) || own;
    const onB = aim(b, a.at);
    const onA = aim(a, onB.at);
    return [onA, aim(onB, onA.at)];
  }
}

/** Where all partners look when no bends are named: the middle between them. */
export function middleOf(partners: readonly LaidPiece[]): Point {
  const boxes = partners.map(({ diagram }) => diagramBounds(diagram));
  return {
    x: boxes.reduce((sum, { minX, maxX }) => sum + (minX + maxX) / 2, 0) / boxes.length,
    y: boxes.reduce((sum, { minY, maxY }) => sum + (minY + maxY) / 2, 0) / boxes.length,
  };
}
