/**
 * How a thread looks in the light, by the direction it is laid in: it is a fine cylinder, brightest
 * where it lies across the direction of the light (Kajiya & Kay, "Rendering fur with three
 * dimensional textures", SIGGRAPH 1989). The light comes from above on the left.
 */
import { DIRECTIONS } from "./thread-runs.ts";

export interface ThreadTones {
  /** Where the thread turns down to the cloth, the same in every direction. */
  readonly edge: string;
  /** For each direction of `threadStretches`. */
  readonly directions: readonly { readonly body: string; readonly crest: string }[];
}

/** Where the light stands over the cloth: direction on the page, counter-clockwise from x, and height. */
const LIGHT_TURN = (112 * Math.PI) / 180;
const LIGHT_HEIGHT = (38 * Math.PI) / 180;
/** How sharp the sheen is: rayon and polyester thread shine broadly. */
const SHINE = 7;

export function threadTones(colour: string): ThreadTones {
  const base = parseColour(colour);
  const directions = Array.from({ length: DIRECTIONS }, (_, direction) => {
    const sheen = sheenOf((direction * Math.PI) / DIRECTIONS);
    return { body: shade(base, -0.14 + 0.24 * sheen), crest: shade(base, 0.03 + 0.4 * sheen) };
  });
  return { edge: shade(base, -0.36), directions };
}

/** 0 to 1: how much of the light a thread throws to someone who looks straight down. */
function sheenOf(turn: number): number {
  // The half vector between the light and the eye; the thread lies flat.
  const flat = Math.cos(LIGHT_HEIGHT);
  const length = Math.hypot(flat, Math.sin(LIGHT_HEIGHT) + 1);
  const alongThread = (flat * Math.cos(turn - LIGHT_TURN)) / length;
  const dullest = (1 - (flat / length) ** 2) ** (SHINE / 2);
  return ((1 - alongThread ** 2) ** (SHINE / 2) - dullest) / (1 - dullest);
}

type Rgb = readonly [number, number, number];

/** "#rgb" or "#rrggbb"; anything else is drawn grey. */
function parseColour(colour: string): Rgb {
  const long = /^#[0-9a-f]{3}$/i.test(colour) ? colour.replace(/[0-9a-f]/gi, "$&$&") : colour;
  const [, r, g, b] = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(long) ?? [];
  return r && g && b
    ? [Number.parseInt(r, 16), Number.parseInt(g, 16), Number.parseInt(b, 16)]
    : [128, 128, 128];
}

/** Mixed with black for a share below 0, with white above. */
function shade(colour: Rgb, share: number): string {
  const towards = share < 0 ? 0 : 255;
  const mixed = colour.map((part) => Math.round(part + (towards - part) * Math.abs(share)));
  return `#${mixed.map((part) => part.toString(16).padStart(2, "0")).join("")}`;
}
