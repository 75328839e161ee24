/**
 * A slope as it is drawn: rungs across the ribbon that crowd together and grow short towards the
 * low end, and an arrow along the middle that points there.
 */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import { along, leftOf, minus, type Point, unit } from "../../geometry/point.ts";
import type { PaperItem } from "../../output/paper.ts";
import { FINE } from "./looks.ts";
import { pointOnSlope, type Slope, slopeRun } from "./slopes.ts";
import { lineItem, SAMPLE_HEIGHT_MM, SAMPLE_WIDTH_MM } from "./template.ts";

export interface SlopeMarks {
  readonly rungs: readonly ArcChain[];
  /** Closed arrow heads. */
  readonly heads: readonly ArcChain[];
}

const RUNGS = 6;
/** Shares of the ribbon's width: the rung at the high end, and at the low one. */
const LONGEST = 0.78;
const SHORTEST = 0.36;
/** Rungs keep this share of the run clear of the over-strand's edge. */
const CLEAR = 0.1;
/** Between the two uppermost rungs, where there is room: their shares of the run are 0.64 and 1. */
const HEAD_AT = 0.67;
const HEAD_WIDTH = 0.2;
const HEAD_LENGTH = 0.3;

export function drawSlope(slope: Slope, widthMm: number): SlopeMarks {
  const run = slopeRun(slope);
  if (run <= 0) return { rungs: [], heads: [] };
  const clear = CLEAR * run;
  const rungs = Array.from({ length: RUNGS }, (_, i) => {
    const share = i / (RUNGS - 1);
    // The square crowds rungs at the low end, as contour lines crowd where a hill is steep.
    const alongMm = slope.low + clear + (run - clear) * share * share;
    const half = ((SHORTEST + (LONGEST - SHORTEST) * share) * widthMm) / 2;
    // At the low end rungs lie along the over-strand's edge, at the high end across the ribbon.
    const slant = slope.slant * (1 - share);
    return polyline(
      [half, 0, -half].map((left) => pointOnSlope(slope, alongMm + slant * left, left)),
      false,
    );
  });
  const tip = pointOnSlope(slope, slope.low + clear + HEAD_AT * (run - clear), 0);
  const tail = pointOnSlope(slope, slope.high, 0);
  const shaft = Array.from({ length: RUNGS }, (_, i) =>
    pointOnSlope(slope, slope.low + clear + ((run - clear) * i) / (RUNGS - 1), 0),
  );
  return { rungs: [...rungs, polyline(shaft, false)], heads: [arrowHead(tip, tail, Math.min(widthMm, run))] };
}

/** A head at `tip` that points away from `tail`. */
export function arrowHead(tip: Point, tail: Point, sizeMm: number): ArcChain {
  const back = unit(minus(tail, tip));
  const base = along(tip, back, HEAD_LENGTH * sizeMm);
  const aside = leftOf(back);
  return polyline(
    [tip, along(base, aside, (HEAD_WIDTH * sizeMm) / 2), along(base, aside, (-HEAD_WIDTH * sizeMm) / 2)],
    true,
  );
}

export function slopeSample(): PaperItem[] {
  const middle = SAMPLE_HEIGHT_MM / 2;
  const centreline = polyline(
    [
      { x: 0, y: middle },
      { x: SAMPLE_WIDTH_MM, y: middle },
    ],
    false,
  );
  const slope: Slope = { half: -1, centreline, low: 1, high: SAMPLE_WIDTH_MM - 1, slant: 0 };
  const { rungs, heads } = drawSlope(slope, SAMPLE_HEIGHT_MM);
  return [lineItem(rungs, FINE), { kind: "area", chains: heads, fill: FINE.colour }];
}
