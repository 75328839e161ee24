/** Strands as straps: a fine grain, burnished edges, a crease and a row of stitches along both. */
import { type ArcChain, chainLength, pointAtLength, polyline } from "../../geometry/arc-chain.ts";
import { along, type Vec } from "../../geometry/point.ts";
import { moveBy, transformChain } from "../../geometry/transform.ts";
import type { PictureItem } from "../../output/picture.ts";
import { scatter } from "../../output/wood-look.ts";
import { materialBody } from "./body.ts";
import { type FinishedKnot, framesOf, type WovenKnot } from "./finished-knot.ts";
import { edgeLines, litSlopes, underShadows } from "./light.ts";
import { lineAlong, type RibbonFrame, runPoint } from "./ribbon-frame.ts";
import { luminance, strandTint } from "./tints.ts";

const DARK = "#160b05";
const PALE = "#ffeed2";
const PALE_THREAD = "#efe0c0";
const DARK_THREAD = "#4a2c18";

/** Across the strap, of half its width. */
const STITCH_AT = 0.66;
const CREASE_AT = 0.82;
/** Of the ribbon's width. */
const STITCH = 0.2;
const BETWEEN_STITCHES = 0.09;
const THREAD = 0.06;

export function leatherLook(woven: WovenKnot, knot: FinishedKnot): PictureItem[] {
  const frames = framesOf(woven, knot);
  const w = knot.widthMm;
  const rows = frames.flatMap((frame) =>
    [-STITCH_AT, STITCH_AT].map((u) => ({ strand: frame.strand, row: lineAlong(frame, u) })),
  );
  const creases = frames.flatMap((frame) => [lineAlong(frame, -CREASE_AT), lineAlong(frame, CREASE_AT)]);
  return [
    ...materialBody(woven, knot, "leather"),
    ...creasedGrain(frames),
    ...litSlopes(frames, { across: [0.3, 1], light: 0.08, shade: 0.12 }),
    ...litSlopes(frames, { across: [0.84, 1], light: 0.28, shade: 0.26 }),
    edgeLines(frames, 0.09, DARK, 0.55),
    { kind: "line", chains: creases, colour: DARK, widthMm: 0.022 * w, opacity: 0.45 },
    // The row lies in a shallow groove.
    {
      kind: "line",
      chains: rows.map(({ row }) => row),
      colour: DARK,
      widthMm: 1.7 * THREAD * w,
      opacity: 0.3,
    },
    ...knot.byStrand.map(([strand]): PictureItem => {
      const pale = luminance(strandTint("leather", strand)) < 0.35;
      return {
        kind: "line",
        chains: rows.filter((row) => row.strand === strand).flatMap(({ row }) => stitches(row, w)),
        colour: pale ? PALE_THREAD : DARK_THREAD,
        widthMm: THREAD * w,
        roundEnds: true,
      };
    }),
    underShadows(frames, { reach: 1, darkness: 0.8 }),
  ];
}

/** Whole stitches, spread evenly over the row. */
function stitches(row: ArcChain, widthMm: number): ArcChain[] {
  const length = chainLength(row);
  const count = Math.round(length / ((STITCH + BETWEEN_STITCHES) * widthMm));
  const pitch = length / count;
  const half = (pitch * STITCH) / (STITCH + BETWEEN_STITCHES) / 2 - (THREAD * widthMm) / 2;
  return Array.from({ length: count }, (_, i) => {
    const middle = (i + 0.5) * pitch;
    return polyline([pointAtLength(row, middle - half), pointAtLength(row, middle + half)], false);
  });
}

/** Creases of the grain for each square of the ribbon's width. */
const CREASES = 13;
/** Of the width: the shortest, and what chance adds. */
const CREASE = { least: 0.018, more: 0.04, width: 0.02 } as const;
/** How far across they lie, of half the width. */
const CREASED = 0.58;

/** The leather's own grain: short creases this way and that, dark, with a light lip below every second. */
function creasedGrain(frames: readonly RibbonFrame[]): PictureItem[] {
  const dark = frames.flatMap(creasesOf);
  const w = frames[0]?.widthMm ?? 0;
  const below = moveBy(0.012 * w, -0.02 * w);
  const light = dark.filter((_, i) => i % 2 === 0).map((chain) => transformChain(chain, below));
  const widthMm = CREASE.width * w;
  return [
    { kind: "line", chains: light, colour: PALE, widthMm, opacity: 0.16, roundEnds: true },
    { kind: "line", chains: dark, colour: DARK, widthMm, opacity: 0.28, roundEnds: true },
  ];
}

function creasesOf({ runs, widthMm }: RibbonFrame, number: number): ArcChain[] {
  return runs.flatMap((run, i) => {
    const count = Math.round((CREASES * CREASED * run.lengthMm) / widthMm);
    return Array.from({ length: count }, (_, k) => {
      const chance = (of: number) => scatter(number * 64 + i, k * 8 + of);
      const s = run.start + ((k + chance(0)) / count) * run.lengthMm;
      const at = runPoint(run, s, CREASED * (2 * chance(1) - 1));
      const angle = chance(2) * Math.PI;
      const half = (CREASE.least + CREASE.more * chance(3)) * widthMm;
      const arm: Vec = { x: Math.cos(angle) * half, y: Math.sin(angle) * half };
      return polyline([along(at, arm, -1), along(at, arm)], false);
    });
  });
}
