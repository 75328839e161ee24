/** What the three kinds of router work have in common: static checks first, then cuts, then a trial. */
import type { CheckResult } from "../../checks/check.ts";
import type { ArcChain } from "../../geometry/arc-chain.ts";
import type { Region } from "../../geometry/region.ts";
import type { HeightField } from "../../output/height-field.ts";
import type { ToolRun } from "../../output/toolpath.ts";
import type { Limits } from "./limits.ts";
import type { PixelGrid } from "./raster.ts";
import type { RouterPanel } from "./router-panel.ts";
import type { AnyRouterSettings } from "./settings.ts";

/** A panel with its rules measured, nothing cut yet. */
export interface Carving {
  readonly panel: RouterPanel;
  readonly settings: AnyRouterSettings;
  readonly checks: readonly CheckResult[];
  /** Plans the cuts; slow. */
  readonly plan: () => CarvePlan;
}

export interface CarvePlan {
  readonly runs: readonly ToolRun[];
  /** The surface that the cuts are to leave. */
  readonly limits: (grid: PixelGrid) => Limits;
  /** Bridges that hold the panel. */
  readonly tabs: readonly ArcChain[];
  /** Areas cleared, for drawings; none where nothing is cleared. */
  readonly cleared: Region;
  /** Lines that a V cutter follows. */
  readonly grooves: readonly ArcChain[];
  /** What the cutters can't get at, for pictures. */
  readonly uncut: Region;
  /** The surface as intended, where the work has one for a height map and a mesh. */
  readonly surface?: HeightField;
  /** Facts for people, a line each. */
  readonly facts: readonly string[];
}
