/** A design as a set has it, and where it departs from the set by itself. */
import type { Result } from "../base/fault.ts";
import { done } from "../base/fault.ts";
import { diagramHand, type Hand } from "../diagram/weave.ts";
import { CORNER_CHOICE, choicesOf } from "./craft-rules.ts";
import type { Design } from "./design.ts";
import { cornerOf } from "./job-settings.ts";
import type { Profile } from "./profile.ts";
import type { DesignSet } from "./set.ts";
import { type ReadBeside, weaveDesign } from "./woven-design.ts";

type Value = number | string | readonly [number, number];

export interface Departure {
  /** Width, gap and pitch in mm. */
  readonly what: "width" | "gap" | "hand" | "corner" | "pitch";
  readonly own: Value;
  /** The set's; of a corner the profile's, of a pitch that of the set's first design. */
  readonly set: Value;
  /** Whether the design keeps its own, or is made with the set's. */
  readonly kept: boolean;
}

/** The design, to be woven in the set's hand. */
export function handedDesign(design: Design, { hand }: DesignSet): Design {
  return { ...design, hand, wholeHand: hand };
}

export interface SetMeasure {
  readonly set: DesignSet;
  readonly profile: Profile;
  /** The set's first design, whose pitch the others are held against. */
  readonly first: Design;
  readonly readBeside: ReadBeside;
}

/** Where the design departs. Faults: those of drawing it. */
export function departuresOf(
  design: Design,
  { set, profile, first, readBeside }: SetMeasure,
): Result<Departure[]> {
  const { ribbon } = design;
  const hand = ownHand(design, readBeside);
  if (!hand.ok) return hand;
  const departures: Departure[] = [];
  const compare = (what: Departure["what"], own: Value | undefined, common: Value, kept: boolean) => {
    if (own !== undefined && String(own) !== String(common))
      departures.push({ what, own, set: common, kept });
  };
  compare("width", ribbon.widthMm, set.ribbon.widthMm, false);
  compare("gap", ribbon.gapMm, set.ribbon.gapMm, false);
  compare("hand", hand.value, set.hand, false);
  compare(
    "corner",
    cornerOf(design, profile, {}),
    choicesOf(profile, { corner: CORNER_CHOICE }).corner,
    true,
  );
  compare("pitch", pitchOf(design), pitchOf(first), true);
  return done(departures);
}

/** Of a composed design as its pieces make it; "both" where its parts differ. */
function ownHand(design: Design, readBeside: ReadBeside): Result<Hand | "both" | undefined> {
  if (!design.composition) return done(design.hand);
  const woven = weaveDesign(design, { pitchMm: design.pitchMm, corner: "pointed", readBeside });
  if (!woven.ok) return woven;
  const { diagram, faces } = woven.value;
  if (diagram.over.length === 0) return done(undefined);
  return done(diagramHand(diagram, faces) ?? "both");
}

function pitchOf({ pitchMm: { across, down } }: Design): number | readonly [number, number] {
  return across === down ? across : [across, down];
}
