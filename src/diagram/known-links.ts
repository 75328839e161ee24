/**
 * Well-known small links and what tells them apart: crossings of the reduced alternating
 * diagram (no diagram of the link has fewer: Kauffman, Murasugi, Thistlethwaite 1987), strands,
 * determinant and Jones polynomial. Equal figures do not prove that two links are the same,
 * so all that is said of a link is that it has the invariants of a known one.
 *
 * Names: Rolfsen, Knots and Links (1976); 2^2_1 and so on are links of several strands; turk's
 * heads by parts and bights: Ashley, The Ashley Book of Knots (1944). Jones polynomials: The Knot
 * Atlas and the Table of Knot Invariants, as noted with each in shared/checks/links.json.
 */
import type { JonesPolynomial } from "./jones.ts";

export interface LinkInvariants {
  /** Of the reduced alternating diagram. */
  readonly crossings: number;
  readonly strands: number;
  readonly determinant: bigint;
  readonly jones: JonesPolynomial;
}

export interface NamedLink {
  /** As in the tables (7_4, 6^3_2), or by how it is made (T(2,10)). */
  readonly name: string;
  /** As people call it. */
  readonly called: string | null;
  /** The hand of most crossings of its reduced diagram; null where the mirror image has the same invariants. */
  readonly hand: "right" | "left" | null;
}

interface KnownLink {
  readonly name: string;
  readonly called?: string;
  readonly crossings: number;
  readonly strands: number;
  readonly determinant: number;
  /** Of the right-handed form, from the lowest power up. */
  readonly jones: readonly number[];
  /** The lowest power of a knot's; turning strands of a link round moves the powers. */
  readonly lowestPower?: number;
  /** Which mirror image is the right-handed one hangs on how its strands run. */
  readonly handless?: true;
}

/** The known link that has all these invariants. */
export function nameLink(found: LinkInvariants): NamedLink | undefined {
  for (const known of KNOWN_LINKS) {
    if (known.crossings !== found.crossings || known.strands !== found.strands) continue;
    if (BigInt(known.determinant) !== found.determinant) continue;
    const right = sameJones(known, found.jones);
    const left = sameJones(known, mirrorJones(found.jones));
    if (!right && !left) continue;
    const hand = known.handless || right === left ? null : right ? "right" : "left";
    return { name: known.name, called: known.called ?? null, hand };
  }
  return undefined;
}

/** The mirror image's: t becomes 1/t. */
export function mirrorJones({ lowestPower, coefficients }: JonesPolynomial): JonesPolynomial {
  return { lowestPower: 1 - lowestPower - coefficients.length, coefficients: coefficients.toReversed() };
}

function sameJones({ jones, lowestPower }: KnownLink, found: JonesPolynomial): boolean {
  if (lowestPower !== undefined && lowestPower !== found.lowestPower) return false;
  // The sign of a link's is set by its count of strands.
  const sign = Math.sign((jones[0] ?? 1) * (found.coefficients[0] ?? 1));
  return (
    jones.length === found.coefficients.length &&
    jones.every((value, i) => value === sign * (found.coefficients[i] ?? 0))
  );
}

/** Names of torus links by their crossings; those without have no name but T(2,m). */
const TORUS_NAMES: ReadonlyMap<number, readonly [string, string?]> = new Map([
  [2, ["2^2_1", "Hopf link"]],
  [3, ["3_1", "trefoil"]],
  [4, ["4^2_1", "Solomon's knot"]],
  [5, ["5_1", "cinquefoil"]],
  [6, ["6^2_1"]],
  [7, ["7_1"]],
  [8, ["8^2_1"]],
  [9, ["9_1"]],
]);

/** Two strands' worth of m crossings twisted the same way: t^((m-1)/2) (1 + t^2 - t^3 + t^4 ...). */
function torusLink(m: number): KnownLink {
  const [name, called] = TORUS_NAMES.get(m) ?? [`T(2,${m})`];
  const isKnot = m % 2 === 1;
  return {
    name,
    ...(called === undefined ? {} : { called }),
    crossings: m,
    strands: isKnot ? 1 : 2,
    determinant: m,
    jones: Array.from({ length: m + 1 }, (_, i) => (i === 0 ? 1 : i === 1 ? 0 : i % 2 === 0 ? 1 : -1)),
    ...(isKnot ? { lowestPower: (m - 1) / 2 } : {}),
  };
}

