/**
 * Ribbons without gaps: each connected part of the diagram as one body, its holes the faces
 * less half a ribbon all round, and the edges of the over-strands as lines across it. Built
 * locally like ribbon.ts: at each corner of a face two ribbon edges are cut where they meet.
 */
import type { Faces } from "../diagram/faces.ts";
import { faceWalk } from "../diagram/faces.ts";
import {
  crossingCount,
  crossingOf,
  crossingPoint,
  edgeCurve,
  type HalfEdge,
  halfEdge,
  type KnotDiagram,
  nextSlot,
  opposite,
  twin,
} from "../diagram/knot-diagram.ts";
import {
  type ArcChain,
  type ChainPlace,
  chainBetween,
  chainLength,
  joinChains,
  mergeStraights,
  reverseChain,
  segmentsOf,
  signedArea,
  splitChain,
} from "../geometry/arc-chain.ts";
import { firstMeet } from "../geometry/first-meet.ts";
import { offsetThrough } from "../geometry/offset.ts";
import { closedPiece, type RibbonTrouble, type Shape, tightBend } from "./ribbon.ts";

export interface LacedBody extends Shape {
  /** The over-strands' edges where they run across another strand: open chains inside the body. */
  readonly crossingLines: readonly ArcChain[];
}

export interface Laced {
  readonly widthMm: number;
  readonly bodies: readonly LacedBody[];
  readonly troubles: readonly RibbonTrouble[];
}

export function laceRibbons(diagram: KnotDiagram, faces: Faces, widthMm: number): Laced {
  const edges = new RibbonEdges(diagram, widthMm);
  const troubles = [...edges.troubles];
  const outlines: ArcChain[] = [];
  const holes: ArcChain[][] = faces.outer.map(() => []);
  const lines: ArcChain[][] = faces.outer.map(() => []);
  for (const [face, first] of faces.first.entries()) {
    const part = faces.partOfFace[face] ?? 0;
    const chain = edges.round([...faceWalk(diagram, first)]);
    const isOuter = faces.outer[part] === face;
    // Walked with the inside on the left: a bounded face counter-clockwise, the outer one clockwise.
    if (!chain || signedArea(chain) > 0 === isOuter) {
      troubles.push({ kind: "too-wide", at: crossingPoint(diagram, crossingOf(first)) });
    } else if (isOuter) {
      outlines[part] = reverseChain(chain);
    } else {
      holes[part]?.push(reverseChain(chain));
    }
  }
  for (let crossing = 0; crossing < crossingCount(diagram); crossing++) {
    const over = halfEdge(crossing, diagram.over[crossing] ?? 0);
    const part = lines[faces.partOfCrossing[crossing] ?? 0];
    for (const half of [over, opposite(over)]) {
      const line = edges.across(half);
      if (line) part?.push(line);
    }
  }
  const bodies: LacedBody[] = [];
  for (const [part, outline] of outlines.entries()) {
    if (outline) bodies.push({ outline, holes: holes[part] ?? [], crossingLines: lines[part] ?? [] });
  }
  for (const loop of diagram.loops) {
    const band = closedPiece(-1, loop, [], widthMm);
    if ("kind" in band) troubles.push(band);
    else bodies.push({ outline: band.outline, holes: band.holes, crossingLines: [] });
  }
  return { widthMm, bodies, troubles };
}

/** Where the ribbon edges at one corner of a face meet. */
interface Corner {
  readonly onLeft: ChainPlace;
  readonly onRight: ChainPlace;
}

/** The two edges of every ribbon, each cut in the middle, so that every half-edge has its near halves. */
class RibbonEdges {
  readonly troubles: RibbonTrouble[] = [];
  readonly #left: (ArcChain | undefined)[];
  readonly #right: (ArcChain | undefined)[];
  readonly #corners: (Corner | undefined)[];
  readonly #diagram: KnotDiagram;

  constructor(diagram: KnotDiagram, widthMm: number) {
    this.#diagram = diagram;
    this.#left = new Array(diagram.twin.length);
    this.#right = new Array(diagram.twin.length);
    for (let half = 0; half < diagram.twin.length; half++) {
      const other = twin(diagram, half);
      if (other < half) continue;
      const curve = edgeCurve(diagram, half);
      const trouble = tightBend(curve, widthMm);
      if (trouble) {
        this.troubles.push(trouble);
        continue;
      }
      // An edge may come back to the crossing that it left: its own edges cross there.
      const left = offsetThrough(curve, widthMm / 2, "pointed");
      const right = offsetThrough(curve, -widthMm / 2, "pointed");
      if (left) this.#store(this.#left, this.#right, half, other, left);
      if (right) this.#store(this.#right, this.#left, half, other, right);
    }
    this.#corners = Array.from(diagram.twin, (_, half) => this.#cornerAt(half));
  }

  #store(
    near: (ArcChain | undefined)[],
    far: (ArcChain | undefined)[],
    half: HalfEdge,
    other: HalfEdge,
    edge: ArcChain,
  ) {
    const [first, second] = splitChain(edge, chainLength(edge) / 2);
    near[half] = first;
    far[other] = reverseChain(second);
  }

  /** The corner from this half-edge to the next slot counter-clockwise. */
  #cornerAt(half: HalfEdge): Corner | undefined {
    const left = this.#left[half];
    const right = this.#right[nextSlot(half)];
    const met = left && right && firstMeet(segmentsOf(left), segmentsOf(right));
    return met && { onLeft: met.onA, onRight: met.onB };
  }

  /** The ribbon edges round a face, cut at its corners; undefined where they do not meet. */
  round(walk: readonly HalfEdge[]): ArcChain | undefined {
    const parts: ArcChain[] = [];
    for (const half of walk) {
      const arriving = twin(this.#diagram, half);
      const near = this.#left[half];
      const far = this.#right[arriving];
      const from = this.#corners[half];
      const to = this.#corners[nextSlot(arriving, 3)];
      if (!near || !far || !from || !to) return undefined;
      parts.push(partFrom(near, from.onLeft), reverseChain(partFrom(far, to.onRight)));
    }
    return mergeStraights(joinChains(parts, true));
  }

  /** The edge on the left of the over-strand that leaves a crossing by `half`, across the under-strand. */
  across(half: HalfEdge): ArcChain | undefined {
    const ahead = this.#left[half];
    const behind = this.#right[opposite(half)];
    const from = this.#corners[nextSlot(half)];
    const to = this.#corners[half];
    if (!ahead || !behind || !from || !to) return undefined;
    return mergeStraights(
      joinChains([reverseChain(partTo(behind, from.onRight)), partTo(ahead, to.onLeft)], false),
    );
  }
}

function partFrom(chain: ArcChain, place: ChainPlace): ArcChain {
  return chainBetween(chain, place, { index: chain.vertices.length - 2, t: 1 });
}

function partTo(chain: ArcChain, place: ChainPlace): ArcChain {
  return chainBetween(chain, { index: 0, t: 0 }, place);
}
