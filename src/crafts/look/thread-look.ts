/**
 * Strands as satin stitch: threads laid side by side from edge to edge, lighter or darker as they
 * lie to the light, as a shiny thread does: brightest across the light, dark along it.
 */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import { cross, leftOf } from "../../geometry/point.ts";
import type { PictureItem } from "../../output/picture.ts";
import { scatter } from "../../output/wood-look.ts";
import { materialBody } from "./body.ts";
import { type FinishedKnot, framesOf, type WovenKnot } from "./finished-knot.ts";
import { band, TO_LIGHT, underShadows } from "./light.ts";
import { longerEdge, type RibbonFrame, stepDirection, stepPoint } from "./ribbon-frame.ts";
import { mixTints, strandTint } from "./tints.ts";

const DARK = "#120c10";
const SHEEN = "#fffaf0";

/** From thread to thread, of the ribbon's width. */
const THREAD = 0.075;
/** Tones of one strand's threads that are told apart. */
const TONES = 7;

export function threadLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  const frames = framesOf(woven, knot);
  const threads = knot.byStrand.flatMap(([strand]) =>
    laidThreads(
      frames.filter((frame) => frame.strand === strand),
      strandTint("thread", strand),
    ),
  );
  return [
    ...materialBody(woven, knot, "thread"),
    ...threads,
    // Raised over its padding: the middle shines, the edges fall away.
    band(frames, [[-0.12, 0.5]], SHEEN, 0.1),
    band(frames, [[0.06, 0.34]], SHEEN, 0.14),
    ...([0.55, 0.72, 0.86] as const).map((u) =>
      band(
        frames,
        [
          [u, 1],
          [-1, -u],
        ],
        DARK,
        0.13,
      ),
    ),
    ...underShadows(frames, { reach: 0.8, darkness: 0.62 }),
  ];
}

function laidThreads(frames: readonly RibbonFrame[], colour: string): PictureItem[] {
  const tones: ArcChain[][] = Array.from({ length: TONES }, () => []);
  for (const [number, frame] of frames.entries())
    for (const [i, step] of frame.steps.entries()) {
      const w = frame.widthMm;
      const count = Math.max(1, Math.round(longerEdge(step, w) / (THREAD * w)));
      for (let k = 0; k < count; k++) {
        const share = (k + 0.5) / count;
        const shine = Math.abs(cross(leftOf(stepDirection(step, share)), TO_LIGHT));
        const tone = 0.15 + 0.55 * shine ** 1.5 + 0.42 * (scatter(number * 64 + i, k) - 0.35);
        const level = Math.min(TONES - 1, Math.max(0, Math.round(tone * (TONES - 1))));
        tones[level]?.push(polyline([stepPoint(step, share, -1, w), stepPoint(step, share, 1, w)], false));
      }
    }
  const widthMm = 0.9 * THREAD * (frames[0]?.widthMm ?? 0);
  return tones.flatMap((chains, level): PictureItem[] => {
    if (chains.length === 0) return [];
    const share = (2 * level) / (TONES - 1) - 1;
    const tone = share < 0 ? mixTints(colour, DARK, -0.42 * share) : mixTints(colour, SHEEN, 0.4 * share);
    return [{ kind: "line", chains, colour: tone, widthMm }];
  });
}
