/** Runs of cutters -> the program that a machine file is written from: order, zero, envelope, notes. */
import { formatMm } from "../../base/format-number.ts";
import { chainBounds } from "../../geometry/arc-chain.ts";
import { type Bounds, boundsHeight, boundsWidth, growBounds } from "../../geometry/bounds.ts";
import type { Envelope, ToolProgram, ToolRun } from "../../output/toolpath.ts";
import { CUT_THROUGH_MM } from "./cut-out.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { RouterSettings } from "./settings.ts";

export interface ProgramWords {
  readonly title: string;
  /** Said first: what is wrong with a file that is written all the same. */
  readonly head: readonly string[];
  readonly craft: string;
  readonly cautions: readonly string[];
  readonly standingLine: string;
}

/** Lead-ins and cuts round the panel may take as much room as this share of the widest cutter on each side. */
const ROOM_SHARE = 2;

/** Where any cutter's middle may be, seen from above: the panel and the room round it. */
export function workBounds(panel: RouterPanel, { cutters }: RouterSettings): Bounds {
  const widest = cutters.reduce((most, { shape }) => Math.max(most, shape.diameterMm), 0);
  return growBounds(chainBounds(panel.outline), ROOM_SHARE * widest);
}

/** The box that the lowest points of cutters stay in. */
export function workEnvelope(panel: RouterPanel, settings: RouterSettings): Envelope {
  const { minX, minY, maxX, maxY } = workBounds(panel, settings);
  const deepest = settings.cutOut
    ? settings.stockThicknessMm + CUT_THROUGH_MM
    : settings.stockThicknessMm - settings.keepBelowMm;
  return {
    min: { x: minX, y: minY, z: -deepest },
    max: { x: maxX, y: maxY, z: settings.clearanceMm },
  };
}

function zeroAt({ size }: RouterPanel, { origin }: RouterSettings): { x: number; y: number } {
  return origin === "centre" ? { x: size.width / 2, y: size.height / 2 } : { x: 0, y: 0 };
}

export function toolProgram(
  panel: RouterPanel,
  runs: readonly ToolRun[],
  settings: RouterSettings,
  words: ProgramWords,
): ToolProgram {
  return {
    title: words.title,
    notes: [
      ...words.head,
      `${words.craft}. Cutters are taken into account already: set no compensation on the machine.`,
      ...boardNotes(panel, settings),
      "Feeds, speeds and depths are starting values.",
      ...words.cautions,
      words.standingLine,
    ],
    originAt: zeroAt(panel, settings),
    envelope: workEnvelope(panel, settings),
    clearanceZMm: settings.clearanceMm,
    runs,
  };
}

/** How the board is to lie and where zero is, a line each, for the sheet; a file says zero by itself. */
export function setUpNotes(panel: RouterPanel, settings: RouterSettings): string[] {
  return [
    ...boardNotes(panel, settings),
    settings.origin === "centre"
      ? "Zero: x and y at the middle of the panel, z on the upper face of the board."
      : "Zero: x and y at the lower left corner of the finished panel, z on the upper face of the board.",
    `Rapid moves run ${formatMm(settings.clearanceMm)} above the board.`,
  ];
}

function boardNotes(panel: RouterPanel, settings: RouterSettings): string[] {
  const bounds = workBounds(panel, settings);
  const { width, height } = panel.size;
  const grain = settings.grain === "across" ? "from left to right" : "from front to back";
  return [
    `Board ${formatMm(settings.stockThicknessMm)} thick; the finished panel is ${formatMm(width)} x ${formatMm(height)}.`,
    `The cutter's middle stays within ${formatMm(-bounds.minX)} of the panel: a field of ${formatMm(boundsWidth(bounds))} x ${formatMm(boundsHeight(bounds))} must be free of clamps and screws.`,
    ...(settings.grain === "none" ? [] : [`Grain: ${grain}.`]),
  ];
}
