/**
 * Dots and breaklines of a lattice, to draw on: `o` dots as discs, `+` dots as small crosses, so
 * that both kinds can be told; breaklines as strokes from dot to dot. Also empty dot paper.
 */
import { type ArcChain, polyline } from "../../geometry/arc-chain.ts";
import type { Point } from "../../geometry/point.ts";
import { circleOutline } from "../panel-outline.ts";

/** The pitch of a lattice, mm between neighbouring cell centres. */
export interface DotPitch {
  readonly across: number;
  readonly down: number;
}

export interface LatticeMarks {
  /** Closed outlines to fill. */
  readonly discs: readonly ArcChain[];
  readonly crosses: readonly ArcChain[];
  readonly breaklines: readonly ArcChain[];
}

/** Of the smaller pitch: radius of a disc, arm of a cross, what a breakline leaves of its step at each dot. */
const DISC_SHARE = 0.045;
const ARM_SHARE = 0.05;
const CLEAR_SHARE = 0.1;

/** The marks of panel text, where its diagram is drawn: the last row and the first column of places at 0. */
export function latticeMarks(rows: readonly string[], pitch: DotPitch): LatticeMarks {
  const step = { x: pitch.across / 2, y: pitch.down / 2 };
  const least = Math.min(pitch.across, pitch.down);
  const at = (row: number, column: number): Point => ({
    x: column * step.x,
    y: (rows.length - 1 - row) * step.y,
  });
  const discs: ArcChain[] = [];
  const crosses: ArcChain[] = [];
  const breaklines: ArcChain[] = [];
  for (const [row, line] of rows.entries()) {
    for (const [column, found] of [...line].entries()) {
      const { x, y } = at(row, column);
      if (found === "o") discs.push(discMark({ x, y }, least));
      else if (found === "+") crosses.push(...crossMark({ x, y }, least));
      else if (found === "-") {
        const half = step.x - CLEAR_SHARE * least;
        breaklines.push(
          polyline(
            [
              { x: x - half, y },
              { x: x + half, y },
            ],
            false,
          ),
        );
      } else if (found === "|") {
        const half = step.y - CLEAR_SHARE * least;
        breaklines.push(
          polyline(
            [
              { x, y: y - half },
              { x, y: y + half },
            ],
            false,
          ),
        );
      }
    }
  }
  return { discs, crosses, breaklines };
}

export interface SquarePaper extends DotPitch {
  readonly kind: "square";
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Dots on circles, the same number on each. */
export interface RingPaper {
  readonly kind: "ring";
  /** Cells round the ring. */
  readonly around: number;
  /** Cells from the inner edge to the outer one. */
  readonly rows: number;
  readonly innerMm: number;
  /** mm between neighbouring circles of cell centres. */
  readonly pitchMm: number;
}

/** Both kinds of dots over a sheet, its lower left corner at the origin; of a ring, its centre at the origin. */
export function dotPaper(paper: SquarePaper | RingPaper): Pick<LatticeMarks, "discs" | "crosses"> {
  return paper.kind === "square" ? squareDots(paper) : ringDots(paper);
}

/** Rounding must not cost the last row. */
const WHOLE_SLACK = 1e-9;

function squareDots({
  across,
  down,
  widthMm,
  heightMm,
}: SquarePaper): Pick<LatticeMarks, "discs" | "crosses"> {
  const cells = {
    across: Math.floor(widthMm / across + WHOLE_SLACK),
    down: Math.floor(heightMm / down + WHOLE_SLACK),
  };
  const least = Math.min(across, down);
  const discs: ArcChain[] = [];
  const crosses: ArcChain[] = [];
  for (let row = 0; row <= cells.down; row++) {
    for (let column = 0; column <= cells.across; column++) {
      crosses.push(...crossMark({ x: column * across, y: row * down }, least));
      if (row < cells.down && column < cells.across)
        discs.push(discMark({ x: (column + 0.5) * across, y: (row + 0.5) * down }, least));
    }
  }
  return { discs, crosses };
}

function ringDots({ around, rows, innerMm, pitchMm }: RingPaper): Pick<LatticeMarks, "discs" | "crosses"> {
  const discs: ArcChain[] = [];
  const crosses: ArcChain[] = [];
  const place = (radius: number, share: number): Point => {
    // The first column stands at 12 o'clock, the others follow clockwise.
    const angle = Math.PI / 2 - (2 * Math.PI * share) / around;
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  };
  for (let row = 0; row <= rows; row++) {
    const radius = innerMm + row * pitchMm;
    for (let column = 0; column < around; column++) {
      crosses.push(...crossMark(place(radius, column), pitchMm));
      if (row < rows) discs.push(discMark(place(radius + pitchMm / 2, column + 0.5), pitchMm));
    }
  }
  return { discs, crosses };
}

function discMark(at: Point, pitchMm: number): ArcChain {
  return circleOutline(at, DISC_SHARE * pitchMm);
}

function crossMark({ x, y }: Point, pitchMm: number): ArcChain[] {
  const arm = ARM_SHARE * pitchMm;
  return [
    polyline(
      [
        { x: x - arm, y },
        { x: x + arm, y },
      ],
      false,
    ),
    polyline(
      [
        { x, y: y - arm },
        { x, y: y + arm },
      ],
      false,
    ),
  ];
}
