/**
 * Strands as satin stitch: threads laid side by side from edge to edge, lighter or darker as they
 * lie to the light, as a shiny thread does: brightest across the light, dark along it.
 */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import { cross, distance, leftOf, type Vec } from "../../geometry/point.ts";
import type { PictureItem } from "../../output/picture.ts";
import { scatter } from "../../output/wood-look.ts";
import { materialBody } from "./body.ts";
import { type FinishedKnot, framesOf, type WovenKnot } from "./finished-knot.ts";
import { band, TO_LIGHT, underShadows } from "./light.ts";
import {
  type FrameRun,
  type RibbonFrame,
  runDirection,
  runPoint,
  type Stretch,
  visibleParts,
} from "./ribbon-frame.ts";
import { mixTints, strandTint } from "./tints.ts";

const DARK = "#120c10";
const SHEEN = "#fffaf0";

/** From thread to thread, of the ribbon's width. */
const THREAD = 0.06;
/** Of the way from thread to thread; the rest is a furrow. */
const THREAD_BODY = 0.82;
/** Threads end a little inside the edge, of half the width: at corners they lean, and have corners of their own. */
const THREAD_END = 0.975;
/** How much darker than its threads a strand is below them. */
const FURROW = 0.5;
/** Across the ribbon, of half its width. */
const SHEEN_AT = 0.16;
const SHEEN_BANDS = [0.55, 0.42, 0.31, 0.21, 0.11] as const;
const EDGE_BANDS = [0.5, 0.64, 0.76, 0.86, 0.94] as const;
/** Tones of one strand's threads that are told apart. */
const TONES = 9;

export function threadLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  const frames = framesOf(woven, knot);
  const threads = knot.byStrand.flatMap(([strand]) =>
    laidThreads(
      frames.filter((frame) => frame.strand === strand),
      strandTint("thread", strand),
    ),
  );
  return [
    ...materialBody(woven, knot, "thread", FURROW),
    ...threads,
    // Raised over its padding: the middle shines, the edges fall away.
    ...SHEEN_BANDS.map((half) => band(frames, [[SHEEN_AT - half, SHEEN_AT + half]], SHEEN, 0.055)),
    ...EDGE_BANDS.map((u) =>
      band(
        frames,
        [
          [u, 1],
          [-1, -u],
        ],
        DARK,
        0.09,
      ),
    ),
    underShadows(frames, { reach: 0.85, darkness: 0.82 }),
  ];
}

function laidThreads(frames: readonly RibbonFrame[], colour: string): PictureItem[] {
  const tones: ArcChain[][] = Array.from({ length: TONES }, () => []);
  for (const [number, frame] of frames.entries())
    for (const run of frame.runs)
      for (const [i, { from, to, count }] of threadCounts(run).entries())
        for (let k = 0; k < count; k++) {
          const s = from + ((k + 0.5) / count) * (to - from);
          const level = toneOf(runDirection(run, s), scatter(number * 64 + i, k));
          tones[level]?.push(polyline([runPoint(run, s, -THREAD_END), runPoint(run, s, THREAD_END)], false));
        }
  const widthMm = THREAD_BODY * THREAD * (frames[0]?.widthMm ?? 0);
  return tones.flatMap((chains, level): PictureItem[] => {
    if (chains.length === 0) return [];
    const share = (2 * level) / (TONES - 1) - 1;
    const tone = share < 0 ? mixTints(colour, DARK, -0.42 * share) : mixTints(colour, SHEEN, 0.4 * share);
    return [{ kind: "line", chains, colour: tone, widthMm }];
  });
}

/** How many threads each part of a run takes, so that they lie close at its longer edge. */
function threadCounts(run: FrameRun): (Stretch & { readonly count: number })[] {
  return visibleParts(run).map(({ segment, from, to }) => {
    const edges = [1, -1].map((u) => distance(runPoint(run, from, u), runPoint(run, to, u)));
    const half = 2 * Math.atan(Math.abs(segment.bulge));
    const longer = Math.max(...edges) * (half === 0 ? 1 : half / Math.sin(half));
    return { from, to, count: Math.max(1, Math.round(longer / (THREAD * run.widthMm))) };
  });
}

/** From the darkest tone, 0, to the brightest. */
function toneOf(travel: Vec, chance: number): number {
  const shine = Math.abs(cross(leftOf(travel), TO_LIGHT));
  const tone = 0.2 + 0.62 * shine ** 1.5 + 0.16 * (chance - 0.5);
  return Math.min(TONES - 1, Math.max(0, Math.round(tone * (TONES - 1))));
}
