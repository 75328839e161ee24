/** The settings of needle work from a profile. */
import type {
  AppliqueSettings,
  OutlineSettings,
  SatinSettings,
  StitchSettings,
} from "../crafts/stitch/settings.ts";
import type { CraftRequest } from "./craft.ts";
import { choicesOf, valuesOf } from "./craft-rules.ts";
import {
  APPLIQUE_NUMBERS,
  OUTLINE_CHOICES,
  OUTLINE_NUMBERS,
  SATIN_CHOICES,
  SATIN_NUMBERS,
  STITCH_CHOICES,
  STITCH_NUMBERS,
} from "./stitch-rules.ts";

export function satinSettings(request: CraftRequest): SatinSettings {
  const { corner: _corner, ...choices } = choicesOf(request.profile, SATIN_CHOICES);
  return { ...common(request), ...valuesOf(request.profile, SATIN_NUMBERS), ...choices, work: "satin" };
}

export function outlineSettings(request: CraftRequest): OutlineSettings {
  const { corner: _corner, ...choices } = choicesOf(request.profile, OUTLINE_CHOICES);
  return { ...common(request), ...valuesOf(request.profile, OUTLINE_NUMBERS), ...choices, work: "outline" };
}

export function appliqueSettings(request: CraftRequest): AppliqueSettings {
  return { ...common(request), ...valuesOf(request.profile, APPLIQUE_NUMBERS), work: "applique" };
}

function common({ profile, ribbon }: CraftRequest): StitchSettings {
  const { colours, alignmentMarks } = choicesOf(profile, STITCH_CHOICES);
  return { ...valuesOf(profile, STITCH_NUMBERS), ribbon, colours, alignmentMarks };
}
