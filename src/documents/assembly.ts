/**
 * Laid pieces on their way to one diagram: the joins made so far, and which parts hang together.
 *
 * Parts lie beside each other on the outer face, and a join connects parts that did not hang
 * together before. So whatever was on the outer face stays there, and neither faces nor parts
 * need to be found anew after a join; that the whole is planar is proved once, at the end.
 */
import { type Faces, findFaces } from "../diagram/faces.ts";
import {
  type CrossingId,
  crossingCount,
  crossingOf,
  edgeCurve,
  type HalfEdge,
  type KnotDiagram,
  twin,
} from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { uniteDiagrams } from "../diagram/place-diagram.ts";
import type { Hand } from "../diagram/weave.ts";
import { type ArcChain, chainBounds } from "../geometry/arc-chain.ts";
import { boundsGap } from "../geometry/bounds.ts";
import type { Bend, Outside } from "../join/bend.ts";
import { Clearance } from "../join/clearance.ts";
import { layTie } from "../join/lay-tie.ts";
import type { Tie } from "../join/tie.ts";
import type { Cuttable } from "../join/wiring.ts";
import type { LaidPiece } from "./laid-piece.ts";

/** What hangs together by now. */
export interface Part {
  readonly hand: Hand;
  /** A half-edge on its outer face, or the loop that it is. */
  readonly outside: HalfEdge | ArcChain;
  /** Any crossing of it. */
  readonly crossing: CrossingId | undefined;
}

/** A connected part of a piece as laid; joins lead it to larger parts. */
interface LaidPart {
  part: Part;
}

export class Assembly {
  readonly pieces: readonly LaidPiece[];
  readonly #partsOf = new Map<LaidPiece, readonly LaidPart[]>();
  /** The members of each part. */
  readonly #members = new Map<Part, readonly LaidPart[]>();
  /** The laid part of each crossing, those made by joins included. */
  readonly #partAt: LaidPart[] = [];
  readonly #partOfLoop = new Map<ArcChain, LaidPart>();
  /** The number of the piece of each crossing, but for those that joins have made. */
  readonly #owners: Int32Array;
  #diagram: KnotDiagram;
  #clearance: Clearance | undefined;

