/**
 * The rules of satin that the drawing alone can answer, before anything is sewn. Ribbons are
 * measured as they will lie on the cloth: what the pull adds, the thread draws in again.
 */
import { formatNumber } from "../../base/format-number.ts";
import { measureBends } from "../../checks/bends.ts";
import type { CheckResult, Remedy } from "../../checks/check.ts";
import { atLeast, atMost, LeastFinder, type Measured } from "../../checks/judge.ts";
import { growPitch, narrowRibbon, setNumber, widenRibbon } from "../../checks/remedy.ts";
import { measureSpacing } from "../../checks/spacing.ts";
import { chainStart } from "../../geometry/arc-chain.ts";
import { boundsHeight, boundsWidth } from "../../geometry/bounds.ts";
import { widestDisc } from "./inscribed.ts";
import type { SatinSettings, StitchSettings } from "./settings.ts";
import type { StitchGeometry } from "./stitch-geometry.ts";

export function checkSatin(geometry: StitchGeometry, settings: SatinSettings): CheckResult[] {
  return [
    checkRoom(geometry, settings),
    checkNarrow(geometry, settings),
    checkWide(geometry, settings),
    checkBends(geometry, settings),
    checkGaps(geometry, settings),
    checkCounters(geometry, settings),
    checkHoop(geometry, settings),
  ];
}

export function checkRoom({ ribbons }: StitchGeometry, { ribbon }: StitchSettings): CheckResult {
  const short = ribbons.troubles
    .filter(({ kind }) => kind === "too-wide")
    .map(({ at }): Measured => ({ at, value: 1 }));
  return atMost(
    {
      rule: "ribbon-room",
      title: "Every ribbon has room beside its neighbours",
      limit: 0,
      unit: "count",
      note: "Where a ribbon is too wide for the room it has, its edges run into each other and no column can be laid.",
    },
    { worst: short.length, short },
    // How much room is wanted can't be measured where nothing could be drawn: steps, which proving takes further.
    () => [
      ...narrowRibbon(ribbon.widthMm * STEP_DOWN),
      ...(ribbon.widthFixed || ribbon.gapFixed ? growPitch(ribbon, 1 / STEP_DOWN) : []),
    ],
  );
}

const STEP_DOWN = 0.8;

function checkNarrow(geometry: StitchGeometry, settings: SatinSettings): CheckResult {
  const { ribbon, leastSatinMm, tooNarrow } = settings;
  const { widthMm } = ribbon;
  const result = atLeast(
    {
      rule: "least-satin",
      title: "Width of a satin column, at least",
      limit: leastSatinMm,
      unit: "mm",
      note:
        tooNarrow === "bean"
          ? "A narrower ribbon can't be satin: its middle is sewn as a bean line, each stitch three times."
          : "On a narrower column the needle strikes the same holes again and again, and cuts the cloth.",
    },
    { worst: widthMm, short: widthMm < leastSatinMm ? columnStarts(geometry, widthMm) : [] },
    () => [
      ...widenRibbon(leastSatinMm),
      ...(ribbon.widthFixed ? [] : growPitch(ribbon, leastSatinMm / widthMm)),
    ],
  );
  return tooNarrow === "bean" && result.verdict === "fail" ? { ...result, verdict: "warning" } : result;
}

function checkWide(geometry: StitchGeometry, { ribbon, greatestSatinMm }: SatinSettings): CheckResult {
  const { widthMm } = ribbon;
  return atMost(
    {
      rule: "greatest-satin",
      title: "Width of a satin column, at most",
      limit: greatestSatinMm,
      unit: "mm",
      note: "Wider satin lies loose and snags, even where its stitches are split.",
    },
    { worst: widthMm, short: widthMm > greatestSatinMm ? columnStarts(geometry, widthMm) : [] },
    () => [
      ...narrowRibbon(greatestSatinMm),
      ...(ribbon.widthFixed ? [] : growPitch(ribbon, greatestSatinMm / widthMm)),
    ],
  );
}

/** A place on each strand's first piece, for what is wrong with all of its columns. */
function columnStarts({ ribbons, centrelines }: StitchGeometry, value: number): Measured[] {
  const strands = new Map(ribbons.pieces.toReversed().map((piece) => [piece.strand, piece.centreline]));
  const chains = strands.size > 0 ? [...strands.values()].toReversed() : centrelines.slice(0, 1);
  return chains.map((chain) => ({ at: chainStart(chain), value }));
}

function checkBends({ centrelines }: StitchGeometry, { ribbon, pullMm }: SatinSettings): CheckResult {
  const widthMm = ribbon.widthMm + pullMm;
  return atLeast(
    {
      rule: "bend-in-column",
      title: "Radius of the inner edge of a column at bends",
      limit: 0,
      unit: "mm",
      note: "A bend tighter than half the column's width has no inner edge: all stitches would meet in one hole.",
    },
    measureBends(centrelines, widthMm, 0),
    (worst) => {
      const diameter = 2 * worst + widthMm;
      // The pull does not grow with the pitch: g times as large a pitch wants g (diameter - ribbon) >= pull.
      const grown = ribbon.widthFixed ? widthMm / diameter : pullMm / (diameter - ribbon.widthMm);
      return [...narrowRibbon(diameter - pullMm), ...growPitch(ribbon, grown)];
    },
  );
}

