/** Strands as straps: a fine grain, burnished edges, a crease and a row of stitches along both. */
import { type ArcChain, chainLength, pointAtLength, polyline } from "../../geometry/arc-chain.ts";
import { along, type Vec } from "../../geometry/point.ts";
import type { PictureItem } from "../../output/picture.ts";
import { scatter } from "../../output/wood-look.ts";
import { materialBody } from "./body.ts";
import { type FinishedKnot, framesOf, type WovenKnot } from "./finished-knot.ts";
import { band, litSlopes, underShadows } from "./light.ts";
import { lineAlong, type RibbonFrame, stepDirection, stepPoint } from "./ribbon-frame.ts";
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
    ...pebbles(frames),
    ...litSlopes(frames, { across: [0.3, 1], light: 0.07, shade: 0.1 }),
    ...litSlopes(frames, { across: [0.84, 1], light: 0.26, shade: 0.24 }),
    band(
      frames,
      [
        [0.92, 1],
        [-1, -0.92],
      ],
      DARK,
      0.5,
    ),
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
    ...underShadows(frames, { reach: 0.95, darkness: 0.6 }),
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
const PEBBLES = 9;

/** Small crooked creases, dark ones and, beside each third, a light one. */
function pebbles(frames: readonly RibbonFrame[]): PictureItem[] {
  const dark: ArcChain[] = [];
  const light: ArcChain[] = [];
  for (const [number, frame] of frames.entries())
    for (const [i, step] of frame.steps.entries()) {
      const w = frame.widthMm;
      const count = Math.round((PEBBLES * step.lengthMm) / w);
      for (let k = 0; k < count; k++) {
        const chance = (of: number) => scatter(number * 64 + i, k * 8 + of);
        const share = (k + chance(0)) / count;
        const at = stepPoint(step, share, 1.1 * (chance(1) - 0.5), w);
        const angle = chance(2) * Math.PI + Math.atan2(stepDirection(step, 0).y, stepDirection(step, 0).x);
        const arm = (turn: number): Vec => ({
          x: Math.cos(angle + turn) * w * (0.025 + 0.05 * chance(3)),
          y: Math.sin(angle + turn) * w * (0.025 + 0.05 * chance(3)),
        });
        const crease = [along(at, arm(0), -1), at, along(at, arm(1.5 * (chance(4) - 0.5)))];
        dark.push(polyline(crease, false));
        if (k % 3 !== 0) continue;
        const off = { x: 0.018 * w, y: -0.022 * w };
        light.push(
          polyline(
            crease.map((point) => along(point, off)),
            false,
          ),
        );
      }
    }
  const widthMm = 0.018 * (frames[0]?.widthMm ?? 0);
  return [
    { kind: "line", chains: dark, colour: DARK, widthMm, opacity: 0.3, roundEnds: true },
    { kind: "line", chains: light, colour: PALE, widthMm, opacity: 0.2, roundEnds: true },
  ];
}
