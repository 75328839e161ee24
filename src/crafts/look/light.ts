/**
 * Light and shade on ribbons, as thin fields of white and black that let through what lies below:
 * edges that fall away and catch the light on one side, the shadow of a strand on the one below
 * it, and the shadow of the whole on the ground. Light falls from the upper left, as workshop
 * drawings have it.
 */
import { groupBy } from "../../base/group-by.ts";
import { type ArcChain, polyline, reverseChain } from "../../geometry/arc-chain.ts";
import { along, dot, leftOf, unit, type Vec } from "../../geometry/point.ts";
import { moveBy, transformChain } from "../../geometry/transform.ts";
import type { FadingField, PictureItem } from "../../output/picture.ts";
import {
  capEdge,
  fieldBetween,
  lineAlong,
  type RibbonFrame,
  runDirection,
  runPoint,
  type Stretch,
  visibleParts,
} from "./ribbon-frame.ts";

/** Towards the light. */
export const TO_LIGHT: Vec = unit({ x: -0.5, y: 0.85 });

const SHADOW = "#1a0f06";
const LIGHT = "#fff6e6";
/** Strengths of one light or shade that are told apart. */
const LEVELS = 10;
/** An arc is lit in parts that turn so far at most, radians. */
const LIT_TURN_RAD = Math.PI / 20;

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
  const alike = groupBy(
    frames.flatMap((frame) => [...sideFields(frame, 1, across), ...sideFields(frame, -1, across)]),
    ({ level }) => level,
  );
  return [...alike]
    .filter(([level]) => level !== 0)
    .sort(([a], [b]) => a - b)
    .map(
      ([level, fields]): PictureItem => ({
        kind: "area",
        chains: fields.map(({ field }) => field),
        fill: level > 0 ? LIGHT : SHADOW,
        opacity: (Math.abs(level) / LEVELS) * (level > 0 ? light : shade),
      }),
    );
}

interface LitField {
  /** From -LEVELS, turned from the light, to LEVELS, facing it. */
  readonly level: number;
  readonly field: ArcChain;
}

/** One edge of a ribbon in parts that are as light throughout. */
function sideFields(frame: RibbonFrame, side: 1 | -1, across: Across): LitField[] {
  const runs: { level: number; from: number; to: number }[] = [];
  for (const run of frame.runs)
    for (const { from, to } of visibleParts(run).flatMap(litParts)) {
      const out = leftOf(runDirection(run, (from + to) / 2));
      const level = Math.round(side * dot(out, TO_LIGHT) * LEVELS);
      const last = runs.at(-1);
      if (last && last.level === level) last.to = to;
      else runs.push({ level, from, to });
    }
  return runs.map(({ level, from, to }) => ({
    level,
    field: fieldBetween(frame, { from, to }, side * across[0], side * across[1]),
  }));
}

function litParts({ segment, from, to }: ReturnType<typeof visibleParts>[number]): Stretch[] {
  const count = Math.max(1, Math.ceil((4 * Math.atan(Math.abs(segment.bulge))) / LIT_TURN_RAD));
  const step = (to - from) / count;
  return Array.from({ length: count }, (_, i) => ({ from: from + i * step, to: from + (i + 1) * step }));
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

/** Fine lines along both edges, the outermost `share` of half the width. */
export function edgeLines(
  frames: readonly RibbonFrame[],
  share: number,
  colour: string,
  opacity: number,
): PictureItem {
  const u = 1 - share / 2;
  const widthMm = (share * (frames[0]?.widthMm ?? 0)) / 2;
  const chains = frames.flatMap((frame) => [lineAlong(frame, u), lineAlong(frame, -u)]);
  return { kind: "line", chains, colour, widthMm, opacity };
}

/** A shadow never takes more of a piece than this, so that where it passes over stays light. */
const LONGEST_SHADOW = 0.4;

/** The shadow of the over-strand at both ends of every piece, darkest along its edge. */
export function underShadows(
  frames: readonly RibbonFrame[],
  { reach, darkness }: { readonly reach: number; readonly darkness: number },
): PictureItem {
  const fields = frames.flatMap((frame) => {
    const ahead = shadowOf(frame, "start", reach);
    const behind = shadowOf(frame, "end", reach);
    return [ahead, behind].filter((field) => field !== undefined);
  });
  return { kind: "fade", colour: SHADOW, opacity: darkness, fields };
}

function shadowOf(frame: RibbonFrame, at: "start" | "end", reach: number): FadingField | undefined {
  const [run, over] = at === "start" ? [frame.runs[0], frame.overs[0]] : [frame.runs.at(-1), frame.overs[1]];
  if (!run || !over) return undefined;
  const edge = capEdge(frame, at);
  const from = runPoint(run, at === "start" ? 0 : frame.lengthMm, 0);
  const travel = runDirection(run, at === "start" ? 0 : frame.lengthMm);
  const inward: Vec = at === "start" ? travel : { x: -travel.x, y: -travel.y };
  const normal = leftOf(over);
  const sine = dot(normal, inward);
  const off: Vec = sine > 0 ? normal : { x: -normal.x, y: -normal.y };
  const length = Math.min(reach * frame.widthMm, LONGEST_SHADOW * frame.lengthMm);
  const field = Math.min(frame.lengthMm, length / Math.max(Math.abs(sine), LEAST_SINE));
  const [s0, s1] = at === "start" ? [0, field] : [frame.lengthMm - field, frame.lengthMm];
  const right = lineAlong(frame, -1, s0, s1);
  const left = reverseChain(lineAlong(frame, 1, s0, s1));
  const across = polyline(at === "start" ? edge.toReversed() : edge, false);
  const sides = at === "start" ? [right, left, across] : [right, across, left];
  return { outline: closedThrough(sides), from, to: along(from, off, length) };
}

/** Chains one after another, with straight lines from each to the next. */
function closedThrough(chains: readonly ArcChain[]): ArcChain {
  return { closed: true, vertices: chains.flatMap(({ vertices }) => vertices) };
}

/** Strands that cross flatter than this are shaded as if they did not. */
const LEAST_SINE = 0.5;

/** Strokes of the shadow on the ground: so many that their edges cannot be told apart. */
const CAST_STEPS = 20;
const CAST_DARKNESS = 0.4;
/** Black alone stays as it is when so many thin coats of it are rounded. */
const CAST = "#000000";
/** From where the shadow is darkest to where it ends, in ribbon widths from the middle. */
const CAST_FROM = 0.3;
const CAST_TO = 0.82;
/** How far it lies off, in ribbon widths. */
const CAST_OFF = 0.2;

/** The shadow that the whole knot casts on the ground, a little to the right and below. */
export function castShadow(centrelines: readonly ArcChain[], widthMm: number): PictureItem[] {
  const off = CAST_OFF * widthMm;
  const by = moveBy(-TO_LIGHT.x * off, -TO_LIGHT.y * off);
  const chains = centrelines.map((chain) => transformChain(chain, by));
  const opacity = 1 - (1 - CAST_DARKNESS) ** (1 / CAST_STEPS);
  return Array.from({ length: CAST_STEPS }, (_, i): PictureItem => {
    // Steps lie close together in the middle of the slope: the inverse of 3 t^2 - 2 t^3.
    const share = 0.5 - Math.sin(Math.asin(1 - (2 * (i + 0.5)) / CAST_STEPS) / 3);
    const half = CAST_TO + (CAST_FROM - CAST_TO) * share;
    return { kind: "line", chains, colour: CAST, widthMm: 2 * half * widthMm, opacity };
  });
}
