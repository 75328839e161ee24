/**
 * Light and shade on ribbons, as thin fields of white and black that let through what lies below:
 * edges that fall away and catch the light on one side, the shadow of a strand on the one below
 * it, and the shadow of the whole on the ground. Light falls from the upper left, as workshop
 * drawings have it.
 */
import { dot, leftOf, unit, type Vec } from "../../geometry/point.ts";
import type { PictureItem } from "../../output/picture.ts";
import type { RibbonPiece } from "../../ribbon/ribbon.ts";
import { type FrameStep, fieldBetween, type RibbonFrame, stepDirection } from "./ribbon-frame.ts";

/** Towards the light. */
export const TO_LIGHT: Vec = unit({ x: -0.5, y: 0.85 });

const SHADOW = "#1a0f06";
const LIGHT = "#fff6e6";
/** Strengths of one light or shade that are told apart. */
const LEVELS = 6;
/** An arc is lit in parts that turn so far at most, radians. */
const LIT_TURN_RAD = Math.PI / 14;

type Across = readonly [number, number];

export interface Slope {
  /** From the ridge to the edge, as shares of half the width. */
  readonly across: Across;
  /** How opaque full light and full shade are. */
  readonly light: number;
  readonly shade: number;
}

/** Both edges of all ribbons as slopes that face the light or turn from it. */
export function litSlopes(frames: readonly RibbonFrame[], { across, light, shade }: Slope): PictureItem[] {
  const fields = new Map<number, PictureItem[]>();
  for (const frame of frames)
    for (const step of frame.steps)
      for (const stretch of litParts(step))
        for (const side of [1, -1] as const) {
          const share = (stretch.from + stretch.to) / 2 - step.start;
          const out = leftOf(stepDirection(step, share / step.lengthMm));
          const level = Math.round(side * dot(out, TO_LIGHT) * LEVELS);
          if (level === 0) continue;
          const field = fieldBetween(frame, stretch, side * across[0], side * across[1]);
          const strength = (Math.abs(level) / LEVELS) * (level > 0 ? light : shade);
          const alike = fields.get(level) ?? [];
          alike.push({
            kind: "area",
            chains: [field],
            fill: level > 0 ? LIGHT : SHADOW,
            opacity: strength,
          });
          fields.set(level, alike);
        }
  return [...fields].sort(([a], [b]) => a - b).flatMap(([, items]) => oneArea(items));
}

/** Fields that nowhere overlap are one area. */
function oneArea(items: readonly PictureItem[]): PictureItem[] {
  const [first] = items;
  const chains = items.flatMap((item) => (item.kind === "area" ? item.chains : []));
  return first?.kind === "area" ? [{ ...first, chains }] : [];
}

function litParts({ segment, start, lengthMm }: FrameStep): { readonly from: number; readonly to: number }[] {
  const count = Math.max(1, Math.ceil((4 * Math.atan(Math.abs(segment.bulge))) / LIT_TURN_RAD));
  return Array.from({ length: count }, (_, i) => ({
    from: start + (lengthMm * i) / count,
    to: start + (lengthMm * (i + 1)) / count,
  }));
}

/** A band along all ribbons, the same everywhere: a sheen or a darkened edge. */
export function band(
  frames: readonly RibbonFrame[],
  across: readonly Across[],
  colour: string,
  opacity: number,
): PictureItem {
  const chains = frames.flatMap((frame) =>
    across.map(([u0, u1]) => fieldBetween(frame, { from: 0, to: frame.lengthMm }, u0, u1)),
  );
  return { kind: "area", chains, fill: colour, opacity };
}

/** A shadow is made of so many fields, each a little longer than the one before. */
const SHADOW_STEPS = 7;
/** A shadow never takes more of a piece than this, so that where it passes over stays light. */
const LONGEST_SHADOW = 0.3;

/** The shadow of the over-strand at both ends of every piece, darkest at its edge. */
export function underShadows(
  frames: readonly RibbonFrame[],
  { reach, darkness }: { readonly reach: number; readonly darkness: number },
): PictureItem[] {
  const open = frames.filter(({ closed }) => !closed);
  const opacity = 1 - (1 - darkness) ** (1 / SHADOW_STEPS);
  return Array.from({ length: SHADOW_STEPS }, (_, i): PictureItem => {
    const share = ((i + 1) / SHADOW_STEPS) ** 1.6;
    const chains = open.flatMap((frame) => {
      const length = share * Math.min(reach * frame.widthMm, LONGEST_SHADOW * frame.lengthMm);
      return [
        fieldBetween(frame, { from: 0, to: length }, -1, 1),
        fieldBetween(frame, { from: frame.lengthMm - length, to: frame.lengthMm }, -1, 1),
      ];
    });
    return { kind: "area", chains, fill: SHADOW, opacity };
  });
}

/** How far the shadow on the ground reaches past the ribbons, in ribbon widths. */
export const CAST_REACH = 0.55;

/** The shadow that the whole knot casts on the ground, a little to the right and below. */
export function castShadow(pieces: readonly RibbonPiece[], widthMm: number): PictureItem[] {
  const off: Vec = { x: -TO_LIGHT.x * 0.22 * widthMm, y: -TO_LIGHT.y * 0.22 * widthMm };
  const chains = pieces.map(({ centreline }) => ({
    closed: centreline.closed,
    vertices: centreline.vertices.map(({ x, y, bulge }) => ({ x: x + off.x, y: y + off.y, bulge })),
  }));
  return Array.from(
    { length: SHADOW_STEPS },
    (_, i): PictureItem => ({
      kind: "line",
      chains,
      colour: SHADOW,
      widthMm: widthMm * (1.5 - (0.75 * i) / SHADOW_STEPS),
      opacity: 0.055,
    }),
  );
}
