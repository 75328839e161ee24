/** Design + profile + options -> a leather inlay job, everything measured and nothing written. */
import { done, type Result } from "../base/fault.ts";
import { formatNumber } from "../base/format-number.ts";
import { MOST_GROWTH } from "../checks/remedy.ts";
import { type InlayJob, makeInlayJob } from "../crafts/leather-inlay/inlay-job.ts";
import type { InlaySettings } from "../crafts/leather-inlay/settings.ts";
import { crossingCount } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import type { JobRequest } from "./apply-remedy.ts";
import type { Design } from "./design.ts";
import { cornerOf, type Overrides, settleInlay } from "./job-settings.ts";
import type { Profile } from "./profile.ts";
import { proveRemedies } from "./prove-remedies.ts";
import { type ReadBeside, readsNothing, redraw, type Woven, weaveDesign } from "./woven-design.ts";

export interface PreparedJob {
  readonly title: string;
  readonly settings: InlaySettings;
  readonly corner: "pointed" | "round";
  readonly woven: Woven;
  readonly job: InlayJob;
  readonly notes: readonly string[];
}

/** A larger job takes too long to be made over and over: its remedies stay as computed. */
const MOST_CROSSINGS_TO_PROVE = 3000;

/** Faults: those of the panel (path ["panel"]) or the composition, and of the settings. */
export function prepareJob(
  design: Design,
  title: string,
  profile: Profile,
  overrides: Overrides,
  readBeside: ReadBeside = readsNothing,
): Result<PreparedJob> {
  const request: JobRequest = { profile, overrides };
  const made = prepareOnce(design, title, request, readBeside);
  if (!made.ok || crossingCount(made.value.woven.diagram) > MOST_CROSSINGS_TO_PROVE) return made;
  const { job, settings } = made.value;
  const checks = proveRemedies(job.checks, request, (changed) => {
    // Step by step a pitch may grow past what is in proportion.
    if ((changed.overrides.pitchMm?.across ?? 0) > MOST_GROWTH * settings.ribbon.pitchMm.across)
      return undefined;
    const again = prepareOnce(design, title, changed, readBeside);
    return again.ok ? again.value.job.checks : undefined;
  });
  return done({ ...made.value, job: { ...job, checks } });
}

function prepareOnce(
  design: Design,
  title: string,
  { profile, overrides }: JobRequest,
  readBeside: ReadBeside,
): Result<PreparedJob> {
  const corner = cornerOf(design, profile, overrides);
  const settled = settleOnDesign(design, profile, overrides, corner, readBeside);
  if (!settled.ok) return settled;
  const { settings, woven } = settled.value;
  const notes = machineNotes(profile, settings);
  return done({
    title,
    settings,
    corner,
    woven,
    notes,
    job: makeInlayJob({ title, ...woven }, settings, notes),
  });
}

/** The design drawn at its own pitch tells how large it is; then at the pitch that was settled. */
function settleOnDesign(
  design: Design,
  profile: Profile,
  overrides: Overrides,
  corner: "pointed" | "round",
  readBeside: ReadBeside,
): Result<{ settings: InlaySettings; woven: Woven }> {
  const drawn = design.pitchMm;
  const woven = weaveDesign(design, { pitchMm: drawn, corner, readBeside });
  if (!woven.ok) return woven;
  const box = diagramBounds(woven.value.diagram);
  const extent = { width: boundsWidth(box) / drawn.across, height: boundsHeight(box) / drawn.down };
  const settled = settleInlay(design, profile, overrides, extent);
  if (!settled.ok) return settled;
  const again = redraw(design, woven.value, settled.value.ribbon.pitchMm, { corner, readBeside });
  return again.ok ? done({ settings: settled.value, woven: again.value }) : again;
}

/** What every machine file says at its head. */
function machineNotes(profile: Profile, settings: InlaySettings): string[] {
  return [
    `${profile.title}. Unit: mm. The kerf of ${formatNumber(settings.kerfMm, 3)} mm is already taken into account: set no compensation on the machine.`,
    settings.cutFace === "back"
      ? "Mirrored: the leather lies with its face down."
      : "Not mirrored: the leather lies with its face up.",
    ...profile.cautions,
    profile.standingLine,
  ];
}