  constructor(pieces: readonly LaidPiece[]) {
    this.pieces = pieces;
    this.#diagram = uniteDiagrams(pieces.map(({ diagram }) => diagram));
    this.#owners = new Int32Array(crossingCount(this.#diagram));
    const faces = findFaces(this.#diagram);
    let first = 0;
    for (const [number, piece] of pieces.entries()) {
      const count = crossingCount(piece.diagram);
      this.#owners.fill(number, first, first + count);
      this.#partsOf.set(piece, [...this.#crossingParts(piece, faces, first), ...this.#loopParts(piece)]);
      first += count;
    }
  }

  get diagram(): KnotDiagram {
    return this.#diagram;
  }

  get clearance(): Clearance {
    this.#clearance ??= new Clearance(this.#diagram);
    return this.#clearance;
  }

  /** The parts in which a piece lies. */
  partsOf(piece: LaidPiece): Set<Part> {
    return new Set(this.#partsOf.get(piece)?.map(({ part }) => part));
  }

  partOfBend({ cut }: Bend): Part | undefined {
    return this.#laidPartOf(cut)?.part;
  }

  /** By what to walk round a part. */
  outsideOf({ outside }: Part): Outside {
    return typeof outside === "number" ? { half: outside } : { loop: this.#diagram.loops.indexOf(outside) };
  }

  /** The hand of every part that has crossings, by its number among the faces of the whole. */
  hands({ partOfCrossing }: Faces): Map<number, Hand> {
    const hands = new Map<number, Hand>();
    for (const { crossing, hand } of this.#members.keys())
      if (crossing !== undefined) hands.set(partOfCrossing[crossing] ?? -1, hand);
    return hands;
  }

  /** Whether joins have exchanged a piece's overs and unders. */
  isExchanged(piece: LaidPiece): boolean {
    const parts = this.partsOf(piece);
    return crossingCount(piece.diagram) > 0 && [...parts].some(({ hand }) => hand !== piece.hand);
  }

  /** The piece that a strand belongs to; undefined for one made by joins. */
  ownerOf(strand: Cuttable): LaidPiece | undefined {
    if ("half" in strand) {
      const { half } = strand;
      return this.#pieceAt(half) ?? this.#pieceAt(twin(this.#diagram, half));
    }
    return this.pieces.find((piece) => this.isOwn(piece, strand));
  }

  /**
   * Whether a strand on the outside of a piece's part is one of its own: an end of it is, or, where
   * nothing crosses, it lies where the piece was laid.
   */
  isOwn(piece: LaidPiece, strand: Cuttable): boolean {
    if ("loop" in strand) {
      const loop = this.#diagram.loops[strand.loop];
      return [...this.partsOf(piece)].some(({ outside }) => outside === loop);
    }
    const { half } = strand;
    if (crossingCount(piece.diagram) > 0)
      return this.#pieceAt(half) === piece || this.#pieceAt(twin(this.#diagram, half)) === piece;
    return boundsGap(diagramBounds(piece.diagram), chainBounds(edgeCurve(this.#diagram, half))) === 0;
  }

  /** Makes a tie between parts; the whole takes the given hand. */
  lay(tie: Tie, hand: Hand): void {
    const joined = new Set(tie.bends.flatMap(({ bend }) => this.partOfBend(bend) ?? []));
    const members = [...joined].flatMap((part) => this.#members.get(part) ?? []);
    const before = crossingCount(this.#diagram);
    this.#diagram = layTie(this.#diagram, tie);
    this.#clearance = this.clearance.changed(this.#diagram);
    const crossed = [...joined].find(({ crossing }) => crossing !== undefined);
    const crossing = crossed?.crossing ?? (tie.crossings.length > 0 ? before : undefined);
    const outside = crossed?.outside ?? this.#outsideAt(crossing);
    if (outside === undefined) return;
    const part: Part = { hand, outside, crossing };
    for (const old of joined) this.#members.delete(old);
    this.#members.set(part, members);
    for (const member of members) member.part = part;
    const [any] = members;
    if (!any) return;
    for (const _ of tie.crossings) this.#partAt.push(any);
    if (typeof outside !== "number") this.#partOfLoop.set(outside, any);
  }

  /** Loops tied into one are the last loop now; where they cross, the outer face is looked for. */
  #outsideAt(crossing: CrossingId | undefined): HalfEdge | ArcChain | undefined {
    if (crossing === undefined) return this.#diagram.loops.at(-1);
    const { first, outer, partOfCrossing } = findFaces(this.#diagram);
    return first[outer[partOfCrossing[crossing] ?? -1] ?? -1];
  }

  #crossingParts({ diagram, hand }: LaidPiece, faces: Faces, first: CrossingId): LaidPart[] {
    const found = new Map<number, LaidPart>();
    for (let crossing = first; crossing < first + crossingCount(diagram); crossing++) {
      const number = faces.partOfCrossing[crossing] ?? -1;
      const outside = faces.first[faces.outer[number] ?? -1] ?? -1;
      const laid = found.get(number) ?? this.#newPart({ hand, outside, crossing });
      found.set(number, laid);
      this.#partAt.push(laid);
    }
    return [...found.values()];
  }

  #loopParts({ diagram, hand }: LaidPiece): LaidPart[] {
    return diagram.loops.map((outside) => {
      const laid = this.#newPart({ hand, outside, crossing: undefined });
      this.#partOfLoop.set(outside, laid);
      return laid;
    });
  }

  #newPart(part: Part): LaidPart {
    const laid = { part };
    this.#members.set(part, [laid]);
    return laid;
  }

  #laidPartOf(cut: Cuttable): LaidPart | undefined {
    if ("half" in cut) return this.#partAt[crossingOf(cut.half)];
    const loop = this.#diagram.loops[cut.loop];
    return loop && this.#partOfLoop.get(loop);
  }

  #pieceAt(half: HalfEdge): LaidPiece | undefined {
    return this.pieces[this.#owners[crossingOf(half)] ?? -1];
  }
}
