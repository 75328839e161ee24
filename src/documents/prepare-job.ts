/** Design + profile + options -> a job with everything measured and nothing written. */
import { done, type Result, refused } from "../base/fault.ts";
import { MOST_GROWTH, type RibbonSetting } from "../checks/remedy.ts";
import { crossingCount } from "../diagram/knot-diagram.ts";
import { diagramBounds } from "../diagram/move-diagram.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import type { JobRequest } from "./apply-remedy.ts";
import type { CraftJob, CraftOption, CraftRequest, MeasuredJob, Progress } from "./craft.ts";
import { CRAFT_KINDS } from "./crafts.ts";
import type { Corner, Design } from "./design.ts";
import {
  cornerOf,
  type Overrides,
  type RibbonDefaults,
  ribbonDefaults,
  settleRibbon,
} from "./job-settings.ts";
import type { Profile } from "./profile.ts";
import { proveRemedies } from "./prove-remedies.ts";
import { type ReadBeside, readsNothing, redraw, type Woven, weaveDesign } from "./woven-design.ts";

export interface PreparedJob {
  readonly title: string;
  /** What the craft does when all is well: "cut". */
  readonly verb: string;
  readonly ribbon: RibbonSetting;
  readonly corner: Corner;
  readonly woven: Woven;
  readonly job: CraftJob;
}

export interface PrepareOptions {
  readonly overrides?: Overrides;
  readonly readBeside?: ReadBeside;
  readonly progress?: Progress;
}

/** Faults: those of the panel (path ["panel"]) or the composition, and of the settings. */
export function prepareJob(
  design: Design,
  title: string,
  profile: Profile,
  { overrides = {}, readBeside = readsNothing, progress = () => {} }: PrepareOptions = {},
): Result<PreparedJob> {
  const foreign = foreignOption(profile, overrides);
  if (foreign) return refused({ code: "option-not-for-craft", option: `--${foreign}`, craft: profile.craft });
  const request: JobRequest = { profile, overrides };
  progress("measuring", 0);
  const made = measureOnce(design, title, request, readBeside);
  if (!made.ok) return made;
  const { measured, settled } = made.value;
  const checks = provenChecks(design, title, request, readBeside, made.value);
  const { ribbon, corner, woven } = settled;
  const { verb } = CRAFT_KINDS[profile.craft];
  return done({ title, verb, ribbon, corner, woven, job: measured.finish(checks, progress) });
}

/** An option given that the craft knows nothing of. */
function foreignOption({ craft }: Profile, { kerfMm, way }: Overrides): CraftOption | undefined {
  const given: CraftOption[] = [];
  if (kerfMm !== undefined) given.push("kerf");
  if (way !== undefined) given.push("way");
  return given.find((option) => !CRAFT_KINDS[craft].options.includes(option));
}

function provenChecks(
  design: Design,
  title: string,
  request: JobRequest,
  readBeside: ReadBeside,
  { measured, settled }: MeasuredOnce,
): MeasuredJob["checks"] {
  const { mostCrossingsToProve } = CRAFT_KINDS[request.profile.craft];
  if (crossingCount(settled.woven.diagram) > mostCrossingsToProve) return measured.checks;
  return proveRemedies(measured.checks, request, (changed) => {
    // Step by step a pitch may grow past what is in proportion.
    if ((changed.overrides.pitchMm?.across ?? 0) > MOST_GROWTH * settled.ribbon.pitchMm.across)
      return undefined;
    const again = measureOnce(design, title, changed, readBeside);
    return again.ok ? again.value.measured.checks : undefined;
  });
}

interface MeasuredOnce {
  readonly settled: CraftRequest;
  readonly measured: MeasuredJob;
}

function measureOnce(
  design: Design,
  title: string,
  request: JobRequest,
  readBeside: ReadBeside,
): Result<MeasuredOnce> {
  const settled = settleDesign(design, title, request, readBeside);
  if (!settled.ok) return settled;
  const measured = CRAFT_KINDS[request.profile.craft].measure(settled.value);
  return measured.ok ? done({ settled: settled.value, measured: measured.value }) : measured;
}

/** The design drawn at its own pitch tells how large it is; then at the pitch that was settled. */
export function settleDesign(
  design: Design,
  title: string,
  { profile, overrides }: JobRequest,
  readBeside: ReadBeside = readsNothing,
): Result<CraftRequest> {
  const corner = cornerOf(design, profile, overrides);
  const settled = settleWoven(design, { corner, defaults: ribbonDefaults(profile), overrides, readBeside });
  return settled.ok ? done({ title, profile, overrides, corner, ...settled.value }) : settled;
}

interface SettleOptions {
  readonly corner: Corner;
  readonly defaults: RibbonDefaults;
  readonly overrides: Overrides;
  readonly readBeside: ReadBeside;
}

/** The same without a profile. */
export function settleWoven(
  design: Design,
  { corner, defaults, overrides, readBeside }: SettleOptions,
): Result<{ readonly ribbon: RibbonSetting; readonly woven: Woven }> {
  const drawn = design.pitchMm;
  const woven = weaveDesign(design, { pitchMm: drawn, corner, readBeside });
  if (!woven.ok) return woven;
  const box = diagramBounds(woven.value.diagram);
  const extent = { width: boundsWidth(box) / drawn.across, height: boundsHeight(box) / drawn.down };
  const ribbon = settleRibbon(design, defaults, overrides, extent);
  if (!ribbon.ok) return ribbon;
  const again = redraw(design, woven.value, ribbon.value.pitchMm, { corner, readBeside });
  return again.ok ? done({ ribbon: ribbon.value, woven: again.value }) : again;
}