/** All of at most twelve crossings. */
export const KNOWN_LINKS: readonly KnownLink[] = [
  {
    name: "0_1",
    called: "unknot",
    crossings: 0,
    strands: 1,
    determinant: 1,
    jones: [1],
    lowestPower: 0,
  },
  ...Array.from({ length: 11 }, (_, i) => torusLink(i + 2)),
  {
    name: "4_1",
    called: "figure-eight knot",
    crossings: 4,
    strands: 1,
    determinant: 5,
    jones: [1, -1, 1, -1, 1],
    lowestPower: -2,
  },
  {
    name: "2^2_1 # 2^2_1",
    called: "chain of three rings",
    crossings: 4,
    strands: 3,
    determinant: 4,
    jones: [1, 0, 2, 0, 1],
  },
  { name: "5_2", crossings: 5, strands: 1, determinant: 7, jones: [1, -1, 2, -1, 1, -1], lowestPower: 1 },
  {
    name: "5^2_1",
    called: "Whitehead link",
    crossings: 5,
    strands: 2,
    determinant: 8,
    jones: [-1, 1, -2, 1, -2, 1],
  },
  {
    name: "3_1 # 3_1",
    called: "granny knot",
    crossings: 6,
    strands: 1,
    determinant: 9,
    // The square of the trefoil's.
    jones: [1, 0, 2, -2, 1, -2, 1],
    lowestPower: 2,
  },
  {
    name: "3_1 # mirrored 3_1",
    called: "square knot",
    crossings: 6,
    strands: 1,
    determinant: 9,
    // The product of both trefoils'.
    jones: [-1, 1, -1, 3, -1, 1, -1],
    lowestPower: -3,
  },
  {
    name: "6_1",
    called: "stevedore knot",
    crossings: 6,
    strands: 1,
    determinant: 9,
    jones: [1, -1, 2, -2, 1, -1, 1],
    lowestPower: -2,
  },
  {
    name: "6^3_2",
    called: "Borromean rings",
    crossings: 6,
    strands: 3,
    determinant: 16,
    jones: [-1, 3, -2, 4, -2, 3, -1],
  },
  {
    name: "7_4",
    called: "small endless knot",
    crossings: 7,
    strands: 1,
    determinant: 15,
    jones: [1, -2, 3, -2, 3, -2, 1, -1],
    lowestPower: 1,
  },
  {
    name: "8_18",
    called: "carrick mat",
    crossings: 8,
    strands: 1,
    determinant: 45,
    jones: [1, -4, 6, -7, 9, -7, 6, -4, 1],
    lowestPower: -4,
  },
  {
    name: "9_40",
    called: "turk's head of 4 parts and 3 bights",
    crossings: 9,
    strands: 1,
    determinant: 75,
    jones: [-1, 5, -8, 11, -13, 13, -11, 8, -4, 1],
    lowestPower: -2,
  },
  {
    name: "10_123",
    called: "turk's head of 3 parts and 5 bights",
    crossings: 10,
    strands: 1,
    determinant: 121,
    jones: [-1, 5, -10, 15, -19, 21, -19, 15, -10, 5, -1],
    lowestPower: -5,
  },
  {
    name: "closed braid (s1 s2^-1)^6",
    called: "turk's head of 3 parts and 6 bights",
    crossings: 12,
    strands: 3,
    determinant: 320,
    jones: [1, -6, 15, -26, 39, -47, 52, -47, 39, -26, 15, -6, 1],
  },
  {
    name: "closed braid (s1 s2^-1 s3)^4",
    called: "turk's head of 4 parts and 4 bights",
    crossings: 12,
    strands: 4,
    determinant: 384,
    jones: [-1, 7, -20, 33, -50, 58, -63, 56, -46, 29, -15, 5, -1],
    handless: true,
  },
];
