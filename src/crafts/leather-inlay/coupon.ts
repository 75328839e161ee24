/**
 * The kerf test piece: openings in a base plate and loose tongues of one nominal size, each
 * pair compensated for another kerf. The pair that fits without play and without pressing was
 * compensated for the true one: tongue = nominal + k - kerf, opening = nominal - k + kerf.
 */
import { formatNumber } from "../../base/format-number.ts";
import { type ArcChain, chainBounds } from "../../geometry/arc-chain.ts";
import { mergeBounds } from "../../geometry/bounds.ts";
import { filletPoints } from "../../geometry/fillet.ts";
import type { Drawing } from "../../output/drawing.ts";
import { letterChains } from "../../output/lettering.ts";

/** Kerfs tried, mm: round the 0.15 to 0.30 mm of common practice for leather (CHECKS 6). */
export const COUPON_KERFS_MM = [0.08, 0.12, 0.16, 0.2, 0.24, 0.28, 0.32, 0.36, 0.4];

/** What each tongue measures when its kerf is the true one, mm. */
export const TONGUE_MM = { width: 8, height: 20 };

const BETWEEN_MM = 6;
const EASE_MM = 1;
const LETTERS_MM = 2;

export function drawCoupon(notes: readonly string[]): Drawing {
  const pockets: ArcChain[] = [];
  const tongues: ArcChain[] = [];
  const marks: ArcChain[] = [];
  const step = TONGUE_MM.width + BETWEEN_MM;
  const baseHeight = TONGUE_MM.height + 3 * BETWEEN_MM + LETTERS_MM;
  const tongueY = baseHeight + 2 * BETWEEN_MM + TONGUE_MM.height / 2;
  for (const [i, kerf] of COUPON_KERFS_MM.entries()) {
    const x = BETWEEN_MM + step * i + TONGUE_MM.width / 2;
    const openingY = 2 * BETWEEN_MM + LETTERS_MM + TONGUE_MM.height / 2;
    pockets.push(block(x, openingY, -kerf / 2));
    tongues.push(block(x, tongueY, kerf / 2));
    const text = formatNumber(kerf, 2);
    marks.push(
      ...letterChains(text, {
        at: { x, y: BETWEEN_MM + LETTERS_MM / 2 },
        heightMm: LETTERS_MM,
        turnRad: 0,
        anchor: "centre",
      }),
      ...letterChains(text, {
        at: { x, y: tongueY },
        heightMm: LETTERS_MM,
        turnRad: Math.PI / 2,
        anchor: "centre",
      }),
    );
  }
  const width = BETWEEN_MM + step * COUPON_KERFS_MM.length;
  const base = filletPoints(
    [
      { x: 0, y: 0 },
      { x: width, y: 0 },
      { x: width, y: baseHeight },
      { x: 0, y: baseHeight },
    ],
    [3, 3, 3, 3],
    true,
  );
  return {
    title: "Kerf test piece",
    layers: [
      {
        name: "MARK",
        purpose: "engrave lightly, before cutting: the kerf of each pair",
        worked: true,
        paths: marks,
      },
      { name: "POCKET", purpose: "cut through: openings", worked: true, paths: pockets },
      { name: "INLAY", purpose: "cut through: tongues", worked: true, paths: tongues },
      { name: "PANEL", purpose: "cut through last: base plate", worked: true, paths: [base] },
    ],
    bounds: mergeBounds([...tongues, base].map(chainBounds)),
    notes,
  };
}

function block(x: number, y: number, out: number): ArcChain {
  const halfWidth = TONGUE_MM.width / 2 + out;
  const halfHeight = TONGUE_MM.height / 2 + out;
  const corners = [
    { x: x - halfWidth, y: y - halfHeight },
    { x: x + halfWidth, y: y - halfHeight },
    { x: x + halfWidth, y: y + halfHeight },
    { x: x - halfWidth, y: y + halfHeight },
  ];
  return filletPoints(
    corners,
    corners.map(() => EASE_MM + out),
    true,
  );
}
