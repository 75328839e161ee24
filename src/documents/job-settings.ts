/** The numbers of a job: from the options, else the design, else the profile. */
import { done, type Result, refused } from "../base/fault.ts";
import { formatNumber } from "../base/format-number.ts";
import type { RibbonSetting } from "../checks/remedy.ts";
import { CORNER_CHOICE, choicesOf, RIBBON_NUMBERS, valuesOf } from "./craft-rules.ts";
import { type Corner, type Design, PITCH_MM } from "./design.ts";
import type { Profile } from "./profile.ts";

/** What a person may set on the command line or in the page. */
export interface Overrides {
  readonly pitchMm?: Pitch;
  readonly widthMm?: number;
  readonly gapMm?: number;
  readonly corner?: Corner;
  /** The finished piece is to fit into this. */
  readonly sizeMm?: { readonly width: number; readonly height: number };
  /** Fill both sides of the size exactly, by a stretched lattice. */
  readonly stretch?: boolean;
  readonly kerfMm?: number;
  readonly way?: "pieces" | "laced";
}

export interface Pitch {
  readonly across: number;
  readonly down: number;
}

/** Ribbon and gap as shares of the pitch (the smaller one of a stretched lattice), or fixed in mm. */
interface RibbonShares {
  readonly width: (pitch: Pitch) => number;
  readonly gap: (pitch: Pitch) => number;
}

export function cornerOf(design: Design, profile: Profile, overrides: Overrides): Corner {
  return overrides.corner ?? design.ribbon.corner ?? choicesOf(profile, { corner: CORNER_CHOICE }).corner;
}

/**
 * Pitch, width and gap settled. `extent` is the size of the centrelines, mm, on a lattice whose
 * pitch is 1 mm both ways: centrelines grow with the pitch, each way by itself.
 *
 * Faults: `size-impossible`.
 */
export function settleRibbon(
  design: Design,
  profile: Profile,
  overrides: Overrides,
  extent: { readonly width: number; readonly height: number },
): Result<RibbonSetting> {
  const { widthPerPitch, gapPerPitch, borderMm } = valuesOf(profile, RIBBON_NUMBERS);
  const shares = ribbonShares(design, widthPerPitch, gapPerPitch, overrides);
  const pitch = settlePitch(design, overrides, extent, shares, borderMm);
  if (!pitch.ok) return pitch;
  return done({
    pitchMm: pitch.value,
    widthMm: shares.width(pitch.value),
    gapMm: shares.gap(pitch.value),
    widthFixed: overrides.widthMm !== undefined,
    gapFixed: overrides.gapMm !== undefined,
  });
}

/** The design's own width and gap keep their ratio to its pitch; only the options fix them in mm. */
function ribbonShares(
  { ribbon, pitchMm }: Design,
  widthPerPitch: number,
  gapPerPitch: number,
  { widthMm, gapMm }: Overrides,
): RibbonShares {
  const drawn = smaller(pitchMm);
  const width = ribbon.widthMm === undefined ? widthPerPitch : ribbon.widthMm / drawn;
  const gap = ribbon.gapMm === undefined ? gapPerPitch : ribbon.gapMm / drawn;
  return {
    width: (pitch) => widthMm ?? width * smaller(pitch),
    gap: (pitch) => gapMm ?? gap * smaller(pitch),
  };
}

function smaller({ across, down }: Pitch): number {
  return Math.min(across, down);
}

function settlePitch(
  design: Design,
  { pitchMm, sizeMm, stretch, widthMm }: Overrides,
  extent: { readonly width: number; readonly height: number },
  shares: RibbonShares,
  borderMm: number,
): Result<Pitch> {
  if (!sizeMm) return done(pitchMm ?? design.pitchMm);
  const room = { width: sizeMm.width - 2 * borderMm, height: sizeMm.height - 2 * borderMm };
  // On a 1 mm lattice the width is its own share of the pitch.
  const share = widthMm === undefined ? shares.width({ across: 1, down: 1 }) : 0;
  const fixed = widthMm ?? 0;
  const drawn = pitchMm ?? design.pitchMm;
  const found = stretch
    ? stretchedPitch(room, extent, share, fixed)
    : scaledPitch(room, extent, share, fixed, drawn);
  const least = Math.min(found.across, found.down);
  const greatest = Math.max(found.across, found.down);
  if (least >= PITCH_MM.least && greatest <= PITCH_MM.greatest) return done(found);
  const size = `${formatNumber(sizeMm.width, 2)}x${formatNumber(sizeMm.height, 2)}`;
  const taken = 2 * borderMm + fixed;
  if (Math.min(sizeMm.width, sizeMm.height) <= taken)
    return refused({
      code: "size-impossible",
      found: size,
      reason: `the border takes ${formatNumber(2 * borderMm, 2)} mm each way${fixed > 0 ? ` and the ribbon ${formatNumber(fixed, 2)} mm` : ""}, so both sides must be more than ${formatNumber(taken, 2)} mm`,
    });
  const reason =
    least < PITCH_MM.least
      ? `the cells would lie less than ${PITCH_MM.least} mm apart; ask for more`
      : `the cells would lie more than ${PITCH_MM.greatest} mm apart; ask for less`;
  return refused({ code: "size-impossible", found: size, reason });
}

interface Room {
  readonly width: number;
  readonly height: number;
}

/** The drawn pitch scaled until one side of the room is full and the other is not overfull. */
function scaledPitch(room: Room, extent: Room, share: number, fixed: number, drawn: Pitch): Pitch {
  const ribbon = share * smaller(drawn);
  const scale = Math.min(
    (room.width - fixed) / (extent.width * drawn.across + ribbon),
    (room.height - fixed) / (extent.height * drawn.down + ribbon),
  );
  return { across: drawn.across * scale, down: drawn.down * scale };
}

/** Each side filled by its own pitch; the ribbon follows the smaller of the two. */
function stretchedPitch(room: Room, extent: Room, share: number, fixed: number): Pitch {
  const width = room.width - fixed;
  const height = room.height - fixed;
  const across = width / (extent.width + share);
  const down = (height - share * across) / extent.height;
  if (across <= down) return { across, down };
  const lower = height / (extent.height + share);
  return { across: (width - share * lower) / extent.width, down: lower };
}
