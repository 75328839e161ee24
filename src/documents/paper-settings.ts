/** The settings of templates from a profile. */

import { InternalError } from "../base/internal-error.ts";
import type {
  CarvingSettings,
  LeatherSettings,
  LineSettings,
  PiercedSettings,
} from "../crafts/paper/settings.ts";
import type { TileOptions } from "../crafts/paper/tile-grid.ts";
import { type Paper, sheetNamed } from "../output/paper-size.ts";
import type { CraftRequest } from "./craft.ts";
import { choicesOf, valuesOf } from "./craft-rules.ts";
import {
  CARVING_CHOICES,
  CARVING_NUMBERS,
  KNIFE_CHOICES,
  KNIFE_NUMBERS,
  PAPER_CHOICES,
  PAPER_NUMBERS,
  PATTERN_CHOICES,
  PATTERN_NUMBERS,
  PIERCED_CHOICES,
  PIERCED_NUMBERS,
} from "./paper-rules.ts";
import type { Profile } from "./profile.ts";

export function carvingSettings({ profile, ribbon }: CraftRequest): CarvingSettings {
  return { ...valuesOf(profile, CARVING_NUMBERS), ...choicesOf(profile, CARVING_CHOICES), ribbon };
}

export function knifeSettings({ profile, ribbon }: CraftRequest): LeatherSettings {
  return { ...valuesOf(profile, KNIFE_NUMBERS), ...choicesOf(profile, KNIFE_CHOICES), ribbon };
}

export function piercedSettings({ profile, ribbon }: CraftRequest): PiercedSettings {
  return { ...valuesOf(profile, PIERCED_NUMBERS), ...choicesOf(profile, PIERCED_CHOICES), ribbon };
}

export function patternSettings({ profile, ribbon }: CraftRequest): LineSettings {
  return { ...valuesOf(profile, PATTERN_NUMBERS), ...choicesOf(profile, PATTERN_CHOICES), ribbon };
}

/** How the template is laid on sheets, and whether mirrored as well. */
export function sheetSettings(profile: Profile): { readonly tiles: TileOptions; readonly mirrored: boolean } {
  const { marginMm, overlapMm, rollWidthMm } = valuesOf(profile, PAPER_NUMBERS);
  const { paper, mirrored } = choicesOf(profile, PAPER_CHOICES);
  return { tiles: { paper: paperOf(paper, rollWidthMm), marginMm, overlapMm }, mirrored };
}

function paperOf(word: string, rollWidthMm: number): Paper {
  if (word === "roll") return { kind: "roll", widthMm: rollWidthMm };
  const sheet = sheetNamed(word);
  if (!sheet) throw new InternalError(`no sheet is called ${word}`);
  return sheet;
}
