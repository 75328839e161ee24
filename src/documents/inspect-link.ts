/** What a design's strands are as a link: determinant, Jones polynomial, a known link's name. */
import { type LinkDeterminant, linkDeterminant } from "../diagram/determinant.ts";
import { type JonesPolynomial, jonesPolynomial, MOST_JONES_CROSSINGS } from "../diagram/jones.ts";
import { type NamedLink, nameLink } from "../diagram/known-links.ts";
import { untwisted } from "../diagram/untwist.ts";
import { isAlternating } from "../diagram/weave.ts";
import type { Woven } from "./woven-design.ts";

export interface InspectedLink {
  readonly determinant: LinkDeterminant;
  /** The design is in parts that can be pulled apart; nothing below is then said. */
  readonly split: boolean;
  /** Crossings left when all is untwisted that can be. */
  readonly untwistedCrossings: number;
  /** Of at most {@link MOST_JONES_CROSSINGS} crossings. */
  readonly jones: JonesPolynomial | null;
  /** A known link with the same invariants, which is strong evidence but no proof. */
  readonly sameAs: NamedLink | null;
}

export function inspectLink({ diagram, faces, strands }: Woven): InspectedLink {
  const determinant = linkDeterminant(diagram, faces);
  const split = faces.parts > 1;
  const reduced = untwisted(diagram, faces);
  const crossings = reduced.over.length;
  const jones = split || crossings > MOST_JONES_CROSSINGS ? null : jonesPolynomial(reduced);
  // Only an alternating reduced diagram shows the fewest crossings that its link can have.
  const named =
    jones && determinant.kind === "known" && isAlternating(diagram)
      ? nameLink({ crossings, strands: strands.count, determinant: determinant.value, jones })
      : undefined;
  return { determinant, split, untwistedCrossings: crossings, jones, sameAs: named ?? null };
}

/** For JSON: the determinant as text, for most pass 2^53; null when there are too many crossings. */
export function linkRecord({ determinant, ...others }: InspectedLink): object {
  return { determinant: determinant.kind === "known" ? String(determinant.value) : null, ...others };
}
