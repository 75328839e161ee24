/** How the materials of carved panels look: colours of our own from shade to light, and grain by formula. */

export type WoodTone = "pale" | "brown" | "board" | "sheet";

export type Rgb = readonly [number, number, number];

interface WoodLook {
  /** From the deepest shade to full light, evenly spaced. */
  readonly colours: readonly Rgb[];
  /** Of the upper face where it is a skin of another colour, as sign sheet has. */
  readonly face?: readonly Rgb[];
  /** Share of the light that the darkest line of the grain takes. */
  readonly grain: number;
}

const LOOKS: Readonly<Record<WoodTone, WoodLook>> = {
  pale: { colours: shades("#2e1c0d #86592c #cf9f63 #efcf9d #fff0d2"), grain: 0.2 },
  brown: { colours: shades("#170b05 #55301a #94603a #c4905f #ecc598"), grain: 0.26 },
  board: { colours: shades("#261b12 #6f553c #ad8d69 #d2b890 #efdcbd"), grain: 0 },
  sheet: {
    colours: shades("#3a3833 #8d897f #c9c5ba #ebe8df #ffffff"),
    face: shades("#070c16 #15253f #2a4670 #46699c #7d9cc6"),
    grain: 0,
  },
};

/** The upper face's skin is thinner than any cut that is meant to be one, mm. */
const SKIN_MM = 0.05;
/** Steps from shade to light: two ramps and what is cut through fit a palette of 256. */
const STEPS = 127;
const THROUGH: Rgb = [255, 255, 255];

/** All colours that a shaded picture may have, three bytes each. */
export function woodPalette(tone: WoodTone): Uint8Array {
  const { colours, face } = LOOKS[tone];
  const ramp = (stops: readonly Rgb[]) =>
    Array.from({ length: STEPS }, (_, i) => mix(stops, i / (STEPS - 1)));
  return Uint8Array.from([...ramp(colours), ...ramp(face ?? colours), THROUGH].flat());
}

/** Number of the colour in the palette for a light from 0 to 1, at a height. */
export function woodColour(light: number, z: number): number {
  const step = Math.round(Math.min(Math.max(light, 0), 1) * (STEPS - 1));
  return z > -SKIN_MM ? STEPS + step : step;
}

/** The palette's colour of a place that is cut through. */
export const THROUGH_COLOUR = 2 * STEPS;

export function grainStrength(tone: WoodTone): number {
  return LOOKS[tone].grain;
}

/** Distance between year rings as they meet the face, mm. */
const RING_MM = 2.9;
const FIBRE_MM = 0.35;
const FIBRE_LENGTH_MM = 9;

/**
 * How dark the wood is by itself, 0 to 1, at `u` mm along the grain, `v` across it and a height:
 * year rings that wander slowly, each darkening towards its late wood, and short fibres. Deeper
 * cuts meet the rings further on, as they do in a board.
 */
export function grainAt(u: number, v: number, z: number): number {
  const across = v + 0.6 * z + 2.6 * Math.sin(u / 71 + 1.3) + 0.9 * Math.sin(u / 29 + v / 23);
  const ring = across / RING_MM + 0.6 * Math.sin(across / 11.3) + 0.3 * Math.sin(across / 4.1);
  const late = ring - Math.floor(ring);
  return 0.7 * late ** 4 + 0.3 * fibre(u, v);
}

/** Noise that changes quickly across the grain and slowly along it. */
function fibre(u: number, v: number): number {
  const lane = Math.floor(v / FIBRE_MM);
  const along = u / FIBRE_LENGTH_MM + scatter(lane, 7);
  const knot = Math.floor(along);
  const share = along - knot;
  return (1 - share) * scatter(lane, knot) + share * scatter(lane, knot + 1);
}

/** A number from 0 to 1 that looks like chance and is always the same: an integer hash by multiplying and shifting. */
function scatter(a: number, b: number): number {
  let bits = Math.imul(a, 0x27d4eb2d) ^ Math.imul(b, 0x165667b1);
  bits = Math.imul(bits ^ (bits >>> 15), 0x2c1b3c6d);
  bits = Math.imul(bits ^ (bits >>> 12), 0x297a2d39);
  return ((bits ^ (bits >>> 15)) >>> 0) / 2 ** 32;
}

function shades(list: string): Rgb[] {
  return list.split(" ").map((colour) => {
    const bits = Number.parseInt(colour.slice(1), 16);
    return [bits >> 16, (bits >> 8) & 255, bits & 255];
  });
}

function mix(stops: readonly Rgb[], share: number): Rgb {
  const at = share * (stops.length - 1);
  const before = Math.min(Math.floor(at), stops.length - 2);
  const [from, to] = [stops[before] ?? THROUGH, stops[before + 1] ?? THROUGH];
  const part = (i: 0 | 1 | 2) => Math.round(from[i] + (to[i] - from[i]) * (at - before));
  return [part(0), part(1), part(2)];
}