export function checkGaps(
  { ribbons, crossingAt }: StitchGeometry,
  { ribbon, leastGapMm }: StitchSettings,
): CheckResult {
  const { beside } = measureSpacing(
    ribbons.pieces.map(({ outline, holes, ends, over }) => ({ outlines: [outline, ...holes], ends, over })),
    { limitMm: leastGapMm, takenMm: 0, crossingReachMm: ribbon.widthMm + 2 * ribbon.gapMm, crossingAt },
  );
  return atLeast(
    {
      rule: "column-gap",
      title: "Clear space between columns that must read apart",
      limit: leastGapMm,
      unit: "mm",
      note: "Narrower gaps close: the columns spread a little, and the cloth between is drawn together. Where one passes over another nothing is measured.",
    },
    beside,
    (worst) => [
      ...narrowRibbon(ribbon.widthMm - (leastGapMm - worst)),
      ...growPitch(
        ribbon,
        ribbon.widthFixed ? (leastGapMm + ribbon.widthMm) / (worst + ribbon.widthMm) : leastGapMm / worst,
      ),
    ],
  );
}

/** Openings this many times as wide as they must be are not measured further. */
const LOOK_FURTHER = 1.5;
/** Radii of openings are found to within this. */
const COUNTER_ERROR_MM = 0.02;

/** Openings are those of the faces; a part that lies inside another's face is taken for its own business. */
export function checkCounters(
  { faces }: StitchGeometry,
  { ribbon, leastCounterMm }: StitchSettings,
): CheckResult {
  const found = new LeastFinder(leastCounterMm);
  const enoughMm = ribbon.widthMm / 2 + (LOOK_FURTHER * leastCounterMm) / 2;
  for (const face of faces) {
    const disc = widestDisc(face, { errorMm: COUNTER_ERROR_MM, enoughMm });
    if (disc.radiusMm < enoughMm) found.add(Math.max(0, 2 * disc.radiusMm - ribbon.widthMm), disc.centre);
  }
  return atLeast(
    {
      rule: "open-counter",
      title: "Width of the smallest opening",
      limit: leastCounterMm,
      unit: "mm",
      note: "Smaller openings fill up with thread and are lost.",
    },
    found.finding,
    (worst) => {
      const disc = worst + ribbon.widthMm;
      return [
        ...narrowRibbon(disc - leastCounterMm),
        ...(ribbon.widthFixed
          ? growPitch(ribbon, (leastCounterMm + ribbon.widthMm) / disc)
          : growPitch(ribbon, leastCounterMm / worst)),
      ];
    },
  );
}

/** Either way up will do; that it wants a quarter turn is a warning. */
export function checkHoop({ reach }: StitchGeometry, settings: StitchSettings): CheckResult {
  const margins = 2 * settings.hoopMarginMm;
  const field = { width: settings.hoopWidthMm - margins, height: settings.hoopHeightMm - margins };
  const upright = { width: boundsWidth(reach), height: boundsHeight(reach) };
  const turned = { width: upright.height, height: upright.width };
  const isTurned = overhang(turned, field) < overhang(upright, field);
  const piece = isTurned ? turned : upright;
  const over = overhang(piece, field);
  const result = atMost(
    {
      rule: "hoop",
      title: `How far the sewing reaches over the hoop's field, ${formatNumber(field.width, 1)} x ${formatNumber(field.height, 1)} mm within its margin`,
      limit: 0,
      unit: "mm",
      note: isTurned
        ? "It is measured turned by a quarter, which fits better."
        : "The foot must never strike the frame. A longer piece is sewn from hoop to hoop.",
    },
    { worst: over, short: [{ at: { x: reach.maxX, y: reach.maxY }, value: over }] },
    () => [...shrunk(settings.ribbon, piece, field), ...largerHoop(piece, field, margins)],
  );
  return isTurned && result.verdict === "pass" ? { ...result, verdict: "warning", remedies: [TURN] } : result;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

const TURN: Remedy = { change: "turn", value: 90, text: "turn the design by 90 degrees in the hoop" };

function overhang(piece: Size, field: Size): number {
  return Math.max(0, piece.width - field.width, piece.height - field.height);
}

function shrunk(ribbon: StitchSettings["ribbon"], piece: Size, field: Size): Remedy[] {
  const scale = Math.min(field.width / piece.width, field.height / piece.height);
  const { across, down } = ribbon.pitchMm;
  // A pitch is rounded up when it is printed.
  return growPitch(ribbon, scale - PITCH_STEP_MM / Math.min(across, down));
}

const PITCH_STEP_MM = 0.01;

/** Where one side of the field is too short; a hoop too small both ways is another machine. */
function largerHoop(piece: Size, field: Size, margins: number): Remedy[] {
  const isWide = piece.width > field.width;
  if (isWide === piece.height > field.height) return [];
  const wanted = Math.ceil((isWide ? piece.width : piece.height) + margins);
  return [
    setNumber(
      isWide ? "hoopWidthMm" : "hoopHeightMm",
      wanted,
      `a hoop whose field is at least ${wanted} mm ${isWide ? "wide" : "high"}`,
    ),
  ];
}
