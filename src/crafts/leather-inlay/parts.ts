/**
 * Ribbons -> parts to cut: for each, its outline with eased corners, the path that cuts it
 * (moved outward) and the path that cuts its opening (moved inward), all exact arc chains.
 */
import { LIMIT_SLACK_MM } from "../../base/tolerance.ts";
import type { Measured } from "../../checks/judge.ts";
import { strandName } from "../../diagram/strands.ts";
import { type ArcChain, chainStart, segmentsOf, signedArea } from "../../geometry/arc-chain.ts";
import { easeCorners } from "../../geometry/fillet.ts";
import { offsetWhole } from "../../geometry/offset.ts";
import type { Point } from "../../geometry/point.ts";
import { arcOf, segmentPoint } from "../../geometry/segment.ts";
import type { Laced } from "../../ribbon/laced.ts";
import type { Ribbons, Shape } from "../../ribbon/ribbon.ts";
import { type InlaySettings, leastEase, pathShift } from "./settings.ts";

export interface InlayPart {
  /** Strand letter and number along the strand, e.g. "B7". */
  readonly label: string;
  readonly strand: number;
  /** As the finished part should be, its corners eased. */
  readonly nominal: Shape;
  /** The path that cuts the part out of its own leather. */
  readonly inlay: Shape;
  /** The path that cuts its opening into the ground. */
  readonly opening: Shape;
  /** Where a label may run; none for a laced body. */
  readonly centreline: ArcChain | undefined;
  /** Crossing lines to mark on the part. */
  readonly lines: readonly ArcChain[];
  readonly ends: readonly number[];
  readonly over: readonly number[];
}

export interface InlayParts {
  readonly parts: readonly InlayPart[];
  /** Where an outline turns more tightly than its paths can follow, and the radius there: 0 at corners too short of sides to be eased. */
  readonly sharp: readonly Measured[];
  /** Places where a cut path would vanish or fall apart. */
  readonly lost: readonly Point[];
}

export function pieceParts(ribbons: Ribbons, settings: InlaySettings): InlayParts {
  const maker = new PartMaker(settings);
  const numbers = new Map<number, number>();
  for (const piece of ribbons.pieces) {
    const number = (numbers.get(piece.strand) ?? 0) + 1;
    numbers.set(piece.strand, number);
    maker.add(piece, {
      label: `${strandName(piece.strand)}${number}`,
      strand: piece.strand,
      centreline: piece.centreline,
      lines: [],
      ends: piece.ends,
      over: piece.over,
    });
  }
  return maker.made;
}

export function lacedParts(laced: Laced, settings: InlaySettings): InlayParts {
  const maker = new PartMaker(settings);
  for (const [i, body] of laced.bodies.entries()) {
    const label = strandName(i);
    maker.add(body, {
      label,
      strand: i,
      centreline: undefined,
      lines: body.crossingLines,
      ends: [],
      over: [],
    });
  }
  return maker.made;
}

type PartFacts = Omit<InlayPart, "nominal" | "inlay" | "opening">;

class PartMaker {
  readonly #parts: InlayPart[] = [];
  readonly #sharp: Measured[] = [];
  readonly #lost: Point[] = [];
  readonly #ease: number;
  readonly #leastEase: number;
  readonly #shift: number;

  constructor(settings: InlaySettings) {
    this.#ease = settings.easeRadiusMm;
    this.#leastEase = leastEase(settings);
    this.#shift = pathShift(settings);
  }

  add(shape: Shape, facts: PartFacts): void {
    const nominal = {
      outline: this.#eased(shape.outline),
      holes: shape.holes.map((hole) => this.#eased(hole)),
    };
    // Outline and holes alike have the part on their left: outward is to the right.
    const inlay = moved(nominal, -this.#shift);
    const opening = moved(nominal, this.#shift);
    if (inlay && opening) this.#parts.push({ ...facts, nominal, inlay, opening });
    else this.#lost.push(chainStart(nominal.outline));
  }

  #eased(chain: ArcChain): ArcChain {
    const { chain: eased, sharp } = this.#ease === 0 ? { chain, sharp: [] } : easeCorners(chain, this.#ease);
    this.#sharp.push(...sharp.map((at) => ({ at, value: 0 })));
    for (const segment of segmentsOf(eased)) {
      if (segment.bulge === 0) continue;
      const { radius } = arcOf(segment);
      if (radius < this.#leastEase - LIMIT_SLACK_MM)
        this.#sharp.push({ at: segmentPoint(segment, 0.5), value: radius });
    }
    return eased;
  }

  get made(): InlayParts {
    return { parts: this.#parts, sharp: this.#sharp, lost: this.#lost };
  }
}

function moved(shape: Shape, left: number): Shape | undefined {
  const outline = movedChain(shape.outline, left);
  const holes = shape.holes.map((hole) => movedChain(hole, left));
  if (!outline || holes.includes(undefined)) return undefined;
  return { outline, holes: holes.filter((hole) => hole !== undefined) };
}

/** Undefined where nothing is left, were it a point or a line. */
function movedChain(chain: ArcChain, left: number): ArcChain | undefined {
  const found = offsetWhole(chain, left, "round");
  return found && signedArea(found) * signedArea(chain) > 0 ? found : undefined;
}
